//! Single acts against their steps: long enough, not too full, with the equipment and hands they need.

use larderwright_model::{Act, ActKind, Equipment, Run, Step};
use larderwright_quantity::{Mass, Rounding, Seconds, Volume, mul_div};
use larderwright_safety::altitude::MOIST_HEAT;

use super::station::{self, Kind};
use super::steps::{self, Work};
use crate::book::{Book, span};
use crate::notes::Notes;
use crate::rules;

/// Runs are planned in whole minutes.
const LAST_LOOK: Seconds = Seconds::from_mins(1);

pub(super) fn check(book: &Book<'_>, work: &Work<'_>, notes: &mut Notes) {
    for step in work.steps() {
        let share = work.share(&step.id);
        for act in work.acts(&step.id) {
            duration(act, (step, share), book.snapshot.household.altitude_m, notes);
            equipment(act, step, notes);
            load(book, act, (step, share), notes);
            let hands = usize::try_from(step.hands).expect("a step needs few hands");
            if act.who.len() < hands {
                notes
                    .say(&rules::RUN_HANDS_COUNT, &act.id, "the act has too few hands")
                    .evidence = format!("{} of {hands}", act.who.len());
            }
            visits_enough(work.run, act, (step, share), notes);
        }
    }
}

fn duration(act: &Act, (step, share): (&Step, Mass), altitude_m: i64, notes: &mut Notes) {
    let law = step.law.likely(share);
    let core = step.safety.as_ref().is_some_and(|safety| safety.core.is_some());
    let moist = core && step.boil.is_some() && !step.uses.contains(&Equipment::PressureCooker);
    let high_up = MOIST_HEAT.extra(law, if moist { altitude_m } else { 0 });
    let due = law + high_up + oven_departure(act, step);
    if act.length() < due {
        let finding = notes.say(&rules::RUN_DURATION, &act.id, "the act is shorter than its law");
        finding.evidence = format!("{}, by law {}", span(act.length()), span(due));
        step.law.source.clone_into(&mut finding.source);
    }
}

/// Like work done once takes all its parts, with the fixed part once.
pub(super) fn joint(book: &Book<'_>, run: &Run, notes: &mut Notes) {
    for act in run.acts.iter().filter(|act| act.batches.len() > 1) {
        let parts: Vec<(&Step, Mass)> = act
            .batches
            .iter()
            .filter_map(|id| {
                let batch = book.batch(id)?;
                let step = steps::step_of(book, act, batch)?;
                Some((step, batch.x))
            })
            .collect();
        let fixed = || parts.iter().map(|(step, _)| step.law.fixed.secs());
        let all: i64 = parts.iter().map(|(step, x)| step.law.likely(*x).secs()).sum();
        let due = Seconds::from_secs(all - fixed().sum::<i64>() + fixed().max().unwrap_or(0));
        if act.length() < due {
            notes
                .say(
                    &rules::RUN_DURATION,
                    &act.id,
                    "the act is shorter than its parts together",
                )
                .evidence = format!("{}, its parts {}", span(act.length()), span(due));
        }
    }
}

/// Hotter than the best setting is quicker, cooler is slower.
fn oven_departure(act: &Act, step: &Step) -> Seconds {
    let (Some(set), Some(range)) = (act.oven, step.oven) else {
        return Seconds::ZERO;
    };
    let tenths = set.deci_c() - range.best.deci_c();
    Seconds::from_secs(mul_div(range.per_degree.secs(), tenths, 10, Rounding::Down))
}

fn equipment(act: &Act, step: &Step, notes: &mut Notes) {
    for equipment in &step.uses {
        let Some(kind) = Kind::of(*equipment) else {
            continue;
        };
        if station::held(act, kind).next().is_none() {
            notes
                .say(
                    &rules::RUN_EQUIPMENT,
                    &act.id,
                    format!("the act holds no {}", kind.word()),
                )
                .evidence = act.stations.join(", ");
        }
    }
}

fn load(book: &Book<'_>, act: &Act, load: (&Step, Mass), notes: &mut Notes) {
    let (step, share) = load;
    let kitchen = &book.snapshot.household.kitchen;
    let mut too_much = Vec::new();
    if step.load.is_some_and(|most| share > most) {
        too_much.push("the step".to_owned());
    }
    if step.uses.contains(&Equipment::Pot) {
        let need = Volume::from_ul(
            step.pot_fixed.ul() + mul_div(step.pot_per_kg.ul(), share.mg(), 1_000_000, Rounding::Up),
        );
        let pots = station::pots(kitchen);
        let held = station::held(act, Kind::Pot).filter_map(|index| pots.get(index - 1));
        if held.copied().max().is_some_and(|held| held < need) {
            too_much.push(format!("the pot: {} ml needed", need.ml(Rounding::Up)));
        }
    }
    if let Some(tray) = step.tray {
        let trays = station::trays(kitchen);
        let held = station::held(act, Kind::Tray).filter_map(|index| trays.get(index - 1));
        let room: Mass = held.map(|own| own.scaled_load(tray)).sum();
        if room.is_positive() && room < share {
            too_much.push(format!("the trays: room for {} g", room.g(Rounding::Down)));
        }
    }
    let trays = station::held(act, Kind::Tray).count();
    if step.uses.contains(&Equipment::Rack) && station::held(act, Kind::Rack).count() < trays {
        too_much.push("the racks".to_owned());
    }
    if !too_much.is_empty() {
        notes
            .say(&rules::RUN_LOAD, &act.id, "the load is too large")
            .evidence = format!(
            "{} g of the driver in {}",
            share.g(Rounding::Up),
            too_much.join(", ")
        );
    }
}

fn visits_enough(run: &Run, act: &Act, load: (&Step, Mass), notes: &mut Notes) {
    let (step, share) = load;
    let Some(visit) = &step.visit else { return };
    if !visit.every.is_positive() {
        return;
    }
    // A visit that would fall on the last minute is left out: the act is looked at when it ends.
    let length = step.law.likely(share).min(act.length()) - visit.hands - LAST_LOOK;
    let due = length.secs().max(0) / visit.every.secs();
    let own = || {
        run.acts
            .iter()
            .filter(|other| matches!(&other.kind, ActKind::Visit { of } if *of == act.id))
    };
    let count = i64::try_from(own().count()).expect("a run has few acts");
    if count < due {
        notes
            .say(&rules::RUN_VISITS, &act.id, "the act is looked after too seldom")
            .evidence = format!("{count} visits, {due} needed");
    }
    for short in own().filter(|other| other.length() < visit.hands) {
        notes
            .say(&rules::RUN_DURATION, &short.id, "the visit is too short")
            .evidence = format!("{}, by law {}", span(short.length()), span(visit.hands));
    }
}

/// Visits lie inside the act they look after, and somebody makes them.
pub(super) fn visits(book: &Book<'_>, run: &Run, notes: &mut Notes) {
    for act in &run.acts {
        match &act.kind {
            ActKind::Visit { of } => {
                let parent = run.acts.iter().find(|other| other.id == *of);
                if parent.is_some_and(|parent| act.start < parent.start || act.end > parent.end) {
                    notes.say(
                        &rules::RUN_VISITS,
                        &act.id,
                        format!("the visit is not inside `{of}`"),
                    );
                }
            }
            ActKind::CleanDown | ActKind::PackOut | ActKind::Preflight | ActKind::ClearDown => {}
            ActKind::Preheat | ActKind::Cool | ActKind::Step => continue,
        }
        if act.who.is_empty() && book.snapshot.session(&run.session).is_some() {
            notes.say(&rules::RUN_HANDS_COUNT, &act.id, "nobody does it");
        }
    }
}
