//! What a household's program writes, made up from a seed: step by step the same for the writer, who may be killed or
//! run out of room, and for the one who knows what must be there afterwards.

use larderwright_model::{DeviceId, Event};
use larderwright_store::contract::history::{Random, START_MS, history};
use larderwright_store::contract::sample::{MONDAY, plan};
use larderwright_store::{Kept, PlanRow, Put, Store, StoreError};

/// A time that is not a day before any made-up event.
pub(crate) const LATER_MS: i64 = START_MS + 400 * 86_400_000;

/// One write.
#[derive(Clone, Debug)]
pub(crate) enum Write {
    Append(Vec<Event>),
    Adopt(Vec<Kept>),
    SavePlan(Box<PlanRow>),
    Choose(String),
    Document {
        name: String,
        text: String,
        is_late: bool,
    },
    Stamp(i64),
    Device(String),
    Backup,
    Export,
    /// From the newest backup there is.
    Restore,
    /// Counts one on in a document, however often another writer is quicker.
    Count,
}

/// The writes of one household.
pub(crate) struct Script {
    seed: u64,
    events: Vec<Event>,
    is_shared: bool,
}

/// The document in which [`Write::Count`] counts.
pub(crate) const COUNTER: &str = "counter";

impl Script {
    pub(crate) fn new(seed: u64, events: usize) -> Self {
        Self {
            seed,
            events: history(seed, events),
            is_shared: false,
        }
    }

    /// For one of several that write to one store at the same time.
    pub(crate) fn shared(seed: u64, events: usize) -> Self {
        Self {
            is_shared: true,
            ..Self::new(seed, events)
        }
    }

    /// What is done at a step. Batches overlap, so that much is sent twice.
    pub(crate) fn write(&self, step: u64) -> Write {
        let mut random = Random::new(self.seed.wrapping_mul(1_000_003) ^ (step + 1));
        if self.is_shared {
            return match random.below(10) {
                0..5 => Write::Append(self.batch(step, &mut random)),
                5..8 => Write::Count,
                _ => Write::Stamp(LATER_MS),
            };
        }
        match random.below(100) {
            0..50 => Write::Append(self.batch(step, &mut random)),
            50..56 => {
                let kept = self.batch(step, &mut random).into_iter().map(as_kept);
                Write::Adopt(kept.collect())
            }
            56..63 => Write::SavePlan(Box::new(nth_plan(random.below(step / 8 + 2)))),
            63..70 => Write::Choose(nth_plan(random.below(step / 8 + 2)).head.hash),
            70..79 => Write::Document {
                name: format!("document {}", random.below(3)),
                text: "long text, ".repeat(random.below(9_000) as usize),
                is_late: random.chance(10),
            },
            79..85 => Write::Stamp(LATER_MS + step as i64 * 1_000 - random.range(0, 3_600_000)),
            85..87 => Write::Device(format!("device-{step}")),
            87..92 => Write::Backup,
            92..97 => Write::Export,
            _ => Write::Restore,
        }
    }

    fn batch(&self, step: u64, random: &mut Random) -> Vec<Event> {
        let from = (step * 4) as usize % self.events.len();
        let to = from + random.range(1, 9) as usize;
        self.events[from..to.min(self.events.len())].to_vec()
    }
}

fn as_kept(event: Event) -> Kept {
    Kept {
        seq: 0,
        received_ms: LATER_MS - 77,
        said: None,
        counts: false,
        event,
    }
}

/// Each made from the one before.
fn nth_plan(at: u64) -> PlanRow {
    let named = |at: u64| format!("plan {at}");
    let before = at.checked_sub(1).map(|before| plan(&named(before), None));
    plan(&named(at), before.as_ref())
}

/// Does a write on any store and says what came of it; whole files are not its affair.
pub(crate) async fn apply<S: Store>(store: &S, write: &Write) -> Result<String, StoreError> {
    match write {
        Write::Append(events) => said(store.append(events, LATER_MS).await),
        Write::Adopt(kept) => said(store.adopt(kept).await),
        Write::SavePlan(plan) => said(store.save_plan(plan).await),
        // A plan that is not kept yet is bad input, which is an answer too.
        Write::Choose(hash) => match store.choose(MONDAY, hash).await {
            Err(error) if matches!(error.fault, larderwright_store::Fault::BadInput(_)) => {
                Ok(error.to_string())
            }
            chosen => said(chosen),
        },
        Write::Document { name, text, is_late } => {
            let last = store.document(name).await?.map_or(0, |document| document.version);
            let expected = if *is_late { last.saturating_sub(1) } else { last };
            said(store.put_document(name, text, expected).await)
        }
        Write::Stamp(now_ms) => said(store.next_clock(&DeviceId::new("server"), *now_ms).await),
        Write::Device(fresh) => said(store.device(&DeviceId::new(fresh)).await),
        Write::Count => count_on(store).await,
        Write::Backup | Write::Export | Write::Restore => Ok(String::new()),
    }
}

async fn count_on<S: Store>(store: &S) -> Result<String, StoreError> {
    loop {
        let last = store.document(COUNTER).await?;
        let (version, count) = last.map_or((0, 0), |document| (document.version, document.text.len()));
        let put = store
            .put_document(COUNTER, &"|".repeat(count + 1), version)
            .await?;
        if matches!(put, Put::Saved(_)) {
            return Ok(String::new());
        }
    }
}

fn said<T: std::fmt::Debug>(answer: Result<T, StoreError>) -> Result<String, StoreError> {
    answer.map(|answer| format!("{answer:?}"))
}
