//! Lots that were in the house before: nothing is drawn that is not there, nothing after its date.

use larderwright_model::{Carried, Finish, Item, Place, Portion, PortionSource, Sitting, StoredLot};
use larderwright_safety::keeping::{self, KeepClass};

use crate::book::{Book, between, clock, span};
use crate::keeping::{THAW_MIN, longer, too_late};
use crate::notes::Notes;
use crate::rules;

pub(crate) fn check(book: &Book<'_>, notes: &mut Notes) {
    for lot in &book.snapshot.lots {
        let entry = book.plan.carried.iter().find(|entry| entry.lot == lot.id);
        tally(book, lot, entry, notes);
        if let Some(entry) = entry {
            dates(book, lot, entry, notes);
        }
        warmed_again(book, lot, notes);
    }
    for entry in &book.plan.carried {
        if book.stored(&entry.lot).is_none() {
            notes.say(
                &rules::COMPLETE_REFERENCE,
                &entry.lot,
                format!("`{}` leads nowhere", entry.lot),
            );
        }
    }
}

fn portions<'a>(
    book: &Book<'a>,
    lot: &'a StoredLot,
) -> impl Iterator<Item = (Option<&'a Sitting>, &'a Portion)> {
    let snapshot = book.snapshot;
    book.portions()
        .filter(|(_, portion)| matches!(&portion.source, PortionSource::Lot(id) if *id == lot.id))
        .map(|(plate, portion)| (snapshot.sitting(&plate.sitting), portion))
}

fn tally(book: &Book<'_>, lot: &StoredLot, entry: Option<&Carried>, notes: &mut Notes) {
    let drawn: larderwright_quantity::Mass = portions(book, lot).map(|(_, portion)| portion.mass).sum();
    let stated = entry.map_or(larderwright_quantity::Mass::ZERO, |entry| entry.mass);
    if drawn > lot.mass {
        notes
            .say(
                &rules::CARRIED_MASS,
                &lot.id,
                "more is drawn from the lot than is left",
            )
            .evidence = format!("drawn {} mg, left {} mg", drawn.mg(), lot.mass.mg());
    }
    if drawn != stated {
        notes
            .say(
                &rules::CARRIED_STATED,
                &lot.id,
                "the plan states another mass than plates draw",
            )
            .evidence = format!("stated {} mg, drawn {} mg", stated.mg(), drawn.mg());
    }
    let wrong = portions(book, lot)
        .filter(|(_, portion)| portion.item != Item::Component(lot.component.clone()))
        .count();
    if wrong > 0 {
        notes.say(
            &rules::CARRIED_STATED,
            &lot.id,
            "a portion is said to be something else than is in the lot",
        );
    }
}

fn dates(book: &Book<'_>, lot: &StoredLot, entry: &Carried, notes: &mut Notes) {
    let due = match (lot.place, entry.pull) {
        (Place::Freezer, Some(pull)) => {
            let class = book
                .snapshot
                .components
                .get(&lot.component)
                .and_then(|component| KeepClass::parse(component.keep.as_str()));
            let Some(class) = class else { return };
            let profile = book.snapshot.household.profile;
            let thawed = keeping::thawed(profile, class, lot.made, lot.stored, pull);
            if pull < book.snapshot.now || pull > lot.keep.use_by {
                notes
                    .say(
                        &rules::CARRIED_PULL,
                        &lot.id,
                        "the pull lies before the plan or past the date",
                    )
                    .evidence = format!("pulled {}, planned {}", clock(pull), clock(book.snapshot.now));
            }
            thawed
        }
        _ => lot.keep.clone(),
    };
    if entry.keep.use_by > due.use_by {
        longer(&rules::CARRIED_USE_BY, &lot.id, (&entry.keep, &due), notes);
    }
    for sitting in portions(book, lot).filter_map(|(sitting, _)| sitting) {
        if sitting.at > due.use_by {
            too_late(&rules::CARRIED_USE_BY, (&lot.id, &due), sitting, notes);
        }
        let thawed = entry
            .pull
            .map(|pull| between(pull, sitting.leaves_fridge()))
            .is_some_and(|time| time >= THAW_MIN);
        if lot.place == Place::Freezer && !thawed {
            notes
                .say(
                    &rules::CARRIED_PULL,
                    &lot.id,
                    "the lot is not pulled in time to thaw",
                )
                .evidence = format!(
                "out of the fridge {}, at least {}",
                clock(sitting.leaves_fridge()),
                span(THAW_MIN)
            );
        }
    }
}

fn warmed_again(book: &Book<'_>, lot: &StoredLot, notes: &mut Notes) {
    let hot = portions(book, lot).any(|(_, portion)| portion.finish == Finish::Reheat);
    if lot.reheated && hot {
        notes.say(
            &rules::CARRIED_REHEATED,
            &lot.id,
            "the lot was warmed before and is planned hot again",
        );
    }
}
