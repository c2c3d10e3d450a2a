//! How long looking up a food takes, and how long cooling physics takes: the ignored timing tests of the program's
//! crate are run where the compiler's optimisations are the ones that ship. They measure and print; the promises
//! stand in the tests.

use crate::machine::{cargo, run};

/// Runs the timing test of look-ups and shows its figures.
///
/// # Errors
/// A sentence naming the step that failed, or that a promise was missed.
pub fn run_all() -> Result<(), String> {
    timing("lookup_times")
}

/// Runs the timing test of cooling and shows its figures.
///
/// # Errors
/// A sentence naming the step that failed, or that a promise was missed.
pub fn run_cooling() -> Result<(), String> {
    timing("cooling_times")
}

fn timing(test: &str) -> Result<(), String> {
    run(&mut cargo(&[
        "test",
        "--locked",
        "--package",
        "larderwright-cli",
        "--test",
        test,
        "--",
        "--ignored",
        "--nocapture",
    ]))
}
