//! Presumption: nobody logs. What a plan meant to happen and nobody spoke of is presumed to have happened as planned,
//! marked as presumed, and gives way to any later word. Presuming twice is presuming once.

use jiff::Span;
use jiff::civil::DateTime;
use larderwright_ledger::Stock;
use larderwright_model::{BatchId, Clock, DeviceId, Event, EventId, Fact, Moment, Reported};
use larderwright_store::Store;

use super::kitchen::{Cooking, Portioned, boxed};
use super::reality::weeks_around;
use super::{Home, HomeError, Now, Week, stamped};

/// Hours after a sitting in which somebody may still report it.
const SITTING_HOURS: i64 = 4;
/// Hours after a session's end in which somebody may still report it.
const SESSION_HOURS: i64 = 3;
/// Hours after a trip in which somebody may still report it.
const TRIP_HOURS: i64 = 3;

/// What was presumed just now.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Settled {
    /// Lines of orders.
    pub bought: usize,
    /// Batches.
    pub cooked: usize,
    /// Sittings.
    pub served: usize,
}

/// Whether an event was presumed, not reported.
#[must_use]
pub(crate) fn is_presumed(event: &Event) -> bool {
    match &event.fact {
        Fact::Bought { reported, .. } => *reported == Reported::Presumed,
        Fact::Cooked(fact) => fact.reported == Reported::Presumed,
        Fact::Served(fact) => fact.reported == Reported::Presumed,
        Fact::Stored { batch } => event.id == stored_id(batch),
        _ => false,
    }
}

/// The event that presumes a batch to have been cooked as planned.
pub(crate) fn cooked_id(batch: &BatchId) -> EventId {
    EventId::new(&format!("presumed-cooked:{batch}"))
}

/// The event that presumes a batch to have been stored as planned.
pub(crate) fn stored_id(batch: &BatchId) -> EventId {
    EventId::new(&format!("presumed-stored:{batch}"))
}

/// The event that presumes a line of an order to have been bought.
pub(crate) fn bought_presumed_id(told: &EventId) -> EventId {
    EventId::new(&format!("presumed-{told}"))
}

/// Later by so many hours.
fn after(at: DateTime, hours: i64) -> DateTime {
    at.saturating_add(Span::new().hours(hours))
}

impl<S: Store> Home<S> {
    /// Writes down what is presumed to have happened by now, in the order in which it was planned: shopping, cooking,
    /// eating. Cheap when nothing is due.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn settle(&self, now: &Now) -> Result<Settled, HomeError> {
        let mut settled = Settled::default();
        for monday in weeks_around(now.minute().date()) {
            let lineage = self.lineage(monday).await?;
            if !lineage.is_empty() {
                self.settle_week(&lineage, now, &mut settled).await?;
            }
        }
        Ok(settled)
    }

    async fn settle_week(&self, lineage: &[Week], now: &Now, settled: &mut Settled) -> Result<(), HomeError> {
        let at = now.minute();
        // Times at which each plan was in force: from its making until the next one was made.
        for (ix, week) in lineage.iter().enumerate() {
            let until = lineage
                .get(ix + 1)
                .map_or(DateTime::MAX, |next| next.head.made_at);
            let due = |planned: DateTime, hours: i64| after(planned, hours) <= at && planned <= until;
            for shop in week.snapshot.shops.iter().filter(|shop| due(shop.at, TRIP_HOURS)) {
                settled.bought += self.presume_bought(week, shop, now).await?;
            }
            for session in week
                .snapshot
                .sessions
                .iter()
                .filter(|session| due(session.to, SESSION_HOURS))
            {
                settled.cooked += self.presume_cooked(week, session, now).await?;
            }
            for sitting in week
                .snapshot
                .sittings
                .iter()
                .filter(|sitting| due(sitting.at, SITTING_HOURS))
            {
                settled.served += self.presume_served(week, sitting, now).await?;
            }
        }
        Ok(())
    }

    /// A trip of which nobody said a word brought home what was ordered; where somebody ticked a line, the rest was
    /// not bought.
    async fn presume_bought(
        &self,
        week: &Week,
        shop: &larderwright_model::Shop,
        now: &Now,
    ) -> Result<usize, HomeError> {
        let subject = larderwright_ledger::Subject::Trip(shop.id.clone());
        if !self.store.events_about(&subject).await?.is_empty() {
            return Ok(0);
        }
        let deeds = self
            .order_deeds(week, Some(&shop.id), (shop.at, Reported::Presumed))
            .await?;
        let count = deeds.len();
        self.presume(deeds, shop.at, now).await?;
        Ok(count)
    }

    async fn presume_cooked(
        &self,
        week: &Week,
        session: &larderwright_model::Session,
        now: &Now,
    ) -> Result<usize, HomeError> {
        let mut count = 0;
        for batch in week
            .plan
            .batches
            .iter()
            .filter(|batch| batch.session == session.id)
        {
            let known = self.store.batch(&batch.id).await?;
            if known.as_ref().is_none_or(|state| state.cooked.is_none()) {
                let mut deed = self
                    .cooked_deed(week, batch, Cooking::default(), Reported::Presumed)
                    .await?;
                deed.id = Some(cooked_id(&batch.id));
                self.presume(vec![deed], session.to, now).await?;
                count += 1;
            }
            let Some(state) = self.store.batch(&batch.id).await? else {
                continue;
            };
            if state.in_pot.mass.is_positive() {
                let lot = week.plan.lots.iter().find(|lot| lot.origin == batch.id);
                let times = lot.map_or((session.to, session.to), |lot| (lot.made, lot.stored));
                let boxes = boxed(week, batch, &Portioned::default(), times);
                let mut deed = larderwright_ledger::deed::stored(batch, state.in_pot, boxes);
                deed.id = Some(stored_id(&batch.id));
                self.presume(vec![deed], session.to, now).await?;
            }
        }
        Ok(count)
    }

    async fn presume_served(
        &self,
        week: &Week,
        sitting: &larderwright_model::Sitting,
        now: &Now,
    ) -> Result<usize, HomeError> {
        let subject = larderwright_ledger::Subject::Sitting(sitting.id.clone());
        let events = self.store.events_about(&subject).await?;
        if events.iter().any(|event| matches!(event.fact, Fact::Served(_))) {
            return Ok(0);
        }
        let stock = Stock::of(self.store.open_lots().await?);
        let deed = self.served_deed(week, sitting, stock, (1000, Reported::Presumed));
        self.presume(vec![deed], sitting.at, now).await?;
        Ok(1)
    }

    /// Writes presumed deeds down, dated when they were planned. Their clocks lie before all others, so that every word
    /// corrects them by naming them, were it said before they were presumed or after.
    async fn presume(
        &self,
        deeds: Vec<larderwright_ledger::Deed>,
        at: DateTime,
        now: &Now,
    ) -> Result<(), HomeError> {
        if deeds.is_empty() {
            return Ok(());
        }
        let moment = Moment {
            at,
            ..now.moment.clone()
        };
        let clock = Clock {
            wall_ms: 0,
            count: 0,
            device: DeviceId::new("presumed"),
        };
        let events = deeds
            .into_iter()
            .map(|deed| stamped(deed, clock.clone(), &moment));
        self.keep(events.collect(), now).await?;
        Ok(())
    }
}
