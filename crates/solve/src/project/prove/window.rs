//! Windows: a part of the best schedule is put in order anew, the rest keeps its order.
//!
//! Tasks that run inside a window of time are free. The others keep their modes, and each stays behind those
//! that handed their capacity on to it, so that what follows the window can move forwards as a whole. The
//! kernel looks for a smaller makespan under these orders for a little work. After Palpant, Artigues and
//! Michelon, "LSSPER: solving the resource-constrained project scheduling problem with large neighbourhood
//! search" (2004).

use super::super::net::Net;
use super::super::schedule::Placement;
use super::super::types::Project;
use super::encode::{Model, Rules};
use crate::learn::{Taste, Verdict};
use crate::random::Random;

/// Work of the kernel on one window, per task of the project.
const WORK_PER_TASK: u64 = 4_000;
/// Work that making a model for a window takes, per task and per pair of tasks in hundredths.
const MAKING_PER_TASK: u64 = 300;

/// The windows of one search.
#[derive(Debug)]
pub(super) struct Windows {
    random: Random,
    /// Length of the next window, as percent of the makespan.
    percent: usize,
    /// Work that may still be spent; negative when too much was.
    pub(super) credit: i64,
}

const PERCENT_LEAST: usize = 12;
const PERCENT_MOST: usize = 60;

/// What a window gave.
pub(super) struct Found {
    pub(super) better: Option<Vec<Placement>>,
    pub(super) work: u64,
}

impl Windows {
    pub(super) fn new(seed: u64) -> Self {
        Self {
            random: Random::new(seed),
            percent: 30,
            credit: 0,
        }
    }

    /// Looks for a schedule with a makespan from `least` to less than that of `best`.
    pub(super) fn look(&mut self, project: &Project, net: &Net, (best, least): (&[Placement], i64)) -> Found {
        let making = MAKING_PER_TASK * net.len() as u64;
        let nothing = Found {
            better: None,
            work: making,
        };
        let makespan = best.iter().map(|placement| placement.end).max().unwrap_or(0);
        let length = (makespan * i64::try_from(self.percent).unwrap_or(0) / 100).max(3);
        let from = i64::try_from(self.random.below(usize::try_from(makespan).unwrap_or(0) + 1)).unwrap_or(0)
            - length / 2;
        let is_free = |placement: &Placement| placement.start < from + length && placement.end > from;
        let free: Vec<bool> = best.iter().map(is_free).collect();
        let taste = Taste {
            restart: 100,
            clauses_max: 4000,
        };
        let Some(mut model) = Model::new(project, net, (taste, Rules::Few)) else {
            return nothing;
        };
        for task in (0..net.len()).filter(|task| !free[*task]) {
            model.fix_mode(task, best[task].mode);
        }
        for (first, second) in orders(net, best, &free) {
            model.put_after(first, second, best[first].end - best[first].start);
        }
        for change in &project.changeovers {
            let (a, b) = (change.a.0, change.b.0);
            let concerned = best[a].mode == change.a_mode && best[b].mode == change.b_mode;
            if !concerned || free[a] || free[b] {
                continue;
            }
            if best[a].end + change.a_to_b <= best[b].start {
                model.put_after(a, b, best[a].end - best[a].start + change.a_to_b);
            } else {
                model.put_after(b, a, best[b].end - best[b].start + change.b_to_a);
            }
        }
        model.solver.set_wishes(model.values(best));
        let narrow = |value: i64| i32::try_from(value).expect("a makespan fits where a model exists");
        model.solver.require(model.makespan.at_most(narrow(makespan - 1)));
        model.solver.require(model.makespan.at_least(narrow(least)));
        let verdict = model.solver.search(&[], WORK_PER_TASK * net.len() as u64);
        let work = making + model.solver.work();
        self.adapt(verdict);
        let better = (verdict == Verdict::Found).then(|| model.placements(&model.solver.values()));
        Found { better, work }
    }

    /// What is soon refuted was too small, what is not was too large.
    fn adapt(&mut self, verdict: Verdict) {
        self.percent = match verdict {
            Verdict::Refuted | Verdict::Untenable => (self.percent + 1).min(PERCENT_MOST),
            Verdict::Stopped => (self.percent - 1).max(PERCENT_LEAST),
            Verdict::Found => self.percent,
        };
    }
}

/// Pairs of which the first hands capacity on to the second, directly or through free tasks.
fn orders(net: &Net, best: &[Placement], free: &[bool]) -> Vec<(usize, usize)> {
    let after = handed_on(net, best);
    let mut pairs = Vec::new();
    let mut seen = vec![usize::MAX; net.len()];
    for first in (0..net.len()).filter(|task| !free[*task]) {
        let mut open = after[first].clone();
        while let Some(next) = open.pop() {
            if std::mem::replace(&mut seen[next], first) == first {
                continue;
            }
            if free[next] {
                open.extend(&after[next]);
            } else {
                pairs.push((first, next));
            }
        }
    }
    pairs
}

/// By task, those that take over capacity which it gives back. What was given back last is taken first: that
/// leaves the fewest pairs.
fn handed_on(net: &Net, best: &[Placement]) -> Vec<Vec<usize>> {
    let mut after = vec![Vec::new(); net.len()];
    let mut order: Vec<usize> = (0..net.len()).collect();
    order.sort_unstable_by_key(|task| (best[*task].start, best[*task].end, *task));
    for resource in 0..net.profiles.len() {
        // Given back at a time, by whom, how much.
        let mut there: Vec<(i64, usize, i64)> = Vec::new();
        for &task in &order {
            let uses = &net.modes[task][best[task].mode].uses;
            let Some((_, amount)) = uses.iter().find(|(used, _)| *used == resource) else {
                continue;
            };
            let mut wanted = *amount;
            there.sort_unstable_by_key(|(time, giver, _)| (*time, *giver));
            let mut at = there.partition_point(|(time, _, _)| *time <= best[task].start);
            while wanted > 0 && at > 0 {
                at -= 1;
                let taken = wanted.min(there[at].2);
                wanted -= taken;
                there[at].2 -= taken;
                if !after[there[at].1].contains(&task) {
                    after[there[at].1].push(task);
                }
            }
            there.retain(|(_, _, amount)| *amount > 0);
            there.push((best[task].end, task, *amount));
        }
    }
    after
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::project::check::check_schedule;
    use crate::project::exact::optimum;
    use crate::project::laws::{config, project};
    use crate::project::schedule::{Objective, Schedule};
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(config())]

        #[test]
        fn a_window_gives_a_better_schedule_or_none(project in project(), seed in 0_u64..100) {
            let mut late = project.clone();
            late.tasks.iter_mut().for_each(|task| task.due = None);
            let Some((best, schedule)) = optimum(&late) else { return Ok(()) };
            // Everything as late as can be is a schedule that can often be improved.
            let net = Net::forwards(&late);
            let worst = crate::project::polish::start_late(&all_late(&late), &net, schedule.placements.clone());
            let before = Objective::measure(&late, &worst).makespan;
            let found = Windows::new(seed).look(&late, &net, (&worst, best.makespan));
            if let Some(placements) = found.better {
                prop_assert!(Objective::measure(&late, &placements).makespan < before);
                prop_assert_eq!(check_schedule(&late, &Schedule { placements }), vec![]);
            }
        }
    }

    fn all_late(project: &Project) -> Project {
        let mut late = project.clone();
        late.tasks.iter_mut().for_each(|task| task.late = true);
        late
    }
}
