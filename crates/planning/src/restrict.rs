//! Restrictions: what later stages have taught the menu about this week.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_model::{ComponentId, FoodId, LotId, MealId, SessionId, SittingId};

/// What the driver forbids the menu after a later stage could not succeed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Restrictions {
    /// Meals that took too long at a sitting.
    pub meals: BTreeSet<(SittingId, MealId)>,
    /// Components whose real times did not keep until a sitting.
    pub supplies: BTreeSet<(ComponentId, SessionId, SittingId)>,
    /// Foods at home that cannot be counted on before the first trip, because batches need them.
    pub foods: BTreeSet<FoodId>,
    /// Lots in the house that cannot be counted on.
    pub lots: BTreeSet<LotId>,
    /// Batches that did not fit their session together.
    pub cuts: Vec<Cut>,
    /// How much of a session's window the menu may count on, per thousand.
    pub window_permille: BTreeMap<SessionId, i64>,
    /// How much of the boxes, fridge and freezer the menu may count on, per thousand.
    pub room_permille: i64,
}

/// Batches that did not fit their session together: one of them is left out, or all of them ask for less of the cook.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cut {
    /// Which session.
    pub session: SessionId,
    /// What was cooked.
    pub components: BTreeSet<ComponentId>,
    /// Milliseconds of hands that might have fitted.
    pub hands_ms: i64,
}

impl Default for Restrictions {
    fn default() -> Self {
        Self {
            meals: BTreeSet::new(),
            supplies: BTreeSet::new(),
            foods: BTreeSet::new(),
            lots: BTreeSet::new(),
            cuts: Vec::new(),
            window_permille: BTreeMap::new(),
            room_permille: 1000,
        }
    }
}
