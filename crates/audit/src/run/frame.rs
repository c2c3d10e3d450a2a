//! The frame of a run: preflight first, clear-down last, and for every batch cooling and boxing after cooking.

use jiff::civil::DateTime;
use larderwright_model::{Act, ActKind, Batch, CoolingMethod, Run};

use crate::book::{Book, clock};
use crate::notes::Notes;
use crate::rules;

pub(super) fn check(book: &Book<'_>, run: &Run, notes: &mut Notes) {
    // The oven may heat up while the table is laid out.
    let works = |act: &&Act| matches!(act.kind, ActKind::Step | ActKind::PackOut);
    let first = run.acts.iter().filter(works).map(|act| act.start).min();
    let last = run.acts.iter().filter(works).map(|act| act.end).max();
    let (Some(first), Some(last)) = (first, last) else {
        return;
    };
    let opened = acts(run, &ActKind::Preflight).any(|act| act.end <= first);
    let closed = acts(run, &ActKind::ClearDown).any(|act| act.start >= last);
    if !opened || !closed {
        notes
            .say(
                &rules::RUN_FRAME,
                &run.session,
                "the run lacks its preflight or its clear-down",
            )
            .evidence = format!("work from {} to {}", clock(first), clock(last));
    }
    let own = |batch: &&Batch| batch.session == run.session;
    for batch in book.plan.batches.iter().filter(own) {
        boxed(book, run, batch, notes);
    }
}

fn acts<'a>(run: &'a Run, kind: &'a ActKind) -> impl Iterator<Item = &'a Act> {
    run.acts.iter().filter(move |act| act.kind == *kind)
}

fn boxed(book: &Book<'_>, run: &Run, batch: &Batch, notes: &mut Notes) {
    let of_batch = |act: &&Act| act.batches.contains(&batch.id);
    let cooked: Option<DateTime> = acts(run, &ActKind::Step)
        .filter(of_batch)
        .map(|act| act.end)
        .max();
    let packs: Option<DateTime> = acts(run, &ActKind::PackOut)
        .filter(of_batch)
        .map(|act| act.start)
        .max();
    // A batch without steps or without boxing is another rule's matter.
    let (Some(cooked), Some(packs)) = (cooked, packs) else {
        return;
    };
    let evidence = format!("cooked {}, boxed {}", clock(cooked), clock(packs));
    if packs < cooked {
        notes
            .say(
                &rules::RUN_PACK_OUT,
                &batch.id,
                "the batch is boxed before it is cooked",
            )
            .evidence = evidence;
        return;
    }
    let hot = book
        .plan
        .lots
        .iter()
        .any(|lot| lot.origin == batch.id && lot.cooling != CoolingMethod::None);
    let cooled = acts(run, &ActKind::Cool)
        .filter(of_batch)
        .any(|act| cooked <= act.start && act.start < act.end && act.end <= packs);
    if hot && !cooled {
        notes
            .say(
                &rules::RUN_COOL,
                &batch.id,
                "the batch has no time to cool before it is boxed",
            )
            .evidence = evidence;
    }
}
