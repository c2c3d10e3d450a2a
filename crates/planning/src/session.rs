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

use larderwright_model::{Answer, Batch, Conflict, Lot, Report, Run, Session, Snapshot, Stage};
use larderwright_quantity::Rounding;
use larderwright_solve::project::{self as solver, Budget, Lengths, Outlook, Schedule};

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
    let in_order = |attempt: Result<(solver::Answer, Network), Conflict>| {
        let found = attempt.ok();
        found.filter(|(answer, _)| answer.schedule().is_some())
    };
    // Like work is done once where the waits allow it. Loads that share one pan may have to wait longer than they
    // should; better late than not at all.
    let first = in_order(attempt(Waits::Stated, true)).or_else(|| in_order(attempt(Waits::Stated, false)));
    let (answer, network) = match first {
        Some(found) => found,
        None => attempt(Waits::Loose, false)?,
    };
    let (schedule, bound, proven) = match answer {
        solver::Answer::Proven(schedule, bound) => (schedule, bound, true),
        solver::Answer::Best(schedule, bound) => (schedule, bound, false),
        solver::Answer::Infeasible(conflict) => return Err(impossible(session, &network, conflict.tasks())),
        solver::Answer::Stopped(_) => return Err(impossible(session, &network, &[])),
    };
    let outlook = outlook(snapshot, session, &network, &schedule);
    let run = decode::run(snapshot, session, (&network, None), (&schedule, &bound, &outlook));
    let mut report = report(session, &run, proven, &own);
    report.chosen.push(chance(session, &network, &outlook));
    Ok(SessionResult { run, report })
}

/// How often lengths are drawn.
const DRAWS: u32 = 10_000;

/// What becomes of a schedule when steps take as long as they may.
fn outlook(snapshot: &Snapshot, session: &Session, network: &Network, schedule: &Schedule) -> Outlook {
    let lengths: Vec<Lengths> = network.tasks.iter().map(|task| task.lengths).collect();
    let window = session.window().mins(Rounding::Down);
    solver::simulate(
        &network.project,
        schedule,
        &lengths,
        (window, DRAWS, snapshot.seed),
    )
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

fn report(session: &Session, run: &Run, proven: bool, batches: &[&Batch]) -> Report {
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
                batches.len(),
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
