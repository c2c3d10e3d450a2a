//! The recipe files as schemas; `larder` reads them.

use larderwright_model::{
    Equipment, Family, Finish, Freezing, Hygiene, Need, Occasion, Scales, Serving, Skill, Station,
};
use schemars::JsonSchema;

use super::household_file::groups;
use crate::wire::Coded;

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
#[expect(dead_code, reason = "the variants exist for the schema only")]
enum Whole {
    Pack,
    Unit,
}

groups! {
    /// A component file.
    ComponentFile {
        name: String,
        family: Coded<Family>,
        /// Keeping class.
        keep: String,
        freeze: Coded<Freezing>,
        serve: Coded<Serving>,
        bulk_g_per_l: u32,
        bulk_source: String,
        cuisine_hint: Option<Vec<String>>,
        season: Option<Vec<u8>>,
        trouble: String,
        explain: Option<Vec<ExplainGroup>>,
        way: Vec<WayGroup>,
    }

    /// Why a figure that the recipe checker flags is meant.
    ExplainGroup {
        /// The rule that speaks.
        rule: String,
        why: String,
    }

    /// One way to make it.
    WayGroup {
        id: String,
        name: String,
        /// The food whose edible grams are the batch size.
        driver: String,
        size: SizeGroup,
        #[schemars(rename = "yield")]
        yields: YieldGroup,
        needs: Option<Vec<Coded<Equipment>>>,
        input: Vec<InputGroup>,
        step: Vec<StepGroup>,
    }

    /// Limits of one batch.
    SizeGroup {
        min_g: u32,
        step_g: Option<u32>,
        step: Option<Whole>,
        max_g: u32,
    }

    /// Output per thousand of the driver: low, likely, high.
    YieldGroup {
        permille: [u32; 3],
        source: String,
    }

    /// One input.
    InputGroup {
        food: String,
        fixed_g: Option<u32>,
        fixed_mg: Option<u32>,
        per_kg_g: Option<u32>,
        per_kg_mg: Option<u32>,
        drained: Option<bool>,
        prep: Option<String>,
    }

    /// One step.
    StepGroup {
        id: String,
        /// Three words or fewer.
        title: String,
        text: String,
        cue: Option<String>,
        lead: Option<bool>,
        min_s: Option<u32>,
        station: Coded<Station>,
        hands: Option<u32>,
        skill: Option<Coded<Skill>>,
        after: Option<Vec<AfterGroup>>,
        uses: Option<Vec<Coded<Equipment>>>,
        pot_ml: Option<u32>,
        pot_ml_per_kg: Option<u32>,
        load_g: Option<u32>,
        tray_g: Option<u32>,
        law: LawGroup,
        boil: Option<BoilGroup>,
        visit: Option<Vec<VisitGroup>>,
        oven: Option<OvenRangeGroup>,
        hygiene: Option<Coded<Hygiene>>,
        safety: Option<SafetyGroup>,
        merge: Option<String>,
    }

    /// An earlier step of the same way.
    AfterGroup {
        step: String,
        min_s: Option<u32>,
        max_s: Option<u32>,
    }

    /// A duration as a function of batch size.
    LawGroup {
        fixed_s: Option<u32>,
        per_kg_s: Option<u32>,
        per_load_s: Option<u32>,
        load_g: Option<u32>,
        /// Percent: low, likely, high.
        spread: Option<[u32; 3]>,
        source: String,
    }

    /// Water to bring to the boil.
    BoilGroup {
        water_g: Option<u32>,
        water_g_per_kg: Option<u32>,
    }

    /// A short visit.
    VisitGroup {
        every_s: u32,
        hands_s: u32,
        text: String,
    }

    /// An oven setting.
    OvenRangeGroup {
        best_c: u32,
        min_c: u32,
        max_c: u32,
        s_per_c: Option<i32>,
    }

    /// A minimum that published guidance demands.
    SafetyGroup {
        core_c: Option<u32>,
        boil_s: Option<u32>,
        note: String,
    }

    /// A meal file.
    MealFile {
        name: String,
        cuisine: String,
        at: Vec<Coded<Occasion>>,
        kind: String,
        assemble: AssembleGroup,
        text: String,
        explain: Option<Vec<ExplainGroup>>,
        element: Vec<ElementGroup>,
        rule: Option<Vec<RuleGroup>>,
    }

    /// Hands at the sitting besides reheating.
    AssembleGroup {
        fixed_s: u32,
        per_cover_s: u32,
    }

    /// One place on the plate.
    ElementGroup {
        id: String,
        portion_g: u32,
        scales: Option<Coded<Scales>>,
        need: Coded<Need>,
        option: Vec<OptionGroup>,
    }

    /// What may fill it: a component or a food.
    OptionGroup {
        component: Option<String>,
        food: Option<String>,
        portion_g: Option<u32>,
        finish: Coded<Finish>,
    }

    /// A combination that is not offered.
    RuleGroup {
        /// `base:quinoa`.
        not: Vec<String>,
    }
}
