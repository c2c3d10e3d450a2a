//! What is asked of the solver and what it answers.

use super::schedule::Schedule;
use super::types::{ResourceIx, TaskIx};

/// Whether the two workers run one after the other or side by side. The answer does not depend on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Threads {
    /// One after the other.
    One,
    /// Side by side.
    Two,
}

/// How much may be spent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Budget {
    /// Number of whole schedules that may be generated, over both workers; repairs count in proportion. The
    /// greater part is spent on proving instead, at a fixed exchange of counted steps for placements.
    pub work: u64,
    /// The search is fixed by this.
    pub seed: u64,
    /// How the workers run.
    pub threads: Threads,
}

/// What decides a lower bound of the makespan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BoundReason {
    /// These tasks must follow each other, in this order.
    Chain(Vec<TaskIx>),
    /// These tasks need so much of one resource that it is busy for long.
    Resource {
        /// The binding resource.
        resource: ResourceIx,
        /// None of the tasks can start sooner.
        from: i64,
        /// At least this much time follows after the last of them.
        tail: i64,
        /// The tasks, by position.
        tasks: Vec<TaskIx>,
    },
}

/// No schedule ends sooner than `makespan`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bound {
    /// Lower bound of the latest end, among schedules of the least lateness where tasks are due.
    pub makespan: i64,
    /// Lower bound of the weighted lateness.
    pub lateness: i64,
    /// The strongest single argument for a long makespan, so that a caller can say why. Where many arguments
    /// together gave the bound, this one alone gives less.
    pub reason: BoundReason,
}

/// Why no schedule exists.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Conflict {
    /// The windows between these tasks contradict each other.
    Windows(Vec<TaskIx>),
    /// No mode of this task ever fits into the capacities.
    Capacity(TaskIx),
    /// The bound lies beyond the horizon. If exhausting all schedules showed that, the reason names what
    /// weighs most, not a conflict by itself.
    Horizon(Bound),
}

impl Conflict {
    /// The tasks concerned.
    #[must_use]
    pub fn tasks(&self) -> &[TaskIx] {
        match self {
            Self::Windows(tasks)
            | Self::Horizon(Bound {
                reason: BoundReason::Chain(tasks) | BoundReason::Resource { tasks, .. },
                ..
            }) => tasks,
            Self::Capacity(task) => std::slice::from_ref(task),
        }
    }
}

/// What the solver found out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answer {
    /// Lateness and makespan are optimal; holds and late starts are the best found.
    Proven(Schedule, Bound),
    /// The best schedule found, and the bound it is to be compared with.
    Best(Schedule, Bound),
    /// It was shown that no schedule exists.
    Infeasible(Conflict),
    /// The work ran out before any schedule was found; there may be one.
    Stopped(Bound),
}

impl Answer {
    /// The schedule, if there is one.
    #[must_use]
    pub fn schedule(&self) -> Option<&Schedule> {
        match self {
            Self::Proven(schedule, _) | Self::Best(schedule, _) => Some(schedule),
            Self::Infeasible(_) | Self::Stopped(_) => None,
        }
    }
}
