//! The port: what every adapter can do, and the values that go in and come out.

use std::collections::{BTreeMap, BTreeSet};
use std::future::Future;

use jiff::civil::{Date, DateTime};
use larderwright_ledger::{BatchState, LotState, Subject};
use larderwright_model::{BatchId, Clock, DeviceId, Event, FoodId, LotId, StockState};

use crate::error::StoreError;

/// An event as it is kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kept {
    /// Its number in the order of arrival, from one on, without gaps.
    pub seq: u64,
    /// The event; its clock is the one in force.
    pub event: Event,
    /// The clock it arrived with, when that lay too far ahead and was replaced.
    pub said: Option<Clock>,
    /// When it arrived, in milliseconds since 1970-01-01T00:00Z.
    pub received_ms: i64,
    /// Whether it counts: no correction that counts has taken its place, nor an earlier report of the same thing.
    pub counts: bool,
}

impl Kept {
    /// The event as the device sent it.
    #[must_use]
    pub fn as_sent(&self) -> Event {
        let clock = self.said.clone().unwrap_or_else(|| self.event.clock.clone());
        Event {
            clock,
            ..self.event.clone()
        }
    }
}

/// What became of an event that was appended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Appended {
    /// It is kept from now on.
    New,
    /// It was there already, as this device or another one reported it.
    Known,
    /// Another one with the same id was there already that says something else: a finding. Both are kept; the one
    /// with the earlier clock counts.
    KnownDiffers(Box<Event>),
}

/// What an append did. Whoever holds it may rely on the events being kept.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Receipt {
    /// What became of each event, in the order they were given.
    pub appended: Vec<Appended>,
    /// The lots whose state may have changed.
    pub lots: BTreeSet<LotId>,
}

/// A plan without its texts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanHead {
    /// Hash of the plan, as it stands in its text.
    pub hash: String,
    /// Hash of the plan it replaces, if any.
    pub parent: Option<String>,
    /// Hash of the snapshot it was made from.
    pub snapshot_hash: String,
    /// Monday of the week.
    pub monday: Date,
    /// When it was made, as local time.
    pub made_at: DateTime,
}

/// A plan with its texts, which the store does not read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanRow {
    /// What it is called.
    pub head: PlanHead,
    /// The text of the plan.
    pub plan_json: String,
    /// The text of the snapshot it was made from.
    pub snapshot_json: String,
}

/// What became of a choice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Choice {
    /// The plan is the current one.
    Chosen,
    /// The plan was made from another one than the current one; nothing was changed.
    Overtaken {
        /// Hash of the current plan; `None` when there is none.
        current: Option<String>,
    },
}

/// A named text, such as the household's file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Document {
    /// Its name.
    pub name: String,
    /// From one on; every version is kept.
    pub version: u32,
    /// The text.
    pub text: String,
}

/// What became of a document that was put.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Put {
    /// It is kept under this version.
    Saved(u32),
    /// Somebody else was quicker: this is the version now; nothing was changed.
    Overtaken(u32),
}

/// How grave a defect is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Gravity {
    /// Something in the kitchen's books does not add up; nothing is wrong with the store.
    Notice,
    /// What is derived differs from what it is derived from; mending makes it anew.
    Derived,
    /// Something that was kept is damaged; only a backup helps.
    Damage,
}

/// Something that a check found.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Defect {
    /// How grave it is.
    pub gravity: Gravity,
    /// What it is about.
    pub subject: String,
    /// What is wrong.
    pub message: String,
}

/// A household's memory. Reading gives only what counts, in the order of the clocks, unless it says otherwise.
pub trait Store: Send + Sync {
    /// Keeps events, each once by its id, all of them or none. No fact is refused. `now_ms` is the store's own time in
    /// milliseconds since 1970; an event whose clock lies more than a day ahead of it gets a clock of the store's,
    /// and keeps its own beside.
    fn append(
        &self,
        events: &[Event],
        now_ms: i64,
    ) -> impl Future<Output = Result<Receipt, StoreError>> + Send;

    /// Keeps events as another store kept them: clocks and times of arrival stay. `seq` and `counts` are decided anew.
    fn adopt(&self, kept: &[Kept]) -> impl Future<Output = Result<Receipt, StoreError>> + Send;

    /// The events about something.
    fn events_about(&self, subject: &Subject) -> impl Future<Output = Result<Vec<Event>, StoreError>> + Send;

    /// The events of these local dates, both included.
    fn events_between(
        &self,
        from: Date,
        to: Date,
    ) -> impl Future<Output = Result<Vec<Event>, StoreError>> + Send;

    /// The events of these kinds, in the words of `records::event::KINDS`; another word is bad input.
    fn events_of(&self, kinds: &[&str]) -> impl Future<Output = Result<Vec<Event>, StoreError>> + Send;

    /// The same, of this local date and later.
    fn events_of_since(
        &self,
        kinds: &[&str],
        from: Date,
    ) -> impl Future<Output = Result<Vec<Event>, StoreError>> + Send;

    /// The last events by their clocks, the newest first, those that do not count too.
    fn last_events(&self, count: usize) -> impl Future<Output = Result<Vec<Kept>, StoreError>> + Send;

    /// How many events have ever arrived: the number of the last one.
    fn arrived(&self) -> impl Future<Output = Result<u64, StoreError>> + Send;

    /// Every event that arrived after the one numbered `after`, in the order of arrival, at most `limit`.
    fn all_events(
        &self,
        after: u64,
        limit: usize,
    ) -> impl Future<Output = Result<Vec<Kept>, StoreError>> + Send;

    /// The lots of which something is left, by id.
    fn open_lots(&self) -> impl Future<Output = Result<Vec<LotState>, StoreError>> + Send;

    /// A lot, used up or not.
    fn lot(&self, lot: &LotId) -> impl Future<Output = Result<Option<LotState>, StoreError>> + Send;

    /// A batch.
    fn batch(&self, batch: &BatchId) -> impl Future<Output = Result<Option<BatchState>, StoreError>> + Send;

    /// What the tick list says of foods without an amount; `None`: none left.
    fn ticks(&self) -> impl Future<Output = Result<BTreeMap<FoodId, Option<StockState>>, StoreError>> + Send;

    /// Keeps a plan under its hash; again is harmless. Texts that do not carry the hashes of the head are bad input.
    fn save_plan(&self, plan: &PlanRow) -> impl Future<Output = Result<(), StoreError>> + Send;

    /// A plan by its hash.
    fn plan(&self, hash: &str) -> impl Future<Output = Result<Option<PlanRow>, StoreError>> + Send;

    /// The plans of a week, in the order in which they were kept.
    fn plans(&self, monday: Date) -> impl Future<Output = Result<Vec<PlanHead>, StoreError>> + Send;

    /// The weeks of which there are plans.
    fn weeks(&self) -> impl Future<Output = Result<Vec<Date>, StoreError>> + Send;

    /// The current plan of a week.
    fn current(&self, monday: Date) -> impl Future<Output = Result<Option<PlanHead>, StoreError>> + Send;

    /// Makes a kept plan the current one of its week, if its parent is the current one (no parent: if there is none).
    /// A plan that is current already is chosen. A plan that is not kept, or of another week, is bad input.
    fn choose(&self, monday: Date, hash: &str) -> impl Future<Output = Result<Choice, StoreError>> + Send;

    /// Hashes of the plans that were current in a week, the last one last.
    fn choices(&self, monday: Date) -> impl Future<Output = Result<Vec<String>, StoreError>> + Send;

    /// Keeps a new version of a document, if `expected_version` is its last one; 0 when there is none yet.
    fn put_document(
        &self,
        name: &str,
        text: &str,
        expected_version: u32,
    ) -> impl Future<Output = Result<Put, StoreError>> + Send;

    /// The last version of a document.
    fn document(&self, name: &str) -> impl Future<Output = Result<Option<Document>, StoreError>> + Send;

    /// Every version of a document, the last one last.
    fn document_history(&self, name: &str) -> impl Future<Output = Result<Vec<Document>, StoreError>> + Send;

    /// The names of all documents.
    fn document_names(&self) -> impl Future<Output = Result<Vec<String>, StoreError>> + Send;

    /// Which device this store is: `fresh` the first time, and the same one ever after.
    fn device(&self, fresh: &DeviceId) -> impl Future<Output = Result<DeviceId, StoreError>> + Send;

    /// The next clock for an event of a device: later than any given out or kept before.
    fn next_clock(
        &self,
        device: &DeviceId,
        now_ms: i64,
    ) -> impl Future<Output = Result<Clock, StoreError>> + Send;

    /// Looks for everything that could be wrong, and changes nothing.
    fn check(&self) -> impl Future<Output = Result<Vec<Defect>, StoreError>> + Send;

    /// Makes anew whatever is only derived; returns what a check found wrong with it before.
    fn mend(&self) -> impl Future<Output = Result<Vec<Defect>, StoreError>> + Send;
}
