//! Shares: who takes of a component or a ware at a sitting needs it there, however small the part of a meal. One meal is
//! eaten at a sitting, so the parts of all meals add up to one at most.

use std::collections::BTreeMap;

use super::{Part, Take};

/// Parts that a whole is counted in.
pub(super) const WHOLE: i64 = 1_000_000;

/// For each slot and candidate what some eaters take, as parts of a whole.
#[derive(Default)]
pub(super) struct Shares {
    by: BTreeMap<(usize, usize), Vec<Share>>,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Share {
    /// Parts of the whole for each unit of the column, and how much appetite it stands for.
    parts: i64,
    factor: i64,
    column: usize,
}

impl Shares {
    /// Adds what some eaters with so much appetite take.
    pub(super) fn add(&mut self, take: Take, part: Part, factor: i64) {
        let share = Share {
            parts: WHOLE * part.factor / factor.max(1),
            factor,
            column: part.column,
        };
        self.by
            .entry((take.slot, take.candidate))
            .or_default()
            .push(share);
    }

    /// For a slot, sums of one share for each candidate: the surest and the largest, and the least of them.
    pub(super) fn sums(&self, slot: usize) -> Vec<Vec<(usize, i64)>> {
        let here = || {
            self.by
                .range((slot, 0)..=(slot, usize::MAX))
                .map(|(_, shares)| shares)
        };
        let term = |share: &Share| (share.column, share.parts);
        let first: Vec<(usize, i64)> = here()
            .filter_map(|shares| surest(shares))
            .map(|share| term(&share))
            .collect();
        let second: Vec<(usize, i64)> = here()
            .filter_map(|shares| least(shares))
            .map(|share| term(&share))
            .collect();
        if first == second {
            vec![first]
        } else {
            vec![first, second]
        }
    }

    /// The slots that may take.
    pub(super) fn slots(&self) -> Vec<usize> {
        let mut slots: Vec<usize> = self.by.keys().map(|(slot, _)| *slot).collect();
        slots.dedup();
        slots
    }

    /// The surest share of a candidate at a slot.
    pub(super) fn surest(&self, slot: usize, candidate: usize) -> Option<(usize, i64)> {
        let share = surest(self.by.get(&(slot, candidate))?)?;
        Some((share.column, share.parts))
    }
}

fn surest(shares: &[Share]) -> Option<Share> {
    shares
        .iter()
        .max_by_key(|share| (share.parts == WHOLE, share.factor))
        .copied()
}

fn least(shares: &[Share]) -> Option<Share> {
    shares
        .iter()
        .min_by_key(|share| (share.parts != WHOLE, share.factor))
        .copied()
}
