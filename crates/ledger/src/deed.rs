//! Deeds: what a cook says happened, turned into moves that balance. A deed becomes an event once the shell has put
//! identifier, clock and time on it.

mod boxes;
mod cooking;
mod counting;
mod eating;
mod shopping;

use larderwright_model::{EventId, Fact, LotCard, Move};

pub use boxes::{Labelled, discarded, given_away, left_out, moved, opened, reheated, thawed};
pub use cooking::{BatchInputs, Boxed, cooked, cooled, lost, not_cooked, stored};
pub use counting::{Found, checked, counted, found_new, ticked};
pub use eating::{
    LeftOver, Plates, left_goods, left_over, left_over_lot, presumed_id, returned, served, skipped,
};
pub use shopping::{Purchase, bought, bought_id, receipt};

/// An event before anybody has put its identifier, clock and time on it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Deed {
    /// An identifier that follows from what it is about, so that two phones report it once; `None` for a new one.
    pub id: Option<EventId>,
    /// The event that this one takes the place of.
    pub corrects: Option<EventId>,
    /// Lots made or labelled anew.
    pub cards: Vec<LotCard>,
    /// Masses that moved.
    pub moves: Vec<Move>,
    /// What happened.
    pub fact: Fact,
}

impl Deed {
    /// A deed with a fact alone.
    #[must_use]
    pub fn of(fact: Fact) -> Self {
        Self {
            id: None,
            corrects: None,
            cards: Vec::new(),
            moves: Vec::new(),
            fact,
        }
    }

    /// Says that an event did not happen.
    #[must_use]
    pub fn undo(event: &EventId) -> Self {
        Self {
            corrects: Some(event.clone()),
            ..Self::of(Fact::Undone)
        }
    }

    /// The same, in the place of an earlier event.
    #[must_use]
    pub fn correcting(self, event: &EventId) -> Self {
        Self {
            corrects: Some(event.clone()),
            ..self
        }
    }
}
