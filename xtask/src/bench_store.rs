//! How long a household's memory takes once it holds a hundred thousand events: the measuring program of the store's
//! crate is built and run. It prints its figures; the promises stand in it.

use crate::machine::{cargo, run};

/// Runs the measurement.
///
/// # Errors
/// A sentence naming the step that failed, or that a promise was missed.
pub fn run_all() -> Result<(), String> {
    run(&mut cargo(&[
        "run",
        "--locked",
        "--package",
        "larderwright-store-sqlite",
        "--example",
        "hundred_thousand",
    ]))
}
