//! Answering a project: bounds first, then two seeded searches.

use super::answer::{Answer, Bound, Budget, Threads};
use super::bound::{longest_paths, lower_bound};
use super::net::Net;
use super::order::Order;
use super::polish::start_late;
use super::schedule::{Objective, Schedule};
use super::search::{Field, Member, Worker};
use super::types::Project;

/// Answers a project within a budget.
///
/// Two searches with different seeds share the work; the better result counts, the first on a tie, so the
/// answer is the same for every choice of threads. Tasks flagged late are moved last.
///
/// Cost: about the number of tasks times their resources for each unit of work; memory a few hundred bytes
/// per task.
#[must_use]
pub fn solve(project: &Project, budget: &Budget) -> Answer {
    let (ahead, back) = (Net::forwards(project), Net::backwards(project));
    let (bound, tails) = match lower_bound(project, &ahead, &back) {
        Ok(found) => found,
        Err(conflict) => return Answer::Infeasible(conflict),
    };
    if project.tasks.is_empty() {
        return Answer::Proven(
            Schedule {
                placements: Vec::new(),
            },
            bound,
        );
    }
    let field = Field {
        project,
        ahead: &ahead,
        back: &back,
        order_ahead: Order::of(&ahead),
        order_back: Order::of(&back),
        rules: rules(project, &ahead, &back, (&bound, &tails)),
        target: (bound.lateness, bound.makespan, least_hold(project)),
    };
    let Some(best) = search(&field, budget) else {
        return Answer::Stopped(bound);
    };
    let schedule = Schedule {
        placements: start_late(project, &ahead, best.placements),
    };
    let objective = Objective::of(project, &schedule);
    if (objective.lateness, objective.makespan) == (bound.lateness, bound.makespan) {
        Answer::Proven(schedule, bound)
    } else {
        Answer::Best(schedule, bound)
    }
}

fn search(field: &Field<'_>, budget: &Budget) -> Option<Member> {
    let limit = (budget.work / 2).saturating_mul(field.ahead.len() as u64);
    let work = |index: u64| Worker::new(field, budget.seed.wrapping_mul(2).wrapping_add(index)).run(limit);
    let results = match budget.threads {
        Threads::One => [work(0), work(1)],
        Threads::Two => std::thread::scope(|scope| {
            let other = scope.spawn(|| work(1));
            let own = work(0);
            [own, other.join().expect("a worker does not panic")]
        }),
    };
    results
        .into_iter()
        .flatten()
        .min_by_key(|member| member.objective)
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
