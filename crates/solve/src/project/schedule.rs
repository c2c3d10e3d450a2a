//! A schedule and what it is worth.

use super::types::{ModeIx, Project, TaskIx};

/// When and how one task runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Placement {
    /// First time unit.
    pub start: i64,
    /// First time unit after the task.
    pub end: i64,
    /// The mode carried out.
    pub mode: ModeIx,
}

/// A placement for every task of a project, by [`TaskIx::position`].
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Schedule {
    /// One entry per task.
    pub placements: Vec<Placement>,
}

impl Schedule {
    /// The placement of a task.
    ///
    /// # Panics
    /// If the task belongs to a larger project than the schedule.
    #[must_use]
    pub fn of(&self, task: TaskIx) -> Placement {
        self.placements[task.0]
    }
}

/// What a schedule is worth; compared in the order of the fields, smaller is better.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Objective {
    /// Sum of weight times lateness over the tasks that are due; zero without any.
    pub lateness: i64,
    /// The latest end.
    pub makespan: i64,
    /// Sum of weight times gap over the holds.
    pub hold: i64,
}

impl Objective {
    /// Measures a schedule that has one placement per task; it need not be feasible.
    #[must_use]
    pub fn of(project: &Project, schedule: &Schedule) -> Self {
        Self::measure(project, &schedule.placements)
    }

    pub(super) fn measure(project: &Project, placements: &[Placement]) -> Self {
        let lateness = project
            .tasks
            .iter()
            .zip(placements)
            .filter_map(|(task, placement)| {
                task.due.map(|due| due.weight * (placement.end - due.time).max(0))
            });
        let hold = project
            .holds
            .iter()
            .map(|hold| hold.weight * (placements[hold.to.0].start - placements[hold.from.0].end));
        Self {
            lateness: lateness.sum(),
            makespan: placements
                .iter()
                .map(|placement| placement.end)
                .max()
                .unwrap_or(0),
            hold: hold.sum(),
        }
    }
}
