//! Every check in one command. A failing step does not hide the next one: all run, the last line names those
//! that failed. The tests come last, so that their runner's own summary stands right above it.

use std::path::Path;

use crate::machine::{Watch, cargo, output, root, run, seconds};
use crate::{data, tidy};

/// One check with the name it is reported under.
struct Step {
    name: &'static str,
    check: fn(&Path) -> Result<(), String>,
}

const STEPS: &[Step] = &[
    Step {
        name: "format",
        check: format,
    },
    Step {
        name: "tidy",
        check: tidy::run,
    },
    Step {
        name: "generated files",
        check: |_| data::check(),
    },
    Step {
        name: "licences and sources",
        check: licences,
    },
    Step {
        name: "lints",
        check: lints,
    },
    Step {
        name: "docs",
        check: docs,
    },
    Step {
        name: "doc tests",
        check: doc_tests,
    },
    Step {
        name: "tests",
        check: tests,
    },
];

/// Runs every step.
///
/// # Errors
/// A summary naming the failed steps.
pub fn run_all() -> Result<(), String> {
    let root = root();
    let whole = Watch::start();
    let mut failed = Vec::new();
    for (at, step) in STEPS.iter().enumerate() {
        eprintln!("\n== {}/{} {}", at + 1, STEPS.len(), step.name);
        let watch = Watch::start();
        let outcome = (step.check)(&root);
        let took = seconds(watch.millis());
        match outcome {
            Ok(()) => eprintln!("== {}: passed in {took}", step.name),
            Err(why) => {
                eprintln!("== {}: failed in {took}: {why}", step.name);
                failed.push(step.name);
            }
        }
    }
    summary(&failed, &seconds(whole.millis()))
}

fn summary(failed: &[&str], took: &str) -> Result<(), String> {
    if failed.is_empty() {
        println!("ci: all {} steps passed in {took}", STEPS.len());
        return Ok(());
    }
    Err(format!(
        "ci: {} of {} steps failed in {took}: {}",
        failed.len(),
        STEPS.len(),
        failed.join(", ")
    ))
}

/// Refuses with advice when a part of the toolchain is missing; nothing is downloaded here.
fn need(subcommand: &str, advice: &str) -> Result<(), String> {
    match output(&mut cargo(&[subcommand, "--version"])) {
        Some(_) => Ok(()),
        None => Err(format!("`cargo {subcommand}` is missing: {advice}")),
    }
}

fn format(_: &Path) -> Result<(), String> {
    need("fmt", "add the `rustfmt` component to the Rust toolchain")?;
    run(&mut cargo(&["fmt", "--all", "--check"]))
}

fn lints(_: &Path) -> Result<(), String> {
    need("clippy", "add the `clippy` component to the Rust toolchain")?;
    run(&mut cargo(&[
        "clippy",
        "--locked",
        "--workspace",
        "--all-targets",
        "--",
        "-D",
        "warnings",
    ]))
}

fn docs(_: &Path) -> Result<(), String> {
    run(cargo(&["doc", "--locked", "--no-deps", "--workspace"]).env("RUSTDOCFLAGS", "-D warnings"))
}

fn doc_tests(_: &Path) -> Result<(), String> {
    run(&mut cargo(&[
        "test",
        "--locked",
        "--quiet",
        "--workspace",
        "--doc",
    ]))
}

/// Without `cargo-nextest` the runner of the toolchain does the same tests, more slowly.
fn tests(_: &Path) -> Result<(), String> {
    if need("nextest", "").is_ok() {
        return run(&mut cargo(&[
            "nextest",
            "run",
            "--locked",
            "--workspace",
            "--no-fail-fast",
        ]));
    }
    eprintln!("cargo-nextest is not installed; running `cargo test` instead");
    run(&mut cargo(&[
        "test",
        "--locked",
        "--workspace",
        "--all-targets",
        "--no-fail-fast",
    ]))
}

/// Known weaknesses (`advisories`) are left out: their list comes from the network, and no check here needs it.
fn licences(_: &Path) -> Result<(), String> {
    need("deny", "`scripts/test` installs it")?;
    run(&mut cargo(&[
        "deny", "--locked", "check", "licenses", "bans", "sources",
    ]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_summary_names_what_failed_and_how_many_steps_there_were() {
        let line = summary(&["tidy", "docs"], "2.000 s").expect_err("two steps failed");
        assert!(
            line.starts_with("ci: 2 of ") && line.ends_with("failed in 2.000 s: tidy, docs"),
            "{line}"
        );
        assert_eq!(summary(&[], "2.000 s"), Ok(()));
    }

    #[test]
    fn a_missing_tool_comes_with_advice() {
        let fault = need("peel-potatoes", "use a knife").expect_err("Cargo peels nothing");
        assert_eq!(fault, "`cargo peel-potatoes` is missing: use a knife");
    }

    #[test]
    fn the_tests_run_last_so_that_their_summary_stays_in_sight() {
        assert_eq!(STEPS.last().map(|step| step.name), Some("tests"));
    }
}
