//! The solver on generated kitchen projects with known optima, where they are at hand.
//!
//! They lie in `kitchen-projects` below the folder named by `LARDERWRIGHT_DATA`. Without it the tests say so and
//! pass.

use std::collections::BTreeMap;
use std::path::PathBuf;

use larderwright_solve::project::{
    Answer, Budget, Changeover, Hold, Lag, Mode, Objective, Offset, Project, ProjectBuilder, Threads,
    check_schedule, solve,
};
use serde_json::Value;

#[expect(
    clippy::disallowed_methods,
    reason = "the data lies outside and may be absent"
)]
fn folder() -> Option<PathBuf> {
    let Some(data) = std::env::var_os("LARDERWRIGHT_DATA") else {
        println!("skipped: `LARDERWRIGHT_DATA` names no folder of data");
        return None;
    };
    let folder = PathBuf::from(data).join("kitchen-projects");
    if folder.is_dir() {
        return Some(folder);
    }
    println!("skipped: {} is not there", folder.display());
    None
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

fn text(value: &Value) -> &str {
    value.as_str().expect("a text")
}

fn whole(value: &Value) -> i64 {
    value.as_i64().expect("a whole number")
}

fn position(value: &Value) -> usize {
    usize::try_from(whole(value)).expect("not negative")
}

fn read(json: &str) -> Project {
    let value: Value = serde_json::from_str(json).expect("well-formed JSON");
    let mut builder = ProjectBuilder::new(2000).expect("a horizon");
    let mut resources = BTreeMap::new();
    for resource in list(&value["resources"]) {
        let ix = builder
            .resource(whole(&resource["capacity"]))
            .expect("a capacity");
        resources.insert(text(&resource["id"]), ix);
    }
    let mut ready = BTreeMap::new();
    for entry in list(&value["ready"]) {
        ready.insert(
            (text(&entry["task"]), position(&entry["mode"])),
            whole(&entry["earliest"]),
        );
    }
    let mut tasks = BTreeMap::new();
    for task in list(&value["tasks"]) {
        let id = text(&task["id"]);
        let modes = list(&task["modes"]).iter().enumerate().map(|(index, described)| {
            let mode = Mode::lasting(whole(&described["minutes"]));
            let mode = mode.not_before(ready.get(&(id, index)).copied().unwrap_or(0));
            let uses = described["uses"].as_object().expect("uses by resource");
            uses.iter().fold(mode, |mode, (name, amount)| {
                mode.using(resources[name.as_str()], whole(amount))
            })
        });
        tasks.insert(id, builder.task(modes.collect()).expect("a task"));
    }
    let task = |value: &Value| tasks[text(value)];
    for lag in list(&value["lags"]) {
        let (from, to, min) = (task(&lag["after"]), task(&lag["task"]), whole(&lag["min"]));
        builder
            .lag(Lag {
                from,
                to,
                min,
                max: lag["max"].as_i64(),
            })
            .expect("a lag");
    }
    for visit in list(&value["offsets"]) {
        let (min, max) = (whole(&visit["min"]), whole(&visit["max"]));
        let offset = Offset {
            task: task(&visit["task"]),
            of: task(&visit["of"]),
            min,
            max,
        };
        builder.offset(offset).expect("an offset");
    }
    for change in list(&value["changeovers"]) {
        let change = Changeover {
            a: task(&change["a"]),
            a_mode: position(&change["a_mode"]),
            b: task(&change["b"]),
            b_mode: position(&change["b_mode"]),
            a_to_b: whole(&change["a_to_b"]),
            b_to_a: whole(&change["b_to_a"]),
        };
        builder.changeover(change).expect("a changeover");
    }
    for hold in list(&value["holds"]) {
        let (from, to, weight) = (task(&hold["after"]), task(&hold["task"]), whole(&hold["weight"]));
        builder.hold(Hold { from, to, weight }).expect("a hold");
    }
    builder.build().expect("no contradiction")
}

/// Name, project, best makespan known, lower bound known.
fn known() -> Vec<(String, Project, i64, i64)> {
    let Some(folder) = folder() else { return Vec::new() };
    let table = std::fs::read_to_string(folder.join("bounds.csv")).expect("a table of bounds");
    let rows = table.lines().skip(1).map(|line| {
        let cells: Vec<&str> = line.split(',').collect();
        let json = std::fs::read_to_string(folder.join(format!("{}.json", cells[0]))).expect("a project");
        let number = |cell: &str| cell.parse::<i64>().expect("a number");
        (
            cells[0].to_owned(),
            read(&json),
            number(cells[2]),
            number(cells[3]),
        )
    });
    rows.collect()
}

#[test]
fn schedules_are_feasible_and_bounds_never_pass_the_known_optimum() {
    for (name, project, best, lower) in known() {
        let answer = solve(
            &project,
            &Budget {
                work: 600,
                seed: 1,
                threads: Threads::Two,
            },
        );
        let (Answer::Proven(schedule, bound) | Answer::Best(schedule, bound)) = &answer else {
            panic!("{name}: {answer:?}");
        };
        assert_eq!(check_schedule(&project, schedule), vec![], "{name}");
        let makespan = Objective::of(&project, schedule).makespan;
        assert!(
            makespan >= lower,
            "{name}: {makespan} is below the known bound {lower}"
        );
        assert!(
            bound.makespan <= best,
            "{name}: {} is above the known {best}",
            bound.makespan
        );
    }
}

#[test]
fn every_optimum_is_proven() {
    for (name, project, best, _) in known() {
        let answer = solve(
            &project,
            &Budget {
                work: 200_000,
                seed: 2,
                threads: Threads::Two,
            },
        );
        let Answer::Proven(schedule, _) = &answer else {
            panic!("{name}: {answer:?}");
        };
        assert_eq!(Objective::of(&project, schedule).makespan, best, "{name}");
    }
}

#[test]
fn the_answer_is_the_same_on_one_thread_and_on_two() {
    for (name, project, ..) in known().into_iter().step_by(3) {
        let answer = |threads| {
            solve(
                &project,
                &Budget {
                    work: 6000,
                    seed: 9,
                    threads,
                },
            )
        };
        assert_eq!(answer(Threads::One), answer(Threads::Two), "{name}");
    }
}

/// Prints the excess over the known makespans; run by hand with `--ignored --nocapture`, and `WORK` and
/// `SEED` in the environment if wished.
#[test]
#[ignore = "a report, not a check"]
#[expect(clippy::disallowed_methods, reason = "a report by hand, set from outside")]
fn excess_over_the_known_makespans() {
    let setting = |name| std::env::var(name).ok().and_then(|text| text.parse::<u64>().ok());
    let budget = Budget {
        work: setting("WORK").unwrap_or(15_000),
        seed: setting("SEED").unwrap_or(1),
        threads: Threads::Two,
    };
    let (mut excess, mut count) = (0, 0);
    for (name, project, best, _) in known() {
        let answer = solve(&project, &budget);
        let (Answer::Proven(schedule, bound) | Answer::Best(schedule, bound)) = &answer else {
            panic!("{name}: {answer:?}");
        };
        let found = Objective::of(&project, schedule);
        excess += (found.makespan - best) * 10_000 / best;
        count += 1;
        let (makespan, hold, lower) = (found.makespan, found.hold, bound.makespan);
        println!("{name} best {best} found {makespan} bound {lower} hold {hold}");
    }
    println!(
        "mean excess {} hundredths of a percent",
        excess / i64::max(count, 1)
    );
}
