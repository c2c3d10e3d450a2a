//! What follows from a new order.

use std::collections::BTreeSet;

use larderwright_model::{BatchId, LeftOut, Lot};

use super::leave_out::sittings;
use super::rest::{Attempt, Course};
use super::{Moved, Replanned};

/// The answer, with what follows from it.
pub(super) fn told(
    course: &Course<'_>,
    lots: &[Lot],
    attempt: Attempt,
    out: &BTreeSet<BatchId>,
) -> Replanned {
    let left_out: Vec<LeftOut> = out.iter().map(|batch| left_out(course, lots, batch)).collect();
    let moved = moved(course, &attempt);
    let until = course.state.stop.unwrap_or(course.session.to);
    Replanned {
        late_min: attempt.finish.duration_since(until).as_mins().max(0),
        overdue_min: attempt.overdue,
        run: attempt.run,
        moved,
        left_out,
    }
}

fn left_out(course: &Course<'_>, lots: &[Lot], batch: &BatchId) -> LeftOut {
    let tasks = course.network.tasks.iter().enumerate();
    let own: Vec<_> = tasks
        .filter(|(task, info)| info.serves(batch) && course.has_begun(*task))
        .collect();
    LeftOut {
        batch: batch.clone(),
        hot: own.iter().any(|(task, _)| course.is_hot(*task)),
        begun: own.iter().map(|(_, info)| info.title.clone()).collect(),
        sittings: sittings(lots, batch),
    }
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
