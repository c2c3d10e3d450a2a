//! Improving and proving: the kernel takes over where the heuristic search ends.

mod contest;
mod encode;
#[cfg(test)]
mod laws;
mod window;

use super::answer::{Bound, Threads};
use super::schedule::{Objective, Placement};
use super::seek::Seeker;
use super::solve::Stop;
use super::types::{Due, Project, Task};
use contest::{Contest, Goal, Known, Outcome};

/// Steps of the kernel that take about as long as placing one task once; measured.
pub(super) const WORK_PER_PLACEMENT: u64 = 25;

/// When the makespan is proven the holds get this many times what that took, and at least so many steps.
const HOLD_SHARE: u64 = 2;
const HOLD_LEAST: u64 = 2_000_000;
/// Below every sum of holds that the kernel takes on.
const LOWEST: i64 = -(1 << 30);

/// What is known of a project.
#[derive(Clone, Debug)]
pub(super) struct Standing {
    /// The best schedule, if there is one.
    pub(super) best: Option<Vec<Placement>>,
    pub(super) bound: Bound,
    /// It was shown that there is no schedule.
    pub(super) infeasible: bool,
}

/// What the improver does, in percent of its work; the rest is the kernel's.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Shares {
    /// Heuristic search.
    pub(super) seek: u64,
    /// Windows.
    pub(super) window: u64,
}

/// How much work each of the two workers may do, and how they run.
#[derive(Clone, Copy)]
pub(super) struct Effort<'a> {
    pub(super) work: u64,
    pub(super) seed: u64,
    pub(super) shares: Shares,
    pub(super) threads: Threads,
    pub(super) stop: Stop<'a>,
}

/// When a task is due, if it can be late at all.
fn due_inside(project: &Project, task: &Task) -> Option<Due> {
    task.due
        .filter(|due| due.weight > 0 && due.time < project.horizon)
}

/// Improves the schedule and raises the bound until they meet or the work is spent: lateness first, then the
/// makespan among schedules of the least lateness, at last the holds as far as it goes. A bound of the makespan
/// raised here holds for those. Says what each of the two workers spent.
pub(super) fn improve(search: &mut Seeker<'_>, standing: &mut Standing, effort: Effort<'_>) -> u64 {
    let (project, net) = (search.project(), search.net());
    let least_hold = search.least_hold();
    let mut spent = 0;
    let mut run = |goal: Goal, known: &mut Known, (spent, most): (&mut u64, u64)| {
        let contest = Contest {
            project,
            net,
            goal,
            effort: Effort {
                work: (effort.work - *spent).min(most),
                ..effort
            },
        };
        let (outcome, own) = contest.run(search, known);
        // The last round may pass the budget.
        *spent = (*spent + own).min(effort.work);
        outcome
    };
    let mut latest = None;
    if project
        .tasks
        .iter()
        .any(|task| due_inside(project, task).is_some())
    {
        let mut known = Known {
            best: standing.best.take(),
            lower: standing.bound.lateness,
        };
        let outcome = run(Goal::Lateness, &mut known, (&mut spent, u64::MAX));
        standing.best = known.best;
        standing.bound.lateness = known.lower;
        standing.infeasible = outcome == Outcome::Infeasible;
        if outcome != Outcome::Closed {
            return spent;
        }
        latest = Some(known.lower);
    }
    let mut known = Known {
        best: standing.best.take(),
        lower: standing.bound.makespan,
    };
    let outcome = run(Goal::Makespan(latest), &mut known, (&mut spent, u64::MAX));
    standing.best = known.best;
    standing.bound.makespan = known.lower;
    standing.infeasible = outcome == Outcome::Infeasible;
    debug_assert!(
        standing
            .best
            .as_ref()
            .is_none_or(|best| Objective::measure(project, best).makespan >= standing.bound.makespan),
        "no bound passes a schedule"
    );
    if outcome == Outcome::Closed && project.holds.iter().any(|hold| hold.weight > 0) {
        let mut known = Known {
            best: standing.best.take(),
            lower: least_hold.unwrap_or(LOWEST),
        };
        let most = HOLD_LEAST.max(HOLD_SHARE * spent);
        let goal = Goal::Hold(latest, standing.bound.makespan);
        run(goal, &mut known, (&mut spent, most));
        standing.best = known.best;
    }
    spent
}
