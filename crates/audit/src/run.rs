//! Runs: every act has its hands and stations, its time and its turn, and nothing hurts anybody.

mod act;
mod contact;
mod frame;
mod hands;
mod hazard;
mod lead;
mod oven;
mod precedence;
mod station;
mod steps;

use larderwright_model::{Act, Kitchen, Run};

use crate::book::{Book, clock};
use crate::notes::Notes;
use crate::rules;

/// The area of the trays that an act holds.
pub(crate) fn tray_cm2(kitchen: &Kitchen, act: &Act) -> i64 {
    let trays = station::trays(kitchen);
    station::held(act, station::Kind::Tray)
        .filter_map(|index| trays.get(index - 1))
        .map(|tray| tray.area_cm2)
        .sum()
}

pub(crate) fn check(book: &Book<'_>, notes: &mut Notes) {
    for run in &book.plan.runs {
        window(book, run, notes);
        frame::check(book, run, notes);
        hands::check(book, run, notes);
        station::check(book, run, notes);
        oven::check(book, run, notes);
        contact::check(book, run, notes);
        act::visits(book, run, notes);
        act::joint(book, run, notes);
        for batch in book
            .plan
            .batches
            .iter()
            .filter(|batch| batch.session == run.session)
        {
            let Some(way) = book.way(batch) else { continue };
            let work = steps::Work::of(book, run, batch, way);
            work.check_steps(notes);
            act::check(book, &work, notes);
            precedence::check(&work, notes);
            lead::check(book, &work, notes);
            hazard::check(book, &work, notes);
        }
    }
}

fn window(book: &Book<'_>, run: &Run, notes: &mut Notes) {
    let Some(session) = book.snapshot.session(&run.session) else {
        return;
    };
    let starts = run.acts.iter().map(|act| act.start).min();
    let ends = run.acts.iter().map(|act| act.end).max();
    let (Some(starts), Some(ends)) = (starts, ends) else {
        return;
    };
    if starts < session.from || ends > session.to || run.acts.iter().any(|act| act.end < act.start) {
        notes
            .say(&rules::RUN_WINDOW, &run.session, "the run leaves its window")
            .evidence = format!(
            "{} to {}, allowed {} to {}",
            clock(starts),
            clock(ends),
            clock(session.from),
            clock(session.to)
        );
    }
    if run.finish != ends || run.bound > run.finish {
        notes
            .say(
                &rules::RUN_FINISH,
                &run.session,
                "the finish is not when the last act ends",
            )
            .evidence = format!(
            "stated {}, last act {}, bound {}",
            clock(run.finish),
            clock(ends),
            clock(run.bound)
        );
    }
}
