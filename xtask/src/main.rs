//! Entry point of `cargo xtask`. It only chooses a chore; the chores live in the library beside it.

use std::process::ExitCode;

use xtask::{bench, bench_lookups, bench_schedule, ci, data, machine, tidy};

const USAGE: &str = "\
usage: cargo xtask CHORE
  ci                every check: format, tidy, generated files, licences, lints, docs, tests
  tidy              the house rules alone
  data [ARG...]     generate the committed tables, or check them
  bench [--runs N]  how long planning the demo week takes
  bench lookups     how long looking up a food takes
  bench schedule --set SET [--against cpsat]
                    how well projects are scheduled";

fn main() -> ExitCode {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = args.iter().map(String::as_str).collect();
    let outcome = match words.as_slice() {
        ["ci"] => ci::run_all(),
        ["tidy"] => tidy::run(&machine::root()),
        ["data", ..] => data::run(&args[1..]),
        ["bench", "lookups"] => bench_lookups::run_all(),
        ["bench", "schedule", ..] => bench_schedule::run_all(&args[2..]),
        ["bench", ..] => bench::run_all(&args[1..]),
        ["help" | "--help" | "-h"] => {
            println!("{USAGE}");
            Ok(())
        }
        _ => {
            eprintln!("{USAGE}");
            return ExitCode::from(2);
        }
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprintln!("{message}");
            ExitCode::FAILURE
        }
    }
}
