//! How long a store with a hundred thousand events takes: more than a household reports in twenty years. Run by hand;
//! the promises stand here.

use std::time::{Duration, Instant};

use larderwright_model::{Account, Event, Fact, Move, WasteReason};
use larderwright_store::Store;
use larderwright_store::contract::history::{START_MS, history};
use larderwright_store::contract::sample::event;
use larderwright_store_sqlite::{FILE_NAME, SqliteStore};

use crate::fresh::{Folder, run};

const EVENTS: usize = 100_000;
const LATER_MS: i64 = START_MS + 40_000 * 86_400_000;

#[expect(clippy::disallowed_methods, reason = "this test is about time")]
fn now() -> Instant {
    Instant::now()
}

#[test]
#[ignore = "takes a minute; run by `cargo xtask bench store`"]
fn a_hundred_thousand_events_do_not_keep_a_cook_waiting() {
    let folder = Folder::new();
    run(async {
        let mut opened = Vec::new();
        let mut stock = Vec::new();
        fill(&folder).await;
        for _ in 0..7 {
            let start = now();
            let store = SqliteStore::open(folder.path()).await.expect("it opens");
            opened.push(start.elapsed());
            let start = now();
            let lots = store.open_lots().await.expect("lots are read");
            stock.push(start.elapsed());
            assert!(lots.len() >= 100, "{}", lots.len());
            println!("{} lots in the house", lots.len());
            store.close().await;
        }
        let (opened, stock) = (middle(opened), middle(stock));
        println!("opening: {opened:?}; stock: {stock:?}");
        others(&folder).await;
        assert!(opened < Duration::from_millis(200), "{opened:?}");
        assert!(stock < Duration::from_millis(50), "{stock:?}");
    });
}

async fn fill(folder: &Folder) {
    let start = now();
    let store = SqliteStore::open(folder.path()).await.expect("it opens");
    for (at, part) in (0..).zip(history(1, EVENTS).chunks(1000)) {
        store.append(part, LATER_MS).await.expect("events are kept");
        let cleared = clear_out(&store, at).await;
        store.append(&cleared, LATER_MS).await.expect("events are kept");
    }
    store.close().await;
    let size = std::fs::metadata(folder.path().join(FILE_NAME)).expect("the file is there");
    println!("filling: {:?}, {} MB", start.elapsed(), size.len() / 1_000_000);
}

/// Made-up households never finish a box; after every thousand events all but the last hundred lots are thrown away,
/// four at a time.
async fn clear_out(store: &SqliteStore, at: i64) -> Vec<Event> {
    let lots = store.open_lots().await.expect("lots are read");
    let old: Vec<_> = lots.iter().rev().skip(100).collect();
    let thrown_away = (0..).zip(old.chunks(4)).map(|(part, lots)| {
        let mut cleared = event(&format!("clear-{at}-{part}"), 0);
        cleared.clock.wall_ms = LATER_MS - 1_000 + at;
        cleared.clock.count = part;
        cleared.fact = Fact::Discarded {
            reason: WasteReason::Unwanted,
        };
        for lot in lots {
            cleared.moves.extend(lot.held.iter().map(|(place, held)| Move {
                lot: lot.lot.clone(),
                from: Account::Place(*place),
                to: Account::Bin,
                mass: held.mass,
                worth: held.worth,
            }));
        }
        cleared
    });
    thrown_away.collect()
}

/// What is not promised, but good to know.
async fn others(folder: &Folder) {
    let store = SqliteStore::open(folder.path()).await.expect("it opens");
    let mut appended = Vec::new();
    for event in history(2, 20) {
        let start = now();
        store.append(&[event], LATER_MS).await.expect("events are kept");
        appended.push(start.elapsed());
    }
    println!("one event: {:?}", middle(appended));
    let start = now();
    let defects = store.check().await.expect("it can be checked");
    println!("check: {:?}, {} notices", start.elapsed(), defects.len());
    let start = now();
    store
        .backup(&folder.path().join("copy.db"))
        .await
        .expect("it is copied");
    println!("backup: {:?}", start.elapsed());
}

fn middle(mut taken: Vec<Duration>) -> Duration {
    taken.sort_unstable();
    taken[taken.len() / 2]
}
