//! A project compiled for scheduling, in either direction of time.
//!
//! Every window becomes arcs between points of tasks (their start or end). Run backwards, time `t` becomes
//! `horizon - t`, starts and ends change places, and each arc turns round; so one scheduler serves both.

use super::profile::Profile;
use super::types::{Lag, Project};

/// `point(later) >= point(sooner) + base`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Arc {
    /// The task at the far side.
    pub(super) other: usize,
    /// The sooner point is the end of its task, not the start.
    pub(super) sooner_end: bool,
    /// The later point is the end of its task, not the start.
    pub(super) later_end: bool,
    pub(super) base: i64,
}

#[derive(Clone, Debug)]
pub(super) struct NetMode {
    pub(super) duration: i64,
    /// Positive amounts, each resource once; empty when the duration is zero.
    pub(super) uses: Vec<(usize, i64)>,
    /// Positive amounts of supplies, each once.
    pub(super) spends: Vec<(usize, i64)>,
    /// Soonest start.
    pub(super) release: i64,
    /// Latest end.
    pub(super) deadline: i64,
    /// False if it exceeds a whole capacity or supply, or its window is empty.
    pub(super) usable: bool,
}

/// The two exclude each other in these modes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Exclusion {
    pub(super) mode: usize,
    pub(super) other: usize,
    pub(super) other_mode: usize,
    /// Least time from this task's end to the other's start, if this one goes first.
    pub(super) leaving: i64,
    /// Least time from the other's end to this task's start.
    pub(super) entering: i64,
}

#[derive(Clone, Debug)]
pub(super) struct Net {
    pub(super) horizon: i64,
    pub(super) modes: Vec<Vec<NetMode>>,
    /// Arcs whose later point belongs to the task.
    pub(super) into: Vec<Vec<Arc>>,
    /// Arcs whose sooner point belongs to the task.
    pub(super) out: Vec<Vec<Arc>>,
    pub(super) exclusions: Vec<Vec<Exclusion>>,
    /// What is free before any task is placed.
    pub(super) profiles: Vec<Profile>,
    /// What is there of each supply.
    pub(super) supplies: Vec<i64>,
    /// Pairs of which the first should be scheduled first.
    pub(super) precedences: Vec<(usize, usize)>,
    /// Long task and visit, with the least offset.
    pub(super) visits: Vec<(usize, usize, i64)>,
    /// Pairs as in `precedences` whose lag leaves little room.
    pub(super) tight: Vec<(usize, usize)>,
}

impl Net {
    pub(super) fn len(&self) -> usize {
        self.modes.len()
    }

    pub(super) fn forwards(project: &Project) -> Self {
        let count = project.tasks.len();
        let mut net = Self {
            horizon: project.horizon,
            modes: (0..count).map(|task| compile_modes(project, task)).collect(),
            into: vec![Vec::new(); count],
            out: vec![Vec::new(); count],
            exclusions: vec![Vec::new(); count],
            profiles: project
                .resources
                .iter()
                .map(|resource| calendar(resource, None))
                .collect(),
            supplies: project.supplies.iter().map(|supply| supply.amount).collect(),
            precedences: project.lags.iter().map(|lag| (lag.from.0, lag.to.0)).collect(),
            tight: tight_lags(project),
            visits: project
                .offsets
                .iter()
                .map(|visit| (visit.of.0, visit.task.0, visit.min))
                .collect(),
        };
        for lag in &project.lags {
            net.arc(
                lag.from.0,
                lag.to.0,
                Arc {
                    other: 0,
                    sooner_end: true,
                    later_end: false,
                    base: lag.min,
                },
            );
            if let Some(max) = lag.max {
                net.arc(
                    lag.to.0,
                    lag.from.0,
                    Arc {
                        other: 0,
                        sooner_end: false,
                        later_end: true,
                        base: -max,
                    },
                );
            }
        }
        for visit in &project.offsets {
            let starts = |base| Arc {
                other: 0,
                sooner_end: false,
                later_end: false,
                base,
            };
            net.arc(visit.of.0, visit.task.0, starts(visit.min));
            net.arc(visit.task.0, visit.of.0, starts(-visit.max));
        }
        for change in &project.changeovers {
            net.exclude(
                change.a.0,
                Exclusion {
                    mode: change.a_mode,
                    other: change.b.0,
                    other_mode: change.b_mode,
                    leaving: change.a_to_b,
                    entering: change.b_to_a,
                },
            );
        }
        net
    }

    /// The same project with time running from the horizon to zero.
    pub(super) fn backwards(project: &Project) -> Self {
        let ahead = Self::forwards(project);
        let mut net = ahead.clone();
        let turned = |arc: &Arc| Arc {
            sooner_end: !arc.later_end,
            later_end: !arc.sooner_end,
            ..*arc
        };
        net.into = ahead
            .out
            .iter()
            .map(|arcs| arcs.iter().map(turned).collect())
            .collect();
        net.out = ahead
            .into
            .iter()
            .map(|arcs| arcs.iter().map(turned).collect())
            .collect();
        for mode in net.modes.iter_mut().flatten() {
            (mode.release, mode.deadline) = (net.horizon - mode.deadline, net.horizon - mode.release);
        }
        for pair in net.exclusions.iter_mut().flatten() {
            (pair.leaving, pair.entering) = (pair.entering, pair.leaving);
        }
        net.profiles = project
            .resources
            .iter()
            .map(|resource| calendar(resource, Some(net.horizon)))
            .collect();
        net.tight = ahead
            .tight
            .iter()
            .map(|(first, second)| (*second, *first))
            .collect();
        net.precedences = ahead
            .precedences
            .iter()
            .map(|(first, second)| (*second, *first))
            .collect();
        net
    }

    fn arc(&mut self, sooner: usize, later: usize, arc: Arc) {
        self.out[sooner].push(Arc { other: later, ..arc });
        self.into[later].push(Arc { other: sooner, ..arc });
    }

    fn exclude(&mut self, task: usize, pair: Exclusion) {
        self.exclusions[task].push(pair);
        self.exclusions[pair.other].push(Exclusion {
            mode: pair.other_mode,
            other: task,
            other_mode: pair.mode,
            leaving: pair.entering,
            entering: pair.leaving,
        });
    }

    /// The shortest and the longest duration among usable modes.
    pub(super) fn durations(&self, task: usize) -> Option<(i64, i64)> {
        let usable = self.modes[task]
            .iter()
            .filter(|mode| mode.usable)
            .map(|mode| mode.duration);
        Some((usable.clone().min()?, usable.max()?))
    }
}

/// Lags whose window is at most half as wide as the mean duration of all modes.
fn tight_lags(project: &Project) -> Vec<(usize, usize)> {
    let modes = || project.tasks.iter().flat_map(|task| &task.modes);
    let total: i64 = modes().map(|mode| mode.duration).sum();
    let count = i64::try_from(modes().count()).unwrap_or(i64::MAX);
    let is_tight = |lag: &&Lag| {
        lag.max
            .is_some_and(|max| (max - lag.min).saturating_mul(2 * count) <= total)
    };
    project
        .lags
        .iter()
        .filter(is_tight)
        .map(|lag| (lag.from.0, lag.to.0))
        .collect()
}

fn compile_modes(project: &Project, task: usize) -> Vec<NetMode> {
    let compile = |mode: &super::types::Mode| {
        let mut amounts = vec![0_i64; project.resources.len()];
        for (resource, amount) in &mode.uses {
            amounts[resource.0] += if mode.duration > 0 { *amount } else { 0 };
        }
        let mut spent = vec![0_i64; project.supplies.len()];
        for (supply, amount) in &mode.spends {
            spent[supply.0] += amount;
        }
        let fits = amounts
            .iter()
            .zip(&project.resources)
            .all(|(amount, there)| *amount <= there.capacity);
        let is_affordable = spent
            .iter()
            .zip(&project.supplies)
            .all(|(spent, supply)| *spent <= supply.amount);
        let release = mode.earliest.max(0);
        let latest_end = mode.latest.map(|latest| latest + mode.duration);
        let deadline = latest_end.map_or(project.horizon, |end| end.min(project.horizon));
        let is_possible = mode.latest.is_none() || release + mode.duration <= deadline;
        NetMode {
            duration: mode.duration,
            uses: positive(amounts),
            spends: positive(spent),
            release,
            deadline,
            usable: fits && is_affordable && is_possible,
        }
    };
    project.tasks[task].modes.iter().map(compile).collect()
}

fn positive(amounts: Vec<i64>) -> Vec<(usize, i64)> {
    let numbered = amounts.into_iter().enumerate();
    numbered.filter(|(_, amount)| *amount > 0).collect()
}

/// The free amount with absences taken out; with a horizon, as seen when time runs backwards from there.
fn calendar(resource: &super::types::Resource, backwards_from: Option<i64>) -> Profile {
    let mut profile = Profile::constant(resource.capacity);
    for absence in &resource.absences {
        let (from, to) = match backwards_from {
            None => (absence.from, absence.to),
            Some(horizon) => (horizon - absence.to, horizon - absence.from),
        };
        profile.take(from, to, absence.amount);
    }
    profile
}
