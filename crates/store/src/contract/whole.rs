//! Everything that a store answers, so that two stores can be compared, or one with itself before and after.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;
use larderwright_ledger::{BatchState, LotState, Subject, subjects};
use larderwright_model::{BatchId, EventId, FoodId, LotId, StockState};
use larderwright_records::event::KINDS;

use crate::error::StoreError;
use crate::port::{Document, Kept, PlanRow, Store};

/// What is kept, and the stock that is folded from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Keeping {
    /// Every event, in the order of arrival.
    pub events: Vec<Kept>,
    open: Vec<LotState>,
    ticks: BTreeMap<FoodId, Option<StockState>>,
    plans: Vec<PlanRow>,
    choices: Vec<(Date, String)>,
    documents: Vec<Document>,
}

/// What a store keeps, and its stock.
///
/// # Errors
/// When the store does not answer.
pub async fn keeping_of<S: Store>(store: &S) -> Result<Keeping, StoreError> {
    let mut keeping = Keeping {
        events: store.all_events(0, usize::MAX).await?,
        open: store.open_lots().await?,
        ticks: store.ticks().await?,
        plans: Vec::new(),
        choices: Vec::new(),
        documents: Vec::new(),
    };
    for monday in store.weeks().await? {
        for head in store.plans(monday).await? {
            keeping.plans.extend(store.plan(&head.hash).await?);
        }
        for hash in store.choices(monday).await? {
            keeping.choices.push((monday, hash));
        }
    }
    for name in store.document_names().await? {
        keeping.documents.extend(store.document_history(&name).await?);
    }
    Ok(keeping)
}

/// What is kept, and the answer to every single question that can be asked about it.
#[derive(Clone, Debug, PartialEq)]
pub struct Whole {
    /// What is kept, and the stock.
    pub keeping: Keeping,
    lots: BTreeMap<LotId, Option<LotState>>,
    batches: BTreeMap<BatchId, Option<BatchState>>,
    about: BTreeMap<Subject, Vec<EventId>>,
    days: BTreeMap<Date, Vec<EventId>>,
    kinds: BTreeMap<&'static str, Vec<EventId>>,
    last: Vec<u64>,
    current: BTreeMap<Date, Option<String>>,
    newest: Vec<Option<Document>>,
}

/// Asks a store everything.
///
/// # Errors
/// When the store does not answer.
pub async fn whole_of<S: Store>(store: &S) -> Result<Whole, StoreError> {
    let keeping = keeping_of(store).await?;
    let mut whole = Whole {
        lots: BTreeMap::new(),
        batches: BTreeMap::new(),
        about: BTreeMap::new(),
        days: BTreeMap::new(),
        kinds: BTreeMap::new(),
        last: Vec::new(),
        current: BTreeMap::new(),
        newest: Vec::new(),
        keeping,
    };
    ask_about_subjects(store, &mut whole).await?;
    let days = whole
        .keeping
        .events
        .iter()
        .map(|kept| kept.event.moment.at.date());
    for day in days.collect::<BTreeSet<_>>() {
        let events = store.events_between(day, day).await?;
        whole.days.insert(day, ids(&events));
    }
    for kind in KINDS {
        let events = store.events_of(&[kind]).await?;
        whole.kinds.insert(kind, ids(&events));
    }
    let last = store.last_events(usize::MAX).await?;
    whole.last = last.iter().map(|kept| kept.seq).collect();
    for monday in store.weeks().await? {
        let current = store.current(monday).await?;
        whole.current.insert(monday, current.map(|head| head.hash));
    }
    for name in store.document_names().await? {
        whole.newest.push(store.document(&name).await?);
    }
    Ok(whole)
}

async fn ask_about_subjects<S: Store>(store: &S, whole: &mut Whole) -> Result<(), StoreError> {
    let about = whole.keeping.events.iter().flat_map(|kept| subjects(&kept.event));
    for subject in about.collect::<BTreeSet<_>>() {
        let events = store.events_about(&subject).await?;
        match &subject {
            Subject::Lot(lot) => {
                let state = store.lot(lot).await?;
                whole.lots.insert(lot.clone(), state);
            }
            Subject::Batch(batch) => {
                let state = store.batch(batch).await?;
                whole.batches.insert(batch.clone(), state);
            }
            _ => {}
        }
        whole.about.insert(subject, ids(&events));
    }
    Ok(())
}

fn ids(events: &[larderwright_model::Event]) -> Vec<EventId> {
    events.iter().map(|event| event.id.clone()).collect()
}
