//! Cases: everything goes out as open texts and comes back into an empty store.

use std::fs;
use std::path::{Path, PathBuf};

use super::history::{START_MS, history};
use super::sample::{event, go_by_two_plans, keep_versions, plan, state_of};
use crate::clock::AHEAD_MS_MAX;
use crate::error::Fault;
use crate::exchange::{Manifest, export, import};
use crate::port::Store;

const LATER_MS: i64 = START_MS + 400 * 86_400_000;

/// A place for an export that nobody else uses.
struct Place(PathBuf);

impl Place {
    fn new(name: &str) -> Self {
        use std::sync::atomic::{AtomicU64, Ordering};
        static NUMBER: AtomicU64 = AtomicU64::new(0);
        let number = NUMBER.fetch_add(1, Ordering::Relaxed);
        let process = std::process::id();
        let name = format!("larderwright-export-{process}-{name}-{number}");
        Self(std::env::temp_dir().join(name))
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        // What is left over does not make a case fail.
        let _ = fs::remove_dir_all(&self.0);
    }
}

async fn in_use<S: Store>(make: &impl AsyncFn() -> S) -> S {
    let store = make().await;
    let mut events = history(41, 150);
    let mut far = event("far-ahead", 0);
    far.clock.wall_ms = LATER_MS + 2 * AHEAD_MS_MAX;
    events.push(far);
    store.append(&events, LATER_MS).await.expect("events are kept");
    go_by_two_plans(&store).await;
    for (name, texts) in [("household", ["one", "two\r\n"]), ("../odd name", ["", "🍲"])] {
        keep_versions(&store, name, &texts).await;
    }
    store
}

async fn write<S: Store>(store: &S, folder: &Path) -> Manifest {
    export(store, folder).await.expect("the export is written")
}

fn files(folder: &Path) -> Vec<(PathBuf, Vec<u8>)> {
    let mut all = Vec::new();
    for entry in fs::read_dir(folder).expect("the folder is there") {
        let path = entry.expect("it can be listed").path();
        if path.is_dir() {
            all.extend(files(&path));
        } else {
            let bytes = fs::read(&path).expect("it can be read");
            all.push((path, bytes));
        }
    }
    all.sort();
    all
}

/// Byte for byte the same export comes out of the store into which it was read.
pub async fn an_export_that_is_read_in_loses_nothing<S: Store>(make: &impl AsyncFn() -> S) {
    let (first, second) = (Place::new("first"), Place::new("second"));
    let store = in_use(make).await;
    let manifest = write(&store, &first.0).await;
    assert_eq!((manifest.plans, manifest.choices, manifest.documents), (2, 2, 4));
    let other = make().await;
    assert_eq!(
        import(&other, &first.0).await.expect("the export is read"),
        manifest
    );
    let events = history(41, 150);
    assert_eq!(state_of(&other, &events).await, state_of(&store, &events).await);
    let all = store.all_events(0, usize::MAX).await.expect("events are read");
    assert_eq!(
        other.all_events(0, usize::MAX).await.expect("events are read"),
        all
    );
    write(&other, &second.0).await;
    let inside = |place: &Place| {
        let files = files(&place.0).into_iter();
        let inner = files.map(|(path, bytes)| (path.strip_prefix(&place.0).map(Path::to_owned), bytes));
        inner.collect::<Vec<_>>()
    };
    assert_eq!(inside(&first), inside(&second));
}

/// Nothing is mixed.
pub async fn an_export_goes_into_an_empty_store_and_an_empty_folder<S: Store>(make: &impl AsyncFn() -> S) {
    let place = Place::new("taken");
    let store = in_use(make).await;
    write(&store, &place.0).await;
    let error = export(&store, &place.0).await.expect_err("the folder is taken");
    assert!(matches!(error.fault, Fault::BadInput(_)), "{error}");
    let error = import(&store, &place.0).await.expect_err("the store is in use");
    assert!(matches!(error.fault, Fault::BadInput(_)), "{error}");
}

/// And nothing of it is kept.
pub async fn an_export_that_was_tampered_with_is_refused_whole<S: Store>(make: &impl AsyncFn() -> S) {
    let place = Place::new("tampered");
    let store = in_use(make).await;
    write(&store, &place.0).await;
    let change = |name: &str, from: &str, to: &str| {
        let path = place.0.join(name);
        let before = fs::read_to_string(&path).expect("the file is there");
        assert!(before.contains(from), "{name} has no {from}");
        fs::write(&path, before.replacen(from, to, 1)).expect("the file can be written");
        (path, before)
    };
    let plan_file = format!("plans/{}.json", plan("first", None).head.hash);
    let cases = [
        ("manifest.json", "\"events\":", "\"events\":9"),
        ("manifest.json", "\"v\":1", "\"v\":2"),
        ("events.jsonl", "\"seq\":3", "\"sek\":3"),
        ("events.jsonl", "\"moment\":", "\"moments\":"),
        (
            "documents.jsonl",
            "household/1.txt",
            "../../../../../../etc/hostname",
        ),
        (plan_file.as_str(), "first", "worst"),
    ];
    for (name, from, to) in cases {
        let (path, before) = change(name, from, to);
        let other = make().await;
        let error = import(&other, &place.0).await;
        assert!(error.is_err(), "{name}: {from} -> {to}");
        let kept = other.all_events(0, 1).await.expect("events are read");
        assert!(kept.is_empty(), "{name}: {from} -> {to}");
        fs::write(path, before).expect("the file can be written");
    }
    import(&make().await, &place.0).await.expect("it is whole again");
}
