//! An independent judge of schedules. It uses the nouns of a project and nothing of the solver.

use super::schedule::Schedule;
use super::types::{Changeover, Lag, Offset, Project, ResourceIx, TaskIx};

/// One way in which a schedule breaks its project.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Violation {
    /// Not exactly one placement per task; nothing else was looked at.
    Length {
        /// Placements found.
        found: usize,
        /// Tasks in the project.
        wanted: usize,
    },
    /// The task has no such mode.
    Mode(TaskIx),
    /// End minus start is not the duration of the mode.
    Duration(TaskIx),
    /// The task starts before zero or before its mode allows.
    TooEarly(TaskIx),
    /// The task ends after the horizon.
    TooLate(TaskIx),
    /// The gap lies outside the lag's window.
    Lag(Lag),
    /// The difference of starts lies outside the offset's window.
    Offset(Offset),
    /// The two run at once or without the set-up time between them.
    Changeover(Changeover),
    /// More is held than is there; the first time unit at which this happens for the resource.
    Capacity {
        /// The resource.
        resource: ResourceIx,
        /// The first time unit of excess.
        time: i64,
    },
}

/// Lists every way in which the schedule breaks the project; empty means feasible.
#[must_use]
pub fn check_schedule(project: &Project, schedule: &Schedule) -> Vec<Violation> {
    let (found, wanted) = (schedule.placements.len(), project.tasks().len());
    if found != wanted {
        return vec![Violation::Length { found, wanted }];
    }
    let mut violations = check_tasks(project, schedule);
    if violations
        .iter()
        .any(|violation| matches!(violation, Violation::Mode(_)))
    {
        return violations;
    }
    violations.extend(check_windows(project, schedule));
    violations.extend(check_changeovers(project, schedule));
    violations.extend(check_capacities(project, schedule));
    violations
}

fn check_tasks(project: &Project, schedule: &Schedule) -> Vec<Violation> {
    let mut violations = Vec::new();
    for (position, task) in project.tasks().iter().enumerate() {
        let (ix, placement) = (TaskIx(position), schedule.placements[position]);
        let Some(mode) = task.modes.get(placement.mode) else {
            violations.push(Violation::Mode(ix));
            continue;
        };
        if placement.end - placement.start != mode.duration {
            violations.push(Violation::Duration(ix));
        }
        if placement.start < mode.earliest.max(0) {
            violations.push(Violation::TooEarly(ix));
        }
        if placement.end > project.horizon() {
            violations.push(Violation::TooLate(ix));
        }
    }
    violations
}

fn check_windows(project: &Project, schedule: &Schedule) -> Vec<Violation> {
    let mut violations = Vec::new();
    for lag in project.lags() {
        let gap = schedule.of(lag.to).start - schedule.of(lag.from).end;
        if gap < lag.min || lag.max.is_some_and(|max| gap > max) {
            violations.push(Violation::Lag(*lag));
        }
    }
    for offset in project.offsets() {
        let difference = schedule.of(offset.task).start - schedule.of(offset.of).start;
        if difference < offset.min || difference > offset.max {
            violations.push(Violation::Offset(*offset));
        }
    }
    violations
}

fn check_changeovers(project: &Project, schedule: &Schedule) -> Vec<Violation> {
    let broken = |change: &&Changeover| {
        let (a, b) = (schedule.of(change.a), schedule.of(change.b));
        let concerned = a.mode == change.a_mode && b.mode == change.b_mode;
        concerned && b.start < a.end + change.a_to_b && a.start < b.end + change.b_to_a
    };
    project
        .changeovers()
        .iter()
        .filter(broken)
        .map(|change| Violation::Changeover(*change))
        .collect()
}

fn check_capacities(project: &Project, schedule: &Schedule) -> Vec<Violation> {
    let mut violations = Vec::new();
    for (position, resource) in project.resources().iter().enumerate() {
        let ix = ResourceIx(position);
        let mut events: Vec<(i64, i64)> = Vec::new();
        for absence in &resource.absences {
            events.extend([(absence.from, absence.amount), (absence.to, -absence.amount)]);
        }
        // What is away may exceed the capacity; that alone breaks nothing, so holders are counted apart.
        let mut holders: Vec<(i64, i64)> = Vec::new();
        for (task, placement) in project.tasks().iter().zip(&schedule.placements) {
            let uses = &task.modes[placement.mode].uses;
            let held: i64 = uses
                .iter()
                .filter(|(used, _)| *used == ix)
                .map(|(_, amount)| amount)
                .sum();
            if held > 0 && placement.end > placement.start {
                holders.extend([(placement.start, held), (placement.end, -held)]);
            }
        }
        let mut times: Vec<i64> = events.iter().chain(&holders).map(|(time, _)| *time).collect();
        times.sort_unstable();
        times.dedup();
        let level = |list: &[(i64, i64)], at: i64| -> i64 {
            list.iter()
                .filter(|(time, _)| *time <= at)
                .map(|(_, change)| change)
                .sum()
        };
        let over = |time: &i64| {
            let held = level(&holders, *time);
            held > 0 && held > resource.capacity - level(&events, *time)
        };
        if let Some(time) = times.into_iter().find(over) {
            violations.push(Violation::Capacity { resource: ix, time });
        }
    }
    violations
}
