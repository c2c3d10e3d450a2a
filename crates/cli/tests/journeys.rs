//! Whole journeys through the program: what it prints, what it writes, how it ends.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// A fresh folder below the one that the build gives to tests.
fn fresh(name: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    if folder.exists() {
        fs::remove_dir_all(&folder).expect("an earlier run's folder can be removed");
    }
    fs::create_dir_all(&folder).expect("a folder can be made");
    folder
}

fn larderwright(folder: &Path, line: &str) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_larderwright"));
    command.current_dir(folder).args(line.split(' '));
    command.output().expect("the program can be started")
}

fn out(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn err(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// Writes the example household into the folder, changed in one place.
fn household(folder: &Path, from: &str, to: &str) {
    let example = out(&larderwright(folder, "example household"));
    assert!(example.contains(from), "the example says `{from}`");
    fs::write(folder.join("home.toml"), example.replacen(from, to, 1)).expect("a file can be written");
}

#[test]
fn the_example_household_is_planned_and_its_sheets_are_printed() {
    let folder = fresh("example");
    household(&folder, "name", "name");
    let planned = larderwright(
        &folder,
        "plan --household home.toml --week 2026-W49 --data week --work 2000 --clock 2026-11-25T09:00",
    );
    assert_eq!(planned.status.code(), Some(0), "{}", err(&planned));
    assert!(out(&planned).contains("WHAT TO COOK"));
    for kind in [
        "summary",
        "menu",
        "order",
        "production",
        "prep",
        "run",
        "labels",
        "pull",
        "plates",
    ] {
        let printed = larderwright(
            &folder,
            &format!("sheet {kind} --data week --clock 2026-11-25T09:00"),
        );
        let written =
            fs::read_to_string(folder.join(format!("week/sheets/{kind}.txt"))).expect("the sheet is there");
        assert_eq!(out(&printed), written, "{kind}");
        let json = larderwright(
            &folder,
            &format!("sheet {kind} --data week --week 2026-W49 --format json"),
        );
        let json: serde_json::Value = serde_json::from_str(&out(&json)).expect("it is JSON");
        assert_eq!(json["sheet"], kind);
    }
}

#[test]
fn one_thread_and_two_write_the_same_plan() {
    let folder = fresh("threads");
    household(&folder, "name", "name");
    let plan = |threads: u8| {
        let line = format!(
            "plan --household home.toml --week 2026-W49 --data t{threads} --threads {threads} --work 2000 --clock 2026-11-25T09:00"
        );
        let planned = larderwright(&folder, &line);
        assert_eq!(planned.status.code(), Some(0), "{}", err(&planned));
        let text =
            fs::read_to_string(folder.join(format!("t{threads}/plan.json"))).expect("the plan is there");
        let plan: serde_json::Value = serde_json::from_str(&text).expect("it is JSON");
        // The snapshot holds the time of planning, which two runs do not share.
        ["menu", "batches", "lots", "order", "runs", "plates", "services"].map(|part| plan[part].clone())
    };
    assert_eq!(plan(1), plan(2));
}

#[test]
fn every_mistake_of_a_household_is_told_with_its_line_and_nothing_is_written() {
    let folder = fresh("mistakes");
    household(&folder, "name", "nmae");
    let refused = larderwright(&folder, "plan --household home.toml --week 2026-W49 --data week");
    assert_eq!(refused.status.code(), Some(2));
    let said = err(&refused);
    assert!(said.contains("nmae") && said.contains("line "), "{said}");
    assert!(said.contains("nothing was written"), "{said}");
    assert!(!folder.join("week").exists());
}

#[test]
fn programs_read_mistakes_as_json() {
    let folder = fresh("json");
    let refused = larderwright(
        &folder,
        "plan --household none.toml --week 2026-W49 --format json",
    );
    assert_eq!(refused.status.code(), Some(2));
    let json: serde_json::Value = serde_json::from_str(&out(&refused)).expect("it is JSON");
    assert_eq!(json["status"], "wrong-use");
    assert!(
        json["message"]
            .as_str()
            .is_some_and(|message| message.contains("none.toml"))
    );
}

#[test]
fn wrong_use_ends_with_two() {
    let folder = fresh("wrong");
    for line in [
        "sheet soup",
        "sheet run --data nowhere",
        "cook",
        "schema soup",
        "demo --week 2026-W60",
    ] {
        let refused = larderwright(&folder, line);
        assert_eq!(refused.status.code(), Some(2), "{line}: {}", err(&refused));
        assert!(!err(&refused).is_empty(), "{line}");
    }
    assert_eq!(fs::read_dir(&folder).expect("the folder is there").count(), 0);
}

#[test]
fn every_schema_is_json() {
    let folder = fresh("schemas");
    for name in ["plan", "snapshot", "household", "component", "meal", "sheet"] {
        let printed = larderwright(&folder, &format!("schema {name}"));
        let schema: serde_json::Value = serde_json::from_str(&out(&printed)).expect("it is JSON");
        assert!(schema["title"].is_string(), "{name}");
    }
}
