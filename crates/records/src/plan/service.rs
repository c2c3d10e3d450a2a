//! Plates, and the minutes before each sitting.

use larderwright_model::{
    Appliance, Cover, ElementId, Finish, FoodId, Item, LotId, MealId, Plate, Portion, PortionSource, Service,
    ServiceStep, ServiceVerb, SittingId,
};
use larderwright_quantity::{Mass, Seconds};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::wire::{Wire, record, variants};

record! {
    /// What one cover eats at one sitting.
    PlateRecord = Plate {
        sitting: SittingId,
        cover: Cover,
        meal: MealId,
        #[serde(rename = "options")]
        portions: Vec<Portion>,
    }
}

record! {
    /// One element of a plate.
    PortionRecord = Portion {
        element: ElementId,
        item: Item,
        #[serde(rename = "mg")]
        mass: Mass,
        source: PortionSource,
        finish: Finish,
    }
}

variants! {
    /// Where a portion comes from.
    PortionSourceRecord = PortionSource { Lot(id: LotId), Food(id: FoodId) }
}

record! {
    /// The minutes before one sitting.
    ServiceRecord = Service {
        sitting: SittingId,
        steps: Vec<ServiceStep>,
        #[serde(rename = "length_s")]
        length: Seconds,
    }
}

record! {
    /// One step before a sitting.
    ServiceStepRecord = ServiceStep {
        verb: ServiceVerb,
        #[serde(rename = "start_s")]
        start: Seconds,
        #[serde(rename = "length_s")]
        length: Seconds,
        hands: u32,
        appliance: Option<Appliance>,
        covers: Vec<Cover>,
    }
}

/// What is done in a step before a sitting.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) enum ServiceVerbRecord {
    TakeOut { lot: String },
    Reheat { item: <Item as Wire>::Record, mg: i64 },
    Toast { item: <Item as Wire>::Record, mg: i64 },
    Fry { item: <Item as Wire>::Record, mg: i64 },
    Assemble,
}

impl Wire for ServiceVerb {
    type Record = ServiceVerbRecord;

    fn to_record(&self) -> ServiceVerbRecord {
        match self {
            Self::TakeOut(lot) => ServiceVerbRecord::TakeOut { lot: lot.to_record() },
            Self::Reheat(item, mass) => ServiceVerbRecord::Reheat {
                item: item.to_record(),
                mg: mass.mg(),
            },
            Self::Toast(item, mass) => ServiceVerbRecord::Toast {
                item: item.to_record(),
                mg: mass.mg(),
            },
            Self::Fry(item, mass) => ServiceVerbRecord::Fry {
                item: item.to_record(),
                mg: mass.mg(),
            },
            Self::Assemble => ServiceVerbRecord::Assemble,
        }
    }

    fn from_record(record: ServiceVerbRecord) -> Self {
        match record {
            ServiceVerbRecord::TakeOut { lot } => Self::TakeOut(LotId::from_record(lot)),
            ServiceVerbRecord::Reheat { item, mg } => {
                Self::Reheat(Item::from_record(item), Mass::from_mg(mg))
            }
            ServiceVerbRecord::Toast { item, mg } => Self::Toast(Item::from_record(item), Mass::from_mg(mg)),
            ServiceVerbRecord::Fry { item, mg } => Self::Fry(Item::from_record(item), Mass::from_mg(mg)),
            ServiceVerbRecord::Assemble => Self::Assemble,
        }
    }
}
