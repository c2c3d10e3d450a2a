//! How long a store with a hundred thousand events takes: more than a household reports in twenty years. Prints figures
//! and judges two of them; started by `cargo xtask bench store`. With a folder it only puts such a past into the memory
//! that is there, for `cargo xtask bench pages`.

use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::{Duration, Instant};

use jiff::civil::Date;
use larderwright_ledger::Subject;
use larderwright_model::{Account, Event, Fact, Move, WasteReason};
use larderwright_store::contract::history::{START_MS, history};
use larderwright_store::contract::sample::event;
use larderwright_store::exchange::export;
use larderwright_store::{Store, StoreError};
use larderwright_store_sqlite::{FILE_NAME, SqliteStore};

const EVENTS: usize = 100_000;
const RUNS: usize = 7;
const LATER_MS: i64 = START_MS + 40_000 * 86_400_000;

/// What is promised.
const OPENING_MAX: Duration = Duration::from_millis(200);
const STOCK_MAX: Duration = Duration::from_millis(50);

/// The kinds that lessons are read from, and the one that prices are read from.
const LESSONS: &[&str] = &["cooked", "served", "left-over", "returned"];
const PRICES: &[&str] = &["bought"];

#[expect(clippy::disallowed_methods, reason = "this program is about time")]
fn now() -> Instant {
    Instant::now()
}

fn main() -> ExitCode {
    let given = std::env::args().nth(1);
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .expect("a runtime can be made");
    if let Some(folder) = given {
        return judged(runtime.block_on(fill(Path::new(&folder))).map(|()| true));
    }
    let name = format!("larderwright-bench-{}", std::process::id());
    let folder = std::env::temp_dir().join(name);
    let measured = runtime.block_on(measure(&folder));
    // What is left over is in the folder for temporary files.
    let _ = std::fs::remove_dir_all(&folder);
    judged(measured)
}

fn judged(measured: Result<bool, StoreError>) -> ExitCode {
    match measured {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("{error}\n{}", error.help());
            ExitCode::FAILURE
        }
    }
}

/// Prints every figure; whether the promises are kept.
async fn measure(folder: &Path) -> Result<bool, StoreError> {
    fill(folder).await?;
    let (mut opening, mut stock) = (Vec::new(), Vec::new());
    let mut lots = 0;
    for _ in 0..RUNS {
        let start = now();
        let store = SqliteStore::open(folder).await?;
        opening.push(start.elapsed());
        let start = now();
        lots = store.open_lots().await?.len();
        stock.push(start.elapsed());
        store.close().await;
    }
    let opening = show("start", opening, "");
    let stock = show("stock", stock, &format!("{lots} lots in the house"));
    let store = SqliteStore::open(folder).await?;
    questions(&store).await?;
    care(&store, folder).await?;
    store.close().await;
    let verdict = |took: Duration, most: Duration| if took < most { "met" } else { "missed" };
    println!(
        "goal: start under {OPENING_MAX:?}: {}",
        verdict(opening, OPENING_MAX)
    );
    println!("goal: stock under {STOCK_MAX:?}: {}", verdict(stock, STOCK_MAX));
    Ok(opening < OPENING_MAX && stock < STOCK_MAX)
}

/// Prints the one in the middle.
fn show(what: &str, mut taken: Vec<Duration>, note: &str) -> Duration {
    taken.sort_unstable();
    let middle = taken[taken.len() / 2];
    let micros = middle.as_micros();
    println!(
        "{what:<34} {:>6}.{:03} ms  {note}",
        micros / 1_000,
        micros % 1_000
    );
    middle
}

async fn fill(folder: &Path) -> Result<(), StoreError> {
    let start = now();
    let store = SqliteStore::open(folder).await?;
    for (at, part) in (0..).zip(past(history(1, EVENTS)).chunks(1000)) {
        store.append(part, LATER_MS).await?;
        let cleared = clear_out(&store, at).await?;
        store.append(&cleared, LATER_MS).await?;
    }
    store.close().await;
    let size = std::fs::metadata(folder.join(FILE_NAME)).map_or(0, |file| file.len());
    show(
        "filling, a thousand at a time",
        vec![start.elapsed()],
        &format!("{} MB", size / 1_000_000),
    );
    Ok(())
}

/// The same history, over before the first week of the demonstration.
fn past(mut events: Vec<Event>) -> Vec<Event> {
    let last = events
        .iter()
        .map(|event| event.clock.wall_ms)
        .max()
        .unwrap_or(START_MS);
    let days = (last - START_MS) / 86_400_000 + 10;
    for event in &mut events {
        event.clock.wall_ms -= days * 86_400_000;
        event.moment.at = event.moment.at.saturating_sub(jiff::Span::new().days(days));
    }
    events
}

/// Made-up households never finish a box; after every thousand events all but the last hundred lots are thrown away,
/// four at a time.
async fn clear_out(store: &SqliteStore, at: i64) -> Result<Vec<Event>, StoreError> {
    let lots = store.open_lots().await?;
    let old: Vec<_> = lots.iter().rev().skip(100).collect();
    let thrown_away = (0..).zip(old.chunks(4)).map(|(part, lots)| {
        let mut cleared = event(&format!("clear-{at}-{part}"), 0);
        cleared.clock.wall_ms = START_MS - 5 * 86_400_000 + at;
        cleared.moment.at = cleared.moment.at.saturating_sub(jiff::Span::new().days(30));
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
    Ok(thrown_away.collect())
}

/// What is not promised, but asked every day.
async fn questions(store: &SqliteStore) -> Result<(), StoreError> {
    let bought = store.events_of(PRICES).await?;
    let to: Date = bought[bought.len() - 1].moment.at.date();
    let from = to.saturating_sub(jiff::Span::new().days(6));
    let two_years = to.saturating_sub(jiff::Span::new().years(2));
    for (what, kinds) in [
        ("the lessons of two years", LESSONS),
        ("the prices of two years", PRICES),
    ] {
        let (mut taken, mut found) = (Vec::new(), 0);
        for _ in 0..RUNS {
            let start = now();
            found = store.events_of_since(kinds, two_years).await?.len();
            taken.push(start.elapsed());
        }
        show(what, taken, &format!("{found} events"));
    }
    let (mut week, mut recent, mut lot) = (Vec::new(), Vec::new(), Vec::new());
    let (mut found, mut about) = (0, 0);
    let open = store.open_lots().await?;
    for _ in 0..RUNS {
        let start = now();
        found = store.events_between(from, to).await?.len();
        week.push(start.elapsed());
        let start = now();
        store.last_events(20).await?;
        recent.push(start.elapsed());
        let start = now();
        about = store
            .events_about(&Subject::Lot(open[0].lot.clone()))
            .await?
            .len();
        lot.push(start.elapsed());
    }
    show("the events of a week", week, &format!("{found} events"));
    show("the last twenty events", recent, "");
    show("the events about a lot", lot, &format!("{about} events"));
    for (what, kinds) in [("every lesson ever", LESSONS), ("every price ever", PRICES)] {
        let start = now();
        let found = store.events_of(kinds).await?.len();
        show(what, vec![start.elapsed()], &format!("{found} events"));
    }
    let mut appended = Vec::new();
    for event in history(2, 40) {
        let start = now();
        store.append(&[event], LATER_MS).await?;
        appended.push(start.elapsed());
    }
    show("one more event", appended, "");
    Ok(())
}

async fn care(store: &SqliteStore, folder: &Path) -> Result<(), StoreError> {
    let start = now();
    let defects = store.check().await?;
    show(
        "doctor",
        vec![start.elapsed()],
        &format!("{} notices", defects.len()),
    );
    let copy: PathBuf = folder.join("copy.db");
    let start = now();
    store.backup(&copy).await?;
    show("backup", vec![start.elapsed()], "");
    let start = now();
    export(store, &folder.join("export")).await?;
    show("export", vec![start.elapsed()], "");
    let start = now();
    SqliteStore::restore(&folder.join("elsewhere"), &copy, "bench").await?;
    show("restore, with its check", vec![start.elapsed()], "");
    Ok(())
}
