//! How long planning the demo week takes, as a cook would wait for it: the built binary is started anew for each
//! run, in a fresh folder. It measures and prints; it judges nothing and is no part of the checks.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use crate::machine::{cargo, output, root, run, seconds};

const WEEK: &str = "2026-W49";
const RUNS: usize = 11;
const GOAL_MILLIS: u128 = 1_000;

/// What one run took, in milliseconds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Took {
    wall: u128,
    cpu: u128,
}

/// Builds the program, plans the demo week several times, prints the figures.
///
/// # Errors
/// A sentence naming the argument that is not understood, or the step that failed.
pub fn run_all(args: &[String]) -> Result<(), String> {
    let runs = runs_wanted(args)?;
    let (binary, folder) = built("bench-plan")?;
    fs::create_dir_all(&folder).map_err(|fault| format!("{}: {fault}", folder.display()))?;
    let household = demo_household()?;
    // The first run fills the machine's caches and is not counted.
    plan(&binary, &household, &folder.join("warm-up"))?;
    let mut taken = Vec::new();
    for at in 0..runs {
        taken.push(plan(&binary, &household, &folder.join(format!("run-{at}")))?);
    }
    print_figures(&taken, &household);
    fs::remove_dir_all(&folder).map_err(|fault| format!("{}: {fault}", folder.display()))
}

fn runs_wanted(args: &[String]) -> Result<usize, String> {
    let words: Vec<&str> = args.iter().map(String::as_str).collect();
    match words.as_slice() {
        [] => Ok(RUNS),
        ["--runs", count] => match count.parse() {
            Ok(count) if count > 0 => Ok(count),
            _ => Err(format!("`{count}` is not a number of runs")),
        },
        _ => Err(format!(
            "`{}` is not understood; usage: cargo xtask bench [--runs N]",
            words.join(" ")
        )),
    }
}

/// Builds the program; where it is, and a folder of this name beside it that is not there yet.
pub(crate) fn built(name: &str) -> Result<(PathBuf, PathBuf), String> {
    run(&mut cargo(&[
        "build",
        "--locked",
        "--package",
        "larderwright-cli",
    ]))?;
    let binary = binary()?;
    let folder = binary.with_file_name(name);
    let _ = fs::remove_dir_all(&folder);
    Ok((binary, folder))
}

/// The program beside ours: Cargo puts both into the folder of the same profile.
fn binary() -> Result<PathBuf, String> {
    let own = std::env::current_exe().map_err(|fault| format!("own program not found: {fault}"))?;
    let binary = own.with_file_name(format!("larderwright{}", std::env::consts::EXE_SUFFIX));
    if binary.is_file() {
        Ok(binary)
    } else {
        Err(format!("{} was not built", binary.display()))
    }
}

/// The demo household's file, as the program carries it.
fn demo_household() -> Result<PathBuf, String> {
    let path = root().join("crates/records/data/demo-household.toml");
    if path.is_file() {
        Ok(path)
    } else {
        Err(format!("{} is not there", path.display()))
    }
}

/// Plans the week once. Bash keeps the time, because only the waiting parent learns a child's processor time.
fn plan(binary: &Path, household: &Path, data: &Path) -> Result<Took, String> {
    const SCRIPT: &str = "TIMEFORMAT='%3R %3U %3S'; errors=$1; shift; time \"$@\" >/dev/null 2>\"$errors\"";
    let errors = data.with_extension("errors");
    let mut command = Command::new("bash");
    command
        .env("LC_ALL", "C")
        .stdin(Stdio::null())
        .args(["-c", SCRIPT, "bash"]);
    command
        .arg(&errors)
        .arg(binary)
        .args(["plan", "--household"])
        .arg(household);
    command.args(["--week", WEEK, "--data"]).arg(data);
    let done = command.output().map_err(|fault| format!("bash: {fault}"))?;
    if !done.status.success() {
        let said = fs::read_to_string(&errors).unwrap_or_default();
        return Err(format!("`larderwright plan` failed ({}):\n{said}", done.status));
    }
    let said = String::from_utf8_lossy(&done.stderr);
    parse_times(&said).ok_or_else(|| format!("bash reported no times but `{}`", said.trim()))
}

/// Reads wall, user and system seconds with three decimals each.
fn parse_times(said: &str) -> Option<Took> {
    let mut millis = said.lines().last()?.split_whitespace().map(parse_millis);
    let wall = millis.next()??;
    let cpu = millis.next()?? + millis.next()??;
    Some(Took { wall, cpu })
}

fn parse_millis(text: &str) -> Option<u128> {
    let (whole, part) = text.split_once('.')?;
    let whole: u128 = whole.parse().ok()?;
    let part: u128 = if part.len() == 3 {
        part.parse().ok()?
    } else {
        return None;
    };
    Some(whole * 1_000 + part)
}

fn print_figures(taken: &[Took], household: &Path) {
    let wall = spread(taken.iter().map(|took| took.wall).collect());
    let cpu = spread(taken.iter().map(|took| took.cpu).collect());
    let file = household
        .file_name()
        .unwrap_or(household.as_os_str())
        .to_string_lossy();
    println!("command  larderwright plan --household {file} --week {WEEK} --data FRESH-FOLDER");
    println!("commit   {}", commit());
    println!("machine  {}", machine());
    println!("runs     {} after one that is not counted", taken.len());
    println!("         {:>9}  {:>9}  {:>9}", "min", "median", "max");
    for (name, [min, median, max]) in [("wall", wall), ("cpu", cpu)] {
        println!(
            "{name:<8} {:>9}  {:>9}  {:>9}",
            seconds(min),
            seconds(median),
            seconds(max)
        );
    }
    let verdict = if wall[1] < GOAL_MILLIS { "met" } else { "missed" };
    println!(
        "goal     under {} wall at the median: {verdict}",
        seconds(GOAL_MILLIS)
    );
}

/// Least, middle and greatest; of an even number the lower of the two in the middle.
fn spread(mut millis: Vec<u128>) -> [u128; 3] {
    millis.sort_unstable();
    let last = millis.len().checked_sub(1).expect("a bench has at least one run");
    [millis[0], millis[last / 2], millis[last]]
}

fn commit() -> String {
    let git = |args: &[&str]| output(Command::new("git").arg("-C").arg(root()).args(args));
    let Some(hash) = git(&["rev-parse", "--short", "HEAD"]) else {
        return "unknown".to_owned();
    };
    let changed = git(&["status", "--porcelain"]).is_some_and(|lines| !lines.trim().is_empty());
    let note = if changed { ", with uncommitted changes" } else { "" };
    format!("{}{note}", hash.trim())
}

fn machine() -> String {
    let cores = std::thread::available_parallelism().map_or(0, usize::from);
    let about = fs::read_to_string("/proc/cpuinfo").unwrap_or_default();
    let model = about.lines().find_map(|line| line.strip_prefix("model name"));
    let model = model.map_or("processor unknown", |rest| {
        rest.trim_start_matches(['\t', ' ', ':'])
    });
    format!("{cores} cores, {model}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn processor_time_is_user_and_system_together() {
        assert_eq!(
            parse_times("1.250 0.900 0.045\n"),
            Some(Took {
                wall: 1_250,
                cpu: 945
            })
        );
    }

    #[test]
    fn times_in_another_form_are_refused() {
        assert_eq!(parse_times("1,250 0,900 0,045"), None);
        assert_eq!(parse_times("1.25 0.90 0.04"), None);
        assert_eq!(parse_times(""), None);
    }

    #[test]
    fn the_middle_of_an_even_number_is_the_lower_one() {
        assert_eq!(spread(vec![4, 1, 3, 2]), [1, 2, 4]);
        assert_eq!(spread(vec![5]), [5, 5, 5]);
    }

    #[test]
    fn bash_times_a_command_that_succeeds() {
        let folder = std::env::temp_dir().join(format!("xtask-bench-{}", std::process::id()));
        fs::create_dir_all(&folder).expect("the temporary folder is writable");
        let took = plan(Path::new("true"), Path::new("h.toml"), &folder.join("data"));
        let failed = plan(Path::new("false"), Path::new("h.toml"), &folder.join("data"));
        fs::remove_dir_all(&folder).expect("our own folder can be removed");
        assert!(took.is_ok(), "{took:?}");
        assert!(failed.is_err(), "{failed:?}");
    }

    #[test]
    fn a_number_of_runs_must_be_positive() {
        let args = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>();
        assert_eq!(runs_wanted(&args(&[])), Ok(RUNS));
        assert_eq!(runs_wanted(&args(&["--runs", "3"])), Ok(3));
        assert!(runs_wanted(&args(&["--runs", "0"])).is_err());
        assert!(runs_wanted(&args(&["--fast"])).is_err());
    }
}
