//! Cases: stock, batches and ticks are what the events add up to, over histories made up from seeds.

use larderwright_ledger::{LotState, Oddity};
use larderwright_model::{Account, BatchId, Event, Fact, FoodId, LotId, Place, StockState};
use larderwright_quantity::Mass;

use super::history::{START_MS, history, shuffled};
use super::sample::{NOW_MS, books_of, bought, eaten, event, moved, state_of};
use crate::memory::MemoryStore;
use crate::port::{Gravity, Store};

const SEEDS: std::ops::Range<u64> = 0..4;
const EVENTS: usize = 150;

/// A store's time that is not a day before any made-up event.
const LATER_MS: i64 = START_MS + 400 * 86_400_000;

/// After every few events a store says what the one in memory says, which folds everything anew.
pub async fn every_fold_is_that_of_the_events<S: Store>(make: &impl AsyncFn() -> S) {
    for seed in SEEDS {
        let (store, memory) = (make().await, MemoryStore::new());
        let events = history(seed, EVENTS);
        for part in events.chunks(EVENTS / 5) {
            let told = store.append(part, LATER_MS).await.expect("events are kept");
            let expected = memory.append(part, LATER_MS).await.expect("events are kept");
            assert_eq!(told, expected, "seed {seed}");
            let state = state_of(&store, &events).await;
            assert_eq!(state, state_of(&memory, &events).await, "seed {seed}");
        }
    }
}

/// Several devices send what they have, in any order, some of it twice.
pub async fn any_order_and_repetition_gives_one_state<S: Store>(make: &impl AsyncFn() -> S) {
    for seed in SEEDS {
        let events = history(100 + seed, EVENTS);
        let memory = MemoryStore::new();
        memory.append(&events, LATER_MS).await.expect("events are kept");
        let expected = state_of(&memory, &events).await;
        for order in 0..2 {
            let store = make().await;
            for part in shuffled(seed * 7 + order, &events).chunks(31) {
                store.append(part, LATER_MS).await.expect("events are kept");
            }
            assert_eq!(
                state_of(&store, &events).await,
                expected,
                "seed {seed}, order {order}"
            );
        }
    }
}

/// Over everything that ever happened: what is in the house, and what went to every other account, and what was taken
/// though it was not there, are nothing together; to the milligram.
pub async fn mass_in_is_mass_out<S: Store>(make: &impl AsyncFn() -> S) {
    for seed in SEEDS {
        let store = make().await;
        let events = history(200 + seed, EVENTS);
        store.append(&events, LATER_MS).await.expect("events are kept");
        let open = store.open_lots().await.expect("lots are read");
        let in_house: Mass = open.iter().map(LotState::mass).sum();
        let books = books_of(&store).await;
        assert_eq!(in_house, books.in_house(), "seed {seed}");
        let outside: Mass = books
            .lots
            .values()
            .flat_map(|lot| lot.outside.values())
            .map(|held| held.mass)
            .sum();
        let overdrawn: Mass = books.lots.values().map(|lot| lot.overdrawn).sum();
        assert_eq!(in_house + outside, overdrawn, "seed {seed}");
        assert!(outside < Mass::ZERO, "seed {seed}: nothing came into the house");
        for batch in books.batches.values() {
            let kept = store.batch(&batch.batch).await.expect("batches are read");
            let from_lots = books.balance(&Account::Batch(batch.batch.clone())).mass;
            assert_eq!(
                kept.map(|kept| kept.in_pot.mass),
                Some(from_lots),
                "{}",
                batch.batch
            );
        }
    }
}

/// A fact is never refused; it becomes a notice.
pub async fn an_overdrawn_lot_is_kept_and_reported<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let events = [bought("a", 0, ("beans", 500)), eaten("b", 1, ("beans", 700))];
    store
        .append(&events, NOW_MS)
        .await
        .expect("facts are never refused");
    let lot = store.lot(&LotId::new("beans")).await.expect("lots are read");
    assert_eq!(
        lot.map(|lot| (lot.is_open(), lot.overdrawn)),
        Some((false, Mass::from_g(200)))
    );
    let defects = store.check().await.expect("the store can be checked");
    let overdrawn = Oddity::Overdrawn {
        lot: LotId::new("beans"),
        mass: Mass::from_g(200),
    };
    let found: Vec<_> = defects
        .iter()
        .map(|defect| (defect.gravity, defect.subject.as_str(), defect.message.clone()))
        .collect();
    assert_eq!(found, [(Gravity::Notice, "beans", overdrawn.message())]);
}

/// And what it cost.
pub async fn a_batch_says_what_is_in_the_pot<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let (fridge, pot) = (Account::Place(Place::Fridge), Account::Batch("stew".into()));
    let events = [
        bought("a", 0, ("beans", 500)),
        moved(event("b", 1), "beans", (fridge.clone(), pot.clone(), 400)),
        moved(event("c", 2), "stew/1", (pot.clone(), fridge, 300)),
    ];
    store.append(&events, NOW_MS).await.expect("events are kept");
    let batch = store
        .batch(&BatchId::new("stew"))
        .await
        .expect("batches are read");
    let batch = batch.expect("something went into the pot");
    assert_eq!((batch.in_pot.mass, batch.cost), (Mass::from_g(100), 1_200));
}

/// By the clocks, not by arrival; none left is not the same as never told.
pub async fn the_tick_list_says_what_was_told_last<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let ticked = |id: &str, after_ms: i64, food: &str, state: Option<StockState>| Event {
        fact: Fact::Ticked {
            food: FoodId::new(food),
            state,
        },
        ..event(id, after_ms)
    };
    let events = [
        ticked("c", 3, "salt", Some(StockState::Low)),
        ticked("a", 1, "salt", Some(StockState::Have)),
        ticked("b", 2, "cumin", None),
        ticked("d", 4, "rice", Some(StockState::Amount(Mass::from_g(7)))),
    ];
    store.append(&events, NOW_MS).await.expect("events are kept");
    let expected = [
        ("cumin".into(), None),
        ("rice".into(), Some(StockState::Amount(Mass::from_g(7)))),
        ("salt".into(), Some(StockState::Low)),
    ];
    assert_eq!(store.ticks().await.expect("ticks are read"), expected.into());
}
