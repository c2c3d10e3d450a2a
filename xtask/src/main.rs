//! Entry point of `cargo xtask`. It only chooses a chore; the chores live in the library beside it.

use std::process::ExitCode;

const USAGE: &str = "usage: cargo xtask data [ARG...]";

fn main() -> ExitCode {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let outcome = match args.split_first() {
        Some((name, rest)) if name == "data" => xtask::data::run(rest),
        _ => Err(USAGE.to_owned()),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprintln!("{message}");
            ExitCode::FAILURE
        }
    }
}
