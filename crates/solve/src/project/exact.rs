//! Brute force for tiny projects: every mode and every start of every task is tried. For tests only; it
//! shares no code with the solver or the checker.

use super::schedule::{Objective, Placement, Schedule};
use super::types::Project;

struct Trial<'a> {
    project: &'a Project,
    placements: Vec<Placement>,
    best: Option<(Objective, Schedule)>,
}

/// The best schedule by objective, or none if there is none. Cost grows as (modes times horizon)^tasks.
pub(super) fn optimum(project: &Project) -> Option<(Objective, Schedule)> {
    let mut trial = Trial {
        project,
        placements: Vec::new(),
        best: None,
    };
    trial.extend();
    trial.best
}

impl Trial<'_> {
    fn extend(&mut self) {
        let next = self.placements.len();
        if next == self.project.tasks.len() {
            let schedule = Schedule {
                placements: self.placements.clone(),
            };
            let objective = Objective::of(self.project, &schedule);
            if self.best.as_ref().is_none_or(|(best, _)| objective < *best) {
                self.best = Some((objective, schedule));
            }
            return;
        }
        for (mode, described) in self.project.tasks[next].modes.iter().enumerate() {
            let last = described.latest.unwrap_or(self.project.horizon);
            for start in described.earliest.max(0)..=last.min(self.project.horizon - described.duration) {
                self.placements.push(Placement {
                    start,
                    end: start + described.duration,
                    mode,
                });
                if !self.is_hopeless()
                    && self.supplies_hold()
                    && self.windows_hold(next)
                    && self.exclusions_hold()
                    && self.capacity_holds()
                {
                    self.extend();
                }
                self.placements.pop();
            }
        }
    }

    fn is_hopeless(&self) -> bool {
        let ends = self.placements.iter().map(|placement| placement.end);
        let late = self.project.tasks.iter().zip(ends.clone());
        let late: i64 = late
            .map(|(task, end)| task.due.map_or(0, |due| due.weight * (end - due.time).max(0)))
            .sum();
        let reached = (late, ends.max().unwrap_or(0));
        self.best
            .as_ref()
            .is_some_and(|(best, _)| reached > (best.lateness, best.makespan))
    }

    fn supplies_hold(&self) -> bool {
        self.project
            .supplies
            .iter()
            .enumerate()
            .all(|(position, supply)| {
                let chosen = self.placements.iter().zip(&self.project.tasks);
                let spends = chosen.flat_map(|(placement, task)| &task.modes[placement.mode].spends);
                let own = spends.filter(|(spent, _)| spent.position() == position);
                own.map(|(_, amount)| amount).sum::<i64>() <= supply.amount
            })
    }

    fn windows_hold(&self, newest: usize) -> bool {
        let placed = |task: usize| self.placements.get(task);
        let lags = self
            .project
            .lags
            .iter()
            .filter(|lag| lag.from.0.max(lag.to.0) == newest);
        let mut lags = lags.filter_map(|lag| Some((lag, placed(lag.to.0)?.start - placed(lag.from.0)?.end)));
        let visits = self
            .project
            .offsets
            .iter()
            .filter(|visit| visit.of.0.max(visit.task.0) == newest);
        let mut visits =
            visits.filter_map(|visit| Some((visit, placed(visit.task.0)?.start - placed(visit.of.0)?.start)));
        lags.all(|(lag, gap)| (lag.min..=lag.max.unwrap_or(i64::MAX)).contains(&gap))
            && visits.all(|(visit, gap)| (visit.min..=visit.max).contains(&gap))
    }

    fn exclusions_hold(&self) -> bool {
        self.project.changeovers.iter().all(|change| {
            let (Some(a), Some(b)) = (self.placements.get(change.a.0), self.placements.get(change.b.0))
            else {
                return true;
            };
            let concerned = (a.mode, b.mode) == (change.a_mode, change.b_mode);
            !concerned || a.end + change.a_to_b <= b.start || b.end + change.b_to_a <= a.start
        })
    }

    /// Looks at every time unit of the newest task.
    fn capacity_holds(&self) -> bool {
        let Some(newest) = self.placements.last() else {
            return true;
        };
        (newest.start..newest.end).all(|time| {
            self.project
                .resources
                .iter()
                .enumerate()
                .all(|(position, resource)| {
                    let away = resource
                        .absences
                        .iter()
                        .filter(|away| away.from <= time && time < away.to);
                    let there = resource.capacity - away.map(|away| away.amount).sum::<i64>();
                    let running = self.placements.iter().zip(&self.project.tasks);
                    let running =
                        running.filter(|(placement, _)| placement.start <= time && time < placement.end);
                    let held = running.flat_map(|(placement, task)| &task.modes[placement.mode].uses);
                    let held: i64 = held
                        .filter(|(used, _)| used.position() == position)
                        .map(|(_, amount)| amount)
                        .sum();
                    held == 0 || held <= there
                })
        })
    }
}
