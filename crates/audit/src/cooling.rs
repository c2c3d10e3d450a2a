//! Cooling: what was hot is brought down by a way that suits it, with what the way needs, in boxes from which its
//! middle gets cool; and frozen lots are thawed through by their day.
//!
//! Guidance is judged under storage and keeping. Here stand the ways themselves, which are facts of the kitchen, and
//! physics, which only advises.

use larderwright_model::{Act, ActKind, Batch, Component, CoolingMethod, Equipment, Fate, Lot, Way};
use larderwright_quantity::{Length, Mass, Rounding, Seconds, mul_div};
use larderwright_safety::KeepClass;
use larderwright_safety::cooling::actions::{Action, Cold, Hot, freezer_takes, rinses, stages, stirs};
use larderwright_safety::limits;

use crate::book::{Book, between, clock, span};
use crate::notes::Notes;
use crate::rules;
use crate::run::tray_cm2;

/// How long food lies on trays at the least.
const ON_TRAYS: Seconds = Seconds::from_mins(20);
/// How long open boxes stand in the freezer at the least.
const IN_FREEZER: Seconds = Seconds::from_hours(1);
/// How thick it lies there at most: 15 mm and a millimetre of slack.
const ON_TRAYS_THICK: Length = Length::from_mm(16);
/// Physics advises only where it is clearly late.
const SLACK: Seconds = Seconds::from_mins(5);

pub(crate) fn check(book: &Book<'_>, notes: &mut Notes) {
    for lot in &book.plan.lots {
        let batch = book.batch(&lot.origin);
        let (Some(batch), Some(component)) = (batch, book.lot_component(lot)) else {
            continue;
        };
        let Some(class) = KeepClass::parse(component.keep.as_str()) else {
            continue;
        };
        let way = book.way(batch);
        let heated = way.is_some_and(heated);
        let drained = way.is_some_and(|way| {
            let mut kept = way.inputs.iter().filter(|input| !input.drained);
            // What was dressed would lose its dressing.
            kept.all(|input| input.food == way.driver) && way.inputs.iter().any(|input| input.drained)
        });
        if heated && lot.cooling == CoolingMethod::None && lot.fate != Fate::Cupboard {
            notes.say(
                &rules::COOLING_HOT,
                &lot.id,
                "the lot was heated and goes into the cold as it is",
            );
        }
        suits(lot, class, drained, notes);
        let hot = Hot::of(class, component.bulk.value);
        slow(book, lot, &hot, notes);
        thick(book, lot, &hot, notes);
    }
    for batch in &book.plan.batches {
        let Some(component) = book.component(batch) else {
            continue;
        };
        let of_batch = |lot: &&Lot| lot.origin == batch.id;
        let ways = book.plan.lots.iter().filter(of_batch).map(|lot| lot.cooling);
        let mut ways: Vec<CoolingMethod> = ways.collect();
        ways.dedup();
        for way in ways {
            done(book, (batch, component), way, notes);
        }
    }
}

/// Whether a way heats what it makes.
fn heated(way: &Way) -> bool {
    let hot = |equipment: &Equipment| match equipment {
        Equipment::Burner | Equipment::Rack | Equipment::Microwave | Equipment::PressureCooker => true,
        Equipment::Oven | Equipment::Pot | Equipment::Tray | Equipment::Board | Equipment::Blender => false,
    };
    way.steps
        .iter()
        .any(|step| step.boil.is_some() || step.uses.iter().any(hot))
}

fn suits(lot: &Lot, class: KeepClass, drained: bool, notes: &mut Notes) {
    let wrong = match lot.cooling {
        CoolingMethod::Trays | CoolingMethod::FreezerFirst => stirs(class),
        CoolingMethod::IceBath => !stirs(class),
        // Eggs have shells.
        CoolingMethod::ColdWater => class != KeepClass::EggHardCooked && !(drained && rinses(class)),
        CoolingMethod::None | CoolingMethod::Shallow => false,
    };
    if wrong {
        notes
            .say(
                &rules::COOLING_METHOD,
                &lot.id,
                "the way of cooling does not suit the food",
            )
            .evidence = format!("{}: {:?}", class.word(), lot.cooling).to_lowercase();
    }
}

/// The acts of a way: trays that are held long enough, a bath that somebody stirs.
fn done(book: &Book<'_>, (batch, component): (&Batch, &Component), way: CoolingMethod, notes: &mut Notes) {
    let runs = book.plan.runs.iter().flat_map(|run| &run.acts);
    let mut acts = runs.filter(|act| act.kind == ActKind::Cool && act.batches.contains(&batch.id));
    // That there is an act at all is the run's matter.
    let Some(act) = acts.next() else { return };
    let fault = match way {
        CoolingMethod::Trays => on_trays(book, (batch, component), act),
        CoolingMethod::IceBath if act.who.is_empty() => Some("nobody stirs it".to_owned()),
        CoolingMethod::FreezerFirst => in_freezer(book, act),
        _ => None,
    };
    if let Some(fault) = fault {
        notes
            .say(
                &rules::COOLING_ACT,
                &batch.id,
                "the act of cooling lacks what its way needs",
            )
            .evidence = fault;
    }
}

/// An hour in a freezer that takes so much hot food at once.
fn in_freezer(book: &Book<'_>, act: &Act) -> Option<String> {
    if act.length() < IN_FREEZER {
        return Some(format!(
            "{} in the freezer, at least {}",
            span(act.length()),
            span(IN_FREEZER)
        ));
    }
    let session = act.batches.first().and_then(|id| book.batch(id));
    let slow = |lot: &&Lot| {
        let batch = book.batch(&lot.origin);
        let together = batch
            .zip(session)
            .is_some_and(|(own, this)| own.session == this.session);
        lot.cooling == CoolingMethod::FreezerFirst && together
    };
    let hot: Mass = book.plan.lots.iter().filter(slow).map(|lot| lot.mass).sum();
    let most = freezer_takes(book.snapshot.household.kitchen.freezer);
    (hot > most).then(|| {
        format!(
            "{} g of hot food in the freezer in one session, it takes {} g",
            hot.g(Rounding::Up),
            most.g(Rounding::Down)
        )
    })
}

fn on_trays(book: &Book<'_>, (batch, component): (&Batch, &Component), act: &Act) -> Option<String> {
    if act.length() < ON_TRAYS {
        return Some(format!(
            "{} on trays, at least {}",
            span(act.length()),
            span(ON_TRAYS)
        ));
    }
    let area = tray_cm2(&book.snapshot.household.kitchen, act);
    let volume = component.bulk.value.volume_of(batch.yields[1], Rounding::Up);
    // A tenth of a microlitre is a micrometre on a square centimetre.
    let thick = Length::from_um(mul_div(volume.ul(), 10, area.max(1), Rounding::Up));
    (thick > ON_TRAYS_THICK).then(|| {
        format!(
            "{} mm thick on {area} cm² of trays, at most {} mm",
            thick.mm(Rounding::Up),
            ON_TRAYS_THICK.mm(Rounding::Down)
        )
    })
}

/// Physics: what stays warm in the middle for longer than food may stand out.
fn slow(book: &Book<'_>, lot: &Lot, hot: &Hot, notes: &mut Notes) {
    let profile = book.snapshot.household.profile;
    // Deeper than guidance allows is another rule's matter.
    if lot.fate == Fate::Cupboard || lot.depth > limits(profile).depth_max {
        return;
    }
    let action = match lot.cooling {
        CoolingMethod::Shallow => Action::OpenBoxes,
        CoolingMethod::Trays => Action::Trays,
        CoolingMethod::FreezerFirst => Action::FreezerFirst,
        CoolingMethod::None | CoolingMethod::ColdWater | CoolingMethod::IceBath => return,
    };
    let cold = match lot.fate {
        Fate::Freezer => Cold::Freezer,
        Fate::Fridge | Fate::Cupboard => Cold::Fridge,
    };
    let stages = stages(profile).into_iter();
    let mut stages = stages.map(|(to, most)| (to, most, hot.down_to(to, action, (lot.depth, cold))));
    let missed = stages.find(|(_, most, took)| took.is_none_or(|took| took > *most + SLACK));
    if let Some((to, most, took)) = missed {
        let finding = notes.say(
            &rules::COOLING_SLOW,
            &lot.id,
            "its middle is likely to stay warm for long: more or shallower boxes, or less of it at a time",
        );
        finding.evidence = format!(
            "{} mm deep, {} to {} °C, better within {}",
            lot.depth.mm(Rounding::Up),
            // Physics is not good for seconds.
            took.map_or_else(
                || "never".to_owned(),
                |took| format!("about {} min", took.mins(Rounding::Up))
            ),
            to.c(Rounding::Nearest),
            span(most)
        );
    }
}

/// Physics: what is still icy in the middle when it is wanted.
fn thick(book: &Book<'_>, lot: &Lot, hot: &Hot, notes: &mut Notes) {
    let (Fate::Freezer, Some(pull)) = (lot.fate, lot.pull) else {
        return;
    };
    let eaten = book
        .portions_of(&lot.id)
        .filter_map(|(plate, _)| book.snapshot.sitting(&plate.sitting));
    let Some(first) = eaten.map(larderwright_model::Sitting::leaves_fridge).min() else {
        return;
    };
    let Some(needed) = hot.thaws(lot.depth) else {
        return;
    };
    // Less than half a day is another rule's matter.
    let there = between(pull, first);
    if there >= crate::keeping::THAW_MIN && there + SLACK < needed {
        notes
            .say(
                &rules::COOLING_THAW,
                &lot.id,
                "its middle may still be icy on the day: the microwave or the pan finishes it",
            )
            .evidence = format!(
            "{} mm thick, {} in the fridge, pulled {}, likely to need {}",
            lot.depth.mm(Rounding::Up),
            span(there),
            clock(pull),
            span(needed)
        );
    }
}
