//! Work that holds a part of a capacity, as seen from either end of time.

use super::domain::{Lit, Side, Var};
use super::state::State;

/// Holds `amount` from `start` for `duration` if the condition is true, or always without one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Item {
    pub(crate) start: Var,
    /// Positive.
    pub(crate) duration: i32,
    /// Positive.
    pub(crate) amount: i32,
    pub(crate) present: Option<Lit>,
}

impl Item {
    pub(super) fn is_present(&self, state: &State) -> bool {
        self.present.is_none_or(|lit| state.is_true(lit))
    }

    pub(super) fn is_absent(&self, state: &State) -> bool {
        self.present.is_some_and(|lit| state.is_false(lit))
    }
}

/// The sides that matter to a rule about items.
pub(super) fn sides(items: &[Item]) -> Vec<Side> {
    let of = |item: &Item| {
        let present = item.present.map(|lit| lit.side);
        [item.start.lower(), item.start.upper()]
            .into_iter()
            .chain(present)
    };
    items.iter().flat_map(of).collect()
}

/// The direction in which time is read. Backwards, an item starts at the negative of its end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum View {
    Ahead,
    Back,
}

impl View {
    /// Soonest start.
    pub(super) fn start(self, state: &State, item: &Item) -> i32 {
        match self {
            Self::Ahead => state.least(item.start),
            Self::Back => -state.most(item.start) - item.duration,
        }
    }

    /// Latest end.
    pub(super) fn end(self, state: &State, item: &Item) -> i32 {
        match self {
            Self::Ahead => state.most(item.start) + item.duration,
            Self::Back => -state.least(item.start),
        }
    }

    /// "Starts no sooner than this."
    pub(super) fn starts_from(self, item: &Item, time: i32) -> Lit {
        match self {
            Self::Ahead => item.start.at_least(time),
            Self::Back => item.start.at_most(-time - item.duration),
        }
    }

    /// "Ends no later than this."
    pub(super) fn ends_by(self, item: &Item, time: i32) -> Lit {
        match self {
            Self::Ahead => item.start.at_most(time - item.duration),
            Self::Back => item.start.at_least(-time),
        }
    }
}
