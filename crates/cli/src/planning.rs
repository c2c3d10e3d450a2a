//! `demo` and `plan`: from a household's text to a folder of sheets.

use std::fs;
use std::path::{Path, PathBuf};

use jiff::civil::Date;
use larderwright_app::dates::{next_monday, next_to_plan};
use larderwright_app::home::Draft;
use larderwright_app::{Options, Saved, Threads, build_snapshot, locate, save};
use larderwright_model::Household;
use larderwright_records::household::{DEMO_HOUSEHOLD, parse_household};
use larderwright_records::sheet::SheetRecord;
use larderwright_views::{SheetKind, build, text};
use serde_json::json;

use crate::args::{DemoArgs, Format, PlanArgs, SearchArgs};
use crate::clock::{now_of, timestamp, zone};
use crate::failure::{Failure, finding_json};
use crate::memory::Memory;
use crate::program::ProgramArgs;
use crate::progress::while_working;
use crate::week::parse_week;

/// The name under which the demo household is spoken of.
const DEMO: &str = "demo household";

/// Five moves of the menu search go with two schedules of each session, as in the usual budget.
const MOVES_TO_SCHEDULES: (u64, u64) = (5, 2);

/// Plans the demo household's week into a fresh folder.
pub(crate) fn demo(args: &DemoArgs, format: Format) -> Result<String, Failure> {
    let household = read(DEMO, DEMO_HOUSEHOLD)?;
    let folder = match &args.out {
        Some(folder) => folder.clone(),
        None => fresh_folder()?,
    };
    let week = args.week.as_deref().map(week_of).transpose()?;
    let mut memory = Memory::make(&folder, args.clock)?;
    memory.keep_household(DEMO, DEMO_HOUSEHOLD)?;
    let now = memory.now()?;
    let monday = week.unwrap_or_else(|| next_to_plan(&household, now.minute()));
    let wanted = Wanted {
        monday,
        choose: true,
        search: args.search,
        program: None,
    };
    plan_into(&memory, &folder, wanted, format)
}

/// Plans a week, or the rest of one, of the household that is kept or named.
pub(crate) fn plan_week(args: &PlanArgs, format: Format) -> Result<String, Failure> {
    let week = args.week.as_deref().map(week_of).transpose()?;
    let folder = args.memory.folder()?;
    let memory = match &args.household {
        None => Memory::open(&args.memory)?,
        Some(path) => {
            let (file, text) = household_text(path)?;
            check(&file, &text)?;
            let mut memory = Memory::make(&folder, args.memory.clock)?;
            memory.keep_household(&file, &text)?;
            memory
        }
    };
    let now = memory.now()?;
    memory.wait(memory.home.settle(&now))?;
    let monday = match week {
        Some(monday) => monday,
        None if args.rest => memory.wait(memory.home.this_week(&now))?.head.monday,
        None => next_to_plan(&memory.wait(memory.home.household())?, now.minute()),
    };
    let wanted = Wanted {
        monday,
        choose: !args.draft,
        search: args.search,
        program: Some(&args.program),
    };
    plan_into(&memory, &folder, wanted, format)
}

/// Looks for every mistake in a household's file before anything is written.
///
/// # Errors
/// All mistakes.
pub(crate) fn check(file: &str, text: &str) -> Result<(), Failure> {
    let household = read(file, text)?;
    let now = now_of(&zone(&household.zone)?, timestamp()).minute();
    match build_snapshot(household, next_monday(now.date()), now, Options::default()) {
        Ok(_) => Ok(()),
        Err(problems) => Err(Failure::Input {
            file: file.into(),
            problems: locate(text, problems),
        }),
    }
}

/// A household's file: its name and text.
///
/// # Errors
/// When it cannot be read.
pub(crate) fn household_text(path: &Path) -> Result<(String, String), Failure> {
    let file = path.display().to_string();
    let text = fs::read_to_string(path).map_err(|error| {
        let help = "Name the household file; `larderwright example household` prints one to start from.";
        match error.kind() {
            std::io::ErrorKind::NotFound => Failure::usage(format!("there is no file `{file}`"), help),
            std::io::ErrorKind::InvalidData => Failure::usage(format!("`{file}` is no text"), help),
            _ => Failure::Fault(format!("`{file}` cannot be read: {error}")),
        }
    })?;
    Ok((file, text))
}

/// The Monday of a week.
///
/// # Errors
/// What to write instead.
pub(crate) fn week_of(text: &str) -> Result<Date, Failure> {
    parse_week(text).map_err(|(message, help)| Failure::usage(message, help))
}

fn fresh_folder() -> Result<PathBuf, Failure> {
    let names = (1..1000).map(|number| match number {
        1 => "larderwright-demo".to_owned(),
        number => format!("larderwright-demo-{number}"),
    });
    let free = names.map(PathBuf::from).find(|path| !path.exists());
    free.ok_or_else(|| Failure::usage("there are a thousand demo folders here", "Name one with `--out`."))
}

fn read(file: &str, text: &str) -> Result<Household, Failure> {
    parse_household(text).map_err(|problems| Failure::Input {
        file: file.into(),
        problems,
    })
}

fn options(search: SearchArgs) -> Options {
    let usual = Options {
        seed: search.seed,
        ..Options::default()
    };
    match search.work.or(search.budget) {
        None => usual,
        Some(work) => Options {
            menu_work: work,
            session_work: (work / MOVES_TO_SCHEDULES.0)
                .saturating_mul(MOVES_TO_SCHEDULES.1)
                .max(1),
            ..usual
        },
    }
}

/// What is to be planned, and how.
#[derive(Clone, Copy)]
struct Wanted<'w> {
    monday: Date,
    /// Whether the house is to go by it at once.
    choose: bool,
    search: SearchArgs,
    /// Where the menu's programme goes.
    program: Option<&'w ProgramArgs>,
}

fn plan_into(memory: &Memory, folder: &Path, wanted: Wanted<'_>, format: Format) -> Result<String, Failure> {
    let threads = if wanted.search.threads == 1 {
        Threads::One
    } else {
        Threads::Two
    };
    let now = memory.now()?;
    let monday = wanted.monday;
    let (changes, _) = memory.wait(memory.home.changes(monday))?;
    let search = (options(wanted.search), threads);
    let draft = while_working("planning", || {
        memory.wait(memory.home.draft(monday, &changes, search, &now))
    })?;
    if let Some(program) = wanted.program {
        program.write(&draft.snapshot, threads)?;
    }
    let saved = if wanted.choose {
        memory.wait(memory.home.choose(monday, &draft.hash))?;
        Some(save(folder, &draft.snapshot, &draft.planned)?)
    } else {
        None
    };
    Ok(match format {
        Format::Text => told(&draft, saved.as_ref()),
        Format::Json => recorded(&draft, saved.as_ref()),
    })
}

fn told(draft: &Draft, saved: Option<&Saved>) -> String {
    let summary = text::render(
        &build(SheetKind::Summary, &draft.snapshot, &draft.planned.plan),
        text::WIDTH,
    );
    let mut lines = vec![summary];
    match saved {
        Some(saved) => {
            lines.push(format!("Written to {}:", saved.folder.display()));
            lines.extend(saved.sheets.iter().map(|sheet| format!("  {}", sheet.display())));
        }
        None => {
            let hash = draft.hash.get(..12).unwrap_or(&draft.hash);
            lines.push(format!(
                "A draft; the house goes by it once you say `larderwright choose {hash}`."
            ));
        }
    }
    lines.join("\n") + "\n"
}

fn recorded(draft: &Draft, saved: Option<&Saved>) -> String {
    let plan = &draft.planned.plan;
    let summary = SheetRecord::from(&build(SheetKind::Summary, &draft.snapshot, plan));
    let sheets: Vec<String> = saved
        .iter()
        .flat_map(|saved| &saved.sheets)
        .map(|sheet| sheet.display().to_string())
        .collect();
    let findings: Vec<_> = plan.findings.iter().map(finding_json).collect();
    let answer = json!({
        "status": if saved.is_some() { "planned" } else { "draft" },
        "plan": draft.hash,
        "folder": saved.map(|saved| saved.folder.display().to_string()),
        "sheets": sheets,
        "learnt": draft.snapshot.learnt,
        "findings": findings,
        "summary": summary,
    });
    format!("{answer:#}\n")
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    #[test]
    fn a_week_whose_shopping_has_passed_is_not_planned_any_more() {
        let household = read(DEMO, DEMO_HOUSEHOLD).expect("the demo is well formed");
        let wednesday = date(2026, 11, 25).at(9, 0, 0, 0);
        assert_eq!(next_to_plan(&household, wednesday), date(2026, 11, 30));
        let sunday = date(2026, 11, 29).at(23, 0, 0, 0);
        assert_eq!(next_to_plan(&household, sunday), date(2026, 12, 7));
    }

    #[test]
    fn work_is_shared_between_menu_and_sessions() {
        let search = SearchArgs {
            threads: 1,
            seed: 3,
            budget: None,
            work: Some(1000),
        };
        let options = options(search);
        assert_eq!(
            (options.menu_work, options.session_work, options.seed),
            (1000, 400, 3)
        );
    }
}
