//! What holds for every history, however it arrives: random ones, in pieces of random size.

use larderwright_ledger::{Books, LotState};
use larderwright_model::Event;
use larderwright_quantity::Mass;
use larderwright_records::event::{lot_state_to_json, tick_word};
use larderwright_store::contract::history::{history, shuffled};
use larderwright_store::contract::sample::{MONDAY, books_of, plan};
use larderwright_store::contract::whole::whole_of;
use larderwright_store::exchange::{export, import};
use larderwright_store::rules::{counting, law_of_mass};
use larderwright_store::{Gravity, MemoryStore, Store};
use larderwright_store_sqlite::SqliteStore;
use proptest::prelude::*;

use crate::fresh::{Folder, make, run};
use crate::script::LATER_MS;

async fn told<S: Store>(store: &S, events: &[Event], piece: usize) {
    for part in events.chunks(piece) {
        store.append(part, LATER_MS).await.expect("events are kept");
    }
}

/// Every fold a store keeps, as bytes.
async fn folds<S: Store>(store: &S, books: &Books) -> Vec<String> {
    let mut bytes = Vec::new();
    for lot in books.lots.keys() {
        let state = store.lot(lot).await.expect("lots are read");
        bytes.push(state.map_or_else(String::new, |state| lot_state_to_json(&state)));
    }
    for (food, state) in store.ticks().await.expect("ticks are read") {
        bytes.push(format!("{food} {}", tick_word(state)));
    }
    bytes
}

/// The same of the ledger's own books, which know no store.
fn folds_of(books: &Books) -> Vec<String> {
    let lots = books.lots.values().map(lot_state_to_json);
    let ticks = books
        .ticks
        .iter()
        .map(|(food, state)| format!("{food} {}", tick_word(*state)));
    lots.chain(ticks).collect()
}

async fn with_everything(seed: u64, events: usize) -> SqliteStore {
    let store = make().await;
    told(&store, &history(seed, events), 17).await;
    let mut before = None;
    for name in ["a", "b", "c"] {
        let next = plan(&format!("{name} {seed}"), before.as_ref());
        store.save_plan(&next).await.expect("the plan is kept");
        if !seed.is_multiple_of(3) {
            store
                .choose(MONDAY, &next.head.hash)
                .await
                .expect("the plan is kept");
        }
        let put = store
            .put_document(name, &"text\n".repeat(seed as usize % 50), 0)
            .await;
        put.expect("the document is kept");
        before = Some(next);
    }
    store
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(12) })]

    /// What came into the house is in the house, eaten, thrown away, given away, cooked away, or was never there.
    #[test]
    fn mass_in_is_mass_out(seed in 0_u64..1 << 40, events in 1_usize..220, piece in 1_usize..40) {
        run(async {
            let store = make().await;
            told(&store, &history(seed, events), piece).await;
            let books = books_of(&store).await;
            prop_assert_eq!(law_of_mass(&books), []);
            let lots = books.lots.values();
            let everywhere: Mass = lots.map(|lot| lot.mass() + lot.outside.values().map(|held| held.mass).sum::<Mass>()).sum();
            let overdrawn: Mass = books.lots.values().map(|lot| lot.overdrawn).sum();
            prop_assert_eq!(everywhere, overdrawn);
            let open = store.open_lots().await.expect("lots are read");
            prop_assert_eq!(open.iter().map(LotState::mass).sum::<Mass>(), books.in_house());
            let defects = store.check().await.expect("it can be checked");
            prop_assert!(defects.iter().all(|defect| defect.gravity == Gravity::Notice), "{:?}", defects);
            Ok(())
        })?;
    }

    /// Several devices send what they have in any order, some of it twice: byte for byte the same folds, in both stores
    /// and in the ledger's books.
    #[test]
    fn any_order_and_repetition_gives_one_state(seed in 0_u64..1 << 40, order in any::<u64>(), piece in 1_usize..40) {
        run(async {
            let events = history(seed, 120);
            let memory = MemoryStore::new();
            told(&memory, &events, 120).await;
            let kept = memory.all_events(0, usize::MAX).await.expect("events are read");
            let books = Books::of(counting(&kept).into_iter().map(|kept| &kept.event));
            let expected = folds_of(&books);
            let store = make().await;
            told(&store, &shuffled(order, &events), piece).await;
            told(&store, &shuffled(!order, &events), piece).await;
            prop_assert_eq!(&folds(&store, &books).await, &expected);
            let other = MemoryStore::new();
            told(&other, &shuffled(order ^ 1, &events), piece).await;
            prop_assert_eq!(&folds(&other, &books).await, &expected);
            Ok(())
        })?;
    }

    #[test]
    fn an_export_that_is_read_in_loses_nothing(seed in 0_u64..1 << 40, events in 0_usize..90) {
        run(async {
            let store = with_everything(seed, events).await;
            let place = Folder::new();
            let manifest = export(&store, &place.path().join("texts")).await.expect("the export is written");
            let other = make().await;
            let read = import(&other, &place.path().join("texts")).await.expect("the export is read");
            prop_assert_eq!(read, manifest);
            let expected = whole_of(&store).await.expect("it answers");
            prop_assert_eq!(&whole_of(&other).await.expect("it answers"), &expected);
            Ok(())
        })?;
    }

    #[test]
    fn a_backup_that_is_restored_loses_nothing(seed in 0_u64..1 << 40, events in 0_usize..90) {
        run(async {
            let store = with_everything(seed, events).await;
            let place = Folder::new();
            let copy = place.path().join("copy.db");
            store.backup(&copy).await.expect("the backup is written");
            let expected = whole_of(&store).await.expect("it answers");
            // Into an empty folder, and into the place of another household.
            let home = place.path().join("home");
            for taken in [false, true] {
                if taken {
                    let other = SqliteStore::open(&home).await.expect("it opens");
                    told(&other, &history(seed + 1, 9), 9).await;
                    other.close().await;
                }
                let restored = SqliteStore::restore(&home, &copy, "test").await.expect("it is restored");
                prop_assert_eq!(restored.replaced.is_some(), taken);
                let back = SqliteStore::open(&home).await.expect("it opens");
                prop_assert_eq!(&whole_of(&back).await.expect("it answers"), &expected);
                back.close().await;
            }
            Ok(())
        })?;
    }
}
