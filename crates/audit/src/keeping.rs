//! Keeping: every lot's dates recomputed from its own times by the rules of the profile in force.

mod packed;

use larderwright_model::{ActKind, Fate, Freezing, Keep, Lot, LotId, Place, Sitting};
use larderwright_quantity::Seconds;
use larderwright_safety::keeping::{self, KeepClass};

use crate::book::{Book, between, clock, span};
use crate::notes::Notes;
use crate::rules::{self, Rule};

/// A flat pack thaws overnight in the fridge.
pub(crate) const THAW_MIN: Seconds = Seconds::from_hours(12);

pub(crate) fn check(book: &Book<'_>, notes: &mut Notes) {
    for lot in &book.plan.lots {
        let Some(component) = book.lot_component(lot) else {
            continue;
        };
        let Some(class) = KeepClass::parse(component.keep.as_str()) else {
            notes.say(
                &rules::KEEPING_CLASS,
                &component.id,
                format!("`{}` is no keeping class", component.keep),
            );
            continue;
        };
        dates(book, lot, class, notes);
        served(book, lot, notes);
        chill(book, lot, class, notes);
        times(book, lot, notes);
        thaw(book, lot, notes);
        fate(lot, component.freeze, notes);
    }
    packed::check(book, notes);
}

fn recomputed(book: &Book<'_>, lot: &Lot, class: KeepClass) -> Option<Keep> {
    let profile = book.snapshot.household.profile;
    match (lot.fate, lot.pull) {
        (Fate::Fridge, _) => Some(keeping::fridge(profile, class, lot.made, lot.stored)),
        (Fate::Cupboard, _) => keeping::cupboard(profile, class, lot.made),
        (Fate::Freezer, Some(pull)) => {
            keeping::frozen(profile, class, lot.stored)?;
            Some(keeping::thawed(profile, class, lot.made, lot.stored, pull))
        }
        (Fate::Freezer, None) => keeping::frozen(profile, class, lot.stored),
    }
}

fn dates(book: &Book<'_>, lot: &Lot, class: KeepClass, notes: &mut Notes) {
    let Some(due) = recomputed(book, lot, class) else {
        notes
            .say(
                &rules::KEEPING_FATE,
                &lot.id,
                format!("the rules have no `{:?}` for this class", lot.fate),
            )
            .evidence = class.word().to_owned();
        return;
    };
    if lot.keep.use_by > due.use_by || lot.keep.best_by > due.use_by {
        longer(&rules::KEEPING_RULE, &lot.id, (&lot.keep, &due), notes);
    }
}

/// Notes that a lot is given longer than its rule allows.
pub(crate) fn longer(rule: &Rule, lot: &LotId, (stated, due): (&Keep, &Keep), notes: &mut Notes) {
    let finding = notes.say(rule, lot, "the lot is given longer than the rule");
    finding.evidence = format!(
        "{}: stated {}, allowed {}",
        due.rule,
        clock(stated.use_by),
        clock(due.use_by)
    );
    finding.source.clone_from(&due.source);
}

/// Notes that a sitting comes after the date of the lot it eats from.
pub(crate) fn too_late(rule: &Rule, (lot, keep): (&LotId, &Keep), sitting: &Sitting, notes: &mut Notes) {
    let finding = notes.say(rule, lot, format!("`{}` comes after its use-by", sitting.id));
    finding.evidence = format!("eaten {}, use by {}", clock(sitting.at), clock(keep.use_by));
    finding.source.clone_from(&keep.source);
}

fn served(book: &Book<'_>, lot: &Lot, notes: &mut Notes) {
    let mut eaten: Vec<_> = book
        .portions_of(&lot.id)
        .filter_map(|(plate, _)| book.snapshot.sitting(&plate.sitting))
        .map(|sitting| (sitting.at, sitting))
        .collect();
    eaten.sort_by_key(|(at, sitting)| (*at, sitting.id.clone()));
    eaten.dedup_by_key(|(_, sitting)| sitting.id.clone());
    if !lot
        .sittings
        .iter()
        .eq(eaten.iter().map(|(_, sitting)| &sitting.id))
    {
        notes.say(
            &rules::KEEPING_SITTINGS,
            &lot.id,
            "the lot's sittings are not those that eat from it",
        );
    }
    for (at, sitting) in eaten {
        if at > lot.keep.use_by {
            too_late(&rules::KEEPING_USE_BY, (&lot.id, &lot.keep), sitting, notes);
        }
        if sitting.leaves_fridge() < lot.made {
            notes
                .say(
                    &rules::KEEPING_MADE_FIRST,
                    &lot.id,
                    format!("`{}` comes before it is made", sitting.id),
                )
                .evidence = format!("eaten {}, made {}", clock(at), clock(lot.made));
        }
    }
}

fn chill(book: &Book<'_>, lot: &Lot, class: KeepClass, notes: &mut Notes) {
    let row = keeping::rule(book.snapshot.household.profile, class);
    let late = !keeping::chilled_in_time(row, lot.made, lot.stored);
    if lot.fate != Fate::Cupboard && (late || lot.stored < lot.made) {
        let finding = notes.say(
            &rules::KEEPING_CHILL,
            &lot.id,
            "the lot comes into the cold too late",
        );
        let waited = between(lot.made, lot.stored);
        finding.evidence = format!("{}, allowed {}", span(waited), span(row.chill_within));
        row.source.clone_into(&mut finding.source);
    }
}

fn times(book: &Book<'_>, lot: &Lot, notes: &mut Notes) {
    let acts = || {
        let runs = book.plan.runs.iter();
        runs.flat_map(|run| &run.acts)
            .filter(|act| act.batches.contains(&lot.origin))
    };
    let cooked = acts()
        .filter(|act| act.kind == ActKind::Step)
        .map(|act| act.end)
        .max();
    let packed = acts()
        .filter(|act| act.kind == ActKind::PackOut)
        .map(|act| act.end)
        .min();
    if cooked.is_some_and(|end| lot.made > end) {
        notes
            .say(
                &rules::KEEPING_TIMES,
                &lot.id,
                "the lot counts as made later than its cooking ends",
            )
            .evidence = format!(
            "made {}, cooked {}",
            clock(lot.made),
            clock(cooked.unwrap_or(lot.made))
        );
    }
    if packed.is_none_or(|end| lot.stored < end) {
        let by = packed.map_or_else(|| "no pack-out".to_owned(), clock);
        notes
            .say(
                &rules::KEEPING_TIMES,
                &lot.id,
                "the lot counts as stored before it is packed",
            )
            .evidence = format!("stored {}, packed {by}", clock(lot.stored));
    }
}

fn thaw(book: &Book<'_>, lot: &Lot, notes: &mut Notes) {
    if lot.fate != Fate::Freezer {
        return;
    }
    let first = book
        .portions_of(&lot.id)
        .filter_map(|(plate, _)| book.snapshot.sitting(&plate.sitting))
        .map(larderwright_model::Sitting::leaves_fridge)
        .min();
    let Some(first) = first else { return };
    let thaws = lot
        .pull
        .is_some_and(|pull| pull >= lot.stored && between(pull, first) >= THAW_MIN);
    if !thaws {
        let pull = lot.pull.map_or_else(|| "never".to_owned(), clock);
        notes
            .say(
                &rules::KEEPING_THAW,
                &lot.id,
                "the lot is not pulled in time to thaw",
            )
            .evidence = format!(
            "pulled {pull}, out of the fridge {}, at least {}",
            clock(first),
            span(THAW_MIN)
        );
    }
}

fn fate(lot: &Lot, freeze: Freezing, notes: &mut Notes) {
    let lies_right = match lot.fate {
        Fate::Fridge => lot.place == Place::Fridge,
        Fate::Freezer => lot.place == Place::Freezer && freeze != Freezing::No,
        Fate::Cupboard => lot.place == Place::Cupboard,
    };
    if !lies_right {
        notes
            .say(
                &rules::KEEPING_FATE,
                &lot.id,
                "the lot cannot have the fate it is given",
            )
            .evidence = format!("{:?} in the {:?}, freezing {freeze:?}", lot.fate, lot.place);
    }
}
