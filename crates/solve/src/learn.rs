//! A proving kernel: finite whole-number variables, rules that explain what they derive, clauses learnt from
//! conflicts. It knows nothing of schedules beyond rules about work that holds capacities.
//!
//! Lazy clause generation after Ohrimenko, Stuckey and Codish, "Propagation via lazy clause generation"
//! (2009). A statement is a bound of a variable; none is stored before it is needed. Work is counted, never
//! timed, so a search is fixed by its input.

mod activity;
mod analyse;
mod choice;
mod clause;
mod domain;
mod energy;
mod facts;
mod item;
#[cfg(test)]
mod laws;
mod search;
mod solver;
mod state;
mod sum;
mod timetable;
#[cfg(test)]
mod trial;
mod unary;

pub(crate) use choice::Choice;
pub(crate) use domain::{Lit, Side, Var};
pub(crate) use energy::Energy;
pub(crate) use item::Item;
pub(crate) use search::Verdict;
pub(crate) use solver::{Solver, Taste};
pub(crate) use sum::Sum;
pub(crate) use timetable::Timetable;
pub(crate) use unary::Unary;
