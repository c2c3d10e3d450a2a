//! A week in a folder: written whole, read back as it was, refused when somebody changed it.

use std::fs;
use std::path::PathBuf;

use larderwright_app::{FolderError, Planned, Refusal, load, planned::judged, save};
use larderwright_model::{Severity, Snapshot};
use larderwright_records::plan::plan_to_json;
use larderwright_records::snapshot::snapshot_hash;
use larderwright_testkit::sample;

/// A fresh folder below the one that the build gives to tests.
fn fresh(name: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    if folder.exists() {
        fs::remove_dir_all(&folder).expect("an earlier run's folder can be removed");
    }
    folder
}

/// What is written does not depend on what a judge says of it.
fn week() -> (Snapshot, Planned) {
    let (snapshot, mut plan) = (sample::snapshot(), sample::plan());
    plan.snapshot_hash = snapshot_hash(&snapshot);
    let json = plan_to_json(&plan);
    (snapshot, Planned { plan, json })
}

#[test]
fn a_plan_with_a_fatal_finding_is_refused_with_all_its_findings() {
    let (snapshot, mut plan) = (sample::snapshot(), sample::plan());
    plan.lots.clear();
    let Err(Refusal::Fatal(findings)) = judged(&snapshot, plan) else {
        panic!("there is no food on the plates")
    };
    assert_eq!(findings[0].severity, Severity::Fatal);
}

#[test]
fn a_week_is_read_back_as_it_was_written() {
    let folder = fresh("read-back");
    let (snapshot, planned) = week();
    let saved = save(&folder, &snapshot, &planned).expect("the folder can be written");
    assert_eq!(
        load(&folder).expect("the folder can be read"),
        (snapshot, planned.plan)
    );
    for sheet in saved.sheets {
        let text = fs::read_to_string(&sheet).expect("every sheet is there");
        assert!(text.contains("Sample house"), "{}", sheet.display());
    }
}

#[test]
fn nothing_but_the_week_stays_behind() {
    let folder = fresh("tidy");
    let (snapshot, planned) = week();
    save(&folder, &snapshot, &planned).expect("the folder can be written");
    save(&folder, &snapshot, &planned).expect("and written again");
    let mut names: Vec<String> = fs::read_dir(&folder)
        .expect("the folder is there")
        .map(|entry| {
            entry
                .expect("it can be listed")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    names.sort();
    assert_eq!(names, ["plan.json", "sheets", "snapshot.json"]);
}

#[test]
fn what_is_not_ours_is_left_alone() {
    let folder = fresh("guest");
    fs::create_dir_all(&folder).expect("a folder can be made");
    fs::write(folder.join("letter.txt"), "dear").expect("a file can be written");
    let (snapshot, planned) = week();
    save(&folder, &snapshot, &planned).expect("the folder can be written");
    assert_eq!(
        fs::read_to_string(folder.join("letter.txt")).expect("it is still there"),
        "dear"
    );
}

#[test]
fn a_folder_without_a_plan_says_so() {
    assert!(matches!(load(&fresh("empty")), Err(FolderError::Empty { .. })));
}

#[test]
fn a_plan_that_was_changed_by_hand_is_refused() {
    let folder = fresh("changed");
    let (snapshot, planned) = week();
    save(&folder, &snapshot, &planned).expect("the folder can be written");
    let plan = folder.join("plan.json");
    let text = fs::read_to_string(&plan).expect("the plan is there");
    fs::write(&plan, text.replacen("grain-plate", "other-plate", 1)).expect("it can be changed");
    assert!(matches!(load(&folder), Err(FolderError::Record { .. })));
}

#[test]
fn a_plan_of_another_snapshot_is_refused() {
    let folder = fresh("mixed");
    let (snapshot, planned) = week();
    let other = Snapshot {
        seed: snapshot.seed + 1,
        ..snapshot
    };
    save(&folder, &other, &planned).expect("the folder can be written");
    assert!(matches!(load(&folder), Err(FolderError::Mismatch { .. })));
}

#[test]
fn a_folder_that_cannot_be_made_is_a_fault_that_names_it() {
    let folder = fresh("a-file");
    fs::create_dir_all(&folder).expect("a folder can be made");
    let file = folder.join("letter.txt");
    fs::write(&file, "not a folder").expect("a file can be written");
    let (snapshot, planned) = week();
    let error = save(&file.join("below"), &snapshot, &planned).expect_err("a file holds no folder");
    assert!(
        matches!(error, FolderError::Io { verb: "written", .. }),
        "{error}"
    );
}
