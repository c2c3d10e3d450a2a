//! Entry point of `cargo xtask`. It only chooses a chore; the chores live in the library beside it.

use std::process::ExitCode;

use xtask::{
    bench, bench_lookups, bench_menu, bench_pages, bench_schedule, bench_store, ci, conduction, data,
    machine, rules, soak, tidy,
};

const USAGE: &str = "\
usage: cargo xtask CHORE
  ci                every check: format, tidy, generated files, licences, lints, docs, tests
  tidy              the house rules alone
  data [ARG...]     generate the committed tables, or check them
  rules             write the rules by profile into docs/food-safety.md
  conduction        solve the bodies of the cooling tests anew with scipy
  bench [--runs N]  how long planning the demo week takes
  bench lookups     how long looking up a food takes
  bench cooling     how long cooling physics takes for 200 containers
  bench menu [--size demo|week|tiny] [--seeds N] [--against highs,cpsat] [--seconds S]
                    how good menus are, and what other solvers make of them
  bench schedule --set SET [--against cpsat]
                    how well projects are scheduled
  bench pages       how fast the pages are, and how heavy
  bench store       how long a memory of a hundred thousand events takes
  soak              the long tests: kills, damaged files, households";

fn main() -> ExitCode {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = args.iter().map(String::as_str).collect();
    let outcome = match words.as_slice() {
        ["ci"] => ci::run_all(),
        ["tidy"] => tidy::run(&machine::root()),
        ["data", ..] => data::run(&args[1..]),
        ["rules"] => rules::run_all(),
        ["conduction"] => conduction::run_all(),
        ["bench", "store"] => bench_store::run_all(),
        ["bench", "pages"] => bench_pages::run_all(),
        ["soak"] => soak::run_all(),
        ["bench", "lookups"] => bench_lookups::run_all(),
        ["bench", "cooling"] => bench_lookups::run_cooling(),
        ["bench", "menu", ..] => bench_menu::run_all(&args[2..]),
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
