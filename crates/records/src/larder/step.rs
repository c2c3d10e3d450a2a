//! Steps: what is done, how long it takes, what it holds, and what has to come before.

use larderwright_model::{
    Boil, Equipment, Hygiene, Law, OvenRange, Skill, Spread, Step, StepAfter, StepId, StepSafety, Visit,
};
use larderwright_quantity::{Mass, Seconds, Temperature, Volume};

use super::component::triple;
use crate::reader::{Fields, Value};

pub(crate) const STEP_KEYS: &[&str] = &[
    "id",
    "title",
    "text",
    "cue",
    "lead",
    "min_s",
    "station",
    "hands",
    "skill",
    "after",
    "uses",
    "pot_ml",
    "pot_ml_per_kg",
    "load_g",
    "tray_g",
    "law",
    "boil",
    "visit",
    "oven",
    "hygiene",
    "safety",
    "merge",
];
pub(crate) const AFTER_KEYS: &[&str] = &["step", "min_s", "max_s"];
pub(crate) const LAW_KEYS: &[&str] = &["fixed_s", "per_kg_s", "per_load_s", "load_g", "spread", "source"];
pub(crate) const BOIL_KEYS: &[&str] = &["water_g", "water_g_per_kg"];
pub(crate) const VISIT_KEYS: &[&str] = &["every_s", "hands_s", "text"];
pub(crate) const OVEN_KEYS: &[&str] = &["best_c", "min_c", "max_c", "s_per_c"];
pub(crate) const SAFETY_KEYS: &[&str] = &["core_c", "boil_s", "note"];

/// Ten days: longer than any step.
const SECONDS_MAX: i64 = 10 * 86_400;
const GRAMS_MAX: i64 = 1_000_000;
const TITLE_WORDS_MAX: usize = 3;

/// Reads the steps of a way, each linked to what comes before it.
pub(super) fn read_all(way: &Fields<'_>) -> Vec<Step> {
    let mut steps: Vec<Step> = Vec::new();
    for fields in way.need_tables("step") {
        let mut step = read(&fields);
        step.after = match fields.get("after") {
            Some(listed) => listed_after(&listed, &steps),
            None => follow(&steps, step.lead),
        };
        steps.push(step);
    }
    steps
}

/// The step before of the same sort: sessions start without waiting for their lead work, which has its own dates.
fn follow(earlier: &[Step], lead: bool) -> Vec<StepAfter> {
    let previous = earlier.iter().rev().find(|step| step.lead == lead);
    let after = |step: &Step| StepAfter {
        step: step.id.clone(),
        min: Seconds::from_secs(0),
        max: None,
    };
    previous.map(after).into_iter().collect()
}

fn listed_after(listed: &Value<'_>, earlier: &[Step]) -> Vec<StepAfter> {
    let groups = listed.list();
    groups
        .iter()
        .filter_map(Value::table)
        .map(|fields| after(&fields, earlier))
        .collect()
}

fn after(fields: &Fields<'_>, earlier: &[Step]) -> StepAfter {
    fields.only(AFTER_KEYS);
    let id = fields.id("step");
    if !id.is_empty() && earlier.iter().all(|step| step.id.as_str() != id) {
        let help = "Name a step that stands further up in the same way.";
        fields.problem_at("step", format!("no earlier step is called `{id}`"), help);
    }
    let min = fields.whole_if("min_s", 0..=SECONDS_MAX).unwrap_or(0);
    let max = fields.whole_if("max_s", 0..=SECONDS_MAX);
    if max.is_some_and(|max| max < min) {
        fields.problem_at("max_s", "is less than min_s", "Let max_s be at least min_s.");
    }
    StepAfter {
        step: StepId::new(&id),
        min: Seconds::from_secs(min),
        max: max.map(Seconds::from_secs),
    }
}

fn read(fields: &Fields<'_>) -> Step {
    fields.only(STEP_KEYS);
    let lead = fields.flag("lead");
    let lead_min = fields.whole_if("min_s", 0..=SECONDS_MAX).map(Seconds::from_secs);
    if lead_min.is_some() && !lead {
        fields.problem_at(
            "min_s",
            "belongs to a lead step only",
            "Add lead = true, or drop min_s.",
        );
    }
    let uses: Vec<Equipment> = fields.words("uses");
    let oven = fields.table("oven").map(|fields| oven(&fields));
    if oven.is_some() && !uses.contains(&Equipment::Rack) {
        fields.problem_at(
            "oven",
            "is set, but the step holds no rack",
            "Add \"rack\" to uses.",
        );
    }
    let grams = |key: &str| fields.whole_if(key, 1..=GRAMS_MAX).map(Mass::from_g);
    Step {
        id: StepId::new(&fields.id("id")),
        title: title(fields),
        text: fields.text("text"),
        cue: fields.text_or_empty("cue"),
        lead,
        lead_min,
        station: fields.word("station"),
        hands: fields.count_or("hands", 0),
        skill: fields.word_or("skill", Skill::Any),
        after: Vec::new(),
        pot_fixed: pot_volume(fields, "pot_ml", &uses),
        pot_per_kg: pot_volume(fields, "pot_ml_per_kg", &uses),
        uses,
        load: grams("load_g"),
        tray: grams("tray_g"),
        law: law(fields),
        boil: fields.table("boil").map(|fields| boil(&fields)),
        visit: visit(fields),
        oven,
        hygiene: fields.word_or("hygiene", Hygiene::Plain),
        safety: fields.table("safety").map(|fields| safety(&fields)),
        merge: fields.has("merge").then(|| fields.text("merge")),
    }
}

fn title(fields: &Fields<'_>) -> String {
    let title = fields.text("title");
    if title.split_whitespace().count() > TITLE_WORDS_MAX {
        let help = "It is read from two metres away: use three words or fewer.";
        fields.problem_at("title", format!("`{title}` has more than three words"), help);
    }
    title
}

fn pot_volume(fields: &Fields<'_>, key: &str, uses: &[Equipment]) -> Volume {
    let volume = fields.whole_if(key, 0..=100_000);
    if volume.is_some() && !uses.contains(&Equipment::Pot) {
        fields.problem_at(key, "is set, but the step holds no pot", "Add \"pot\" to uses.");
    }
    Volume::from_ml(volume.unwrap_or(0))
}

fn law(fields: &Fields<'_>) -> Law {
    let zero = Seconds::from_secs(0);
    let none = Law {
        fixed: zero,
        per_kg: zero,
        per_load: zero,
        load: None,
        spread: Spread::NONE,
        source: String::new(),
    };
    let Some(fields) = fields.need_table("law") else {
        return none;
    };
    fields.only(LAW_KEYS);
    let seconds = |key: &str| Seconds::from_secs(fields.whole_if(key, 0..=SECONDS_MAX).unwrap_or(0));
    if !["fixed_s", "per_kg_s", "per_load_s"]
        .iter()
        .any(|key| fields.has(key))
    {
        fields.problem("takes no time at all", "Add fixed_s, per_kg_s or per_load_s.");
    }
    let spread = if fields.has("spread") {
        triple(&fields, "spread", 1, 1000)
    } else {
        None
    };
    Law {
        fixed: seconds("fixed_s"),
        per_kg: seconds("per_kg_s"),
        per_load: seconds("per_load_s"),
        load: fields.whole_if("load_g", 1..=GRAMS_MAX).map(Mass::from_g),
        spread: spread.map_or(Spread::NONE, |[low, likely, high]| Spread { low, likely, high }),
        source: fields.text("source"),
    }
}

fn boil(fields: &Fields<'_>) -> Boil {
    fields.only(BOIL_KEYS);
    let grams = |key: &str| Mass::from_g(fields.whole_if(key, 0..=GRAMS_MAX).unwrap_or(0));
    if !BOIL_KEYS.iter().any(|key| fields.has(key)) {
        fields.problem("has no water", "Add water_g or water_g_per_kg.");
    }
    Boil {
        fixed: grams("water_g"),
        per_kg: grams("water_g_per_kg"),
    }
}

fn visit(fields: &Fields<'_>) -> Option<Visit> {
    let visits = fields.tables("visit");
    if visits.len() > 1 {
        fields.problem_at(
            "visit",
            "has more than one group",
            "Keep one sort of visit for each step.",
        );
    }
    visits.first().map(|fields| {
        fields.only(VISIT_KEYS);
        Visit {
            every: Seconds::from_secs(fields.whole("every_s", 1..=SECONDS_MAX)),
            hands: Seconds::from_secs(fields.whole("hands_s", 1..=SECONDS_MAX)),
            text: fields.text("text"),
        }
    })
}

fn oven(fields: &Fields<'_>) -> OvenRange {
    fields.only(OVEN_KEYS);
    let degrees = |key: &str| fields.need(key).and_then(|value| value.whole(&(30..=350)));
    let (min, best, max) = (degrees("min_c"), degrees("best_c"), degrees("max_c"));
    if let (Some(min), Some(best), Some(max)) = (min, best, max)
        && !(min..=max).contains(&best)
    {
        fields.problem_at(
            "best_c",
            "does not lie between min_c and max_c",
            "Mend one of the three.",
        );
    }
    let temperature = |degrees: Option<i64>| Temperature::from_c(degrees.unwrap_or_default());
    OvenRange {
        best: temperature(best),
        min: temperature(min),
        max: temperature(max),
        per_degree: Seconds::from_secs(fields.whole_if("s_per_c", -600..=600).unwrap_or(0)),
    }
}

fn safety(fields: &Fields<'_>) -> StepSafety {
    fields.only(SAFETY_KEYS);
    if !fields.has("core_c") && !fields.has("boil_s") {
        fields.problem("demands nothing", "Add core_c or boil_s.");
    }
    StepSafety {
        core: fields.whole_if("core_c", 30..=120).map(Temperature::from_c),
        boil: fields.whole_if("boil_s", 1..=SECONDS_MAX).map(Seconds::from_secs),
        note: fields.text("note"),
    }
}
