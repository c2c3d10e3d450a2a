//! What earlier versions wrote is still read: of every version of every record a golden file is kept in
//! `golden/versions`, named by its kind and number. A new version comes with a new file; old ones are never changed.

use std::fs;
use std::path::PathBuf;

use larderwright_records::foods::{FOODS_VERSION, foods_from_json};
use larderwright_records::plan::{PLAN_VERSION, plan_from_json};
use larderwright_records::snapshot::{SNAPSHOT_VERSION, snapshot_from_json};
use larderwright_records::{RecordError, written_hash};

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/golden/versions")
}

fn check<T>(kind: &str, versions: u32, read: fn(&str) -> Result<T, RecordError>) {
    for version in 1..=versions {
        let path = folder().join(format!("{kind}-{version}.json"));
        let text = fs::read_to_string(&path).unwrap_or_else(|fault| panic!("{}: {fault}", path.display()));
        assert!(
            text.starts_with(&format!("{{\n  \"v\": {version},")),
            "{}",
            path.display()
        );
        read(&text).unwrap_or_else(|fault| panic!("{}: {fault:?}", path.display()));
        written_hash(&text).unwrap_or_else(|fault| panic!("{}: {fault:?}", path.display()));
        let at = text.rfind('}').expect("a record is an object") - 1;
        let mut changed = text.clone();
        changed.insert(at, ' ');
        assert!(written_hash(&changed).is_err(), "{}", path.display());
    }
}

#[test]
fn plans_of_every_version_are_read() {
    check("plan", PLAN_VERSION, plan_from_json);
}

#[test]
fn snapshots_of_every_version_are_read() {
    check("snapshot", SNAPSHOT_VERSION, snapshot_from_json);
}

#[test]
fn food_records_of_every_version_are_read() {
    check("foods", FOODS_VERSION, foods_from_json);
}

#[test]
fn no_golden_file_is_of_a_kind_or_version_that_nobody_reads() {
    let known = [
        ("plan", PLAN_VERSION),
        ("snapshot", SNAPSHOT_VERSION),
        ("foods", FOODS_VERSION),
    ];
    for entry in fs::read_dir(folder()).expect("the folder is there") {
        let name = entry.expect("it can be listed").file_name();
        let name = name.to_str().expect("plain names").to_owned();
        let found = known
            .iter()
            .any(|(kind, last)| (1..=*last).any(|version| name == format!("{kind}-{version}.json")));
        assert!(found, "{name}");
    }
}
