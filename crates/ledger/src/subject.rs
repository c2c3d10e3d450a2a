//! What an event is about: the keys under which a store finds it again.

use std::collections::BTreeSet;

use larderwright_model::{Account, BatchId, Event, Fact, FoodId, LotId, SessionId, ShopId, SittingId};

/// Something that events are about.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Subject {
    /// A lot.
    Lot(LotId),
    /// A batch.
    Batch(BatchId),
    /// A sitting.
    Sitting(SittingId),
    /// A trip to the shop.
    Trip(ShopId),
    /// A session.
    Session(SessionId),
    /// A food ticked without an amount.
    Tick(FoodId),
}

impl Subject {
    /// As a key of two texts: kind and identifier.
    #[must_use]
    pub fn key(&self) -> (&'static str, &str) {
        match self {
            Self::Lot(id) => ("lot", id.as_str()),
            Self::Batch(id) => ("batch", id.as_str()),
            Self::Sitting(id) => ("sitting", id.as_str()),
            Self::Trip(id) => ("trip", id.as_str()),
            Self::Session(id) => ("session", id.as_str()),
            Self::Tick(id) => ("tick", id.as_str()),
        }
    }
}

/// Everything an event is about.
#[must_use]
pub fn subjects(event: &Event) -> BTreeSet<Subject> {
    let mut all: BTreeSet<Subject> = event
        .cards
        .iter()
        .map(|card| Subject::Lot(card.lot.clone()))
        .collect();
    for step in &event.moves {
        all.insert(Subject::Lot(step.lot.clone()));
        for account in [&step.from, &step.to] {
            if let Account::Batch(batch) = account {
                all.insert(Subject::Batch(batch.clone()));
            }
        }
    }
    all.extend(told_by(&event.fact));
    all
}

fn told_by(fact: &Fact) -> Option<Subject> {
    match fact {
        Fact::Bought { trip, .. } | Fact::Receipt { trip, .. } => trip.clone().map(Subject::Trip),
        Fact::Ticked { food, .. } => Some(Subject::Tick(food.clone())),
        Fact::Cooked(cooked) => Some(Subject::Batch(cooked.batch.clone())),
        Fact::Cooled { batch, .. } | Fact::Stored { batch } => Some(Subject::Batch(batch.clone())),
        Fact::Served(served) => Some(Subject::Sitting(served.sitting.clone())),
        Fact::LeftOver { sitting } => sitting.clone().map(Subject::Sitting),
        Fact::Returned { sitting } => Some(Subject::Sitting(sitting.clone())),
        Fact::SessionEnded { session, .. } => Some(Subject::Session(session.clone())),
        Fact::Opened { lot } | Fact::Reheated { lot } | Fact::LeftOut { lot, .. } => {
            Some(Subject::Lot(lot.clone()))
        }
        Fact::Counted
        | Fact::Moved
        | Fact::Thawed
        | Fact::Discarded { .. }
        | Fact::GivenAway { .. }
        | Fact::Checked
        | Fact::Closed { .. }
        | Fact::Undone => None,
    }
}
