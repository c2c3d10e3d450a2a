//! Lead work: one reminder for each, not in the past, and early enough for what follows.

use jiff::civil::DateTime;
use larderwright_model::{Lead, Step};

use super::steps::Work;
use crate::book::{Book, between, clock, span};
use crate::notes::Notes;
use crate::rules;

pub(super) fn check(book: &Book<'_>, work: &Work<'_>, notes: &mut Notes) {
    for step in work.way.steps.iter().filter(|step| step.lead) {
        let own: Vec<&Lead> = work
            .run
            .leads
            .iter()
            .filter(|lead| lead.batch == work.batch.id && lead.step == step.id)
            .collect();
        let &[lead] = own.as_slice() else {
            notes
                .say(
                    &rules::RUN_LEADS,
                    &work.batch.id,
                    format!("the lead step `{}` has not one reminder", step.id),
                )
                .evidence = format!("{} reminders", own.len());
            continue;
        };
        time(book, work, (step, lead), notes);
    }
}

fn time(book: &Book<'_>, work: &Work<'_>, lead: (&Step, &Lead), notes: &mut Notes) {
    let (step, lead) = lead;
    let Some(follows) = follows(work, step) else {
        return;
    };
    let least = step.lead_min.unwrap_or(step.law.likely(work.batch.x));
    let early =
        book.snapshot.now <= lead.at && lead.at <= lead.latest && between(lead.latest, follows) >= least;
    if !early {
        notes
            .say(
                &rules::RUN_LEAD_TIME,
                &work.batch.id,
                format!("`{}` does not start in time", step.id),
            )
            .evidence = format!(
            "at {}, latest {}, needed {} before {}",
            clock(lead.at),
            clock(lead.latest),
            span(least),
            clock(follows)
        );
    }
}

/// When the first step that waits for the lead work starts; the batch's first act when none says so.
fn follows(work: &Work<'_>, lead: &Step) -> Option<DateTime> {
    let start = |step: &Step| work.acts(&step.id).iter().map(|act| act.start).min();
    let waiting = work
        .steps()
        .filter(|step| step.after.iter().any(|after| after.step == lead.id));
    waiting
        .filter_map(start)
        .min()
        .or_else(|| work.steps().filter_map(start).min())
}
