//! What the menu stage hands on: a meal for every sitting and an option for every cover.

use larderwright_quantity::Mass;

use crate::id::{EaterId, ElementId, LotId, MealId, SessionId, SittingId};
use crate::meal::{Finish, Item};

/// One person served at a sitting.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cover {
    /// Somebody of the household.
    Eater(EaterId),
    /// A guest, counted from one.
    Guest(u32),
}

/// What becomes of a part of a batch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fate {
    /// Stays in the fridge until it is eaten.
    Fridge,
    /// Goes into the freezer and is pulled in time.
    Freezer,
    /// Keeps in the cupboard.
    Cupboard,
}

/// Where an item on a plate comes from.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Supply {
    /// Cooked in a session.
    Made {
        /// Which session.
        session: SessionId,
        /// Fridge or freezer in between.
        fate: Fate,
    },
    /// Taken from a lot that was in the house before the plan was made.
    Stored {
        /// Which lot.
        lot: LotId,
    },
    /// Bought as it is.
    Bought,
}

/// One option on one cover's plate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pick {
    /// The place on the plate.
    pub element: ElementId,
    /// What fills it.
    pub item: Item,
    /// Portion for a usual adult.
    pub portion: Mass,
    /// Whether the portion follows appetite.
    pub scales: crate::meal::Scales,
    /// What is done at the sitting.
    pub finish: Finish,
    /// Where it comes from.
    pub supply: Supply,
}

/// One cover's plate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CoverChoice {
    /// Who.
    pub cover: Cover,
    /// What is on the plate.
    pub picks: Vec<Pick>,
}

/// The meal at one sitting.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MenuChoice {
    /// Which sitting.
    pub sitting: SittingId,
    /// Which meal.
    pub meal: MealId,
    /// Every cover's plate.
    pub covers: Vec<CoverChoice>,
}

/// The menu of a week, in the order of the sittings.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Menu {
    /// One choice for each sitting.
    pub choices: Vec<MenuChoice>,
}
