//! Serial schedule generation with repair.
//!
//! Tasks are placed in the order of a list, each as soon as its placed neighbours, its capacities and its
//! exclusions allow. Where the soonest fit lies beyond a window set by a placed neighbour, that neighbour is
//! not to start before it can meet the window, everything since is taken back, and generation goes on from
//! there. After Franck, Neumann and Schwindt, "Truncated branch-and-bound, schedule-construction, and
//! schedule-improvement procedures for resource-constrained project scheduling" (2001), with the
//! unscheduling step simplified to a chronological one.

use super::net::Net;
use super::profile::{NEVER, Profile};
use super::schedule::Placement;

/// Placements after which a generation is given up, per task and on top; chosen by trial.
const TRIES_PER_TASK: u64 = 8;
const TRIES_LEAST: u64 = 20;

/// What the caller wants of a task's mode: a certain one, or the one that ends first.
pub(super) type Wish = Option<usize>;

/// The order to follow, the modes to prefer, and the time before which nothing starts.
pub(super) struct Plan<'a> {
    pub(super) list: &'a [usize],
    pub(super) wishes: &'a [Wish],
    pub(super) floor: i64,
}

/// The working memory of one scheduler.
#[derive(Debug)]
pub(super) struct Placer<'a> {
    net: &'a Net,
    profiles: Vec<Profile>,
    placed: Vec<Option<Placement>>,
    /// Set by repairs: the task starts no sooner.
    release: Vec<i64>,
    slot: Vec<usize>,
    /// Placements tried since the scheduler was made.
    pub(super) tries: u64,
}

enum Fit {
    At(Placement),
    /// The neighbour must start later by this much for the task to fit.
    Delay(usize, i64),
    Never,
}

impl<'a> Placer<'a> {
    pub(super) fn new(net: &'a Net) -> Self {
        let count = net.len();
        Self {
            net,
            profiles: net.profiles.clone(),
            placed: vec![None; count],
            release: vec![0; count],
            slot: vec![0; count],
            tries: 0,
        }
    }

    /// Places every task of the list, or gives up after a number of tries in proportion to its length.
    pub(super) fn run(&mut self, plan: &Plan<'_>) -> Option<Vec<Placement>> {
        for (profile, base) in self.profiles.iter_mut().zip(&self.net.profiles) {
            profile.reset_to(base);
        }
        self.placed.fill(None);
        self.release.fill(plan.floor);
        let limit = self.tries + TRIES_PER_TASK * plan.list.len() as u64 + TRIES_LEAST;
        let mut next = 0;
        while next < plan.list.len() {
            if self.tries == limit {
                return None;
            }
            self.tries += 1;
            let task = plan.list[next];
            match self.best_fit(task, plan.wishes[task]) {
                Fit::At(placement) => {
                    self.put(task, placement);
                    self.slot[task] = next;
                    next += 1;
                }
                Fit::Delay(neighbour, delay) => {
                    let start = self.placed[neighbour]
                        .expect("only placed tasks are blamed")
                        .start;
                    self.release[neighbour] = start + delay;
                    let back = self.slot[neighbour];
                    for undone in &plan.list[back..next] {
                        self.take_back(*undone);
                    }
                    next = back;
                }
                Fit::Never => return None,
            }
        }
        self.placed.iter().copied().collect()
    }

    /// Among the modes allowed by the wish, the one that ends first; else the cheapest repair.
    fn best_fit(&self, task: usize, wish: Wish) -> Fit {
        let mut best = Fit::Never;
        for (mode, described) in self.net.modes[task].iter().enumerate() {
            if !described.usable || wish.is_some_and(|wanted| wanted != mode) {
                continue;
            }
            let fit = self.fit(task, mode);
            let better = match (&fit, &best) {
                (Fit::At(new), Fit::At(old)) => new.end < old.end,
                (Fit::Delay(_, new), Fit::Delay(_, old)) => new < old,
                (Fit::At(_), _) | (Fit::Delay(..), Fit::Never) => true,
                (Fit::Delay(..), Fit::At(_)) | (Fit::Never, _) => false,
            };
            if better {
                best = fit;
            }
        }
        best
    }

    fn fit(&self, task: usize, mode: usize) -> Fit {
        let described = &self.net.modes[task][mode];
        let mut soonest = described.release.max(self.release[task]);
        for arc in &self.net.into[task] {
            if let Some(other) = self.placed[arc.other] {
                let point = if arc.sooner_end { other.end } else { other.start };
                let own = if arc.later_end { described.duration } else { 0 };
                soonest = soonest.max(point + arc.base - own);
            }
        }
        let (mut latest, mut blamed) = (described.deadline - described.duration, None);
        for arc in &self.net.out[task] {
            if let Some(other) = self.placed[arc.other] {
                let point = if arc.later_end { other.end } else { other.start };
                let own = if arc.sooner_end { described.duration } else { 0 };
                let limit = point - arc.base - own;
                if limit < latest {
                    (latest, blamed) = (limit, Some(arc.other));
                }
            }
        }
        let start = self.soonest_free(task, mode, soonest);
        match blamed {
            _ if start <= latest => Fit::At(Placement {
                start,
                end: start + described.duration,
                mode,
            }),
            Some(neighbour) if start < NEVER => Fit::Delay(neighbour, start - latest),
            _ => Fit::Never,
        }
    }

    /// The soonest start from which capacities and exclusions allow the task.
    fn soonest_free(&self, task: usize, mode: usize, from: i64) -> i64 {
        let described = &self.net.modes[task][mode];
        let mut start = from;
        loop {
            let before = start;
            for (resource, amount) in &described.uses {
                start = self.profiles[*resource].earliest(start, described.duration, *amount);
                if start >= NEVER {
                    return NEVER;
                }
            }
            for pair in self.net.exclusions[task].iter().filter(|pair| pair.mode == mode) {
                let Some(other) = self.placed[pair.other] else {
                    continue;
                };
                let clash = other.mode == pair.other_mode
                    && start < other.end + pair.entering
                    && other.start < start + described.duration + pair.leaving;
                if clash {
                    start = other.end + pair.entering;
                }
            }
            if start == before {
                return start;
            }
        }
    }

    fn put(&mut self, task: usize, placement: Placement) {
        for (resource, amount) in &self.net.modes[task][placement.mode].uses {
            self.profiles[*resource].take(placement.start, placement.end, *amount);
        }
        self.placed[task] = Some(placement);
    }

    fn take_back(&mut self, task: usize) {
        let placement = self.placed[task]
            .take()
            .expect("only placed tasks are taken back");
        for (resource, amount) in &self.net.modes[task][placement.mode].uses {
            self.profiles[*resource].take(placement.start, placement.end, -*amount);
        }
    }
}
