//! Components and meals, as a snapshot holds them.

use larderwright_model::{
    Boil, Component, ComponentId, Element, ElementId, ElementOption, Equipment, Family, Finish, FoodId,
    Freezing, Hygiene, Input, Item, Law, Meal, MealId, MealRule, Need, Occasion, OvenRange, RuleId, Scales,
    Serving, SizeLimits, SizeStep, Skill, Sourced, Spread, Station, Step, StepAfter, StepId, StepSafety,
    Visit, Way, WayId, Yield,
};
use larderwright_quantity::{Density, Mass, Permille, Seconds, Temperature, Volume};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::wire::{Wire, record, variants};

record! {
    /// A prepared building block that is stored.
    ComponentRecord = Component {
        id: ComponentId,
        name: String,
        family: Family,
        keep: RuleId,
        freeze: Freezing,
        serve: Serving,
        #[serde(rename = "bulk_g_per_l")]
        bulk: Sourced<Density>,
        season: Vec<i8>,
        trouble: String,
        ways: Vec<Way>,
    }
}

record! {
    /// One way to make a component.
    WayRecord = Way {
        id: WayId,
        name: String,
        driver: FoodId,
        size: SizeLimits,
        yields: Yield,
        needs: Vec<Equipment>,
        inputs: Vec<Input>,
        steps: Vec<Step>,
    }
}

record! {
    /// Limits of one batch, in edible portion of the driver.
    SizeLimitsRecord = SizeLimits {
        #[serde(rename = "min_mg")]
        min: Mass,
        step: SizeStep,
        #[serde(rename = "max_mg")]
        max: Mass,
    }
}

variants! {
    /// In what steps a batch grows; a mass in milligrams.
    SizeStepRecord = SizeStep { Mass(mg: Mass), Pack, Unit }
}

record! {
    /// Output per thousand of the driver.
    YieldRecord = Yield { low: Permille, likely: Permille, high: Permille, source: String }
}

record! {
    /// One input of a way.
    InputRecord = Input {
        food: FoodId,
        #[serde(rename = "fixed_mg")]
        fixed: Mass,
        #[serde(rename = "per_kg_mg")]
        per_kg: Mass,
        drained: bool,
        prep: String,
    }
}

record! {
    /// One step of a way.
    StepRecord = Step {
        id: StepId,
        title: String,
        text: String,
        cue: String,
        lead: bool,
        #[serde(rename = "lead_min_s")]
        lead_min: Option<Seconds>,
        station: Station,
        hands: u32,
        skill: Skill,
        after: Vec<StepAfter>,
        uses: Vec<Equipment>,
        #[serde(rename = "pot_ul")]
        pot_fixed: Volume,
        #[serde(rename = "pot_ul_per_kg")]
        pot_per_kg: Volume,
        #[serde(rename = "load_mg")]
        load: Option<Mass>,
        #[serde(rename = "tray_mg")]
        tray: Option<Mass>,
        law: Law,
        boil: Option<Boil>,
        visit: Option<Visit>,
        oven: Option<OvenRange>,
        hygiene: Hygiene,
        safety: Option<StepSafety>,
        merge: Option<String>,
    }
}

record! {
    /// A predecessor of a step.
    StepAfterRecord = StepAfter {
        step: StepId,
        #[serde(rename = "min_s")]
        min: Seconds,
        #[serde(rename = "max_s")]
        max: Option<Seconds>,
    }
}

record! {
    /// A duration as a function of batch size.
    LawRecord = Law {
        #[serde(rename = "fixed_s")]
        fixed: Seconds,
        #[serde(rename = "per_kg_s")]
        per_kg: Seconds,
        #[serde(rename = "per_load_s")]
        per_load: Seconds,
        #[serde(rename = "load_mg")]
        load: Option<Mass>,
        #[serde(rename = "spread_percent")]
        spread: Spread,
        source: String,
    }
}

record! {
    /// Percent of the law's value.
    SpreadRecord = Spread { low: i64, likely: i64, high: i64 }
}

record! {
    /// Water to bring to the boil.
    BoilRecord = Boil {
        #[serde(rename = "water_mg")]
        fixed: Mass,
        #[serde(rename = "water_mg_per_kg")]
        per_kg: Mass,
    }
}

record! {
    /// A short visit that a passive step wants now and then.
    VisitRecord = Visit {
        #[serde(rename = "every_s")]
        every: Seconds,
        #[serde(rename = "hands_s")]
        hands: Seconds,
        text: String,
    }
}

record! {
    /// An oven setting that suits a step.
    OvenRangeRecord = OvenRange {
        #[serde(rename = "best_deci_c")]
        best: Temperature,
        #[serde(rename = "min_deci_c")]
        min: Temperature,
        #[serde(rename = "max_deci_c")]
        max: Temperature,
        #[serde(rename = "s_per_c")]
        per_degree: Seconds,
    }
}

record! {
    /// A minimum that published guidance demands.
    StepSafetyRecord = StepSafety {
        #[serde(rename = "core_deci_c")]
        core: Option<Temperature>,
        #[serde(rename = "boil_s")]
        boil: Option<Seconds>,
        note: String,
    }
}

record! {
    /// An assembly on a plate.
    MealRecord = Meal {
        id: MealId,
        name: String,
        cuisine: String,
        kind: String,
        at: Vec<Occasion>,
        #[serde(rename = "assemble_s")]
        assemble_fixed: Seconds,
        #[serde(rename = "assemble_s_per_cover")]
        assemble_per_cover: Seconds,
        text: String,
        elements: Vec<Element>,
        rules: Vec<MealRule>,
    }
}

record! {
    /// One place on the plate.
    ElementRecord = Element {
        id: ElementId,
        #[serde(rename = "portion_mg")]
        portion: Mass,
        scales: Scales,
        need: Need,
        options: Vec<ElementOption>,
    }
}

record! {
    /// What may fill an element.
    ElementOptionRecord = ElementOption {
        item: Item,
        #[serde(rename = "portion_mg")]
        portion: Mass,
        finish: Finish,
    }
}

record! {
    /// A combination that is not offered.
    MealRuleRecord = MealRule { not: Vec<(ElementId, String)> }
}

/// An element and what would fill it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct FilledRecord {
    element: String,
    item: String,
}

impl Wire for (ElementId, String) {
    type Record = FilledRecord;

    fn to_record(&self) -> FilledRecord {
        FilledRecord {
            element: self.0.to_record(),
            item: self.1.clone(),
        }
    }

    fn from_record(record: FilledRecord) -> Self {
        (ElementId::from_record(record.element), record.item)
    }
}
