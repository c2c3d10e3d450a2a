//! Batches and lots.

use jiff::civil::DateTime;
use larderwright_model::{
    Batch, BatchId, BatchInput, BoxId, Carried, ComponentId, CoolingMethod, Fate, FoodId, Keep, Lot, LotId,
    Place, RuleId, SessionId, SittingId, WayId,
};
use larderwright_quantity::{Length, Mass, Permille};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::wire::{Wire, record};

record! {
    /// One component cooked in one session.
    BatchRecord = Batch {
        id: BatchId,
        component: ComponentId,
        way: WayId,
        session: SessionId,
        /// Size: edible portion of the driver.
        #[serde(rename = "x_mg")]
        x: Mass,
        inputs: Vec<BatchInput>,
        /// Low, likely, high.
        #[serde(rename = "yield_mg")]
        yields: [Mass; 3],
        /// What plates will draw from it.
        #[serde(rename = "demand_mg")]
        demand: Mass,
        /// The stated chance, per thousand, that the yield covers the demand.
        #[serde(rename = "confidence_permille")]
        confidence: Permille,
        loads: i64,
    }
}

record! {
    /// One input of a batch: as purchased and as it goes in.
    BatchInputRecord = BatchInput {
        food: FoodId,
        #[serde(rename = "ap_mg")]
        ap: Mass,
        #[serde(rename = "ep_mg")]
        ep: Mass,
        drained: bool,
        prep: String,
    }
}

record! {
    /// What the plan takes from a lot that was in the house before.
    CarriedRecord = Carried {
        lot: LotId,
        component: ComponentId,
        #[serde(rename = "mg")]
        mass: Mass,
        /// When it moves from the freezer to the fridge.
        pull: Option<DateTime>,
        keep: Keep,
        sittings: Vec<SittingId>,
    }
}

record! {
    /// A dated stored quantity in one place.
    LotRecord = Lot {
        id: LotId,
        origin: BatchId,
        #[serde(rename = "mg")]
        mass: Mass,
        boxes: Vec<(BoxId, u32)>,
        #[serde(rename = "depth_um")]
        depth: Length,
        cooling: CoolingMethod,
        place: Place,
        fate: Fate,
        made: DateTime,
        stored: DateTime,
        /// For a freezer lot: when it moves to the fridge.
        pull: Option<DateTime>,
        keep: Keep,
        sittings: Vec<SittingId>,
    }
}

record! {
    /// Until when guidance lets a lot be eaten.
    KeepRecord = Keep { best_by: DateTime, use_by: DateTime, rule: RuleId, source: String }
}

/// Boxes of one kind.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct BoxCountRecord {
    #[serde(rename = "box")]
    kind: String,
    count: u32,
}

impl Wire for (BoxId, u32) {
    type Record = BoxCountRecord;

    fn to_record(&self) -> BoxCountRecord {
        BoxCountRecord {
            kind: self.0.to_record(),
            count: self.1,
        }
    }

    fn from_record(record: BoxCountRecord) -> Self {
        (BoxId::from_record(record.kind), record.count)
    }
}
