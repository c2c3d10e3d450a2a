//! Demand: grams of every item on every plate.

use larderwright_quantity::Mass;

use crate::id::{ElementId, SittingId};
use crate::meal::{Finish, Item};
use crate::menu::{Cover, Supply};

/// What one cover draws from one item at one sitting.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draw {
    /// Which sitting.
    pub sitting: SittingId,
    /// Who.
    pub cover: Cover,
    /// The place on the plate.
    pub element: ElementId,
    /// What.
    pub item: Item,
    /// How much, as eaten.
    pub mass: Mass,
    /// What is done at the sitting.
    pub finish: Finish,
    /// Where it comes from.
    pub supply: Supply,
}

/// All draws of a week, in the order of sittings and covers.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Demand {
    /// The draws.
    pub draws: Vec<Draw>,
}
