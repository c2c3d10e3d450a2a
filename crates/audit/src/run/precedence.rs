//! Precedence: a step starts after the steps before it, within their gaps, load by load.

use larderwright_model::{Act, Step, StepAfter};

use super::steps::Work;
use crate::book::{between, span};
use crate::notes::Notes;
use crate::rules;

pub(super) fn check(work: &Work<'_>, notes: &mut Notes) {
    for step in work.steps() {
        for after in &step.after {
            for act in work.acts(&step.id) {
                gap(work, act, (step, after), notes);
            }
        }
    }
}

fn gap(work: &Work<'_>, act: &Act, link: (&Step, &StepAfter), notes: &mut Notes) {
    let (step, after) = link;
    let Some(before) = last_needed(work, act, (step, after)) else {
        return;
    };
    let waited = between(before.end, act.start);
    let late = after.max.is_some_and(|max| waited > max);
    // Loads that share one load before them have to wait for each other: a matter to look at, not a fault.
    let shared = work.acts(&after.step).len() != work.acts(&step.id).len();
    let rule = if late && shared {
        &rules::RUN_LOAD_WAITS
    } else {
        &rules::RUN_PRECEDENCE
    };
    if waited < after.min || late {
        let most = after.max.map_or_else(|| "any time".to_owned(), span);
        notes
            .say(
                rule,
                &act.id,
                format!("the gap after `{}` is not what the step allows", before.id),
            )
            .evidence = format!("{}, allowed {} to {most}", span(waited), span(after.min));
    }
}

/// Of the acts before, the last that this load needs: its own share of them, rounded up.
fn last_needed<'a>(work: &Work<'a>, act: &Act, link: (&Step, &StepAfter)) -> Option<&'a Act> {
    let (step, after) = link;
    let before = work.acts(&after.step);
    let own = work.acts(&step.id);
    let place = own.iter().position(|other| other.id == act.id)? + 1;
    let needed = (place * before.len()).div_ceil(own.len());
    before
        .iter()
        .take(needed)
        .max_by_key(|before| before.end)
        .copied()
}
