//! The snapshot: everything a planning run depends on, immutable.

use std::collections::BTreeMap;

use jiff::civil::{Date, DateTime};

use crate::component::Component;
use crate::food::Food;
use crate::household::Household;
use crate::id::{ComponentId, FoodId, MealId, SessionId, SittingId};
use crate::meal::Meal;
use crate::week::{Session, Shop, Sitting};

/// Everything a planning run depends on. Same snapshot, same plan, byte for byte.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Snapshot {
    /// When the plan is made, as local time.
    pub now: DateTime,
    /// Monday of the week.
    pub monday: Date,
    /// The household, its kitchen and its wishes.
    pub household: Household,
    /// Sittings by time.
    pub sittings: Vec<Sitting>,
    /// Sessions by time.
    pub sessions: Vec<Session>,
    /// Trips to the shop by time.
    pub shops: Vec<Shop>,
    /// Every food that recipes, stock, par or standing items speak of.
    pub foods: BTreeMap<FoodId, Food>,
    /// Components by identifier.
    pub components: BTreeMap<ComponentId, Component>,
    /// Meals by identifier.
    pub meals: BTreeMap<MealId, Meal>,
    /// Meals eaten lately, most recent first: for variety.
    pub eaten_lately: Vec<MealId>,
    /// Version of the reference tables.
    pub tables: String,
    /// Seed of the searches.
    pub seed: u64,
    /// Work budget: moves of the menu search.
    pub menu_work: u64,
    /// Work budget: schedules generated for each session.
    pub session_work: u64,
    /// Hash of the plan that this one would replace.
    pub parent: Option<String>,
}

impl Snapshot {
    /// The sitting with this identifier.
    #[must_use]
    pub fn sitting(&self, id: &SittingId) -> Option<&Sitting> {
        self.sittings.iter().find(|sitting| sitting.id == *id)
    }

    /// The session with this identifier.
    #[must_use]
    pub fn session(&self, id: &SessionId) -> Option<&Session> {
        self.sessions.iter().find(|session| session.id == *id)
    }
}
