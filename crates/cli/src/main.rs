//! The `larderwright` program: reads the command line, the clock and files, and hands them on.

mod args;
mod ask;
mod care;
mod clock;
mod convert;
mod cool;
mod example;
mod failure;
mod food;
mod import;
mod keep;
mod larder;
mod memory;
mod open;
mod planning;
mod program;
mod progress;
mod said;
mod schedule;
mod tell;
mod week;
mod weeks;
mod why;

use std::io::Write;
use std::process::ExitCode;

use clap::Parser;
use larderwright_records::schema::schema;
use larderwright_records::sheet::sheet_to_json;
use larderwright_views::{SheetKind, build, text};

use args::{Command, CommandLine, Format, SheetArgs};
use failure::Failure;
use memory::Memory;

fn main() -> ExitCode {
    let line = CommandLine::parse();
    match run(&line) {
        Ok(answer) => print(&answer, ExitCode::SUCCESS),
        Err(failure) => {
            eprintln!("{}", failure.text());
            let answer = match line.format {
                Format::Text => String::new(),
                Format::Json => format!("{:#}\n", failure.json()),
            };
            print(&answer, failure.exit_code())
        }
    }
}

/// Writes the answer; a reader who closes the pipe early has read enough.
fn print(answer: &str, code: ExitCode) -> ExitCode {
    match std::io::stdout().write_all(answer.as_bytes()) {
        Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => {
            eprintln!("the answer cannot be written: {error}");
            ExitCode::from(3)
        }
        _ => code,
    }
}

fn run(line: &CommandLine) -> Result<String, Failure> {
    match &line.command {
        Command::Demo(args) => planning::demo(args, line.format),
        Command::Plan(args) => planning::plan_week(args, line.format),
        Command::Change(args) => weeks::change(args, line.format),
        Command::Plans(args) => weeks::plans(args, line.format),
        Command::Choose(args) => weeks::choose(args, line.format),
        Command::Household(args) => weeks::household(args, line.format),
        Command::Tell(tell) => tell::run(tell, line.format),
        Command::Ask(ask) => ask::run(ask, line.format),
        Command::Care(care) => care::run(care, line.format),
        Command::Open(args) => open::run(args),
        Command::Sheet(args) => sheet(args, line.format),
        Command::Convert(args) => convert::run(args, line.format),
        Command::Schedule(args) => schedule::run(args),
        Command::Food(args) => food::run(args, line.format),
        Command::Keep(args) => keep::run(args, line.format),
        Command::Cool(args) => cool::run(args, line.format),
        Command::Import(args) => import::run(args, line.format),
        Command::Larder(args) => larder::run(args, line.format),
        Command::Example(args) => example::run(args, line.format),
        Command::Schema(args) => schema(&args.name).ok_or_else(|| {
            Failure::usage(
                format!("there is no schema `{}`", args.name),
                "Ask for `plan` or `household`.",
            )
        }),
    }
}

fn sheet(args: &SheetArgs, format: Format) -> Result<String, Failure> {
    let kind = SheetKind::parse(&args.kind).ok_or_else(|| {
        let words: Vec<&str> = SheetKind::ALL.iter().map(|kind| kind.word()).collect();
        Failure::usage(
            format!("there is no sheet `{}`", args.kind),
            format!("There are {}.", words.join(", ")),
        )
    })?;
    let memory = Memory::open(&args.memory)?;
    let week = match &args.week {
        Some(week) => {
            let monday = planning::week_of(week)?;
            memory.wait(memory.home.current(monday))?.ok_or_else(|| {
                Failure::usage(
                    format!("no plan was chosen for `{week}`"),
                    "`larderwright plans` lists what there is.",
                )
            })?
        }
        None => memory.wait(memory.home.week_at_hand(&memory.now()?))?,
    };
    let sheet = build(kind, &week.snapshot, &week.plan);
    Ok(match format {
        Format::Text => text::render(&sheet, args.width),
        Format::Json => sheet_to_json(&sheet),
    })
}
