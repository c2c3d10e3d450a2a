//! Households whose fridge and freezer hold lots of the week before: the plan puts its own boxes where there is still
//! room, eats what is there, and the audit, which adds up by itself, has nothing to say.

use jiff::Span;
use larderwright_app::{Planned, Refusal, Threads, plan};
use larderwright_model::{BoxId, Fate, Freezing, Lot, Place, Snapshot, StoredLot};
use larderwright_quantity::Volume;
use larderwright_safety::{KeepClass, fridge, frozen};
use larderwright_testkit::random;

/// A lot of the plan as if it had been cooked some days before this week's.
fn earlier(snapshot: &Snapshot, planned: &Planned, lot: &Lot, place: Place) -> Option<StoredLot> {
    let batch = planned.plan.batches.iter().find(|batch| batch.id == lot.origin)?;
    let component = snapshot.components.get(&batch.component)?;
    let class = KeepClass::parse(component.keep.as_str())?;
    let profile = snapshot.household.profile;
    let back = Span::new().days(if place == Place::Freezer { 10 } else { 2 });
    let made = snapshot.now.saturating_sub(back);
    let keep = match place {
        Place::Freezer if component.freeze == Freezing::Good => frozen(profile, class, made)?,
        Place::Fridge => fridge(profile, class, made, made),
        _ => return None,
    };
    (keep.use_by >= snapshot.now).then(|| StoredLot {
        id: format!("before-{}", lot.id).as_str().into(),
        component: component.id.clone(),
        foods: batch.inputs.iter().map(|input| input.food.clone()).collect(),
        mass: lot.mass,
        place,
        made,
        stored: made,
        keep,
        boxes: lot.boxes.clone(),
        reheated: false,
    })
}

/// The same household with boxes of the week before: in the freezer what the plan freezes, in the fridge two lots.
fn with_lots(snapshot: &Snapshot, planned: &Planned) -> Snapshot {
    let mut fuller = snapshot.clone();
    let lots = planned.plan.lots.iter();
    let mut chilled = 0;
    for lot in lots {
        let place = match lot.fate {
            Fate::Freezer => Place::Freezer,
            Fate::Fridge if chilled < 2 => Place::Fridge,
            Fate::Fridge | Fate::Cupboard => continue,
        };
        if let Some(before) = earlier(snapshot, planned, lot, place) {
            chilled += usize::from(place == Place::Fridge);
            fuller.lots.push(before);
        }
    }
    fuller.lots.sort_by_key(|lot| (lot.keep.use_by, lot.id.clone()));
    fuller
}

#[test]
fn plans_leave_the_room_that_the_house_takes() {
    let (mut planned_again, mut eaten, mut refused) = (0, 0, 0);
    for seed in 0..40 {
        let snapshot = random::snapshot(seed);
        let Ok(first) = plan(&snapshot, Threads::Two) else {
            continue;
        };
        let fuller = with_lots(&snapshot, &first);
        match plan(&fuller, Threads::Two) {
            Ok(second) => {
                planned_again += 1;
                eaten += second.plan.carried.len();
            }
            Err(Refusal::Conflict(_)) => refused += 1,
            Err(fatal @ Refusal::Fatal(_)) => panic!("seed {seed}: {fatal}"),
        }
    }
    assert!(
        planned_again > refused && eaten > planned_again,
        "{planned_again} planned, {eaten} lots eaten, {refused} refused"
    );
}

#[test]
fn a_fridge_full_of_old_lots_has_no_room_for_new_ones() {
    let mut refused = 0;
    for seed in 0..12 {
        let snapshot = random::snapshot(seed);
        let Ok(first) = plan(&snapshot, Threads::Two) else {
            continue;
        };
        let chilled = first.plan.lots.iter().find(|lot| lot.fate == Fate::Fridge);
        let Some(before) = chilled.and_then(|lot| earlier(&snapshot, &first, lot, Place::Fridge)) else {
            continue;
        };
        // What fills the fridge is of no use to anybody's plate and stays beyond the week.
        let mut full = snapshot.clone();
        let mut before = StoredLot {
            reheated: true,
            ..before
        };
        before.keep.use_by = snapshot.now.saturating_add(Span::new().days(30));
        let brim = |(id, count): &(BoxId, u32)| {
            let kinds = &snapshot.household.kitchen.boxes;
            let kind = kinds.iter().find(|kind| kind.id == *id).expect("an own box");
            kind.volume.times(i64::from(*count))
        };
        full.household.kitchen.fridge = before.boxes.iter().map(brim).sum::<Volume>();
        let spared = Snapshot {
            household: full.household.clone(),
            ..snapshot.clone()
        };
        full.lots = vec![before];
        let with = plan(&full, Threads::Two).map(|planned| planned.plan.lots);
        let chilled = |lots: &[Lot]| lots.iter().any(|lot| lot.fate == Fate::Fridge);
        match with {
            Ok(lots) => assert!(!chilled(&lots), "seed {seed}: {lots:#?}"),
            Err(Refusal::Conflict(_)) => refused += usize::from(plan(&spared, Threads::Two).is_ok()),
            Err(fatal @ Refusal::Fatal(_)) => panic!("seed {seed}: {fatal}"),
        }
    }
    assert!(
        refused > 0,
        "no week shows that it is the old lot that is in the way"
    );
}
