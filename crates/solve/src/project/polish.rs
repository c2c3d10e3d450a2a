//! Small moves on a finished schedule: shorter holds, then later starts where asked for.
//!
//! Modes stay. A move never raises lateness or the makespan, and never breaks a window or a capacity.

use super::net::Net;
use super::profile::Profile;
use super::schedule::{Objective, Placement};
use super::types::Project;

struct Polisher<'a> {
    project: &'a Project,
    net: &'a Net,
    placements: Vec<Placement>,
    profiles: Vec<Profile>,
    makespan: i64,
    /// What one time unit later adds to the holds, by task.
    slope: Vec<i64>,
}

/// Shortens holds by moving groups of tasks that their windows tie together.
pub(super) fn shorten_holds(project: &Project, net: &Net, placements: Vec<Placement>) -> Vec<Placement> {
    let mut polisher = Polisher::new(project, net, placements);
    // Each accepted move gains at least one unit of hold; the rounds are bounded so that work stays small.
    for _ in 0..20 {
        let mut moved = false;
        for task in 0..net.len() {
            if polisher.slope[task] != 0 {
                moved |= polisher.shift_group(task, polisher.slope[task] < 0);
            }
        }
        if !moved {
            break;
        }
    }
    polisher.placements
}

/// Moves each task flagged late to its last possible start, the others staying where they are.
pub(super) fn start_late(project: &Project, net: &Net, placements: Vec<Placement>) -> Vec<Placement> {
    let mut polisher = Polisher::new(project, net, placements);
    let mut flagged: Vec<usize> = (0..net.len()).filter(|task| project.tasks[*task].late).collect();
    flagged.retain(|task| polisher.slope[*task] <= 0);
    flagged.sort_by_key(|task| (std::cmp::Reverse(polisher.placements[*task].start), *task));
    loop {
        let mut moved = false;
        for task in &flagged {
            moved |= polisher.shift(&[*task], true);
        }
        if !moved {
            return polisher.placements;
        }
    }
}

impl<'a> Polisher<'a> {
    fn new(project: &'a Project, net: &'a Net, placements: Vec<Placement>) -> Self {
        let mut slope = vec![0; net.len()];
        for hold in &project.holds {
            slope[hold.to.0] += hold.weight;
            slope[hold.from.0] -= hold.weight;
        }
        let makespan = Objective::measure(project, &placements).makespan;
        let profiles = net.profiles.clone();
        let mut polisher = Self {
            project,
            net,
            placements,
            profiles,
            makespan,
            slope,
        };
        for task in 0..net.len() {
            polisher.hold(task, 1);
        }
        polisher
    }

    /// Takes the task's capacities, or gives them back with a sign of -1.
    fn hold(&mut self, task: usize, sign: i64) {
        let placement = self.placements[task];
        for (resource, amount) in &self.net.modes[task][placement.mode].uses {
            self.profiles[*resource].take(placement.start, placement.end, sign * amount);
        }
    }

    /// Moves a task with all that must come along; undone unless the holds get shorter.
    fn shift_group(&mut self, seed: usize, right: bool) -> bool {
        let group = self.tied(seed, right);
        let slope: i64 = group.iter().map(|task| self.slope[*task]).sum();
        let gains = if right { slope < 0 } else { slope > 0 };
        gains && self.shift(&group, right)
    }

    /// The task and everything that has no slack towards it in the direction of the move.
    fn tied(&self, seed: usize, right: bool) -> Vec<usize> {
        let mut group = vec![seed];
        let mut index = 0;
        while index < group.len() {
            let task = group[index];
            for (other, slack) in self.slacks(task, right) {
                if slack <= 0 && !group.contains(&other) {
                    group.push(other);
                }
            }
            index += 1;
        }
        group.sort_unstable();
        group
    }

    /// The neighbours that limit a move of the task, with the room each leaves.
    fn slacks(&self, task: usize, right: bool) -> impl Iterator<Item = (usize, i64)> + '_ {
        let own = self.placements[task];
        let arcs = if right {
            &self.net.out[task]
        } else {
            &self.net.into[task]
        };
        arcs.iter().map(move |arc| {
            let other = self.placements[arc.other];
            let (sooner, later) = if right { (own, other) } else { (other, own) };
            let from = if arc.sooner_end { sooner.end } else { sooner.start };
            let to = if arc.later_end { later.end } else { later.start };
            (arc.other, to - from - arc.base)
        })
    }

    /// Moves a group as far as windows, capacities, exclusions and the objective allow; says whether it did.
    fn shift(&mut self, group: &[usize], right: bool) -> bool {
        let rooms = group.iter().map(|task| self.room(*task, group, right));
        let room = rooms.min().unwrap_or(0);
        if room <= 0 {
            return false;
        }
        let before: Vec<Placement> = group.iter().map(|task| self.placements[*task]).collect();
        group.iter().for_each(|task| self.hold(*task, -1));
        let mut distance = room;
        while distance > 0 {
            let Some(shorter) = self.put(group, distance, right) else {
                return true;
            };
            distance = shorter;
        }
        for (task, placement) in group.iter().zip(before) {
            self.placements[*task] = placement;
            self.hold(*task, 1);
        }
        false
    }

    /// Puts a group that holds nothing at a distance, one task after the other because together they may
    /// need more than is free. If one does not fit, all are taken out again and a shorter distance is named.
    fn put(&mut self, group: &[usize], distance: i64, right: bool) -> Option<i64> {
        let signed = if right { distance } else { -distance };
        for (index, task) in group.iter().enumerate() {
            let shorter = self.fitting(*task, group, distance, right);
            if shorter < distance {
                for undone in &group[..index] {
                    self.hold(*undone, -1);
                    self.placements[*undone].start -= signed;
                    self.placements[*undone].end -= signed;
                }
                return Some(shorter);
            }
            self.placements[*task].start += signed;
            self.placements[*task].end += signed;
            self.hold(*task, 1);
        }
        None
    }

    fn room(&self, task: usize, group: &[usize], right: bool) -> i64 {
        let own = self.placements[task];
        let outer = if right {
            let due = self.project.tasks[task].due.filter(|due| due.weight > 0);
            let last = self.makespan.min(self.net.modes[task][own.mode].deadline);
            due.map_or(last, |due| last.min(due.time.max(own.end))) - own.end
        } else {
            own.start - self.net.modes[task][own.mode].release
        };
        let inner = self
            .slacks(task, right)
            .filter(|(other, _)| !group.contains(other));
        inner.map(|(_, slack)| slack).fold(outer, i64::min)
    }

    /// The greatest distance up to `distance` at which this task meets no capacity or exclusion.
    fn fitting(&self, task: usize, group: &[usize], distance: i64, right: bool) -> i64 {
        let own = self.placements[task];
        let mode = &self.net.modes[task][own.mode];
        let mut start = if right {
            own.start + distance
        } else {
            own.start - distance
        };
        for (resource, amount) in &mode.uses {
            let profile = &self.profiles[*resource];
            start = if right {
                profile.latest(start, mode.duration, *amount)
            } else {
                profile.earliest(start, mode.duration, *amount)
            };
        }
        for pair in &self.net.exclusions[task] {
            let other = self.placements[pair.other];
            let concerned = pair.mode == own.mode && pair.other_mode == other.mode;
            if !concerned || group.contains(&pair.other) {
                continue;
            }
            let clash =
                start < other.end + pair.entering && other.start < start + mode.duration + pair.leaving;
            if clash && right {
                start = other.start - pair.leaving - mode.duration;
            } else if clash {
                start = other.end + pair.entering;
            }
        }
        if right {
            start - own.start
        } else {
            own.start - start
        }
    }
}
