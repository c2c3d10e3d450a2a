//! What can be said on the command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use larderwright_model::Region;
use larderwright_quantity::System;

use crate::convert::ConvertArgs;
use crate::cool::CoolArgs;
use crate::food::FoodArgs;
use crate::import::ImportArgs;
use crate::keep::KeepArgs;
use crate::open::OpenArgs;
use crate::schedule::ScheduleArgs;

/// Plans a household's week of components: what to buy, when to cook, what to freeze, what is eaten when.
#[derive(Debug, Parser)]
#[command(name = "larderwright", version, after_help = EXIT_HELP)]
pub(crate) struct CommandLine {
    /// What to do.
    #[command(subcommand)]
    pub(crate) command: Command,
    /// Text for people, JSON for programs.
    #[arg(long, global = true, value_enum, default_value_t = Format::Text)]
    pub(crate) format: Format,
}

const EXIT_HELP: &str = "Exit status: 0 done; 1 a negative answer (wishes that collide, a plan that may not be used); \
    2 wrong use or bad input; 3 a fault of the machine.";

/// How answers are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    /// For people.
    Text,
    /// For programs.
    Json,
}

/// Whose shops are meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum RegionArg {
    Us,
    Uk,
    Eu,
}

impl From<RegionArg> for Region {
    fn from(region: RegionArg) -> Self {
        match region {
            RegionArg::Us => Self::Us,
            RegionArg::Uk => Self::Uk,
            RegionArg::Eu => Self::Eu,
        }
    }
}

/// Whose spoons and cups are meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum SystemArg {
    /// A cup of 8 US fluid ounces.
    Us,
    /// A cup of 250 ml, spoons of 15 and 5 ml.
    Metric,
}

impl From<SystemArg> for System {
    fn from(system: SystemArg) -> Self {
        match system {
            SystemArg::Us => Self::UsCustomary,
            SystemArg::Metric => Self::Metric,
        }
    }
}

/// What to do.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Plan the demo household's week into a fresh folder and write every sheet.
    Demo(DemoArgs),
    /// Plan a week of your own household.
    Plan(PlanArgs),
    /// Open the pages of a saved plan for phone, tablet or laptop.
    Open(OpenArgs),
    /// Print one sheet of a saved plan.
    Sheet(SheetArgs),
    /// Print a commented file to start from.
    Example(ExampleArgs),
    /// Print the JSON Schema of a file or record.
    Schema(SchemaArgs),
    /// Take in official food-composition files.
    Import(ImportArgs),
    /// Convert an amount of a food, with what the answer rests on.
    Convert(ConvertArgs),
    /// Until when cooked food, opened packs and raw meat are to be eaten, by which guidance.
    Keep(KeepArgs),
    /// How long food takes to get cold, in what and where; a band, by physics.
    Cool(CoolArgs),
    /// Schedule a project of tasks, from a file; the answer is JSON.
    Schedule(ScheduleArgs),
    /// Show a food of the table with the source of every figure.
    Food(FoodArgs),
}

/// How to search.
#[derive(Clone, Copy, Debug, Args)]
pub(crate) struct SearchArgs {
    /// On how many threads; it changes speed, never the plan.
    #[arg(long, default_value_t = 2, value_parser = clap::value_parser!(u8).range(1..=2))]
    pub(crate) threads: u8,
    /// Seed of the searches; another one may find another plan.
    #[arg(long, default_value_t = 1)]
    pub(crate) seed: u64,
    /// Seconds to spend, as in `2s` or `500ms`: turned into work by a fixed rate, so that the plan stays the same
    /// on every machine.
    #[arg(long, value_name = "TIME", value_parser = budget_work, conflicts_with = "work")]
    pub(crate) budget: Option<u64>,
    /// Work budget: moves of the menu search, and two fifths as many schedules for each session.
    #[arg(long, value_parser = clap::value_parser!(u64).range(50..=1_000_000_000))]
    pub(crate) work: Option<u64>,
}

/// Moves of the menu search that stand for a second (measured on 2 cores of a 2026 server, two rounds with their schedules).
const MOVES_PER_SECOND: u64 = 30_000;

/// Reads a time budget as work.
fn budget_work(text: &str) -> Result<u64, String> {
    let (number, per_second) = match (text.strip_suffix("ms"), text.strip_suffix('s')) {
        (Some(number), _) => (number, 1000),
        (None, Some(number)) => (number, 1),
        (None, None) => (text, 1),
    };
    let number: u64 = number
        .trim()
        .parse()
        .map_err(|_| format!("`{text}` is no time: write `2s` or `500ms`"))?;
    match number.checked_mul(MOVES_PER_SECOND / per_second) {
        Some(work @ 50..=1_000_000_000) => Ok(work),
        _ => Err(format!("`{text}` is outside 1 ms to 10,000 s")),
    }
}

/// How to plan the demo.
#[derive(Debug, Args)]
pub(crate) struct DemoArgs {
    /// The folder to write; by default a fresh `larderwright-demo` in the current folder.
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// The week, as in `2026-W49`; by default the next one that can still be shopped and cooked for.
    #[arg(long)]
    pub(crate) week: Option<String>,
    /// How to search.
    #[command(flatten)]
    pub(crate) search: SearchArgs,
}

/// How to plan a week.
#[derive(Debug, Args)]
pub(crate) struct PlanArgs {
    /// The household file; `larderwright example household` prints one to start from.
    #[arg(long, value_name = "FILE")]
    pub(crate) household: PathBuf,
    /// The week, as in `2026-W49`.
    #[arg(long)]
    pub(crate) week: String,
    /// The folder for plan and sheets.
    #[arg(long, value_name = "DIR", default_value = DATA)]
    pub(crate) data: PathBuf,
    /// How to search.
    #[command(flatten)]
    pub(crate) search: SearchArgs,
}

/// The folder for plan and sheets when none is named.
pub(crate) const DATA: &str = "./larderwright-data";

/// Which sheet to print.
#[derive(Debug, Args)]
pub(crate) struct SheetArgs {
    /// summary, menu, order, production, prep, run, labels, pull or plates.
    pub(crate) kind: String,
    /// The folder of the plan.
    #[arg(long, value_name = "DIR", default_value = DATA)]
    pub(crate) data: PathBuf,
    /// Characters to a line.
    #[arg(long, default_value_t = larderwright_views::text::WIDTH)]
    pub(crate) width: usize,
}

/// Which example to print.
#[derive(Debug, Args)]
pub(crate) struct ExampleArgs {
    /// `household`.
    #[arg(value_parser = ["household"])]
    pub(crate) what: String,
}

/// Which schema to print.
#[derive(Debug, Args)]
pub(crate) struct SchemaArgs {
    /// plan, snapshot, household, component, meal, sheet or foods.
    #[arg(value_parser = larderwright_records::schema::SCHEMAS.to_vec())]
    pub(crate) name: String,
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(line: &str) -> Result<CommandLine, clap::Error> {
        CommandLine::try_parse_from(line.split(' '))
    }

    #[test]
    fn the_documented_lines_are_understood() {
        for line in [
            "larderwright demo",
            "larderwright demo --out there --week 2026-W49",
            "larderwright plan --household h.toml --week 2026-W49 --data d --threads 1 --seed 7 --work 500",
            "larderwright sheet run --format json",
            "larderwright --format json schema plan",
            "larderwright example household",
            "larderwright import sr food.csv --data d --format json",
            "larderwright convert 1-onion --to g --format json",
            "larderwright convert 1-onion --to g --system metric --region uk --given 1=150g",
            "larderwright food red onion",
            "larderwright open --data d --listen 127.0.0.1:0",
            "larderwright keep --item soup --cooked 2026-11-22T18:00 --chilled 19:00 --profile uk --format json",
            "larderwright keep --list --format json",
            "larderwright cool --water-pct 66 --depth-cm 5 --container lidded-box --place freezer --air-c -18",
            "larderwright schedule j301_1.sm --seconds 0.5 --threads 1 --seed 3",
            "larderwright schedule k20.json --work 2000",
        ] {
            assert!(check(line).is_ok(), "{line}");
        }
    }

    #[test]
    fn wrong_lines_are_refused() {
        for line in [
            "larderwright",
            "larderwright plan --week 2026-W49",
            "larderwright demo --threads 3",
            "larderwright demo --work 1",
            "larderwright example soup",
            "larderwright schema soup",
            "larderwright import",
            "larderwright convert 1-onion",
            "larderwright convert 1-onion --to g --region mars",
            "larderwright food",
            "larderwright cool --depth-cm 5 --container lidded-box --place fridge",
            "larderwright cool --water-pct 101 --depth-cm 5 --container lidded-box --place fridge",
            "larderwright cool --water-pct 66 --depth-cm 5 --container bucket --place fridge",
            "larderwright cool --water-pct 66 --depth-cm 0 --container lidded-box --place fridge",
            "larderwright keep",
            "larderwright keep --item soup",
            "larderwright keep --item stew --cooked 2026-11-22T18:00",
            "larderwright keep --item soup --cooked yesterday",
            "larderwright keep --item soup --cooked 2026-11-22T18:00 --thawed 2026-11-23",
            "larderwright keep --item soup --cooked 2026-11-22T18:00 --profile mars",
            "larderwright schedule",
            "larderwright schedule j301_1.sm --seconds 1 --work 5",
        ] {
            assert!(check(line).is_err(), "{line}");
        }
    }

    #[test]
    fn a_time_budget_is_work_at_a_fixed_rate() {
        assert_eq!(budget_work("2s"), Ok(60_000));
        assert_eq!(budget_work("500ms"), Ok(15_000));
        assert_eq!(budget_work("3"), Ok(90_000));
    }

    #[test]
    fn what_is_no_time_is_refused() {
        for text in ["", "s", "soon", "-1s", "0s", "99999999999s"] {
            assert!(budget_work(text).is_err(), "{text}");
        }
    }
}
