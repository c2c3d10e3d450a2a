//! What follows from a new order, in words for the cook.

use std::collections::BTreeSet;

use larderwright_model::{BatchId, Lot, Standing};

use super::leave_out::sittings;
use super::rest::{Attempt, Course};
use super::{LeftOut, Moved, Replanned};
use crate::menu::say;

/// The answer, with what it says.
pub(super) fn told(
    course: &Course<'_>,
    lots: &[Lot],
    attempt: Attempt,
    out: &BTreeSet<BatchId>,
) -> Replanned {
    let left_out: Vec<LeftOut> = out.iter().map(|batch| left_out(course, lots, batch)).collect();
    let moved = moved(course, &attempt);
    let mut follows = vec![end(course, &attempt)];
    for out in &left_out {
        follows.extend(said(course, out));
    }
    if attempt.overdue > 0 {
        follows.push(format!(
            "Something waits {} min longer than its recipe says: keep it hot or cold, not in between.",
            attempt.overdue
        ));
    }
    Replanned {
        run: attempt.run,
        moved,
        left_out,
        follows,
    }
}

fn end(course: &Course<'_>, attempt: &Attempt) -> String {
    let until = course.state.stop.unwrap_or(course.session.to);
    let finish = say(attempt.finish);
    let late = attempt.finish.duration_since(until).as_mins();
    match attempt.run.standing {
        _ if late > 0 => format!("Done by {finish}: {late} min later than there is time for."),
        Standing::Tight => format!("Done by {finish}, if nothing takes longer than usual."),
        Standing::Likely | Standing::WontFit => format!("Done by {finish}."),
    }
}

fn left_out(course: &Course<'_>, lots: &[Lot], batch: &BatchId) -> LeftOut {
    let tasks = course.network.tasks.iter().enumerate();
    let own = tasks.filter(|(task, info)| info.serves(batch) && course.has_begun(*task));
    LeftOut {
        batch: batch.clone(),
        begun: own.map(|(_, info)| info.title.clone()).collect(),
        sittings: sittings(lots, batch),
    }
}

fn said(course: &Course<'_>, out: &LeftOut) -> Vec<String> {
    let batch = course.network.batches.iter().find(|batch| batch.id == out.batch);
    let name = batch.map_or_else(
        || out.batch.to_string(),
        |batch| course.snapshot.components[&batch.component].name.clone(),
    );
    let mut lines = vec![format!("{name}: not made today.")];
    let times = course
        .snapshot
        .sittings
        .iter()
        .filter(|sitting| out.sittings.contains(&sitting.id));
    let times: Vec<String> = times.map(|sitting| say(sitting.at)).collect();
    if !times.is_empty() {
        lines.push(format!(
            "{name}: something else is wanted on {}.",
            times.join(", ")
        ));
    }
    if !out.begun.is_empty() {
        lines.push(format!(
            "{name}: begun already ({}). Cover what is cut and put it in the fridge now, for tomorrow; what was meant to be cooked at once and has stood warm goes.",
            out.begun.join(", ")
        ));
    }
    lines
}

fn moved(course: &Course<'_>, attempt: &Attempt) -> Vec<Moved> {
    let before = |id| {
        course
            .run
            .acts
            .iter()
            .find(|act| act.id == id)
            .map(|act| act.start)
    };
    let acts = attempt.run.acts.iter();
    let moved = acts.filter_map(|act| {
        let from = before(act.id.clone()).filter(|from| *from != act.start)?;
        Some(Moved {
            act: act.id.clone(),
            from,
            to: act.start,
        })
    });
    moved.collect()
}
