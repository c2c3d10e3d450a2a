//! The snapshot: everything a planning run depends on, immutable.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::{Date, DateTime};
use larderwright_quantity::{Mass, Permille, Rounding, Volume};

use crate::component::Component;
use crate::food::Food;
use crate::household::Household;
use crate::id::{BoxId, ComponentId, EaterId, FoodId, LotId, MealId, SessionId, SittingId};
use crate::meal::Meal;
use crate::production::{Keep, Place};
use crate::week::{Session, Shop, Sitting};

/// A lot of a component that is in the house when the plan is made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StoredLot {
    /// Which lot.
    pub id: LotId,
    /// What it is.
    pub component: ComponentId,
    /// What went into it, for diets and allergies.
    pub foods: BTreeSet<FoodId>,
    /// How much is left.
    pub mass: Mass,
    /// Fridge, freezer or cupboard.
    pub place: Place,
    /// When cooking ended.
    pub made: DateTime,
    /// When it came to where it is.
    pub stored: DateTime,
    /// Until when it is to be eaten where it is.
    pub keep: Keep,
    /// Boxes it stands in.
    pub boxes: Vec<(BoxId, u32)>,
    /// Whether it has been warmed before.
    pub reheated: bool,
}

impl StoredLot {
    /// The room it takes: its boxes to the brim, or its food where nobody said in which boxes it lies.
    #[must_use]
    pub fn room(&self, snapshot: &Snapshot) -> Volume {
        let boxes = snapshot.household.kitchen.brim(&self.boxes);
        match snapshot.components.get(&self.component) {
            Some(component) if !boxes.is_positive() => {
                component.bulk.value.volume_of(self.mass, Rounding::Up)
            }
            _ => boxes,
        }
    }
}

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
    /// Lots of components in the house, by use-by.
    pub lots: Vec<StoredLot>,
    /// How much each eater has eaten of what was planned, per thousand, where the household's own sittings say so.
    pub habits: BTreeMap<EaterId, Permille>,
    /// What the household's own weeks have taught, a sentence each.
    pub learnt: Vec<String>,
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

    /// The lot in the house with this identifier.
    #[must_use]
    pub fn lot(&self, id: &LotId) -> Option<&StoredLot> {
        self.lots.iter().find(|lot| lot.id == *id)
    }

    /// The session with this identifier.
    #[must_use]
    pub fn session(&self, id: &SessionId) -> Option<&Session> {
        self.sessions.iter().find(|session| session.id == *id)
    }
}
