//! `schedule`: project scheduling of published and of our own project files, answered as JSON.

mod kitchen;
mod psplib;
mod watch;

use std::fs;
use std::path::PathBuf;

use clap::Args;
use larderwright_records::Problem;
use larderwright_solve::project::{
    Answer, Bound, Budget, Objective, Project, Solved, Threads, check_schedule, solve_until,
};
use serde_json::{Map, Value, json};

use crate::failure::Failure;
use watch::Watch;

/// What to schedule and how long.
#[derive(Debug, Args)]
pub(crate) struct ScheduleArgs {
    /// A project: a PSPLIB file (`.sm`, `.mm`) or a kitchen project (`.json`).
    #[arg(value_name = "FILE")]
    pub(crate) file: PathBuf,
    /// Stop after so many seconds: processor time divided by the threads, and no more than twice that on the
    /// clock. How far it comes depends on the machine; the `work` told repeats it anywhere.
    #[arg(long, value_name = "SECONDS", value_parser = millis, conflicts_with = "work")]
    pub(crate) seconds: Option<u64>,
    /// Stop after this much work, in schedules made: the same answer on every machine.
    #[arg(long, value_parser = clap::value_parser!(u64).range(1..=1_000_000_000_000))]
    pub(crate) work: Option<u64>,
    /// On how many threads; it changes speed, never the answer for the same work.
    #[arg(long, default_value_t = 2, value_parser = clap::value_parser!(u8).range(1..=2))]
    pub(crate) threads: u8,
    /// Seed of the searches; another one may find another schedule.
    #[arg(long, default_value_t = 1)]
    pub(crate) seed: u64,
}

/// What is spent when nobody says how much.
const SECONDS_USUAL: u64 = 10;

/// A project as a file describes it.
#[derive(Debug)]
pub(crate) struct Reading {
    project: Project,
    /// What the file calls the tasks.
    names: Vec<String>,
}

/// Reads seconds with up to three decimals as milliseconds.
fn millis(text: &str) -> Result<u64, String> {
    let fault = || format!("`{text}` is no number of seconds: write `2` or `0.25`");
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    if !digits(whole) || part.len() > 3 || !(part.is_empty() || digits(part)) {
        return Err(fault());
    }
    let whole: u64 = whole.parse().map_err(|_| fault())?;
    let part: u64 = format!("{part:0<3}").parse().map_err(|_| fault())?;
    match whole.checked_mul(1000).map(|millis| millis + part) {
        Some(millis @ 1..=86_400_000) => Ok(millis),
        _ => Err(format!("`{text}` is outside 0.001 to 86400 seconds")),
    }
}

/// Reads the file, schedules, and answers with one JSON object.
pub(crate) fn run(args: &ScheduleArgs) -> Result<String, Failure> {
    let watch = Watch::start();
    let reading = read(args)?;
    let threads = if args.threads == 1 {
        Threads::One
    } else {
        Threads::Two
    };
    let budget = Budget {
        work: args.work.unwrap_or(u64::MAX / (1 << 24)),
        seed: args.seed,
        threads,
    };
    let limit = args.seconds.unwrap_or(SECONDS_USUAL * 1000);
    let is_timed = args.work.is_none();
    let stop = || is_timed && watch.is_past(limit, u64::from(args.threads));
    let solved = solve_until(&reading.project, &budget, &stop);
    let answer = told(&reading, &solved, &watch);
    let text = format!("{answer:#}\n");
    match &solved.answer {
        Answer::Infeasible(_) => Err(Failure::Negative {
            message: "no schedule exists".to_owned(),
            help: "The answer names tasks that are in each other's way.".to_owned(),
            value: answer,
        }),
        _ => Ok(text),
    }
}

fn read(args: &ScheduleArgs) -> Result<Reading, Failure> {
    let name = args.file.display().to_string();
    let text = fs::read_to_string(&args.file).map_err(|error| {
        Failure::usage(
            format!("`{name}` cannot be read: {error}"),
            "Name a project file.",
        )
    })?;
    let extension = args.file.extension().and_then(|extension| extension.to_str());
    let read = match extension {
        Some("sm" | "mm") => psplib::read(&text),
        Some("json") => kitchen::read(&text),
        _ => {
            return Err(Failure::usage(
                format!("`{name}` is no kind of project known here"),
                "Projects end in .sm, .mm or .json.",
            ));
        }
    };
    read.map_err(|problem| Failure::Input {
        file: name,
        problems: vec![problem],
    })
}

fn problem(line: usize, field: impl Into<String>, message: impl Into<String>) -> Problem {
    Problem {
        line: u32::try_from(line).unwrap_or(u32::MAX),
        field: field.into(),
        message: message.into(),
        help: "See the description of project files.".to_owned(),
    }
}

fn told(reading: &Reading, solved: &Solved, watch: &Watch) -> Value {
    let mut fields = Map::new();
    let mut put = |name: &str, value: Value| {
        fields.insert(name.to_owned(), value);
    };
    let project = &reading.project;
    let (status, schedule, bound) = match &solved.answer {
        Answer::Proven(schedule, bound) => ("proven", Some(schedule), Some(bound)),
        Answer::Best(schedule, bound) => ("best", Some(schedule), Some(bound)),
        Answer::Stopped(bound) => ("stopped", None, Some(bound)),
        Answer::Infeasible(_) => ("infeasible", None, None),
    };
    put("status", json!(status));
    let objective = schedule.map(|schedule| Objective::of(project, schedule));
    put("makespan", json!(objective.map(|objective| objective.makespan)));
    put("lower_bound", json!(bound.map(|bound: &Bound| bound.makespan)));
    let placements = schedule.map(|schedule| schedule.placements.iter());
    put(
        "starts",
        json!(
            placements
                .clone()
                .map(|all| all.map(|placement| placement.start).collect::<Vec<_>>())
        ),
    );
    put(
        "modes",
        json!(placements.map(|all| all.map(|placement| placement.mode).collect::<Vec<_>>())),
    );
    put("holds", json!(objective.map(|objective| objective.hold)));
    if let Answer::Infeasible(conflict) = &solved.answer {
        let names = conflict
            .tasks()
            .iter()
            .map(|task| &reading.names[task.position()]);
        put("conflict", json!(names.collect::<Vec<_>>()));
    }
    put("work", json!(solved.work));
    put("cpu_seconds", watch.cpu_seconds());
    debug_assert!(
        schedule.is_none_or(|schedule| check_schedule(project, schedule).is_empty()),
        "what is told is a schedule"
    );
    Value::Object(fields)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn seconds_are_read_to_the_millisecond() {
        assert_eq!(millis("1"), Ok(1000));
        assert_eq!(millis("0.25"), Ok(250));
        assert_eq!(millis("12.007"), Ok(12_007));
    }

    #[test]
    fn what_is_no_number_of_seconds_is_refused() {
        for text in ["", "-1", "0", "1.0001", "soon", "99999999", "1e3"] {
            assert!(millis(text).is_err(), "{text}");
        }
    }
}
