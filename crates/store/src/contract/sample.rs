//! Small events, plans and helpers for the cases.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::{Date, date};
use larderwright_ledger::{Books, LotState, Subject};
use larderwright_model::{
    Account, BatchId, Clock, DeviceId, Event, EventId, Fact, FoodId, Goods, LotCard, LotId, Moment, Move,
    Place,
};
use larderwright_quantity::Mass;
use larderwright_records::{RecordError, written_hash};

use crate::port::{PlanHead, PlanRow, Store};

/// The store's time in the cases.
pub const NOW_MS: i64 = 1_796_200_000_000;

/// The Monday of the cases.
pub const MONDAY: Date = date(2026, 11, 30);

/// An event without masses, stamped so many milliseconds before or after [`NOW_MS`].
#[must_use]
pub fn event(id: &str, after_ms: i64) -> Event {
    Event {
        id: EventId::new(id),
        clock: Clock {
            wall_ms: NOW_MS + after_ms,
            count: 0,
            device: DeviceId::new("phone"),
        },
        moment: Moment {
            at: date(2026, 12, 1).at(18, 30, 0, 0),
            offset_s: 3600,
            zone: "Europe/Berlin".into(),
        },
        by: "Ada".into(),
        plan: None,
        corrects: None,
        cards: Vec::new(),
        moves: Vec::new(),
        fact: Fact::Counted,
    }
}

/// The same event in the place of another one.
#[must_use]
pub fn correcting(event: Event, corrected: &str) -> Event {
    Event {
        corrects: Some(EventId::new(corrected)),
        ..event
    }
}

/// So many grams of a lot go from one account to another.
#[must_use]
pub fn moved(event: Event, lot: &str, (from, to, grams): (Account, Account, i64)) -> Event {
    let step = Move {
        lot: LotId::new(lot),
        from,
        to,
        mass: Mass::from_g(grams),
        worth: grams * 3,
    };
    let mut moves = event.moves;
    moves.push(step);
    Event { moves, ..event }
}

/// A lot comes from the shop into the fridge.
#[must_use]
pub fn bought(id: &str, after_ms: i64, (lot, grams): (&str, i64)) -> Event {
    let base = event(id, after_ms);
    let card = LotCard {
        lot: LotId::new(lot),
        goods: Goods::Food(FoodId::new("chickpea-dry")),
        made: base.moment.at,
        keep: None,
        printed: None,
        pack: "500 g".into(),
        boxes: Vec::new(),
    };
    let labelled = Event {
        cards: vec![card],
        ..base
    };
    moved(
        labelled,
        lot,
        (Account::Shop, Account::Place(Place::Fridge), grams),
    )
}

/// Some of a lot in the fridge is eaten.
#[must_use]
pub fn eaten(id: &str, after_ms: i64, (lot, grams): (&str, i64)) -> Event {
    let step = (Account::Place(Place::Fridge), Account::Eaten, grams);
    moved(event(id, after_ms), lot, step)
}

/// A plan with texts that carry their hashes.
#[must_use]
pub fn plan(name: &str, parent: Option<&PlanRow>) -> PlanRow {
    let (hash, plan_json) = hashed(name);
    let (snapshot_hash, snapshot_json) = hashed("snapshot");
    PlanRow {
        head: PlanHead {
            hash,
            parent: parent.map(|plan| plan.head.hash.clone()),
            snapshot_hash,
            monday: MONDAY,
            made_at: date(2026, 11, 25).at(20, 0, 0, 0),
        },
        plan_json,
        snapshot_json,
    }
}

/// A text with its hash in it, as records have it.
fn hashed(what: &str) -> (String, String) {
    let open = format!("{{\n  \"v\": 1,\n  \"hash\": \"\",\n  \"made_up\": \"{what}\"\n}}\n");
    let Err(RecordError::Hash { computed, .. }) = written_hash(&open) else {
        unreachable!("an empty hash is never right");
    };
    let text = open.replacen("\"hash\": \"\"", &format!("\"hash\": \"{computed}\""), 1);
    (computed, text)
}

/// Everything a store answers about its folds.
#[derive(Debug, PartialEq)]
pub struct State {
    open: Vec<LotState>,
    lots: BTreeMap<LotId, Option<LotState>>,
    batches: BTreeMap<BatchId, Option<larderwright_ledger::BatchState>>,
    ticks: BTreeMap<FoodId, Option<larderwright_model::StockState>>,
    counting: BTreeSet<String>,
}

/// Keeps two plans, the second made from the first, and goes by each in turn.
///
/// # Panics
/// When the store refuses.
pub async fn go_by_two_plans<S: Store>(store: &S) {
    let first = plan("first", None);
    let second = plan("second", Some(&first));
    for plan in [&first, &second] {
        store.save_plan(plan).await.expect("the plan is kept");
        let hash = &plan.head.hash;
        store.choose(MONDAY, hash).await.expect("the plan is kept");
    }
}

/// Keeps these texts as the versions of a document.
///
/// # Panics
/// When the store refuses.
pub async fn keep_versions<S: Store>(store: &S, name: &str, texts: &[&str]) {
    for (version, text) in (0..).zip(texts) {
        let put = store.put_document(name, text, version).await;
        put.expect("the document is kept");
    }
}

/// What a store says of everything that these events are about.
///
/// # Panics
/// When the store does not answer.
pub async fn state_of<S: Store>(store: &S, events: &[Event]) -> State {
    let mut state = State {
        open: store.open_lots().await.expect("the store answers"),
        lots: BTreeMap::new(),
        batches: BTreeMap::new(),
        ticks: store.ticks().await.expect("the store answers"),
        counting: BTreeSet::new(),
    };
    for subject in events
        .iter()
        .flat_map(larderwright_ledger::subjects)
        .collect::<BTreeSet<_>>()
    {
        match subject {
            Subject::Lot(lot) => {
                let answer = store.lot(&lot).await.expect("the store answers");
                state.lots.insert(lot, answer);
            }
            Subject::Batch(batch) => {
                let answer = store.batch(&batch).await.expect("the store answers");
                state.batches.insert(batch, answer);
            }
            _ => {}
        }
    }
    let kept = store.last_events(usize::MAX).await.expect("the store answers");
    let counting = kept.into_iter().filter(|kept| kept.counts);
    state.counting = counting
        .map(|kept| format!("{} {:?}", kept.event.id, kept.event.clock))
        .collect();
    state
}

/// Everything that counts in a store, folded by the ledger.
///
/// # Panics
/// When the store does not answer.
pub async fn books_of<S: Store>(store: &S) -> Books {
    let kept = store.all_events(0, usize::MAX).await.expect("the store answers");
    let counting: Vec<Event> = kept
        .into_iter()
        .filter(|kept| kept.counts)
        .map(|kept| kept.event)
        .collect();
    Books::of(&counting)
}

/// The ids of events, in their order.
#[must_use]
pub fn ids(events: &[Event]) -> Vec<&str> {
    events.iter().map(|event| event.id.as_str()).collect()
}
