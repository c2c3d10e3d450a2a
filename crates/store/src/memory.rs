//! A store without a database: keeps everything in memory and folds it anew on every question. Slow and plain, so
//! that other adapters can be compared with it; also for tests that need no file.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Mutex, MutexGuard};

use jiff::civil::Date;
use larderwright_ledger::{BatchState, Books, LotState, Subject, lots_of, subjects};
use larderwright_model::{BatchId, Clock, DeviceId, Event, FoodId, LotId, StockState};
use larderwright_records::event::kind_word;

use crate::clock::Hybrid;
use crate::error::StoreError;
use crate::port::{Appended, Choice, Defect, Document, Kept, PlanHead, PlanRow, Put, Receipt, Store};
use crate::rules::{
    arrived, check_kinds, check_plan, counting, known_plan, law_of_mass, meeting, oddities, stamped_twice,
};

/// A store without a database.
#[derive(Debug, Default)]
pub struct MemoryStore(Mutex<Memory>);

#[derive(Debug, Default)]
struct Memory {
    events: Vec<Kept>,
    seen: Hybrid,
    device: Option<DeviceId>,
    plans: Vec<PlanRow>,
    choices: BTreeMap<Date, Vec<String>>,
    documents: BTreeMap<String, Vec<Document>>,
}

impl MemoryStore {
    /// An empty store.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    fn memory(&self) -> MutexGuard<'_, Memory> {
        self.0
            .lock()
            .expect("nobody panics while holding the memory's lock")
    }
}

impl Memory {
    fn counting(&self) -> Vec<&Kept> {
        counting(&self.events)
    }

    fn books(&self) -> Books {
        Books::of(self.counting().into_iter().map(|kept| &kept.event))
    }

    fn find(&self, wanted: impl Fn(&Event) -> bool) -> Vec<Event> {
        let events = self.counting().into_iter().map(|kept| &kept.event);
        events.filter(|event| wanted(event)).cloned().collect()
    }

    fn counting_seqs(&self) -> BTreeSet<u64> {
        self.counting().into_iter().map(|kept| kept.seq).collect()
    }

    /// With what counts at this moment.
    fn kept(&self) -> Vec<Kept> {
        let counting = self.counting_seqs();
        let marked = self.events.iter().map(|kept| Kept {
            counts: counting.contains(&kept.seq),
            ..kept.clone()
        });
        marked.collect()
    }

    fn take(&mut self, arrived: Kept) -> Appended {
        let id = &arrived.event.id;
        let twins: Vec<Kept> = self
            .events
            .iter()
            .filter(|kept| kept.event.id == *id)
            .cloned()
            .collect();
        let (appended, is_kept) = meeting(&arrived.as_sent(), &twins);
        if is_kept {
            self.seen = self.seen.max(Hybrid::of(&arrived.event.clock));
            let seq = self.events.len() as u64 + 1;
            self.events.push(Kept { seq, ..arrived });
        }
        appended
    }

    fn receive(&mut self, event: &Event, now_ms: i64) -> Appended {
        let arrived = arrived(self.seen, event, now_ms);
        self.take(arrived)
    }

    /// The lots that may have changed since: those of events that count now and did not, or the other way round.
    fn receipt(&self, before: &BTreeSet<u64>, appended: Vec<Appended>) -> Receipt {
        let after = self.counting_seqs();
        let turned: BTreeSet<&u64> = before.symmetric_difference(&after).collect();
        let events = self.events.iter().filter(|kept| turned.contains(&kept.seq));
        let lots = lots_of(events.map(|kept| &kept.event));
        Receipt { appended, lots }
    }

    fn current(&self, monday: Date) -> Option<&String> {
        self.choices.get(&monday).and_then(|chosen| chosen.last())
    }

    fn plan(&self, hash: &str) -> Option<&PlanRow> {
        self.plans.iter().find(|plan| plan.head.hash == hash)
    }
}

impl Store for MemoryStore {
    async fn append(&self, events: &[Event], now_ms: i64) -> Result<Receipt, StoreError> {
        let mut memory = self.memory();
        let before = memory.counting_seqs();
        let appended = events.iter().map(|event| memory.receive(event, now_ms)).collect();
        Ok(memory.receipt(&before, appended))
    }

    async fn adopt(&self, kept: &[Kept]) -> Result<Receipt, StoreError> {
        let mut memory = self.memory();
        let before = memory.counting_seqs();
        let appended = kept.iter().map(|kept| memory.take(kept.clone())).collect();
        Ok(memory.receipt(&before, appended))
    }

    async fn events_about(&self, subject: &Subject) -> Result<Vec<Event>, StoreError> {
        Ok(self.memory().find(|event| subjects(event).contains(subject)))
    }

    async fn events_between(&self, from: Date, to: Date) -> Result<Vec<Event>, StoreError> {
        Ok(self
            .memory()
            .find(|event| (from..=to).contains(&event.moment.at.date())))
    }

    async fn events_of(&self, kinds: &[&str]) -> Result<Vec<Event>, StoreError> {
        check_kinds(kinds)?;
        Ok(self
            .memory()
            .find(|event| kinds.contains(&kind_word(&event.fact))))
    }

    async fn events_of_since(&self, kinds: &[&str], from: Date) -> Result<Vec<Event>, StoreError> {
        check_kinds(kinds)?;
        let is_wanted =
            |event: &Event| kinds.contains(&kind_word(&event.fact)) && event.moment.at.date() >= from;
        Ok(self.memory().find(is_wanted))
    }

    async fn last_events(&self, count: usize) -> Result<Vec<Kept>, StoreError> {
        let mut kept = self.memory().kept();
        kept.sort_by(|a, b| (&b.event.clock, &b.event.id).cmp(&(&a.event.clock, &a.event.id)));
        kept.truncate(count);
        Ok(kept)
    }

    async fn arrived(&self) -> Result<u64, StoreError> {
        Ok(self.memory().kept().last().map_or(0, |kept| kept.seq))
    }

    async fn all_events(&self, after: u64, limit: usize) -> Result<Vec<Kept>, StoreError> {
        let kept = self.memory().kept();
        Ok(kept
            .into_iter()
            .filter(|kept| kept.seq > after)
            .take(limit)
            .collect())
    }

    async fn open_lots(&self) -> Result<Vec<LotState>, StoreError> {
        let lots = self.memory().books().lots;
        Ok(lots.into_values().filter(LotState::is_open).collect())
    }

    async fn lot(&self, lot: &LotId) -> Result<Option<LotState>, StoreError> {
        Ok(self.memory().books().lots.remove(lot))
    }

    async fn batch(&self, batch: &BatchId) -> Result<Option<BatchState>, StoreError> {
        Ok(self.memory().books().batches.remove(batch))
    }

    async fn ticks(&self) -> Result<BTreeMap<FoodId, Option<StockState>>, StoreError> {
        Ok(self.memory().books().ticks)
    }

    async fn save_plan(&self, plan: &PlanRow) -> Result<(), StoreError> {
        check_plan(plan)?;
        let mut memory = self.memory();
        if memory.plan(&plan.head.hash).is_none() {
            memory.plans.push(plan.clone());
        }
        Ok(())
    }

    async fn plan(&self, hash: &str) -> Result<Option<PlanRow>, StoreError> {
        Ok(self.memory().plan(hash).cloned())
    }

    async fn plans(&self, monday: Date) -> Result<Vec<PlanHead>, StoreError> {
        let memory = self.memory();
        let plans = memory.plans.iter().filter(|plan| plan.head.monday == monday);
        Ok(plans.map(|plan| plan.head.clone()).collect())
    }

    async fn weeks(&self) -> Result<Vec<Date>, StoreError> {
        let memory = self.memory();
        let weeks: BTreeSet<Date> = memory.plans.iter().map(|plan| plan.head.monday).collect();
        Ok(weeks.into_iter().collect())
    }

    async fn current(&self, monday: Date) -> Result<Option<PlanHead>, StoreError> {
        let memory = self.memory();
        let plan = memory.current(monday).and_then(|hash| memory.plan(hash));
        Ok(plan.map(|plan| plan.head.clone()))
    }

    async fn choose(&self, monday: Date, hash: &str) -> Result<Choice, StoreError> {
        let mut memory = self.memory();
        let head = memory.plan(hash).map(|plan| plan.head.clone());
        let head = known_plan(head, monday, hash)?;
        let current = memory.current(monday).cloned();
        if current.as_ref() == Some(&head.hash) {
            return Ok(Choice::Chosen);
        }
        if current != head.parent {
            return Ok(Choice::Overtaken { current });
        }
        memory.choices.entry(monday).or_default().push(head.hash);
        Ok(Choice::Chosen)
    }

    async fn choices(&self, monday: Date) -> Result<Vec<String>, StoreError> {
        Ok(self.memory().choices.get(&monday).cloned().unwrap_or_default())
    }

    async fn put_document(&self, name: &str, text: &str, expected_version: u32) -> Result<Put, StoreError> {
        let mut memory = self.memory();
        let history = memory.documents.entry(name.to_owned()).or_default();
        let last = history.last().map_or(0, |document| document.version);
        if last != expected_version {
            return Ok(Put::Overtaken(last));
        }
        history.push(Document {
            name: name.to_owned(),
            version: last + 1,
            text: text.to_owned(),
        });
        Ok(Put::Saved(last + 1))
    }

    async fn document(&self, name: &str) -> Result<Option<Document>, StoreError> {
        let memory = self.memory();
        Ok(memory
            .documents
            .get(name)
            .and_then(|history| history.last().cloned()))
    }

    async fn document_history(&self, name: &str) -> Result<Vec<Document>, StoreError> {
        Ok(self.memory().documents.get(name).cloned().unwrap_or_default())
    }

    async fn document_names(&self) -> Result<Vec<String>, StoreError> {
        let memory = self.memory();
        let known = memory.documents.iter().filter(|(_, history)| !history.is_empty());
        Ok(known.map(|(name, _)| name.clone()).collect())
    }

    async fn device(&self, fresh: &DeviceId) -> Result<DeviceId, StoreError> {
        Ok(self.memory().device.get_or_insert_with(|| fresh.clone()).clone())
    }

    async fn next_clock(&self, device: &DeviceId, now_ms: i64) -> Result<Clock, StoreError> {
        let mut memory = self.memory();
        memory.seen = memory.seen.next(now_ms);
        Ok(memory.seen.stamp(device))
    }

    async fn check(&self) -> Result<Vec<Defect>, StoreError> {
        let memory = self.memory();
        let books = memory.books();
        let mut defects = stamped_twice(&memory.events);
        defects.extend(law_of_mass(&books));
        defects.extend(oddities(&books));
        Ok(defects)
    }

    async fn mend(&self) -> Result<Vec<Defect>, StoreError> {
        Ok(Vec::new())
    }
}
