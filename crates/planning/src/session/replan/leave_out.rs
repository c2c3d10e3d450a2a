//! Which batches may be left out, and what harm that does.

use std::collections::BTreeSet;

use larderwright_model::{BatchId, Lot, SittingId, Snapshot};

use super::rest::{Course, Stage};

/// A batch that may be left out.
#[derive(Clone, Debug)]
pub(super) struct Candidate {
    pub batch: BatchId,
    /// Whether it has been on the heat, covers that were to eat from it, whether work on it has begun, what was to come
    /// out, in mg.
    harm: (bool, usize, bool, i64),
}

/// Batches that are not over, the least harm first: half-cooked food is left out last.
pub(super) fn candidates(course: &Course<'_>, lots: &[Lot]) -> Vec<Candidate> {
    let mut found: Vec<Candidate> = Vec::new();
    for batch in &course.network.batches {
        let own = || {
            let tasks = course.network.tasks.iter().enumerate();
            tasks
                .filter(|(_, info)| info.serves(&batch.id))
                .map(|(task, _)| task)
        };
        let is_over = own().all(|task| matches!(course.stage(task), Stage::Over(..)));
        if is_over {
            continue;
        }
        let covers = sittings(lots, &batch.id)
            .iter()
            .map(|id| covers(course.snapshot, id))
            .sum();
        found.push(Candidate {
            batch: batch.id.clone(),
            harm: (
                own().any(|task| course.has_begun(task) && course.is_hot(task)),
                covers,
                own().any(|task| course.has_begun(task)),
                batch.demand.mg(),
            ),
        });
    }
    found.sort_by(|a, b| (a.harm, &a.batch).cmp(&(b.harm, &b.batch)));
    found
}

/// Who was to eat from a batch, by time.
pub(super) fn sittings(lots: &[Lot], batch: &BatchId) -> Vec<SittingId> {
    let own = lots.iter().filter(|lot| lot.origin == *batch);
    let all: BTreeSet<&SittingId> = own.flat_map(|lot| &lot.sittings).collect();
    all.into_iter().cloned().collect()
}

fn covers(snapshot: &Snapshot, id: &SittingId) -> usize {
    let found = snapshot.sittings.iter().find(|sitting| sitting.id == *id);
    found.map_or(1, larderwright_model::Sitting::covers)
}
