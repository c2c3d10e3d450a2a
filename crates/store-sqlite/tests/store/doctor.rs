//! The doctor names what is wrong where exactly one thing is, mends what is only derived, and touches nothing else.

use std::fs;

use larderwright_model::DeviceId;
use larderwright_store::contract::history::history;
use larderwright_store::contract::sample::{NOW_MS, event, go_by_two_plans, keep_versions};
use larderwright_store::contract::whole::{Whole, whole_of};
use larderwright_store::{Defect, Fault, Gravity, Store};
use larderwright_store_sqlite::{FILE_NAME, SqliteStore};

use crate::fresh::{Folder, raw, run};
use crate::script::LATER_MS;

async fn in_use(folder: &Folder) -> Whole {
    let store = SqliteStore::open(folder.path()).await.expect("it opens");
    store
        .device(&DeviceId::new("server"))
        .await
        .expect("a device is named");
    store
        .append(&history(81, 60), LATER_MS)
        .await
        .expect("events are kept");
    let mut far = event("far-ahead", 0);
    far.clock.wall_ms = LATER_MS + (LATER_MS - NOW_MS).abs() + 2 * 86_400_000;
    store.append(&[far], LATER_MS).await.expect("events are kept");
    go_by_two_plans(&store).await;
    keep_versions(&store, "household", &["one", "two"]).await;
    let whole = whole_of(&store).await.expect("it answers");
    store.close().await;
    whole
}

/// What the store says it would not have done.
const FREE: &str = "DROP TRIGGER event_is_never_changed; DROP TRIGGER event_is_never_taken_out; \
                    DROP TRIGGER event_arrival_is_never_changed; ";

async fn wrongs(folder: &Folder) -> Vec<Defect> {
    let store = SqliteStore::open(folder.path()).await.expect("it opens");
    let mut defects = store.check().await.expect("it can be checked");
    store.close().await;
    defects.retain(|defect| defect.gravity > Gravity::Notice);
    defects
}

/// Breaks a store in use and hears what the doctor says.
async fn broken(sql: &str) -> (Folder, Whole, Vec<Defect>) {
    let folder = Folder::new();
    let whole = in_use(&folder).await;
    assert_eq!(wrongs(&folder).await, []);
    raw(&folder.path().join(FILE_NAME), &format!("{FREE}{sql}")).await;
    let defects = wrongs(&folder).await;
    (folder, whole, defects)
}

/// What is done to a file, and what the doctor says of it.
const DERIVED: &[(&str, &str)] = &[
    (
        "UPDATE event SET counts = 1 - counts WHERE seq = 7",
        "marked wrongly",
    ),
    (
        "DELETE FROM event_subject WHERE kind = 'lot' AND key = (SELECT min(lot) FROM fold_lot)",
        "the list of the lot",
    ),
    (
        "INSERT INTO event_subject (kind, key, seq) VALUES ('lot', 'another', 3)",
        "the list of the lot",
    ),
    (
        "UPDATE fold_lot SET open = 1 - open WHERE lot = (SELECT min(lot) FROM fold_lot)",
        "the state of the lot",
    ),
    (
        "UPDATE fold_lot SET record = replace(record, '1', '2') WHERE lot = (SELECT min(lot) FROM fold_lot)",
        "the state of the lot",
    ),
    (
        "UPDATE fold_lot SET sum = sum + 1 WHERE lot = (SELECT max(lot) FROM fold_lot)",
        "the state of the lot",
    ),
    (
        "DELETE FROM fold_lot WHERE lot = (SELECT max(lot) FROM fold_lot)",
        "the state of the lot",
    ),
    (
        "INSERT INTO fold_lot VALUES ('another', 1, '{}', 5)",
        "the state of the lot",
    ),
    ("DELETE FROM fold_tick", "the state of the tick"),
    (
        "INSERT INTO fold_tick VALUES ('salt-of-another', 'have', 5)",
        "the state of the tick",
    ),
    ("UPDATE own SET wall_ms = 5", "not as it was written"),
];

#[test]
fn what_is_only_derived_is_named_and_mended() {
    for (sql, message) in DERIVED.iter().copied() {
        run(async {
            let (folder, whole, defects) = broken(sql).await;
            assert!(!defects.is_empty(), "{sql}: nothing was found");
            for defect in &defects {
                assert_eq!(defect.gravity, Gravity::Derived, "{sql}: {defects:?}");
                assert!(defect.message.contains(message), "{sql}: {defects:?}");
            }
            let store = SqliteStore::open(folder.path()).await.expect("it opens");
            let mended = store.mend().await.expect("what is derived can be mended");
            assert_eq!(mended, defects, "{sql}");
            store.close().await;
            assert_eq!(wrongs(&folder).await, [], "{sql}");
            let store = SqliteStore::open(folder.path()).await.expect("it opens");
            assert_eq!(whole_of(&store).await.ok(), Some(whole), "{sql}");
            store.close().await;
        });
    }
}

/// What is done to a file, and what the doctor says of it.
const DAMAGED: &[(&str, &str)] = &[
    (
        "UPDATE event SET record = replace(record, 'mg', 'gm') WHERE seq = 1",
        "cannot be read",
    ),
    ("UPDATE event SET sum = sum + 1 WHERE seq = 9", "cannot be read"),
    (
        "UPDATE event SET id = 'another' WHERE seq = 4",
        "filed under something else",
    ),
    (
        "UPDATE event SET day = day + 1 WHERE seq = 4",
        "filed under something else",
    ),
    (
        "UPDATE event SET kind = 'moved' WHERE seq = (SELECT min(seq) FROM event WHERE kind <> 'moved')",
        "filed under something else",
    ),
    (
        "UPDATE event SET device = 'another' WHERE seq = 4",
        "filed under something else",
    ),
    (
        "UPDATE event SET corrects = 'another' WHERE seq = 4",
        "filed under something else",
    ),
    (
        "UPDATE event SET wall_ms = wall_ms - 1 WHERE seq = 4",
        "cannot be read",
    ),
    (
        "UPDATE event SET count = count + 1 WHERE id = 'far-ahead'",
        "cannot be read",
    ),
    (
        "UPDATE event SET said_wall_ms = said_wall_ms + 1 WHERE id = 'far-ahead'",
        "filed under something else",
    ),
    (
        "UPDATE event SET said_wall_ms = NULL, said_count = NULL WHERE id = 'far-ahead'",
        "cannot be read",
    ),
    (
        "UPDATE event SET received_ms = received_ms + 1 WHERE seq = 4",
        "cannot be read",
    ),
    ("DELETE FROM event WHERE seq = 5", "is missing"),
    (
        "DELETE FROM event_subject WHERE seq = 5; DELETE FROM event WHERE seq = 5",
        "is missing",
    ),
    (
        "UPDATE plan SET record = record || ' ' WHERE seq = 1",
        "the plan was changed",
    ),
    (
        "UPDATE snapshot SET record = record || ' '",
        "the snapshot was changed",
    ),
    (
        "UPDATE plan SET made_at = '2026-11-25T20:00:01' WHERE seq = 1",
        "beside the plan",
    ),
    ("UPDATE plan SET parent = NULL WHERE seq = 2", "does not follow"),
    (
        "UPDATE plan SET monday = '2026-12-07' WHERE seq = 2",
        "another week",
    ),
    ("DELETE FROM choice WHERE seq = 1", "does not follow"),
    ("DELETE FROM choice WHERE seq = 1", "a choice is missing"),
    ("UPDATE choice SET hash = 'another' WHERE seq = 2", "not there"),
    (
        "UPDATE choice SET monday = '2026-12-07' WHERE seq = 2",
        "the choice was changed",
    ),
    (
        "DELETE FROM choice; DELETE FROM plan WHERE seq = 1",
        "a plan that was kept before",
    ),
    (
        "UPDATE document SET record = 'eno' WHERE version = 1",
        "the document was changed",
    ),
    ("UPDATE document SET name = 'another'", "the document was changed"),
    (
        "DELETE FROM document WHERE version = 1",
        "a version of the document is missing",
    ),
];

#[test]
fn what_was_kept_and_is_damaged_is_named_and_left_alone() {
    for (sql, message) in DAMAGED.iter().copied() {
        run(async {
            let (folder, _, defects) = broken(sql).await;
            let damage = defects.iter().filter(|defect| defect.gravity == Gravity::Damage);
            let messages: Vec<&str> = damage.map(|defect| defect.message.as_str()).collect();
            assert!(
                messages.iter().any(|told| told.contains(message)),
                "{sql}: {defects:?}"
            );
            let file = folder.path().join(FILE_NAME);
            let before = fs::read(&file).expect("the file is there");
            let store = SqliteStore::open(folder.path()).await.expect("it opens");
            let error = store.mend().await.expect_err("damage cannot be mended");
            assert!(matches!(error.fault, Fault::Corrupt(_)), "{sql}: {error}");
            assert!(error.help().contains("restore"), "{}", error.help());
            store.close().await;
            assert!(
                fs::read(&file).ok() == Some(before),
                "{sql}: the file was changed"
            );
        });
    }
}

/// Triggers stand in the way of whoever tries.
#[test]
fn an_event_cannot_be_changed_or_taken_out() {
    run(async {
        let folder = Folder::new();
        in_use(&folder).await;
        let store = SqliteStore::open(folder.path()).await.expect("it opens");
        store.close().await;
        let file = folder.path().join(FILE_NAME);
        for sql in [
            "UPDATE event SET record = ''",
            "DELETE FROM event",
            "UPDATE event SET arrival_sum = 1",
        ] {
            let refused = crate::fresh::tried(&file, sql).await;
            assert!(
                refused.is_err_and(|error| error.contains("an event is never")),
                "{sql}"
            );
        }
    });
}
