//! How well projects are scheduled within seconds of processor time, beside what is known and beside a yardstick.
//!
//! Instances lie below the folder named by `LARDERWRIGHT_DATA`; without it the chore says so and ends well. The
//! built program is started anew for each; seconds are those of the processor, all threads together, halved. It
//! measures and prints; it judges nothing but contradictions, and is no part of the checks.

pub mod community;
mod instances;
mod table;

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use crate::machine::{cargo, run};
use instances::{Instance, Set};

/// What was asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Wanted {
    set: Set,
    against: bool,
    /// As it is passed on.
    seconds: String,
    every: usize,
    seed: u64,
}

/// What a solver said of one instance.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Told {
    status: String,
    makespan: Option<i64>,
    lower: i64,
    /// Milliseconds of the processor, halved.
    millis: i64,
}

const USAGE: &str = "usage: cargo xtask bench schedule --set j30|j60|j120|kitchen|mm|community [--against cpsat] \
    [--seconds S] [--every N] [--seed K]";

/// The yardstick's program.
const CPSAT: &str = include_str!("bench_schedule/cpsat.py");

/// Runs every instance of a set and prints the table.
///
/// # Errors
/// A sentence naming the argument that is not understood, the step that failed, or an answer that contradicts
/// what is known.
pub fn run_all(args: &[String]) -> Result<(), String> {
    let wanted = wanted(args)?;
    run(cargo(&["build", "--package", "larderwright-cli"]).stdin(Stdio::null()))?;
    let own = std::env::current_exe().map_err(|fault| format!("own program not found: {fault}"))?;
    let binary = own.with_file_name(format!("larderwright{}", std::env::consts::EXE_SUFFIX));
    let folder = own.with_file_name("bench-schedule");
    std::fs::create_dir_all(&folder).map_err(|fault| format!("{}: {fault}", folder.display()))?;
    let Some(instances) = instances::all(wanted.set, wanted.every, &folder)? else {
        println!("skipped: `LARDERWRIGHT_DATA` names no folder of data");
        return Ok(());
    };
    let python = if wanted.against { yardstick(&folder)? } else { None };
    let mut rows = Vec::new();
    for instance in &instances {
        let ours = ours(&binary, instance, &wanted)?;
        let theirs = match &python {
            Some(python) => Some(theirs(python, instance, &wanted)?),
            None => None,
        };
        table::print_row(instance, &ours, theirs.as_ref());
        rows.push((instance, ours, theirs));
    }
    table::print_sums(&rows, &wanted.seconds);
    table::contradictions(&rows)
}

fn wanted(args: &[String]) -> Result<Wanted, String> {
    let (mut set, mut against, mut seconds, mut every, mut seed) = (None, false, "1".to_owned(), 1, 1);
    let mut words = args.iter().map(String::as_str);
    while let Some(word) = words.next() {
        let value = words.next();
        let number = || {
            value
                .and_then(|value| value.parse::<u64>().ok())
                .filter(|number| *number > 0)
        };
        match (word, value) {
            ("--set", Some(name)) => set = Set::named(name),
            ("--against", Some("cpsat")) => against = true,
            ("--seconds", Some(value)) => value.clone_into(&mut seconds),
            ("--every", Some(_)) if number().is_some() => {
                every = usize::try_from(number().unwrap_or(1)).unwrap_or(1);
            }
            ("--seed", Some(_)) if number().is_some() => seed = number().unwrap_or(1),
            _ => {
                return Err(format!(
                    "`{word} {}` is not understood; {USAGE}",
                    value.unwrap_or_default()
                ));
            }
        }
    }
    let set = set.ok_or_else(|| format!("a set is wanted; {USAGE}"))?;
    Ok(Wanted {
        set,
        against,
        seconds,
        every,
        seed,
    })
}

fn ours(binary: &Path, instance: &Instance, wanted: &Wanted) -> Result<Told, String> {
    let mut command = Command::new(binary);
    command
        .arg("schedule")
        .arg(&instance.file)
        .args(["--threads", "2", "--seconds", &wanted.seconds]);
    command
        .args(["--seed", &wanted.seed.to_string()])
        .stdin(Stdio::null());
    let done = command
        .output()
        .map_err(|fault| format!("larderwright: {fault}"))?;
    let text = String::from_utf8_lossy(&done.stdout);
    let field = |name: &str| field(&text, name);
    let status = field("status").ok_or_else(|| format!("{}: no answer: {text}", instance.name))?;
    let whole = |name: &str| field(name).and_then(|value| value.parse::<i64>().ok());
    let millis = field("cpu_seconds").and_then(|value| millis(&value)).unwrap_or(0);
    Ok(Told {
        status,
        makespan: whole("makespan"),
        lower: whole("lower_bound").unwrap_or(0),
        millis: millis / 2,
    })
}

/// The value of a field that stands alone on its line.
fn field(json: &str, name: &str) -> Option<String> {
    let start = format!("\"{name}\": ");
    let line = json
        .lines()
        .find_map(|line| line.trim().strip_prefix(&start).map(str::to_owned))?;
    Some(line.trim_end_matches(',').trim_matches('"').to_owned())
}

fn millis(seconds: &str) -> Option<i64> {
    let (whole, part) = seconds.split_once('.').unwrap_or((seconds, ""));
    let part: i64 = format!("{part:0<3}").get(..3)?.parse().ok()?;
    Some(whole.parse::<i64>().ok()? * 1000 + part)
}

/// A Python with the yardstick; none, with a notice, where it cannot be had.
fn yardstick(folder: &Path) -> Result<Option<PathBuf>, String> {
    let script = folder.join("cpsat.py");
    std::fs::write(&script, CPSAT).map_err(|fault| format!("{}: {fault}", script.display()))?;
    let target = folder.parent().and_then(Path::parent).unwrap_or(folder);
    let venv = target.join("bench-python");
    let python = venv.join("bin/python");
    let has_it = || {
        let mut command = Command::new(&python);
        command.args(["-c", "import ortools"]).stderr(Stdio::null());
        command.status().is_ok_and(|status| status.success())
    };
    if !has_it() {
        println!("fetching ortools into {}", venv.display());
        let made = run(Command::new("python3").args(["-m", "venv"]).arg(&venv))
            .and_then(|()| run(Command::new(&python).args(["-m", "pip", "install", "--quiet", "ortools"])));
        if let Err(fault) = made {
            println!("skipped: no ortools here ({fault}), so no yardstick");
            return Ok(None);
        }
    }
    Ok(has_it().then_some(python))
}

fn theirs(python: &Path, instance: &Instance, wanted: &Wanted) -> Result<Told, String> {
    let script = python.parent().and_then(Path::parent).and_then(Path::parent);
    let script = script
        .expect("the Python lies two folders deep")
        .join("debug/bench-schedule/cpsat.py");
    let mut command = Command::new(python);
    command.arg(script).arg(&instance.file).arg(&wanted.seconds);
    let done = command.output().map_err(|fault| format!("python: {fault}"))?;
    let text = String::from_utf8_lossy(&done.stdout);
    let words: Vec<&str> = text.split_whitespace().collect();
    let [status, makespan, lower, cpu] = words.as_slice() else {
        let said = String::from_utf8_lossy(&done.stderr);
        return Err(format!("{}: the yardstick failed: {said}", instance.name));
    };
    let whole = |word: &str| word.parse::<i64>().unwrap_or(-1);
    Ok(Told {
        status: (*status).to_owned(),
        makespan: Some(whole(makespan)).filter(|makespan| *makespan >= 0),
        lower: whole(lower).max(0),
        millis: millis(cpu).unwrap_or(0) / 2,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_field_is_found_on_its_line() {
        let json = "{\n  \"lower_bound\": 41,\n  \"makespan\": 43,\n  \"status\": \"proven\"\n}";
        assert_eq!(field(json, "makespan").as_deref(), Some("43"));
        assert_eq!(field(json, "status").as_deref(), Some("proven"));
        assert_eq!(field(json, "work"), None);
    }

    #[test]
    fn seconds_are_told_in_milliseconds() {
        assert_eq!(millis("1.5"), Some(1500));
        assert_eq!(millis("0.007"), Some(7));
        assert_eq!(millis("2"), Some(2000));
        assert_eq!(millis("soon"), None);
    }

    #[test]
    fn a_set_must_be_named() {
        let args = |text: &str| text.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
        assert!(wanted(&args("--set j60 --against cpsat --seconds 0.5 --every 10")).is_ok());
        for text in [
            "",
            "--set j61",
            "--set j60 --every 0",
            "--set j60 --against hope",
            "--set",
        ] {
            assert!(wanted(&args(text)).is_err(), "{text}");
        }
    }
}
