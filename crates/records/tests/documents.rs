//! Plans and snapshots on paper: the golden examples are read and written back byte for byte, and texts that are
//! not what was written are refused.

use larderwright_model::{ServiceVerb, SizeStep, Snapshot};
use larderwright_quantity::Mass;
use larderwright_records::RecordError;
use larderwright_records::plan::{plan_from_json, plan_hash, plan_to_json};
use larderwright_records::snapshot::{snapshot_from_json, snapshot_hash, snapshot_to_json};

const PLAN: &str = include_str!("golden/plan.json");
const SNAPSHOT: &str = include_str!("golden/snapshot.json");

fn snapshot() -> Snapshot {
    snapshot_from_json(SNAPSHOT).expect("the golden snapshot is well formed")
}

#[test]
fn the_golden_plan_is_written_as_it_was_read() {
    let plan = plan_from_json(PLAN).expect("the golden plan is well formed");
    assert_eq!(plan_to_json(&plan), PLAN);
    assert!(PLAN.contains(&format!("\"hash\": \"{}\"", plan_hash(&plan))));
    assert_eq!(plan.batches[0].yields[1], Mass::from_g(555));
    assert!(
        matches!(&plan.services[0].steps[1].verb, ServiceVerb::Reheat(_, mass) if *mass == Mass::from_g(240))
    );
}

#[test]
fn the_golden_snapshot_is_written_as_it_was_read() {
    let snapshot = snapshot();
    assert_eq!(snapshot_to_json(&snapshot), SNAPSHOT);
    let component = snapshot.components.values().next().expect("one component");
    assert_eq!(component.ways[0].size.step, SizeStep::Mass(Mass::from_g(50)));
    assert!(snapshot.foods.values().any(|food| food.allergens.is_none()));
}

#[test]
fn the_golden_plan_names_the_golden_snapshot() {
    let plan = plan_from_json(PLAN).expect("the golden plan is well formed");
    assert_eq!(plan.snapshot_hash, snapshot_hash(&snapshot()));
}

#[test]
fn any_difference_changes_the_hash() {
    let before = snapshot_hash(&snapshot());
    let mut other = snapshot();
    other.seed += 1;
    assert_ne!(snapshot_hash(&other), before);
    let mut other = snapshot();
    other.household.eaters[0].allergies.clear();
    assert_ne!(snapshot_hash(&other), before);
}

#[test]
fn a_changed_text_is_refused() {
    let changed = PLAN.replacen("\"demand_mg\": 240000", "\"demand_mg\": 240001", 1);
    assert!(matches!(plan_from_json(&changed), Err(RecordError::Hash { .. })));
}

#[test]
fn another_version_is_refused_by_its_number() {
    let later = PLAN.replacen("\"v\": 2", "\"v\": 3, \"mood\": \"good\"", 1);
    let error = plan_from_json(&later).expect_err("the version is unknown");
    assert_eq!(
        error.to_string(),
        "the plan has version `3`, and this program reads version `2`"
    );
}

#[test]
fn a_text_that_cannot_be_a_plan_is_refused() {
    let cases = [
        ("\"profile\": \"eu\"", "\"profile\": \"mars\""),
        ("\"monday\": \"2026-11-30\"", "\"monday\": \"2026-13-30\""),
        ("\"depth_um\": 40000", "\"depth_um\": 40000.5"),
        ("\"cooling\": \"shallow\",", ""),
        ("\"loads\": 1", "\"loads\": 1, \"lods\": 1"),
        ("\"standing\": \"likely\"", "\"standing\": \"surely\""),
    ];
    for (from, to) in cases {
        assert!(PLAN.contains(from), "{from}");
        let result = plan_from_json(&PLAN.replacen(from, to, 1));
        assert!(
            matches!(result, Err(RecordError::Malformed { .. })),
            "{from} -> {to}"
        );
    }
    assert!(plan_from_json("").is_err());
    assert!(plan_from_json(SNAPSHOT).is_err());
}
