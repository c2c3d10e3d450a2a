//! The life of a week: from a draft to the look back. What happened says where it stands.

use std::collections::BTreeSet;

use jiff::civil::Date;
use larderwright_model::{BatchId, Event, Fact, Reported, ShopId, SittingId, WeekPlan};

/// Where a week stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WeekState {
    /// Planned, and not yet what the house goes by.
    Draft,
    /// What the house goes by; nothing has happened yet.
    Chosen,
    /// Something of its order was bought.
    Shopping,
    /// Something of it was cooked.
    Cooked,
    /// The first of its sittings is over.
    Running,
    /// Looked back upon.
    Closed,
}

impl WeekState {
    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Draft => "draft",
            Self::Chosen => "chosen",
            Self::Shopping => "shopping",
            Self::Cooked => "cooked",
            Self::Running => "running",
            Self::Closed => "closed",
        }
    }
}

/// Where a week stands whose plan the house goes by; the events have to be those that count.
#[must_use]
pub fn state<'a>(plan: &WeekPlan, events: impl IntoIterator<Item = &'a Event>) -> WeekState {
    let trips: BTreeSet<&ShopId> = plan.order.lines.iter().map(|line| &line.shop).collect();
    let batches: BTreeSet<&BatchId> = plan.batches.iter().map(|batch| &batch.id).collect();
    let sittings: BTreeSet<&SittingId> = plan.menu.choices.iter().map(|choice| &choice.sitting).collect();
    let of = |event: &Event| match &event.fact {
        Fact::Bought { trip: Some(trip), .. } if trips.contains(trip) => WeekState::Shopping,
        Fact::Cooked(fact) if fact.reported != Reported::Skipped && batches.contains(&fact.batch) => {
            WeekState::Cooked
        }
        Fact::Served(fact) if sittings.contains(&fact.sitting) => WeekState::Running,
        Fact::Closed { monday } if *monday == plan.monday => WeekState::Closed,
        _ => WeekState::Chosen,
    };
    events.into_iter().map(of).max().unwrap_or(WeekState::Chosen)
}

/// Whether a week was closed.
#[must_use]
pub fn is_closed<'a>(monday: Date, events: impl IntoIterator<Item = &'a Event>) -> bool {
    let closes = |event: &Event| event.fact == Fact::Closed { monday };
    events.into_iter().any(closes)
}
