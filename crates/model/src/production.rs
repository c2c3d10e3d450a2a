//! Production: batches, what goes into them, and the lots that come out.

use jiff::civil::DateTime;
use larderwright_quantity::{Length, Mass, Permille};

use crate::id::{BatchId, BoxId, ComponentId, FoodId, LotId, RuleId, SessionId, SittingId, WayId};
use crate::menu::Fate;

/// One input of a batch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BatchInput {
    /// The food.
    pub food: FoodId,
    /// As purchased.
    pub ap: Mass,
    /// Edible portion that goes in; `ap - ep` is trim (or brine).
    pub ep: Mass,
    /// Poured away again: part of the cooking change.
    pub drained: bool,
    /// How it is cut or treated; may be empty.
    pub prep: String,
}

/// One component cooked in one session.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Batch {
    /// Identifier: `chickpeas@2026-11-29`.
    pub id: BatchId,
    /// What.
    pub component: ComponentId,
    /// How.
    pub way: WayId,
    /// When.
    pub session: SessionId,
    /// Size: edible portion of the driver.
    pub x: Mass,
    /// What goes in.
    pub inputs: Vec<BatchInput>,
    /// What comes out: low, likely, high. The plan counts on the likely value.
    pub yields: [Mass; 3],
    /// What plates will draw from it.
    pub demand: Mass,
    /// The stated chance that the yield covers the demand.
    pub confidence: Permille,
    /// How many loads its largest step takes.
    pub loads: i64,
}

/// Where a lot is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the names of the places")]
pub enum Place {
    Fridge,
    Freezer,
    Cupboard,
}

impl Place {
    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Fridge => "fridge",
            Self::Freezer => "freezer",
            Self::Cupboard => "cupboard",
        }
    }
}

/// How a lot is brought down to fridge temperature.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CoolingMethod {
    /// Never hot.
    None,
    /// In open boxes, shallow and apart, until it stops steaming; then into the cold.
    Shallow,
    /// Spread thin on trays for twenty minutes, then into boxes and the cold.
    Trays,
    /// Under cold running water or in iced water: eggs, blanched vegetables.
    ColdWater,
    /// Pot or box set in ice water and stirred.
    IceBath,
    /// In its open boxes for an hour in the freezer, then into the fridge.
    FreezerFirst,
}

/// Until when guidance lets a lot be eaten.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Keep {
    /// The low end of the rule's range.
    pub best_by: DateTime,
    /// The high end: nothing is planned after it.
    pub use_by: DateTime,
    /// Which rule.
    pub rule: RuleId,
    /// Document and section.
    pub source: String,
}

/// A dated stored quantity in one place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lot {
    /// Identifier: `chickpeas@2026-11-29/1`.
    pub id: LotId,
    /// The batch it comes from.
    pub origin: BatchId,
    /// How much goes into the boxes.
    pub mass: Mass,
    /// Boxes by kind and count.
    pub boxes: Vec<(BoxId, u32)>,
    /// How deep the food lies.
    pub depth: Length,
    /// How it is cooled.
    pub cooling: CoolingMethod,
    /// Where it is kept first.
    pub place: Place,
    /// Fridge to the end, or freezer with a pull.
    pub fate: Fate,
    /// When cooking ended.
    pub made: DateTime,
    /// When it went into fridge or freezer.
    pub stored: DateTime,
    /// For a freezer lot: when it moves to the fridge; `None` when it stays as stock.
    pub pull: Option<DateTime>,
    /// Until when it is to be eaten.
    pub keep: Keep,
    /// Which sittings eat from it, in order.
    pub sittings: Vec<SittingId>,
}

/// What the plan takes from a lot that was in the house before.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Carried {
    /// Which lot.
    pub lot: LotId,
    /// What it is.
    pub component: ComponentId,
    /// What plates draw from it.
    pub mass: Mass,
    /// When it moves from the freezer to the fridge.
    pub pull: Option<DateTime>,
    /// Until when it is to be eaten; after the pull where there is one.
    pub keep: Keep,
    /// Which sittings eat from it, in order.
    pub sittings: Vec<SittingId>,
}
