//! Project scheduling: tasks with alternative modes on shared capacities, with lags, visits and changeovers.
//!
//! [`ProjectBuilder`] checks an input and makes a [`Project`]; [`solve`] answers it within a [`Budget`];
//! [`check_schedule`] judges any schedule without sharing code with the solver. Time is whole units of the
//! caller's choice, starting at zero. Objectives are lexicographic, see [`Objective`].
//!
//! An optional task is one with a mode of no length and no use. Not done here: interruptible tasks, supplies
//! that are filled up again.

mod afford;
mod answer;
mod bound;
mod breed;
mod build;
mod check;
#[cfg(test)]
mod exact;
#[cfg(test)]
mod laws;
mod net;
mod order;
mod place;
mod plain;
mod polish;
mod profile;
mod prove;
mod schedule;
mod search;
mod seek;
mod simulate;
mod solve;
mod types;

pub use answer::{Answer, Bound, BoundReason, Budget, Conflict, Threads};
pub use build::{ProjectBuilder, ProjectError};
pub use check::{Violation, check_schedule};
pub use schedule::{Objective, Placement, Schedule};
pub use simulate::{Lengths, Outlook, simulate};
pub use solve::{Solved, Stop, solve, solve_until};
pub use types::{
    Absence, Changeover, Due, Hold, Lag, Mode, ModeIx, Offset, Project, Resource, ResourceIx, Supply,
    SupplyIx, Task, TaskIx,
};
