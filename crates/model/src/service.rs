//! Service: what is on every plate, and the minutes before each sitting.

use larderwright_quantity::{Mass, Seconds};

use crate::id::{ElementId, FoodId, LotId, MealId, SittingId};
use crate::meal::{Finish, Item};
use crate::menu::Cover;

/// Where a portion comes from.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PortionSource {
    /// From a lot.
    Lot(LotId),
    /// From a food as bought.
    Food(FoodId),
}

/// One element of a plate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Portion {
    /// The place on the plate.
    pub element: ElementId,
    /// What.
    pub item: Item,
    /// How much.
    pub mass: Mass,
    /// From where.
    pub source: PortionSource,
    /// What is done to it.
    pub finish: Finish,
}

/// What one cover eats at one sitting.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plate {
    /// Which sitting.
    pub sitting: SittingId,
    /// Who.
    pub cover: Cover,
    /// Which meal.
    pub meal: MealId,
    /// What is on it.
    pub portions: Vec<Portion>,
}

/// An appliance that only one thing can use at a time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the names of the appliances")]
pub enum Appliance {
    Microwave,
    Burner,
    Oven,
    Toaster,
}

/// What is done in a step before a sitting.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ServiceVerb {
    /// Take a lot out of the fridge.
    TakeOut(LotId),
    /// Warm an item.
    Reheat(Item, Mass),
    /// Toast or warm bread.
    Toast(Item, Mass),
    /// Fry or otherwise cook an item at the sitting.
    Fry(Item, Mass),
    /// Put the plates together.
    Assemble,
}

/// One step before a sitting.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ServiceStep {
    /// What.
    pub verb: ServiceVerb,
    /// Start, counted from the start of the evening's work.
    pub start: Seconds,
    /// How long.
    pub length: Seconds,
    /// Whether it keeps a pair of hands busy.
    pub hands: u32,
    /// What it occupies.
    pub appliance: Option<Appliance>,
    /// For which covers, when not for all.
    pub covers: Vec<Cover>,
}

/// The minutes before one sitting.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Service {
    /// Which sitting.
    pub sitting: SittingId,
    /// Steps by start.
    pub steps: Vec<ServiceStep>,
    /// From first step to plates on the table.
    pub length: Seconds,
}
