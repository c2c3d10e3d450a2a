//! Answering a project: bounds first, then two seeded searches, then the proving kernel.

use super::answer::{Answer, Bound, Budget, Conflict, Threads};
use super::bound::{longest_paths, lower_bound};
use super::check::check_schedule;
use super::net::Net;
use super::order::Order;
use super::polish::{shorten_holds, start_late};
use super::prove::{Effort, Shares, Standing, WORK_PER_PLACEMENT, improve};
use super::schedule::{Objective, Placement, Schedule};
use super::search::Field;
use super::seek::Seeker;
use super::types::Project;

/// Schedules that each of two heuristic searches makes before the kernel takes over.
const START_SCHEDULES: u64 = 60;

/// What the improver then does beside the kernel.
const SHARES: Shares = Shares { seek: 60, window: 20 };

/// Asked now and then, between two rounds of work: whether to stop before the work is spent.
pub type Stop<'a> = &'a (dyn Fn() -> bool + Sync);

/// An answer, and the work after which it was reached.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Solved {
    /// What was found out.
    pub answer: Answer,
    /// With this much work in the budget the same comes about without a stop.
    pub work: u64,
}

/// Answers a project within a budget. See [`solve_until`].
#[must_use]
pub fn solve(project: &Project, budget: &Budget) -> Answer {
    solve_until(project, budget, &|| false).answer
}

/// Answers a project within a budget, or until it is told to stop.
///
/// Two searches with different seeds make a few schedules; the better result counts, the first on a
/// tie. Then one worker improves it, by turns heuristically and with the kernel, and another raises the bound
/// with the kernel; they exchange results at fixed amounts of work. So the answer is the same for every choice of threads. Last, holds are shortened and tasks flagged
/// late are moved.
///
/// Cost: about the number of tasks times their resources for each unit of work; memory grows with the square
/// of the number of tasks that exclude each other, and with some thousand learnt clauses.
#[must_use]
pub fn solve_until(project: &Project, budget: &Budget, stop: Stop<'_>) -> Solved {
    let at_once = |answer| Solved { answer, work: 0 };
    let (ahead, back) = (Net::forwards(project), Net::backwards(project));
    let (bound, tails) = match lower_bound(project, &ahead, &back) {
        Ok(found) => found,
        Err(conflict) => return at_once(Answer::Infeasible(conflict)),
    };
    if project.tasks.is_empty() {
        let placements = Vec::new();
        return at_once(Answer::Proven(Schedule { placements }, bound));
    }
    let field = field(project, (&ahead, &back), (&bound, &tails));
    let count = project.tasks.len() as u64;
    let placements = (budget.work / 2).saturating_mul(count);
    // The start never depends on the budget, so that a smaller budget does the first part of the same.
    let limit = placements.min(START_SCHEDULES * count);
    let (mut search, found) = begin(&field, budget, limit);
    let mut standing = Standing {
        best: found,
        bound,
        infeasible: false,
    };
    let effort = Effort {
        work: (placements - limit).saturating_mul(WORK_PER_PLACEMENT),
        seed: budget.seed,
        shares: SHARES,
        threads: budget.threads,
        stop,
    };
    let spent = improve(&mut search, &mut standing, effort);
    let placements = limit + spent / WORK_PER_PLACEMENT;
    Solved {
        answer: conclude(project, &ahead, standing),
        work: 2 * (placements / count),
    }
}

/// What the searches share.
pub(super) fn field<'a>(
    project: &'a Project,
    (ahead, back): (&'a Net, &'a Net),
    (bound, tails): (&Bound, &[i64]),
) -> Field<'a> {
    Field {
        project,
        ahead,
        back,
        order_ahead: Order::of(ahead),
        order_back: Order::of(back),
        rules: rules(project, ahead, back, (bound, tails)),
        target: (bound.lateness, bound.makespan, least_hold(project)),
    }
}

fn conclude(project: &Project, ahead: &Net, standing: Standing) -> Answer {
    let bound = standing.bound;
    if standing.infeasible {
        let makespan = project.horizon + 1;
        return Answer::Infeasible(Conflict::Horizon(Bound { makespan, ..bound }));
    }
    let Some(placements) = standing.best else {
        return Answer::Stopped(bound);
    };
    let schedule = Schedule {
        placements: start_late(project, ahead, shorten_holds(project, ahead, placements)),
    };
    debug_assert!(
        check_schedule(project, &schedule).is_empty(),
        "what is answered is a schedule"
    );
    let objective = Objective::of(project, &schedule);
    if (objective.lateness, objective.makespan) == (bound.lateness, bound.makespan) {
        Answer::Proven(schedule, bound)
    } else {
        Answer::Best(schedule, bound)
    }
}

/// Two heuristic searches to go on with, and the best schedule of both.
fn begin<'a>(field: &'a Field<'a>, budget: &Budget, limit: u64) -> (Seeker<'a>, Option<Vec<Placement>>) {
    let start = |index: u64| {
        let mut worker = Seeker::new(field, budget.seed.wrapping_mul(2).wrapping_add(index));
        worker.advance(limit);
        let found = worker.polished();
        (worker, found)
    };
    let ((mut worker, own), (_, other)) = match budget.threads {
        Threads::One => (start(0), start(1)),
        Threads::Two => std::thread::scope(|scope| {
            let other = scope.spawn(|| start(1));
            let own = start(0);
            (own, other.join().expect("a worker does not panic"))
        }),
    };
    let found = [own, other].into_iter().flatten();
    let found = found
        .min_by_key(|(objective, _)| *objective)
        .map(|(_, placements)| placements);
    if let Some(placements) = &found {
        worker.take_up(placements);
    }
    (worker, found)
}

/// Keys of the priority rules; the smallest goes first.
fn rules(project: &Project, ahead: &Net, back: &Net, (bound, tails): (&Bound, &[i64])) -> Vec<Vec<i64>> {
    let urgent = project.tasks.iter().map(|task| {
        let due = task.due.filter(|due| due.weight > 0);
        due.map_or(0, |due| (bound.makespan - due.time).max(0))
    });
    let tails = longest_paths(back, &urgent.collect::<Vec<_>>()).map_or(tails.to_vec(), |reach| reach.start);
    let durations = |task: usize| ahead.durations(task).map_or(0, |(shortest, _)| shortest);
    let latest_end: Vec<i64> = tails.iter().map(|tail| -tail).collect();
    let latest_start: Vec<i64> = (0..tails.len())
        .map(|task| -tails[task] - durations(task))
        .collect();
    let followers: Vec<i64> = Order::of(ahead).followers().iter().map(|count| -count).collect();
    vec![latest_end, latest_start, followers]
}

/// A lower bound of the holds, where the lags give one for each.
fn least_hold(project: &Project) -> Option<i64> {
    let least = |hold: &super::types::Hold| {
        let same = project
            .lags
            .iter()
            .filter(|lag| lag.from == hold.from && lag.to == hold.to);
        same.map(|lag| lag.min * hold.weight).max()
    };
    project.holds.iter().map(least).sum()
}
