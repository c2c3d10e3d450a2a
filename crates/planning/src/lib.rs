//! Planning: the pure stages that turn a snapshot into a week plan, and the driver that orders them.
//!
//! Each stage is a function from one value to the next and knows nothing of the others; the
//! driver owns their order, the retries and the limit on retries. Nothing here reads a clock,
//! a file or a random source.

pub mod allocation;
pub mod appetite;
pub mod batches;
pub mod carried;
pub mod demand;
mod driver;
pub mod facts;
pub mod keeping;
pub mod menu;
pub mod order;
pub mod packing;
pub mod plates;
pub mod practice;
mod restrict;
pub mod service;
pub mod session;

pub use driver::{Threads, plan_week, state_week};
pub use restrict::{Cut, Restrictions};
