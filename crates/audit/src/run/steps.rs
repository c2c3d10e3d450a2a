//! The work of one batch in a run: which acts do which step, load by load.

use std::collections::BTreeMap;

use larderwright_model::{Act, ActKind, Batch, Run, Step, StepId, Way};
use larderwright_quantity::{Mass, Rounding};

use crate::book::Book;
use crate::notes::Notes;
use crate::rules;

/// The acts of one batch by step, each list by load.
pub(super) struct Work<'a> {
    pub(super) run: &'a Run,
    pub(super) batch: &'a Batch,
    pub(super) way: &'a Way,
    acts: BTreeMap<&'a StepId, Vec<&'a Act>>,
}

impl<'a> Work<'a> {
    pub(super) fn of(book: &Book<'_>, run: &'a Run, batch: &'a Batch, way: &'a Way) -> Self {
        let mut acts = BTreeMap::new();
        for step in &way.steps {
            let mut own: Vec<&Act> = run
                .acts
                .iter()
                .filter(|act| does(book, act, batch, step))
                .collect();
            own.sort_by_key(|act| (act.load, act.start));
            acts.insert(&step.id, own);
        }
        Self {
            run,
            batch,
            way,
            acts,
        }
    }

    /// The acts that do a step, by load.
    pub(super) fn acts(&self, step: &StepId) -> &[&'a Act] {
        self.acts.get(step).map_or(&[], Vec::as_slice)
    }

    /// The driver's mass in one load: an equal share, rounded up.
    pub(super) fn share(&self, step: &StepId) -> Mass {
        let loads = i64::try_from(self.acts(step).len()).expect("a run has few acts");
        self.batch.x.scale(1, loads.max(1), Rounding::Up)
    }

    /// Steps that are done in the session.
    pub(super) fn steps(&self) -> impl Iterator<Item = &'a Step> + use<'a> {
        self.way.steps.iter().filter(|step| !step.lead)
    }

    pub(super) fn check_steps(&self, notes: &mut Notes) {
        for step in &self.way.steps {
            let loads: Vec<i64> = self.acts(&step.id).iter().map(|act| act.load).collect();
            let count = i64::try_from(loads.len()).expect("a run has few acts");
            let whole = if step.lead {
                loads.is_empty()
            } else {
                count > 0 && loads.iter().copied().eq(1..=count)
            };
            if !whole {
                notes
                    .say(
                        &rules::RUN_STEPS,
                        &self.batch.id,
                        format!("the step `{}` is not in the run once for each load", step.id),
                    )
                    .evidence = format!("loads {loads:?}");
            }
        }
    }
}

/// Whether an act does a step of a batch; a joint act does the steps of the same merging key.
fn does(book: &Book<'_>, act: &Act, batch: &Batch, step: &Step) -> bool {
    if act.kind != ActKind::Step || !act.batches.contains(&batch.id) {
        return false;
    }
    let key = joint_key(book, act);
    match key {
        Some(key) if act.batches.len() > 1 => step.merge.as_deref() == Some(key),
        _ => act.step.as_ref() == Some(&step.id),
    }
}

/// The step of a batch that an act does.
pub(super) fn step_of<'a>(book: &Book<'a>, act: &Act, batch: &Batch) -> Option<&'a Step> {
    let way = book.way(batch)?;
    way.steps.iter().find(|step| does(book, act, batch, step))
}

fn joint_key<'a>(book: &Book<'a>, act: &Act) -> Option<&'a str> {
    let id = act.step.as_ref()?;
    act.batches
        .iter()
        .find_map(|batch| book.step(batch, id)?.merge.as_deref())
}
