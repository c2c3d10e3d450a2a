//! How long looking up a food takes: the ignored timing test of the program's crate is run where the compiler's
//! optimisations are the ones that ship. It measures and prints; the promises stand in the test.

use crate::machine::{cargo, run};

/// Runs the timing test and shows its figures.
///
/// # Errors
/// A sentence naming the step that failed, or that a promise was missed.
pub fn run_all() -> Result<(), String> {
    run(&mut cargo(&[
        "test",
        "--locked",
        "--package",
        "larderwright-cli",
        "--test",
        "lookup_times",
        "--",
        "--ignored",
        "--nocapture",
    ]))
}
