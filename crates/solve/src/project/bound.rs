//! Lower bounds of the makespan: longest paths through the windows, and energy per resource.
//!
//! Energy: all tasks that cannot start before `a` and after which at least `b` must follow need, together,
//! the sum of their smallest duration times amount; the makespan is at least the time by which a resource
//! can have supplied that since `a`, plus `b`. Every pair of thresholds is tried. Changeovers and the
//! interplay of resources are ignored.

use super::answer::{Bound, BoundReason, Conflict};
use super::net::{Arc, Net};
use super::profile::NEVER;
use super::types::{Project, ResourceIx, TaskIx};

/// The soonest start and end of every task, and which point forced each of them.
#[derive(Clone, Debug)]
pub(super) struct Reach {
    pub(super) start: Vec<i64>,
    pub(super) end: Vec<i64>,
    /// By point: twice the task for its start, one more for its end.
    cause: Vec<Option<usize>>,
}

/// Longest paths over the windows with the most favourable modes; a task may also start no sooner than its
/// seed. Every mode's release and the calendars are ignored.
///
/// # Errors
/// The tasks of a circle of windows that no choice of times and modes can satisfy.
pub(super) fn longest_paths(net: &Net, seeds: &[i64]) -> Result<Reach, Vec<TaskIx>> {
    let mut reach = Reach {
        start: seeds.to_vec(),
        end: seeds.to_vec(),
        cause: vec![None; 2 * net.len()],
    };
    let mut changed = None;
    for _ in 0..2 * net.len() + 2 {
        changed = (0..net.len()).filter(|task| reach.relax(net, *task)).last();
        if changed.is_none() {
            return Ok(reach);
        }
    }
    match changed {
        Some(task) => Err(reach.circle(2 * task)),
        None => Ok(reach),
    }
}

impl Reach {
    /// Raises the two points of a task; says whether one rose.
    fn relax(&mut self, net: &Net, task: usize) -> bool {
        let Some((shortest, longest)) = net.durations(task) else {
            return false;
        };
        let before = (self.start[task], self.end[task]);
        for arc in &net.into[task] {
            let time = self.point(arc) + arc.base;
            let cause = 2 * arc.other + usize::from(arc.sooner_end);
            self.raise(2 * task + usize::from(arc.later_end), time, cause);
        }
        self.raise(2 * task, self.end[task] - longest, 2 * task + 1);
        self.raise(2 * task + 1, self.start[task] + shortest, 2 * task);
        before != (self.start[task], self.end[task])
    }

    fn point(&self, arc: &Arc) -> i64 {
        if arc.sooner_end {
            self.end[arc.other]
        } else {
            self.start[arc.other]
        }
    }

    fn raise(&mut self, point: usize, time: i64, cause: usize) {
        let times = if point.is_multiple_of(2) {
            &mut self.start
        } else {
            &mut self.end
        };
        if time > times[point / 2] {
            times[point / 2] = time;
            self.cause[point] = Some(cause);
        }
    }

    /// The tasks that forced a point, the first of them first.
    fn chain(&self, point: usize) -> Vec<usize> {
        let mut tasks = vec![point / 2];
        let mut at = point;
        for _ in 0..self.cause.len() {
            let Some(cause) = self.cause[at] else { break };
            if tasks.last() != Some(&(cause / 2)) {
                tasks.push(cause / 2);
            }
            at = cause;
        }
        tasks.reverse();
        tasks
    }

    /// The tasks of the circle that is met when causes are followed from a point.
    fn circle(&self, point: usize) -> Vec<TaskIx> {
        let follow = |from: usize| self.cause[from].unwrap_or(from);
        let entry = (0..self.cause.len()).fold(point, |at, _| follow(at));
        let mut tasks = vec![TaskIx(entry / 2)];
        let mut at = follow(entry);
        while at != entry {
            tasks.push(TaskIx(at / 2));
            at = follow(at);
        }
        tasks.sort_unstable();
        tasks.dedup();
        tasks
    }

    /// Delays every task to where some mode's release and the calendars admit it, and what follows from
    /// that. Stopping after any number of rounds leaves valid bounds.
    fn admit(&mut self, net: &Net) {
        for _ in 0..2 * net.len() + 2 {
            let mut risen = false;
            for task in 0..net.len() {
                risen |= self.relax(net, task);
                risen |= self.admit_task(net, task);
            }
            if !risen {
                return;
            }
        }
    }

    fn admit_task(&mut self, net: &Net, task: usize) -> bool {
        let (mut start, mut end) = (NEVER, NEVER);
        for mode in net.modes[task].iter().filter(|mode| mode.usable) {
            let from = self.start[task]
                .max(mode.release)
                .max(self.end[task] - mode.duration);
            let fit = alone(net, mode, from);
            start = start.min(fit);
            end = end.min(fit + mode.duration);
        }
        let risen = start > self.start[task] || end > self.end[task];
        let released = net.modes[task].iter().all(|mode| mode.release > self.start[task]);
        if start > self.start[task] {
            self.start[task] = start;
            self.cause[2 * task] = self.cause[2 * task].filter(|_| !released);
        }
        if end > self.end[task] {
            self.end[task] = end;
            self.cause[2 * task + 1] = Some(2 * task);
        }
        risen
    }
}

/// The soonest start of a mode if no other task ran; [`NEVER`] also where a value of that size came in.
fn alone(net: &Net, mode: &super::net::NetMode, from: i64) -> i64 {
    let mut start = from;
    loop {
        if start >= NEVER {
            return NEVER;
        }
        let before = start;
        for (resource, amount) in &mode.uses {
            start = net.profiles[*resource].earliest(start, mode.duration, *amount);
        }
        if start == before {
            return start;
        }
    }
}

/// The bound of a project, and how much time must follow the end of each task.
///
/// # Errors
/// If the bound shows that nothing fits.
pub(super) fn lower_bound(project: &Project, ahead: &Net, back: &Net) -> Result<(Bound, Vec<i64>), Conflict> {
    let never = |task: &usize| {
        let usable = ahead.modes[*task].iter().filter(|mode| mode.usable);
        usable
            .map(|mode| alone(ahead, mode, mode.release))
            .min()
            .is_none_or(|start| start >= NEVER)
    };
    if let Some(task) = (0..ahead.len()).find(never) {
        return Err(Conflict::Capacity(TaskIx(task)));
    }
    let none = vec![0; ahead.len()];
    let mut heads = longest_paths(ahead, &none).map_err(Conflict::Windows)?;
    heads.admit(ahead);
    let tails = longest_paths(back, &none).map_err(Conflict::Windows)?;
    let late = project.tasks.iter().zip(&heads.end).filter_map(|(task, end)| {
        task.due
            .filter(|due| due.weight > 0)
            .map(|due| due.weight.saturating_mul((end - due.time).max(0)))
    });
    let lateness = late.fold(0_i64, i64::saturating_add);
    let (makespan, reason) = chain_bound(&heads, &tails);
    let mut bound = Bound {
        makespan,
        lateness,
        reason,
    };
    if bound.makespan <= project.horizon {
        for resource in 0..project.resources.len() {
            if let Some((makespan, reason)) = energy_bound(ahead, resource, &heads, &tails.start)
                && makespan > bound.makespan
            {
                bound = Bound {
                    makespan,
                    lateness,
                    reason,
                };
            }
        }
    }
    if bound.makespan > project.horizon {
        Err(Conflict::Horizon(bound))
    } else {
        Ok((bound, tails.start))
    }
}

fn chain_bound(heads: &Reach, tails: &Reach) -> (i64, BoundReason) {
    let length = |task: usize| heads.end[task] + tails.start[task];
    let Some(task) = (0..heads.end.len()).max_by_key(|task| (length(*task), std::cmp::Reverse(*task))) else {
        return (0, BoundReason::Chain(Vec::new()));
    };
    let mut tasks = heads.chain(2 * task + 1);
    let after = tails.chain(2 * task);
    tasks.extend(after.iter().rev().skip(1));
    (
        length(task),
        BoundReason::Chain(tasks.into_iter().map(TaskIx).collect()),
    )
}

fn energy_bound(net: &Net, resource: usize, heads: &Reach, tails: &[i64]) -> Option<(i64, BoundReason)> {
    let energy = |task: usize| {
        let held = |mode: &super::net::NetMode| {
            let used = mode.uses.iter().find(|(used, _)| *used == resource);
            used.map_or(0, |(_, amount)| amount * mode.duration)
        };
        net.modes[task]
            .iter()
            .filter(|mode| mode.usable)
            .map(held)
            .min()
            .unwrap_or(0)
    };
    let mut users: Vec<(usize, i64)> = (0..net.len())
        .map(|task| (task, energy(task)))
        .filter(|(_, energy)| *energy > 0)
        .collect();
    users.sort_by_key(|(task, _)| (std::cmp::Reverse(tails[*task]), *task));
    let mut thresholds: Vec<i64> = users.iter().map(|(task, _)| heads.start[*task]).collect();
    thresholds.sort_unstable();
    thresholds.dedup();
    let mut best: Option<(i64, i64, i64)> = None;
    for from in thresholds {
        let mut sum = 0;
        for (task, energy) in users.iter().filter(|(task, _)| heads.start[*task] >= from) {
            sum += energy;
            let makespan = net.profiles[resource].supplied(from, sum) + tails[*task];
            if best.is_none_or(|(most, _, _)| makespan > most) {
                best = Some((makespan, from, tails[*task]));
            }
        }
    }
    let (makespan, from, tail) = best?;
    let mut tasks: Vec<TaskIx> = users
        .iter()
        .filter(|(task, _)| heads.start[*task] >= from && tails[*task] >= tail)
        .map(|(task, _)| TaskIx(*task))
        .collect();
    tasks.sort_unstable();
    Some((
        makespan,
        BoundReason::Resource {
            resource: ResourceIx(resource),
            from,
            tail,
            tasks,
        },
    ))
}
