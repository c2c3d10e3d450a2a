//! The session stage: from batches to a run that the cooks, one oven and the burners can follow.
//!
//! Every step of every batch becomes a task of a project with lags; the solver schedules it within
//! a work budget and bounds its length; the answer is read back as lines of a run sheet.

mod decode;
mod lead;
mod oven;
mod project;
pub mod replan;
mod rooms;
mod text;
pub mod what_if;

use larderwright_model::{Answer, Batch, Conflict, Lot, Report, Run, Session, Snapshot, Stage, Standing};
use larderwright_quantity::Rounding;
use larderwright_solve::project::{self as solver, Bound, Budget, Lengths, Objective, Outlook, Schedule};

use project::{Manner, Network, Waits};

use crate::driver::Threads;
use crate::menu::say;

/// What the session stage hands on for one session.
#[derive(Clone, Debug)]
pub struct SessionResult {
    /// The run.
    pub run: Run,
    /// Why.
    pub report: Report,
}

/// Schedules one session. A run that ends after its window is returned too, with its standing.
///
/// # Errors
/// Steps that can never be done here: no cook may do them, or their windows contradict each other.
pub fn schedule(
    snapshot: &Snapshot,
    session: &Session,
    batches: &[Batch],
    lots: &[Lot],
    threads: Threads,
) -> Result<SessionResult, Conflict> {
    let ordered = order(snapshot, session, (batches, lots), threads)?;
    let Ordered {
        network,
        schedule,
        bound,
        ..
    } = &ordered;
    let (standing, outlook) = standing(snapshot, session, network, schedule);
    let run = decode::run(snapshot, session, (network, None), (schedule, bound, standing));
    let mut report = report(session, &run, ordered.proven, network.batches.len());
    report
        .chosen
        .extend(outlook.map(|outlook| chance(session, network, &outlook)));
    Ok(SessionResult { run, report })
}

/// A session put in order.
struct Ordered {
    network: Network,
    schedule: Schedule,
    bound: Bound,
    proven: bool,
}

/// Like work is done once where the waits allow it. Loads that share one pan may have to wait longer than they should;
/// better late than not at all.
fn order(
    snapshot: &Snapshot,
    session: &Session,
    (batches, lots): (&[Batch], &[Lot]),
    threads: Threads,
) -> Result<Ordered, Conflict> {
    let own: Vec<&Batch> = batches
        .iter()
        .filter(|batch| batch.session == session.id)
        .collect();
    let budget = Budget {
        work: snapshot.session_work,
        seed: snapshot.seed,
        threads: match threads {
            Threads::One => solver::Threads::One,
            Threads::Two => solver::Threads::Two,
        },
    };
    let attempt = |waits: Waits, joint: bool| {
        let manner = Manner { waits, joint };
        project::build(snapshot, session, (&own, lots), manner)
            .map(|network| (solver::solve(&network.project, &budget), network))
    };
    let mut found = attempt(Waits::Stated, true);
    let failed = |found: &Result<(solver::Answer, Network), Conflict>| !matches!(found, Ok((answer, _)) if answer.schedule().is_some());
    // Where no work was alike, doing it apart is the same again.
    if failed(&found) && !matches!(&found, Ok((_, network)) if !network.is_joint()) {
        found = attempt(Waits::Stated, false);
    }
    if failed(&found) {
        found = attempt(Waits::Loose, false);
    }
    let (answer, network) = found?;
    let (schedule, bound, proven) = match answer {
        solver::Answer::Proven(schedule, bound) => (schedule, bound, true),
        solver::Answer::Best(schedule, bound) => (schedule, bound, false),
        solver::Answer::Infeasible(conflict) => return Err(impossible(session, &network, conflict.tasks())),
        solver::Answer::Stopped(_) => return Err(impossible(session, &network, &[])),
    };
    Ok(Ordered {
        network,
        schedule,
        bound,
        proven,
    })
}

/// How often lengths are drawn.
const DRAWS: u32 = 10_000;
/// In so many of a thousand draws a run has to end in time to be called likely to fit.
const LIKELY: i64 = 800;

/// How surely a run ends in its window, and what was drawn to know it; nothing is drawn for one that is too long.
fn standing(
    snapshot: &Snapshot,
    session: &Session,
    network: &Network,
    schedule: &Schedule,
) -> (Standing, Option<Outlook>) {
    let window = session.window().mins(Rounding::Down);
    if Objective::of(&network.project, schedule).makespan > window {
        return (Standing::WontFit, None);
    }
    let lengths: Vec<Lengths> = network.tasks.iter().map(|task| task.lengths).collect();
    let outlook = solver::simulate(
        &network.project,
        schedule,
        &lengths,
        (window, DRAWS, snapshot.seed),
    );
    let standing = if outlook.in_time >= LIKELY {
        Standing::Likely
    } else {
        Standing::Tight
    };
    (standing, Some(outlook))
}

/// How often a session ends in time, and which step is likeliest to make it late.
fn chance(session: &Session, network: &Network, outlook: &Outlook) -> String {
    let often = format!(
        "{} times in 100 it is over by {}",
        outlook.in_time / 10,
        say(session.to)
    );
    let steps = outlook.delay.iter().zip(&network.tasks);
    let riskiest = steps.max_by_key(|(delay, _)| **delay);
    match riskiest {
        Some((delay, task)) if *delay > 0 => {
            format!("{often}; what may make it late is: {}", task.title.to_lowercase())
        }
        _ => often,
    }
}

fn report(session: &Session, run: &Run, proven: bool, batches: usize) -> Report {
    let length = run
        .finish
        .duration_since(run.acts.first().map_or(run.finish, |act| act.start))
        .as_mins();
    let over = run.finish.duration_since(run.bound).as_mins();
    let answer = if proven {
        Answer::Proven
    } else {
        Answer::Within(over * 1000 / length.max(1))
    };
    Report {
        stage: Stage::Session,
        answer,
        chosen: vec![
            format!(
                "{}: {} batches done by {}",
                say(session.from),
                batches,
                say(run.finish)
            ),
            format!(
                "no plan finishes before {}, because of {}",
                say(run.bound),
                run.decided_by
            ),
        ],
        rejected: Vec::new(),
    }
}

fn impossible(session: &Session, network: &project::Network, tasks: &[solver::TaskIx]) -> Conflict {
    let mut steps: Vec<String> = tasks
        .iter()
        .map(|task| network.tasks[task.position()].title.clone())
        .collect();
    steps.dedup();
    let what = if steps.is_empty() {
        "its steps".to_string()
    } else {
        steps.join(", ")
    };
    Conflict {
        stage: Stage::Session,
        message: format!(
            "the session on {} cannot be put in order: {what}",
            say(session.from)
        ),
        wishes: vec![format!(
            "session {} to {}",
            say(session.from),
            session.to.strftime("%H:%M")
        )],
        mends: vec![
            "let another cook help, or let this cook do knife and stove work".into(),
            "switch one of these components off".into(),
        ],
    }
}
