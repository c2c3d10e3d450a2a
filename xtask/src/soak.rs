//! The long tests: more kills, more damaged files, more households than fit into the checks. They are the ignored tests
//! of their crates, run by name; a failure names its seed.

use crate::machine::{Watch, cargo, run, seconds};

/// A long test: its crate, the test program, the test, and what it does.
struct Long {
    package: &'static str,
    target: &'static str,
    test: &'static str,
    does: &'static str,
}

const LONG: &[Long] = &[
    Long {
        package: "larderwright-store-sqlite",
        target: "store",
        test: "kills::five_hundred_kills_lose_nothing",
        does: "kills the writer of a store 500 times",
    },
    Long {
        package: "larderwright-store-sqlite",
        target: "store",
        test: "flips::three_thousand_changed_bytes_give_no_wrong_answer_unnoticed",
        does: "damages 3,000 files",
    },
    Long {
        package: "larderwright-testkit",
        target: "soak",
        test: "two_thousand_households_get_a_sound_plan_or_a_reason",
        does: "plans the weeks of 2,000 households",
    },
];

/// Runs every long test, one after the other.
///
/// # Errors
/// A sentence naming the tests that failed.
pub fn run_all() -> Result<(), String> {
    let mut failed = Vec::new();
    for long in LONG {
        eprintln!("\n== {} {}: {}", long.package, long.test, long.does);
        let watch = Watch::start();
        let done = run(&mut cargo(&[
            "test",
            "--locked",
            "--package",
            long.package,
            "--test",
            long.target,
            "--",
            "--exact",
            long.test,
            "--ignored",
            "--nocapture",
        ]));
        let outcome = if done.is_ok() { "passed" } else { "failed" };
        eprintln!("== {outcome} in {}", seconds(watch.millis()));
        failed.extend(done.err().map(|_| long.test));
    }
    if failed.is_empty() {
        return Ok(());
    }
    Err(format!("soak: failed: {}", failed.join(", ")))
}
