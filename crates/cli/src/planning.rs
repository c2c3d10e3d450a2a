//! `demo` and `plan`: from a household's text to a folder of sheets.

use std::fs;
use std::path::{Path, PathBuf};

use jiff::civil::{Date, DateTime};
use larderwright_app::{Options, Planned, Saved, Threads, build_snapshot, dates, locate, plan, save};
use larderwright_model::{Household, Snapshot};
use larderwright_records::household::{DEMO_HOUSEHOLD, parse_household};
use larderwright_records::sheet::SheetRecord;
use larderwright_views::{SheetKind, build, text};
use serde_json::json;

use crate::args::{DemoArgs, Format, PlanArgs, SearchArgs};
use crate::clock::now_in;
use crate::failure::{Failure, finding_json};
use crate::progress::while_working;
use crate::week::{next_monday, parse_week, plus_days};

/// The name under which the demo household is spoken of.
const DEMO: &str = "demo household";

/// Five moves of the menu search go with two schedules of each session, as in the usual budget.
const MOVES_TO_SCHEDULES: (u64, u64) = (5, 2);

/// Plans the demo household's week into a fresh folder.
pub(crate) fn demo(args: &DemoArgs, format: Format) -> Result<String, Failure> {
    let household = read(DEMO, DEMO_HOUSEHOLD)?;
    let now = now_in(&household.zone)?;
    let monday = match &args.week {
        Some(week) => week_of(week)?,
        None => next_week(&household, now),
    };
    let folder = match &args.out {
        Some(folder) => folder.clone(),
        None => fresh_folder()?,
    };
    let text = (DEMO, DEMO_HOUSEHOLD);
    let snapshot = snapshot(text, household, (monday, now), options(args.search))?;
    plan_into(&folder, &snapshot, args.search, format)
}

/// Plans a week of somebody's household.
pub(crate) fn plan_week(args: &PlanArgs, format: Format) -> Result<String, Failure> {
    let file = args.household.display().to_string();
    let text = fs::read_to_string(&args.household).map_err(|error| {
        let help = "Name the household file; `larderwright example household` prints one to start from.";
        match error.kind() {
            std::io::ErrorKind::NotFound => Failure::usage(format!("there is no file `{file}`"), help),
            std::io::ErrorKind::InvalidData => Failure::usage(format!("`{file}` is no text"), help),
            _ => Failure::Fault(format!("`{file}` cannot be read: {error}")),
        }
    })?;
    let monday = week_of(&args.week)?;
    let household = read(&file, &text)?;
    let now = now_in(&household.zone)?;
    let snapshot = snapshot((&file, &text), household, (monday, now), options(args.search))?;
    plan_into(&args.data, &snapshot, args.search, format)
}

fn week_of(text: &str) -> Result<Date, Failure> {
    parse_week(text).map_err(|(message, help)| Failure::usage(message, help))
}

/// The next week whose shopping and cooking still lie ahead.
fn next_week(household: &Household, now: DateTime) -> Date {
    let first = next_monday(now.date());
    let starts = |monday: Date| {
        let shops = dates::shops(household, monday).into_iter().map(|shop| shop.at);
        shops
            .chain(
                dates::sessions(household, monday)
                    .into_iter()
                    .map(|session| session.from),
            )
            .min()
    };
    if starts(first).is_none_or(|start| start > now) {
        first
    } else {
        plus_days(first, 7)
    }
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

fn snapshot(
    (file, text): (&str, &str),
    household: Household,
    (monday, now): (Date, DateTime),
    options: Options,
) -> Result<Snapshot, Failure> {
    build_snapshot(household, monday, now, options).map_err(|problems| Failure::Input {
        file: file.into(),
        problems: locate(text, problems),
    })
}

fn plan_into(
    folder: &Path,
    snapshot: &Snapshot,
    search: SearchArgs,
    format: Format,
) -> Result<String, Failure> {
    let threads = if search.threads == 1 {
        Threads::One
    } else {
        Threads::Two
    };
    let planned = while_working("planning", || plan(snapshot, threads)).map_err(Failure::Refused)?;
    let saved = save(folder, snapshot, &planned)?;
    Ok(match format {
        Format::Text => told(snapshot, &planned, &saved),
        Format::Json => recorded(snapshot, &planned, &saved),
    })
}

fn told(snapshot: &Snapshot, planned: &Planned, saved: &Saved) -> String {
    let summary = text::render(&build(SheetKind::Summary, snapshot, &planned.plan), text::WIDTH);
    let mut lines = vec![summary, format!("Written to {}:", saved.folder.display())];
    lines.extend(saved.sheets.iter().map(|sheet| format!("  {}", sheet.display())));
    lines.join("\n") + "\n"
}

fn recorded(snapshot: &Snapshot, planned: &Planned, saved: &Saved) -> String {
    let summary = SheetRecord::from(&build(SheetKind::Summary, snapshot, &planned.plan));
    let sheets: Vec<String> = saved
        .sheets
        .iter()
        .map(|sheet| sheet.display().to_string())
        .collect();
    let findings: Vec<_> = planned.plan.findings.iter().map(finding_json).collect();
    let answer = json!({
        "status": "planned",
        "folder": saved.folder.display().to_string(),
        "sheets": sheets,
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
        assert_eq!(next_week(&household, wednesday), date(2026, 11, 30));
        let sunday = date(2026, 11, 29).at(23, 0, 0, 0);
        assert_eq!(next_week(&household, sunday), date(2026, 12, 7));
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
