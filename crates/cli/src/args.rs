//! What can be said on the command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use jiff::civil::{DateTime, Time};
use larderwright_model::Region;
use larderwright_quantity::System;

use crate::ask::Ask;
use crate::care::Care;
use crate::convert::ConvertArgs;
use crate::cool::CoolArgs;
use crate::example::ExampleArgs;
use crate::food::FoodArgs;
use crate::import::ImportArgs;
use crate::keep::KeepArgs;
use crate::larder::LarderArgs;
use crate::memory::MemoryArgs;
use crate::open::OpenArgs;
use crate::schedule::ScheduleArgs;
use crate::tell::Tell;

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
    /// Plan a week of your own household, or the rest of one from what is really there.
    Plan(PlanArgs),
    /// Say what is different in one week: guests, nobody home, another meal.
    Change(ChangeArgs),
    /// List the plans of a week.
    Plans(PlansArgs),
    /// Make a draft the plan that the house goes by.
    Choose(ChooseArgs),
    /// Show the household's file as it is kept, or keep a new one.
    Household(HouseholdArgs),
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
    /// Show what the built-in larder can do.
    Larder(LarderArgs),
    /// Show a food of the table with the source of every figure.
    Food(FoodArgs),
    /// What happened.
    #[command(flatten)]
    Tell(Tell),
    /// What is to be known.
    #[command(flatten)]
    Ask(Ask),
    /// The care of the data.
    #[command(flatten)]
    Care(Care),
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
    /// Rehearse: as if the clock on the kitchen wall stood there, as in `2026-12-03T17:45`.
    #[arg(long, value_name = "TIME")]
    pub(crate) clock: Option<DateTime>,
    /// How to search.
    #[command(flatten)]
    pub(crate) search: SearchArgs,
}

/// How to plan a week.
#[derive(Debug, Args)]
pub(crate) struct PlanArgs {
    /// The household file, kept from then on; `larderwright example household` prints one to start from.
    #[arg(long, value_name = "FILE")]
    pub(crate) household: Option<PathBuf>,
    /// The week, as in `2026-W49`; by default the next one that can still be shopped and cooked for.
    #[arg(long)]
    pub(crate) week: Option<String>,
    /// The rest of the week that is going on, from what is really there.
    #[arg(long, conflicts_with = "week")]
    pub(crate) rest: bool,
    /// Keep the plan as a draft beside the one that the house goes by.
    #[arg(long)]
    pub(crate) draft: bool,
    /// What the menu chose from, for other solvers.
    #[command(flatten)]
    pub(crate) program: crate::program::ProgramArgs,
    /// Which household.
    #[command(flatten)]
    pub(crate) memory: MemoryArgs,
    /// How to search.
    #[command(flatten)]
    pub(crate) search: SearchArgs,
}

/// What is different.
#[derive(Debug, Args)]
pub(crate) struct ChangeArgs {
    /// The sitting, as in `thu-dinner` or `2026-12-03-dinner`.
    pub(crate) sitting: Option<String>,
    /// So many guests more than usual.
    #[arg(long, value_name = "N", requires = "sitting", value_parser = clap::value_parser!(u32).range(0..=50))]
    pub(crate) guests: Option<u32>,
    /// An eater who is away; may be said several times.
    #[arg(long, value_name = "NAME", requires = "sitting")]
    pub(crate) away: Vec<String>,
    /// Nobody eats at home.
    #[arg(long, requires = "sitting")]
    pub(crate) skip: bool,
    /// It begins at another time, as in `20:30`.
    #[arg(long, value_name = "TIME", requires = "sitting")]
    pub(crate) time: Option<Time>,
    /// Minutes there are that evening.
    #[arg(long, value_name = "N", requires = "sitting", value_parser = clap::value_parser!(i64).range(0..=600))]
    pub(crate) minutes: Option<i64>,
    /// This meal and no other.
    #[arg(long, value_name = "MEAL", requires = "sitting")]
    pub(crate) meal: Option<String>,
    /// Any meal but this one; may be said several times.
    #[arg(long, value_name = "MEAL", requires = "sitting")]
    pub(crate) not: Vec<String>,
    /// As usual again.
    #[arg(long, requires = "sitting")]
    pub(crate) usual: bool,
    /// A meal switched off for the whole week; may be said several times.
    #[arg(long, value_name = "MEAL")]
    pub(crate) off: Vec<String>,
    /// Another trip to the shop, as in `2026-12-03T18:00`; may be said several times.
    #[arg(long, value_name = "TIME")]
    pub(crate) trip: Vec<DateTime>,
    /// A session that moves or does not take place, by its day, as in `2026-11-29`.
    #[arg(long, value_name = "SESSION", conflicts_with = "sitting")]
    pub(crate) session: Option<String>,
    /// The session's window, as in `10:00-13:30`; `none`: nobody cooks.
    #[arg(long, value_name = "WINDOW", requires = "session")]
    pub(crate) window: Option<String>,
    /// The week, as in `2026-W49`; by default the one at hand.
    #[arg(long)]
    pub(crate) week: Option<String>,
    /// Which household.
    #[command(flatten)]
    pub(crate) memory: MemoryArgs,
}

/// Whose plans.
#[derive(Debug, Args)]
pub(crate) struct PlansArgs {
    /// The week, as in `2026-W49`; all of them by default.
    #[arg(long)]
    pub(crate) week: Option<String>,
    /// Which household.
    #[command(flatten)]
    pub(crate) memory: MemoryArgs,
}

/// Which plan.
#[derive(Debug, Args)]
pub(crate) struct ChooseArgs {
    /// The beginning of its hash, as `larderwright plans` shows it.
    pub(crate) plan: String,
    /// Which household.
    #[command(flatten)]
    pub(crate) memory: MemoryArgs,
}

/// The household's file.
#[derive(Debug, Args)]
pub(crate) struct HouseholdArgs {
    /// A file to keep; without one the file that is kept is printed.
    pub(crate) file: Option<PathBuf>,
    /// Which household.
    #[command(flatten)]
    pub(crate) memory: MemoryArgs,
}

/// Which sheet to print.
#[derive(Debug, Args)]
pub(crate) struct SheetArgs {
    /// summary, menu, order, production, prep, run, labels, pull or plates.
    pub(crate) kind: String,
    /// The week, as in `2026-W49`; by default the one at hand.
    #[arg(long)]
    pub(crate) week: Option<String>,
    /// Which household.
    #[command(flatten)]
    pub(crate) memory: MemoryArgs,
    /// Characters to a line.
    #[arg(long, default_value_t = larderwright_views::text::WIDTH)]
    pub(crate) width: usize,
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
            "larderwright example household --pattern no-oven",
            "larderwright larder --matrix --format json",
            "larderwright import sr food.csv --data d --format json",
            "larderwright convert 1-onion --to g --format json",
            "larderwright convert 1-onion --to g --system metric --region uk --given 1=150g",
            "larderwright food red onion",
            "larderwright open --data d --listen 127.0.0.1:0",
            "larderwright plan --rest --draft --data d --clock 2026-12-03T17:45",
            "larderwright bought carrot 2 --pack 400g --price 3.20 --printed 2026-12-08 --at 12:30",
            "larderwright bought --all --trip 2026-11-28",
            "larderwright cooked brown-rice --weighed 1.2kg --minutes 55",
            "larderwright cooled brown-rice --reading 15:00=135F --reading 17:00",
            "larderwright stored brown-rice --place freezer",
            "larderwright served tonight --part 80%",
            "larderwright checked rice=half lentils=gone",
            "larderwright change thu-dinner --guests 2 --not lentil-bowl",
            "larderwright undo 2",
            "larderwright doctor --mend --format json",
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
            "larderwright plan --rest --week 2026-W49",
            "larderwright bought",
            "larderwright served",
            "larderwright checked rice",
            "larderwright discarded rice 2-cups",
            "larderwright change --guests 2",
            "larderwright demo --threads 3",
            "larderwright demo --work 1",
            "larderwright example soup",
            "larderwright larder",
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
