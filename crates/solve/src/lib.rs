//! Domain-free solvers: work goes in; proven best, best found with its bound, or shown impossible comes out.
//!
//! Nothing here reads a clock, a file or a source of randomness. The budget is counted work and the seed is
//! an argument, so the same input gives the same answer on one thread and on two.

mod learn;
pub mod linear;
pub mod project;
mod random;

pub use random::Random;
