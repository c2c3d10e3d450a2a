//! How good menus are: weeks planned by the built program, their programmes solved by other solvers. It measures and prints;
//! it judges only that another solver confirms the point, and is no part of the checks.

mod instances;

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use crate::bench::built;
use crate::machine::{Watch, run};

const USAGE: &str =
    "usage: cargo xtask bench menu [--size demo|week|tiny] [--seeds N] [--against highs,cpsat] [--seconds S]";

/// The yardsticks' program.
const SOLVE: &str = include_str!("bench_menu/solve.py");

struct Wanted {
    size: String,
    seeds: u64,
    against: Vec<String>,
    seconds: String,
}

/// Plans every instance of a size and prints a line for each.
///
/// # Errors
/// A sentence naming the argument that is not understood, the step that failed, or a point that is not confirmed.
pub fn run_all(args: &[String]) -> Result<(), String> {
    let wanted = wanted(args)?;
    let (binary, folder) = built("bench-menu")?;
    std::fs::create_dir_all(&folder).map_err(|fault| format!("{}: {fault}", folder.display()))?;
    let script = folder.join("solve.py");
    std::fs::write(&script, SOLVE).map_err(|fault| format!("{}: {fault}", script.display()))?;
    let python = if wanted.against.is_empty() {
        None
    } else {
        python(&folder)?
    };
    println!("instance   plan s  gap %  point   others: solver status value bound s");
    let seeds = if wanted.size == "demo" { 1 } else { wanted.seeds };
    for seed in 0..seeds {
        let household = instances::file(&wanted.size, seed, &folder)?;
        let name = format!("{}-{seed}", wanted.size);
        let row = instance(&binary, &household, &folder.join(&name))?;
        print!("{name:<10} {row}");
        if let Some(python) = &python {
            others(python, &folder, &name, &wanted)?;
        }
        println!();
    }
    Ok(())
}

/// Plans one week; tells what its report says.
fn instance(binary: &Path, household: &Path, data: &Path) -> Result<String, String> {
    let plan = |more: &[&str]| {
        let mut command = Command::new(binary);
        command.args([
            "plan",
            "--draft",
            "--week",
            "2026-W49",
            "--clock",
            "2026-11-27T20:00",
            "--household",
        ]);
        command
            .arg(household)
            .arg("--data")
            .arg(data)
            .args(["--format", "json"]);
        command.args(more).stdin(Stdio::null());
        command.output().map_err(|fault| format!("larderwright: {fault}"))
    };
    let watch = Watch::start();
    let done = plan(&[])?;
    let took = watch.millis();
    let text = String::from_utf8_lossy(&done.stdout).into_owned();
    if !done.status.success() {
        return Ok(format!(
            "no plan: {}",
            String::from_utf8_lossy(&done.stderr).lines().next().unwrap_or("")
        ));
    }
    let of = |ending: &str| data.with_extension(ending).display().to_string();
    let (mps, sol) = (of("mps"), of("sol"));
    plan(&["--program", &mps, "--solution", &sol])?;
    // The summary says `within 32.6 % of the best`, with a blank that does not break.
    let gap = text
        .split("within ")
        .nth(1)
        .and_then(|rest| rest.split('\u{a0}').next());
    let gap = gap.filter(|gap| gap.len() < 6).unwrap_or("-");
    Ok(format!("{:>3}.{:02}  {gap:>5}", took / 1000, took % 1000 / 10))
}

/// What other solvers make of the programme, and whether HiGHS confirms the point.
fn others(python: &Path, folder: &Path, name: &str, wanted: &Wanted) -> Result<(), String> {
    let file = |ending: &str| folder.join(format!("{name}.{ending}"));
    if !file("mps").is_file() {
        return Ok(());
    }
    let ask = |solver: &str, seconds: &str| -> Result<String, String> {
        let mut command = Command::new(python);
        command
            .arg(folder.join("solve.py"))
            .arg(solver)
            .arg(file("mps"))
            .arg(seconds);
        if solver == "check" {
            command.arg(file("sol"));
        }
        let done = command.output().map_err(|fault| format!("python: {fault}"))?;
        let said = String::from_utf8_lossy(&done.stdout);
        said.lines().last().map(str::to_owned).ok_or_else(|| {
            format!(
                "{name}: {solver} failed: {}",
                String::from_utf8_lossy(&done.stderr)
            )
        })
    };
    let confirmed = ask("check", "60")?;
    let mut words = confirmed.split_whitespace();
    if words.next() != Some("Optimal") {
        return Err(format!("{name}: HiGHS does not confirm the point: {confirmed}"));
    }
    print!("  {}", words.next().unwrap_or("-"));
    for solver in &wanted.against {
        print!("   {solver} {}", ask(solver, &wanted.seconds)?);
    }
    Ok(())
}

fn wanted(args: &[String]) -> Result<Wanted, String> {
    let mut wanted = Wanted {
        size: "demo".into(),
        seeds: 10,
        against: Vec::new(),
        seconds: "20".into(),
    };
    let mut words = args.iter().map(String::as_str);
    while let Some(word) = words.next() {
        match (word, words.next()) {
            ("--size", Some(size)) if instances::SIZES.contains(&size) => size.clone_into(&mut wanted.size),
            ("--seeds", Some(count)) if count.parse::<u64>().is_ok() => {
                wanted.seeds = count.parse().unwrap_or(10);
            }
            ("--against", Some(list)) if list.split(',').all(|one| ["highs", "cpsat"].contains(&one)) => {
                wanted.against = list.split(',').map(str::to_owned).collect();
            }
            ("--seconds", Some(seconds)) if seconds.parse::<u32>().is_ok() => {
                seconds.clone_into(&mut wanted.seconds);
            }
            (word, value) => {
                return Err(format!(
                    "`{word} {}` is not understood; {USAGE}",
                    value.unwrap_or_default()
                ));
            }
        }
    }
    Ok(wanted)
}

/// A Python with the yardsticks; none, with a notice, where it cannot be had.
fn python(folder: &Path) -> Result<Option<PathBuf>, String> {
    let target = folder.parent().and_then(Path::parent).unwrap_or(folder);
    let venv = target.join("bench-python");
    let python = venv.join("bin/python");
    let has_it = || {
        let mut command = Command::new(&python);
        command
            .args(["-c", "import ortools, highspy"])
            .stderr(Stdio::null());
        command.status().is_ok_and(|status| status.success())
    };
    if !has_it() {
        println!("fetching ortools and highspy into {}", venv.display());
        let made = run(Command::new("python3").args(["-m", "venv"]).arg(&venv)).and_then(|()| {
            run(Command::new(&python).args(["-m", "pip", "install", "--quiet", "ortools", "highspy"]))
        });
        if let Err(fault) = made {
            println!("skipped: no yardsticks here ({fault})");
            return Ok(None);
        }
    }
    Ok(has_it().then_some(python))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn arguments_are_understood_or_refused() {
        let args = |text: &str| text.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
        assert!(wanted(&args("--size tiny --seeds 3 --against highs,cpsat --seconds 5")).is_ok());
        for text in ["--size huge", "--against hope", "--seeds", "--seconds soon"] {
            assert!(wanted(&args(text)).is_err(), "{text}");
        }
    }
}
