//! The keeping stage: place, use-by and pull date of every lot, from the times of the run.

use std::collections::BTreeMap;

use jiff::civil::DateTime;
use larderwright_model::{
    ActKind, Answer, Batch, BatchId, Component, ComponentId, Fate, Keep, Lot, Report, Run, SessionId,
    SittingId, Snapshot, Stage,
};
use larderwright_safety::keeping::{self, KeepClass};

/// What the keeping stage hands on.
#[derive(Clone, Debug)]
pub struct KeepingResult {
    /// Lots with their real times.
    pub lots: Vec<Lot>,
    /// Why.
    pub report: Report,
}

/// A lot that does not last until a sitting.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TooShort {
    /// Component, session and sitting that do not go together.
    pub supply: (ComponentId, SessionId, SittingId),
    /// What keeps how long, in words.
    pub message: String,
}

/// The keeping class of a component.
///
/// # Panics
/// Panics on a class that no guidance table knows; recipes are checked when they are read.
#[must_use]
pub fn class_of(component: &Component) -> KeepClass {
    KeepClass::parse(component.keep.as_str()).expect("recipes are read with known keeping classes")
}

/// Sets times and dates of all lots.
///
/// # Errors
/// The first lot that does not last until one of its sittings.
pub fn date(
    snapshot: &Snapshot,
    batches: &[Batch],
    lots: Vec<Lot>,
    runs: &[Run],
) -> Result<KeepingResult, TooShort> {
    let times = times(runs);
    let mut dated = Vec::new();
    for lot in lots {
        let batch = batches
            .iter()
            .find(|batch| batch.id == lot.origin)
            .expect("a lot comes from a batch of the plan");
        let lot = with_times(snapshot, batch, lot, times[&batch.id]);
        check(snapshot, batch, &lot)?;
        dated.push(lot);
    }
    let report = report(&dated);
    Ok(KeepingResult { lots: dated, report })
}

/// When cooking ended and when the boxes were put away, by batch.
fn times(runs: &[Run]) -> BTreeMap<BatchId, (DateTime, DateTime)> {
    let cooked = last_ends(runs, &ActKind::Step);
    let boxed = last_ends(runs, &ActKind::PackOut);
    cooked
        .into_iter()
        .filter_map(|(batch, made)| boxed.get(&batch).map(|stored| (batch, (made, *stored))))
        .collect()
}

/// When the last act of a kind ended, by batch.
fn last_ends(runs: &[Run], kind: &ActKind) -> BTreeMap<BatchId, DateTime> {
    let mut ends: BTreeMap<BatchId, DateTime> = BTreeMap::new();
    for act in runs
        .iter()
        .flat_map(|run| &run.acts)
        .filter(|act| act.kind == *kind)
    {
        for batch in &act.batches {
            let end = ends.entry(batch.clone()).or_insert(act.end);
            *end = (*end).max(act.end);
        }
    }
    ends
}

fn with_times(snapshot: &Snapshot, batch: &Batch, lot: Lot, (made, stored): (DateTime, DateTime)) -> Lot {
    let profile = snapshot.household.profile;
    let class = class_of(&snapshot.components[&batch.component]);
    let keep: Keep = match (lot.fate, lot.pull) {
        (Fate::Freezer, Some(pull)) => keeping::thawed(profile, class, made, stored, pull),
        (Fate::Freezer, None) => keeping::frozen(profile, class, stored)
            .unwrap_or_else(|| keeping::fridge(profile, class, made, stored)),
        (Fate::Cupboard, _) => keeping::cupboard(profile, class, made)
            .unwrap_or_else(|| keeping::fridge(profile, class, made, stored)),
        (Fate::Fridge, _) => keeping::fridge(profile, class, made, stored),
    };
    Lot {
        made,
        stored,
        keep,
        ..lot
    }
}

fn check(snapshot: &Snapshot, batch: &Batch, lot: &Lot) -> Result<(), TooShort> {
    for id in &lot.sittings {
        let sitting = snapshot
            .sitting(id)
            .expect("a lot is eaten at sittings of the week");
        if sitting.at > lot.keep.use_by || sitting.leaves_fridge() < lot.stored {
            return Err(TooShort {
                supply: (batch.component.clone(), batch.session.clone(), id.clone()),
                message: format!(
                    "{} made {} is to be eaten by {} ({})",
                    batch.component,
                    crate::menu::say(lot.made),
                    crate::menu::say(lot.keep.use_by),
                    lot.keep.source
                ),
            });
        }
    }
    Ok(())
}

fn report(lots: &[Lot]) -> Report {
    let line = |lot: &Lot| match lot.pull {
        Some(pull) => format!(
            "{}: freezer, pull {}, use by {}",
            lot.id,
            crate::menu::say(pull),
            crate::menu::say(lot.keep.use_by)
        ),
        None => format!("{}: use by {}", lot.id, crate::menu::say(lot.keep.use_by)),
    };
    Report {
        stage: Stage::Keeping,
        answer: Answer::Computed,
        chosen: lots.iter().map(line).collect(),
        rejected: Vec::new(),
    }
}
