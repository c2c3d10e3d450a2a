//! Windows: from which session, through fridge or freezer, a component can reach a sitting in time.

use jiff::Span;
use jiff::civil::{DateTime, time};
use larderwright_model::{
    Component, Fate, Food, FoodKind, Freezing, Item, Session, Sitting, Snapshot, StorageClass, Where,
};
use larderwright_quantity::Seconds;
use larderwright_safety::{keeping, limits};

use crate::keeping::class_of;
use crate::restrict::Restrictions;

/// Hours a box needs in the freezer before a pull makes sense (common practice: overnight and a day).
const FREEZE_HOURS: i64 = 24;

/// Minutes from the pot to the freezer at the least: cooling shallow and boxing (common practice).
const TO_FREEZER_MIN: i64 = 60;

/// A pull leaves at least so long to thaw.
const THAW_MIN: i64 = 12 * 60 + 30;

/// When a frozen lot moves to the fridge: seven in the evening of the day before it leaves the fridge, or
/// earlier when that would leave less than half a day.
///
/// A shallow box thaws in the fridge overnight (common practice; large blocks need 24 h per 2 kg,
/// MSU Extension E3259).
#[must_use]
pub fn pull_time(sitting: &Sitting) -> DateTime {
    let leaves = sitting.leaves_fridge();
    let day = leaves
        .date()
        .yesterday()
        .expect("the planned week lies inside the calendar");
    day.to_datetime(time(19, 0, 0, 0))
        .min(leaves.saturating_sub(Span::new().minutes(THAW_MIN)))
}

/// Whether an item may wait as long as the sitting wants without cold: what keeps in the cupboard, and
/// anything at home or on ice.
pub(super) fn bears_the_way(snapshot: &Snapshot, sitting: &Sitting, item: &Item) -> bool {
    let Where::Packed(packed) = sitting.place else {
        return true;
    };
    let limit = limits(snapshot.household.profile).out_of_fridge_max;
    if packed.stays_cold() || Seconds::from_hours(packed.hours) <= limit {
        return true;
    }
    match item {
        Item::Component(id) => snapshot
            .components
            .get(id)
            .is_some_and(|component| !class_of(component).perishable()),
        Item::Food(id) => snapshot.foods.get(id).is_some_and(keeps_in_a_bag),
    }
}

fn keeps_in_a_bag(food: &Food) -> bool {
    let animal = |kind: &FoodKind| {
        !matches!(
            kind,
            FoodKind::Plant | FoodKind::Mineral | FoodKind::Honey | FoodKind::Alcohol
        )
    };
    match food.storage {
        StorageClass::Cupboard | StorageClass::Counter | StorageClass::Tap => true,
        StorageClass::Fridge => !food.kinds.iter().any(animal),
        StorageClass::FridgeShort | StorageClass::Freezer => false,
    }
}

/// The supplies of a component for a sitting, most welcome first: fresh from the latest session,
/// then frozen from the latest.
pub(super) fn supplies(
    snapshot: &Snapshot,
    restrict: &Restrictions,
    component: &Component,
    sitting: &Sitting,
) -> Vec<(usize, Fate)> {
    let allowed = |session: &Session| {
        !restrict
            .supplies
            .contains(&(component.id.clone(), session.id.clone(), sitting.id.clone()))
    };
    let sessions = || {
        snapshot
            .sessions
            .iter()
            .enumerate()
            .rev()
            .filter(|(_, session)| allowed(session))
    };
    let fresh = sessions().filter(|(_, session)| keeps_fresh(snapshot, component, session, sitting));
    let frozen = sessions().filter(|(_, session)| keeps_frozen(snapshot, component, session, sitting));
    let mut all: Vec<(usize, Fate)> = fresh.map(|(ix, _)| (ix, Fate::Fridge)).collect();
    for (ix, _) in frozen {
        if !all.contains(&(ix, Fate::Fridge)) {
            all.push((ix, Fate::Freezer));
        }
    }
    all
}

/// Judged from the start of the session, the earliest time at which cooking could end.
fn keeps_fresh(snapshot: &Snapshot, component: &Component, session: &Session, sitting: &Sitting) -> bool {
    if sitting.leaves_fridge() < session.to {
        return false;
    }
    let keep = keeping::fridge(
        snapshot.household.profile,
        class_of(component),
        session.from,
        session.from,
    );
    sitting.at <= keep.use_by
}

fn keeps_frozen(snapshot: &Snapshot, component: &Component, session: &Session, sitting: &Sitting) -> bool {
    let kitchen = &snapshot.household.kitchen;
    let room = kitchen.freezer.ul() > 0 && kitchen.boxes.iter().any(|kind| kind.freezes && kind.count > 0);
    let pull = pull_time(sitting);
    let earliest = session
        .to
        .checked_add(Span::new().hours(FREEZE_HOURS))
        .expect("a session lies inside the calendar");
    if component.freeze == Freezing::No || !room || pull < earliest {
        return false;
    }
    let profile = snapshot.household.profile;
    let boxed = session.from.saturating_add(Span::new().minutes(TO_FREEZER_MIN));
    let keep = keeping::thawed(profile, class_of(component), session.from, boxed, pull);
    sitting.at <= keep.use_by
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use larderwright_model::{Occasion, Packed, SittingId};

    fn sitting(hour: i8, place: Where) -> Sitting {
        Sitting {
            id: SittingId::new("a"),
            at: date(2026, 12, 3).at(hour, 0, 0, 0),
            occasion: Occasion::Dinner,
            minutes: 20,
            eaters: Vec::new(),
            guests: 0,
            place,
        }
    }

    #[test]
    fn a_dinner_is_pulled_the_evening_before() {
        assert_eq!(
            pull_time(&sitting(18, Where::Home)),
            date(2026, 12, 2).at(19, 0, 0, 0)
        );
    }

    #[test]
    fn an_early_bag_still_leaves_half_a_day_to_thaw() {
        let packed = Packed {
            hours: 6,
            ice_pack: true,
            fridge: false,
            microwave: false,
        };
        let early = sitting(12, Where::Packed(packed));
        let thaws = early.leaves_fridge().duration_since(pull_time(&early)).as_mins();
        assert!(thaws >= THAW_MIN, "{thaws}");
    }
}
