//! Contact on boards and blenders: raw meat before other food, an allergen before what a severely allergic
//! eater is served. A clean-down between them mends both. Pots and trays count as washed after every use.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_model::{
    Act, ActKind, Allergen, BatchId, Contact, Eater, Hygiene, PortionSource, Presence, Run, StepId,
};

use super::station::{Kind, parse};
use crate::book::{Book, clock};
use crate::notes::Notes;
use crate::rules;

pub(super) fn check(book: &Book<'_>, run: &Run, notes: &mut Notes) {
    let severe = severe(book);
    for (station, acts) in shared(run) {
        raw_meat(book, station, &acts, notes);
        for (allergen, protected) in &severe {
            allergen_contact(book, (station, &acts), (*allergen, protected), notes);
        }
    }
}

/// The acts on every board and blender, by start.
fn shared(run: &Run) -> BTreeMap<&str, Vec<&Act>> {
    let mut shared: BTreeMap<&str, Vec<&Act>> = BTreeMap::new();
    for act in run
        .acts
        .iter()
        .filter(|act| matches!(act.kind, ActKind::Step | ActKind::CleanDown))
    {
        for station in &act.stations {
            if matches!(parse(station), Some((Kind::Board | Kind::Blender, _))) {
                shared.entry(station).or_default().push(act);
            }
        }
    }
    for acts in shared.values_mut() {
        acts.sort_by_key(|act| (act.start, act.end));
    }
    shared
}

fn is_raw_meat(book: &Book<'_>, act: &Act) -> bool {
    let Some(step) = &act.step else { return false };
    act.batches
        .iter()
        .filter_map(|batch| book.step(batch, step))
        .any(|step| step.hygiene == Hygiene::RawMeat)
}

/// Whether an act handles plain food that goes with the meat before it into one batch and is cooked through
/// there.
fn goes_with(book: &Book<'_>, meat: &Act, act: &Act) -> bool {
    let ([batch], Some(id)) = (act.batches.as_slice(), &act.step) else {
        return false;
    };
    let plain = book
        .step(batch, id)
        .is_some_and(|step| step.hygiene == Hygiene::Plain);
    plain && meat.batches == act.batches && cooked_through(book, batch, id)
}

/// Whether a step that reaches a core temperature comes after this one.
fn cooked_through(book: &Book<'_>, batch: &BatchId, step: &StepId) -> bool {
    let way = book.batch(batch).and_then(|batch| book.way(batch));
    let Some(way) = way else { return false };
    let mut reached = BTreeSet::from([step]);
    // Recipes list steps in order, but a link may point forward; as many rounds as steps reach them all.
    for _ in &way.steps {
        for next in &way.steps {
            if next.after.iter().any(|after| reached.contains(&after.step)) {
                reached.insert(&next.id);
            }
        }
    }
    way.steps.iter().any(|next| {
        let core = next.safety.as_ref().is_some_and(|safety| safety.core.is_some());
        core && next.id != *step && reached.contains(&next.id)
    })
}

fn raw_meat(book: &Book<'_>, station: &str, acts: &[&Act], notes: &mut Notes) {
    let mut soiled: Option<&Act> = None;
    for act in acts {
        if act.kind == ActKind::CleanDown {
            soiled = None;
        } else if is_raw_meat(book, act) {
            soiled = Some(act);
        } else if let Some(before) = soiled.filter(|before| !goes_with(book, before, act)) {
            notes
                .say(
                    &rules::RUN_CLEAN_DOWN,
                    &act.id,
                    format!("`{station}` still has raw meat from `{}`", before.id),
                )
                .evidence = format!("{} then {}", clock(before.end), clock(act.start));
        }
    }
}

/// For every allergen that somebody severely avoids, the batches that they eat.
fn severe<'a>(book: &Book<'a>) -> BTreeMap<Allergen, BTreeSet<&'a BatchId>> {
    let mut severe: BTreeMap<Allergen, BTreeSet<&BatchId>> = BTreeMap::new();
    for (plate, portion) in book.portions() {
        let PortionSource::Lot(lot) = &portion.source else {
            continue;
        };
        let (Some(eater), Some(lot)) = (book.eater(&plate.cover), book.lot(lot)) else {
            continue;
        };
        for allergen in severely(eater) {
            severe.entry(allergen).or_default().insert(&lot.origin);
        }
    }
    severe
}

fn severely(eater: &Eater) -> impl Iterator<Item = Allergen> + use<'_> {
    eater
        .allergies
        .iter()
        .filter(|(_, contact)| **contact == Contact::Severe)
        .map(|(allergen, _)| *allergen)
}

fn carries(book: &Book<'_>, batch: &BatchId, allergen: Allergen) -> bool {
    let Some(batch) = book.batch(batch) else {
        return false;
    };
    book.batch_foods(batch).into_iter().any(|food| {
        let listed = food.allergens.as_ref();
        let has = |own: Allergen| listed.is_some_and(|all| all.get(&own) == Some(&Presence::Contains));
        has(allergen) || (allergen == Allergen::Gluten && has(Allergen::Wheat))
    })
}

fn allergen_contact(
    book: &Book<'_>,
    at: (&str, &[&Act]),
    severe: (Allergen, &BTreeSet<&BatchId>),
    notes: &mut Notes,
) {
    let (station, acts) = at;
    let (allergen, protected) = severe;
    let mut soiled: Option<&Act> = None;
    for act in acts {
        if act.kind == ActKind::CleanDown {
            soiled = None;
            continue;
        }
        if act.batches.iter().any(|batch| carries(book, batch, allergen)) {
            soiled = Some(act);
        }
        let touched = act
            .batches
            .iter()
            .find(|batch| protected.contains(*batch) && !carries(book, batch, allergen));
        if let (Some(before), Some(batch)) = (soiled, touched) {
            notes
                .say(
                    &rules::RUN_ALLERGEN_CONTACT,
                    &act.id,
                    format!("`{batch}` touches `{station}` after {}", allergen.word()),
                )
                .evidence = format!("from `{}`", before.id);
        }
    }
}
