//! An independent judge of schedules. It uses the nouns of a project and nothing of the solver.

use super::schedule::Schedule;
use super::types::{Changeover, Lag, Offset, Project, ResourceIx, SupplyIx, TaskIx};

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
    /// The task ends after the horizon or starts later than its mode allows.
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
    /// The chosen modes use up more than is there.
    Supply(SupplyIx),
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
    violations.extend(check_supplies(project, schedule));
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
        let is_late = mode.latest.is_some_and(|latest| placement.start > latest);
        if is_late || placement.end > project.horizon() {
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

fn check_supplies(project: &Project, schedule: &Schedule) -> Vec<Violation> {
    let mut violations = Vec::new();
    for (position, supply) in project.supplies().iter().enumerate() {
        let chosen = project.tasks().iter().zip(&schedule.placements);
        let spends = chosen.flat_map(|(task, placement)| &task.modes[placement.mode].spends);
        let own = spends.filter(|(spent, _)| spent.position() == position);
        if own.map(|(_, amount)| amount).sum::<i64>() > supply.amount {
            violations.push(Violation::Supply(SupplyIx(position)));
        }
    }
    violations
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::project::{Absence, Mode, Placement, ProjectBuilder};

    /// Three tasks of four units on a capacity of two, which halves from 8 to 9.
    fn project() -> Project {
        let mut builder = ProjectBuilder::new(14).expect("a horizon");
        let hands = builder.resource(2).expect("a capacity");
        builder
            .absence(
                hands,
                Absence {
                    from: 8,
                    to: 9,
                    amount: 1,
                },
            )
            .expect("an absence");
        for earliest in [0, 1, 0] {
            let modes = vec![
                Mode::lasting(4).using(hands, 1).not_before(earliest),
                Mode::lasting(2),
            ];
            builder.task(modes).expect("a task");
        }
        builder.lag(LAG).expect("a lag");
        builder.offset(OFFSET).expect("an offset");
        builder.changeover(CHANGE).expect("a changeover");
        builder.build().expect("no contradiction")
    }

    const LAG: Lag = Lag {
        from: TaskIx(0),
        to: TaskIx(2),
        min: 1,
        max: Some(6),
    };
    const OFFSET: Offset = Offset {
        task: TaskIx(1),
        of: TaskIx(0),
        min: 1,
        max: 4,
    };
    const CHANGE: Changeover = Changeover {
        a: TaskIx(1),
        a_mode: 0,
        b: TaskIx(2),
        b_mode: 0,
        a_to_b: 1,
        b_to_a: 5,
    };

    /// Placements as start, end, mode; what is found wrong with them.
    fn check(placements: [(i64, i64, usize); 3]) -> Vec<Violation> {
        let placements = placements.map(|(start, end, mode)| Placement { start, end, mode });
        check_schedule(
            &project(),
            &Schedule {
                placements: placements.to_vec(),
            },
        )
    }

    #[test]
    fn a_good_schedule_is_passed_in_silence() {
        assert_eq!(check([(0, 4, 0), (1, 5, 0), (6, 10, 0)]), []);
    }

    #[test]
    fn a_missing_placement_is_found() {
        let none = Schedule {
            placements: Vec::new(),
        };
        assert_eq!(
            check_schedule(&project(), &none),
            [Violation::Length { found: 0, wanted: 3 }]
        );
    }

    #[test]
    fn each_broken_promise_of_a_task_is_found() {
        assert_eq!(
            check([(0, 4, 2), (1, 5, 0), (6, 10, 0)]),
            [Violation::Mode(TaskIx(0))]
        );
        assert_eq!(
            check([(0, 4, 0), (1, 5, 0), (6, 9, 0)]),
            [Violation::Duration(TaskIx(2))]
        );
        assert_eq!(
            check([(-1, 3, 0), (1, 5, 0), (6, 10, 0)]),
            [Violation::TooEarly(TaskIx(0))]
        );
        assert_eq!(
            check([(-1, 3, 0), (0, 4, 0), (6, 10, 0)])[1],
            Violation::TooEarly(TaskIx(1))
        );
        assert_eq!(
            check([(3, 7, 0), (4, 8, 0), (11, 15, 0)]),
            [Violation::TooLate(TaskIx(2))]
        );
    }

    #[test]
    fn a_lag_that_is_too_short_or_too_long_is_found() {
        assert_eq!(check([(0, 4, 0), (1, 3, 1), (4, 8, 0)]), [Violation::Lag(LAG)]);
        assert_eq!(check([(0, 2, 1), (1, 3, 1), (9, 13, 0)]), [Violation::Lag(LAG)]);
    }

    #[test]
    fn a_visit_outside_its_window_is_found() {
        assert_eq!(
            check([(3, 7, 0), (3, 5, 1), (9, 13, 0)]),
            [Violation::Offset(OFFSET)]
        );
        assert_eq!(
            check([(0, 4, 0), (5, 7, 1), (9, 13, 0)]),
            [Violation::Offset(OFFSET)]
        );
    }

    #[test]
    fn a_changeover_without_its_set_up_is_found_only_in_the_modes_concerned() {
        assert_eq!(
            check([(0, 2, 1), (3, 7, 0), (7, 11, 0)]),
            [Violation::Changeover(CHANGE)]
        );
        assert_eq!(check([(0, 2, 1), (3, 7, 0), (7, 9, 1)]), []);
    }

    #[test]
    fn an_excess_is_found_at_its_first_time_unit() {
        let project = project();
        let hands = ResourceIx(0);
        let placements = [(3, 7, 0), (5, 7, 1), (8, 12, 0)];
        let placements = placements.map(|(start, end, mode)| Placement { start, end, mode });
        assert_eq!(
            check_schedule(
                &project,
                &Schedule {
                    placements: placements.to_vec()
                }
            ),
            []
        );
        assert_eq!(
            check([(4, 6, 1), (5, 9, 0), (7, 11, 0)]),
            [
                Violation::Changeover(CHANGE),
                Violation::Capacity {
                    resource: hands,
                    time: 8
                }
            ]
        );
    }
}
