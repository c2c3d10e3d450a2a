//! Fast schedule generation for plain projects: one mode a task, least waits from ends to starts, whole
//! capacities of at most four resources, and nothing else.
//!
//! What is free is kept per unit of time, the four amounts side by side in one word, each below a guard bit:
//! a task fits a unit of time if taking its amounts away borrows no guard bit. A task is put at the soonest
//! place (serial generation, Kolisch 1996); a place is looked at from its end, so that a clash skips
//! everything before it.

use super::net::Net;
use super::types::Project;

/// Beyond this horizon the table of time units would be too long.
const HORIZON_MAX: i64 = 1 << 15;
const LANES: usize = 4;
const LANE_BITS: usize = 16;
const GUARD: u64 = 0x8000_8000_8000_8000;
const AMOUNT_MAX: i64 = 0x7FFF;

/// A plain project in one direction of time.
#[derive(Clone, Debug)]
pub(super) struct Plain {
    pub(super) durations: Vec<u32>,
    demands: Vec<u64>,
    full: u64,
    /// By task, the tasks that end before it starts, with the least wait.
    before: Vec<Vec<(u32, u32)>>,
    /// By task, the tasks that wait for it.
    pub(super) after: Vec<Vec<u32>>,
    /// A place in an order that respects the waits.
    pub(super) rank: Vec<u32>,
    /// Units of time that any list of tasks fits into.
    room: usize,
}

impl Plain {
    /// The project, if it is plain.
    pub(super) fn of(project: &Project, net: &Net) -> Option<Self> {
        let is_plain = project.horizon <= HORIZON_MAX
            && project.resources.len() <= LANES
            && project.offsets.is_empty()
            && project.changeovers.is_empty()
            && project.holds.is_empty()
            && project.supplies.is_empty()
            && project.tasks.iter().all(|task| task.due.is_none() && !task.late)
            && project.lags.iter().all(|lag| lag.max.is_none() && lag.min >= 0);
        if !is_plain {
            return None;
        }
        let fits = |resource: &super::types::Resource| {
            resource.absences.is_empty() && resource.capacity <= AMOUNT_MAX
        };
        if !project.resources.iter().all(fits) {
            return None;
        }
        let lane = |(resource, amount): (usize, i64)| {
            u64::try_from(amount).map(|amount| amount << (LANE_BITS * resource))
        };
        let mut plain = Self {
            durations: Vec::new(),
            demands: Vec::new(),
            full: GUARD,
            before: vec![Vec::new(); net.len()],
            after: vec![Vec::new(); net.len()],
            rank: Vec::new(),
            room: 1,
        };
        for (position, resource) in project.resources.iter().enumerate() {
            plain.full += lane((position, resource.capacity)).ok()?;
        }
        let mut longest = 0;
        for modes in &net.modes {
            let [mode] = modes.as_slice() else { return None };
            if !mode.usable || mode.release > 0 || mode.deadline < project.horizon {
                return None;
            }
            plain.durations.push(u32::try_from(mode.duration).ok()?);
            let amounts = mode.uses.iter().map(|used| lane(*used).ok());
            plain.demands.push(amounts.sum::<Option<u64>>()?);
            longest += mode.duration;
        }
        for lag in &project.lags {
            let (from, to) = (lag.from.0, lag.to.0);
            let wait = u32::try_from(lag.min).ok()?;
            plain.before[to].push((u32::try_from(from).ok()?, wait));
            plain.after[from].push(u32::try_from(to).ok()?);
            longest += lag.min;
        }
        plain.room = usize::try_from(longest).ok().filter(|room| *room <= 1 << 20)? + 1;
        plain.rank = plain.ranks()?;
        Some(plain)
    }

    /// The same with time running backwards.
    pub(super) fn turned(&self) -> Self {
        let mut turned = self.clone();
        turned.before = vec![Vec::new(); self.len()];
        turned.after = vec![Vec::new(); self.len()];
        for (to, all) in (0..).zip(&self.before) {
            for (from, wait) in all {
                turned.before[*from as usize].push((to, *wait));
                turned.after[to as usize].push(*from);
            }
        }
        let last = u32::try_from(self.len()).expect("tasks are few");
        turned.rank = self.rank.iter().map(|rank| last - 1 - rank).collect();
        turned
    }

    pub(super) fn len(&self) -> usize {
        self.durations.len()
    }

    fn ranks(&self) -> Option<Vec<u32>> {
        let mut waits: Vec<usize> = self.before.iter().map(Vec::len).collect();
        let mut ready: Vec<usize> = (0..self.len()).filter(|task| waits[*task] == 0).collect();
        let mut rank = vec![u32::MAX; self.len()];
        let mut next = 0;
        while let Some(task) = ready.pop() {
            rank[task] = next;
            next += 1;
            for follower in &self.after[task] {
                let follower = *follower as usize;
                waits[follower] -= 1;
                if waits[follower] == 0 {
                    ready.push(follower);
                }
            }
        }
        (next as usize == self.len()).then_some(rank)
    }

    /// The longest way from the beginning to the start of each task.
    pub(super) fn heads(&self) -> Vec<u32> {
        let mut order: Vec<usize> = (0..self.len()).collect();
        order.sort_unstable_by_key(|task| self.rank[*task]);
        let mut heads = vec![0; self.len()];
        for task in order {
            let ends = self.before[task]
                .iter()
                .map(|(other, wait)| heads[*other as usize] + self.durations[*other as usize] + wait);
            heads[task] = ends.max().unwrap_or(0);
        }
        heads
    }
}

/// The working memory of one generator.
#[derive(Debug)]
pub(super) struct Generator {
    free: Vec<u64>,
    used: usize,
    pub(super) starts: Vec<u32>,
    /// Units of time looked at since it was made.
    pub(super) steps: u64,
}

impl Generator {
    pub(super) fn new(plain: &Plain) -> Self {
        Self {
            free: vec![plain.full; plain.room],
            used: 0,
            starts: vec![0; plain.len()],
            steps: 0,
        }
    }

    /// Puts the tasks in the order of a list that respects the waits; the makespan.
    pub(super) fn run(&mut self, plain: &Plain, list: &[u32]) -> u32 {
        self.free[..self.used].fill(plain.full);
        let mut makespan = 0;
        let mut steps = list.len() as u64;
        for &task in list {
            let task = task as usize;
            let (duration, demand) = (plain.durations[task] as usize, plain.demands[task]);
            let mut start = 0;
            for &(other, wait) in &plain.before[task] {
                start = start.max(self.starts[other as usize] + plain.durations[other as usize] + wait);
            }
            let mut from = start as usize;
            if demand > 0 && duration > 0 {
                // Up to here everything from `from` on is known to fit.
                let mut known = from;
                while let Some(clash) = (known..from + duration)
                    .rev()
                    .find(|at| (self.free[*at] - demand) & GUARD != GUARD)
                {
                    steps += (from + duration - clash) as u64;
                    known = from + duration;
                    from = clash + 1;
                }
                steps += duration as u64;
                for free in &mut self.free[from..from + duration] {
                    *free -= demand;
                }
            }
            self.starts[task] = u32::try_from(from).expect("the room is below 2^32");
            makespan = makespan.max(from + duration);
        }
        self.used = makespan;
        self.steps += steps;
        u32::try_from(makespan).expect("the room is below 2^32")
    }
}
