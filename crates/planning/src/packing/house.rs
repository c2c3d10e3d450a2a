//! What is in the house already: the boxes and the room that lots on hand take, day by day, until the plan has eaten them
//! or their date is past.

use jiff::Span;
use jiff::civil::{Date, DateTime};
use larderwright_model::{BoxId, Carried, Fate, Place, Snapshot, StoredLot};
use larderwright_quantity::Volume;

use super::boxes::Stay;

/// A lot on hand and the room it takes.
pub(crate) struct Held<'a> {
    /// Its boxes, of kinds that the household still owns.
    pub boxes: &'a [(BoxId, u32)],
    /// What it takes: its boxes to the brim, or its food where nobody said in which boxes it lies.
    pub room: Volume,
    /// Where and how long.
    pub stay: Stay,
}

/// Every lot on hand that takes room in fridge or freezer, with what the plan eats of it: `carried` may be empty, and then
/// each stays until its date.
pub(crate) fn held<'a>(snapshot: &'a Snapshot, carried: &[Carried]) -> Vec<Held<'a>> {
    let lots = snapshot.lots.iter().filter(|lot| lot.place != Place::Cupboard);
    lots.map(|lot| {
        let eaten = carried.iter().find(|entry| entry.lot == lot.id);
        Held {
            boxes: &lot.boxes,
            room: lot.room(snapshot),
            stay: stay(snapshot, lot, eaten),
        }
    })
    .collect()
}

fn stay(snapshot: &Snapshot, lot: &StoredLot, eaten: Option<&Carried>) -> Stay {
    let now = snapshot.now.date();
    let pull = eaten.and_then(|entry| entry.pull);
    let use_by = eaten.map_or(lot.keep.use_by, |entry| entry.keep.use_by);
    let finished = eaten.filter(|entry| entry.mass >= lot.mass);
    let sittings = finished.into_iter().flat_map(|entry| &entry.sittings);
    let last = sittings
        .filter_map(|id| snapshot.sitting(id))
        .map(|sitting| sitting.at);
    let to = last.max().unwrap_or(use_by).date().min(horizon(snapshot));
    Stay {
        fate: if lot.place == Place::Freezer {
            Fate::Freezer
        } else {
            Fate::Fridge
        },
        from: now,
        pull,
        to: to.max(now),
    }
}

/// After this day nothing is planned.
fn horizon(snapshot: &Snapshot) -> Date {
    let sittings = snapshot.sittings.iter().map(|sitting| sitting.at);
    let sessions = snapshot.sessions.iter().map(|session| session.to);
    let last = sittings.chain(sessions).map(DateTime::date).max();
    let last = last.unwrap_or(snapshot.now.date());
    last.saturating_add(Span::new().days(1))
}

#[cfg(test)]
mod tests {
    use larderwright_model::Keep;
    use larderwright_quantity::Mass;
    use larderwright_testkit::sample;

    use super::*;

    /// The sample week with a frozen lot of which the plan eats so much at its third sitting.
    fn with_a_lot(grams: i64) -> (Snapshot, Carried) {
        let mut snapshot = sample::snapshot();
        let component = snapshot
            .components
            .keys()
            .next()
            .expect("there are components")
            .clone();
        let sitting = snapshot.sittings[2].clone();
        let keep = |use_by| Keep {
            best_by: use_by,
            use_by,
            rule: "soup".into(),
            source: "a test".to_owned(),
        };
        let later = |days| snapshot.now.saturating_add(Span::new().days(days));
        let carried = Carried {
            lot: "before".into(),
            component: component.clone(),
            mass: Mass::from_g(grams),
            pull: Some(sitting.at.saturating_sub(Span::new().days(1))),
            keep: keep(sitting.at.saturating_add(Span::new().days(2))),
            sittings: vec![sitting.id],
        };
        let kind = &snapshot.household.kitchen.boxes[0];
        let lot = StoredLot {
            id: "before".into(),
            component,
            foods: std::collections::BTreeSet::new(),
            mass: Mass::from_g(500),
            place: Place::Freezer,
            made: later(-20),
            stored: later(-20),
            keep: keep(later(60)),
            boxes: vec![(kind.id.clone(), 2)],
            reheated: false,
        };
        snapshot.lots.push(lot);
        (snapshot, carried)
    }

    #[test]
    fn what_is_eaten_up_stays_until_that_sitting_and_what_is_left_until_its_date() {
        for (grams, days) in [(500, 0), (200, 2)] {
            let (snapshot, carried) = with_a_lot(grams);
            let held = held(&snapshot, std::slice::from_ref(&carried));
            let sitting = snapshot.sittings[2].at.date();
            assert_eq!(held[0].stay.to, sitting.saturating_add(Span::new().days(days)));
            assert_eq!(held[0].stay.pull, carried.pull);
            assert_eq!(held[0].room, snapshot.household.kitchen.boxes[0].volume.times(2));
        }
    }

    #[test]
    fn what_nobody_eats_stays_as_long_as_anything_is_planned() {
        let (snapshot, _) = with_a_lot(0);
        let last = snapshot.sittings.last().expect("there are sittings").at.date();
        let held = held(&snapshot, &[]);
        assert!(held[0].stay.to > last && held[0].stay.pull.is_none());
        assert_eq!(held[0].stay.from, snapshot.now.date());
    }
}
