//! Components: the file's head, its ways and their inputs.

use std::collections::BTreeSet;

use larderwright_model::{
    Component, ComponentId, FoodId, Input, RuleId, SizeLimits, SizeStep, Sourced, Way, WayId, Yield,
};
use larderwright_quantity::{Density, Mass, Permille};

use super::{explain, step};
use crate::reader::Fields;

pub(crate) const COMPONENT_KEYS: &[&str] = &[
    "name",
    "family",
    "keep",
    "freeze",
    "serve",
    "bulk_g_per_l",
    "bulk_source",
    "cuisine_hint",
    "season",
    "trouble",
    "explain",
    "way",
];
pub(crate) const WAY_KEYS: &[&str] = &["id", "name", "driver", "size", "yield", "needs", "input", "step"];
pub(crate) const SIZE_KEYS: &[&str] = &["min_g", "step_g", "step", "max_g"];
pub(crate) const YIELD_KEYS: &[&str] = &["permille", "source"];
pub(crate) const INPUT_KEYS: &[&str] = &[
    "food",
    "fixed_g",
    "fixed_mg",
    "per_kg_g",
    "per_kg_mg",
    "drained",
    "prep",
];

/// A tonne: more than any household cooks.
const GRAMS_MAX: i64 = 1_000_000;

pub(super) fn read(id: &str, fields: &Fields<'_>) -> Component {
    fields.only(COMPONENT_KEYS);
    for hint in fields.list("cuisine_hint") {
        hint.text();
    }
    explain::read(fields);
    let season = fields.list("season");
    let months = season.iter().filter_map(|month| month.whole(&(1..=12)));
    let bulk = Density::from_g_per_l(fields.whole("bulk_g_per_l", 1..=3000));
    let ways: Vec<Way> = fields.need_tables("way").iter().map(way).collect();
    refuse_twins(fields, ways.iter().map(|way| way.id.as_str()));
    Component {
        id: ComponentId::new(id),
        name: fields.text("name"),
        family: fields.word("family"),
        keep: RuleId::new(&fields.id("keep")),
        freeze: fields.word("freeze"),
        serve: fields.word("serve"),
        bulk: Sourced {
            value: bulk,
            source: fields.text("bulk_source"),
        },
        season: months.filter_map(|month| i8::try_from(month).ok()).collect(),
        trouble: fields.text("trouble"),
        ways,
    }
}

/// Refuses an identifier that occurs twice in the same list.
pub(super) fn refuse_twins<'i>(fields: &Fields<'_>, ids: impl Iterator<Item = &'i str>) {
    let mut seen = BTreeSet::new();
    for id in ids.filter(|id| !id.is_empty()) {
        if !seen.insert(id) {
            fields.problem(
                format!("the id `{id}` is used twice"),
                "Give one of them another id.",
            );
        }
    }
}

fn way(fields: &Fields<'_>) -> Way {
    fields.only(WAY_KEYS);
    let steps = step::read_all(fields);
    refuse_twins(fields, steps.iter().map(|step| step.id.as_str()));
    Way {
        id: WayId::new(&fields.id("id")),
        name: fields.text("name"),
        driver: FoodId::new(&fields.id("driver")),
        size: size(fields),
        yields: yields(fields),
        needs: fields.words("needs"),
        inputs: fields.need_tables("input").iter().map(input).collect(),
        steps,
    }
}

fn size(fields: &Fields<'_>) -> SizeLimits {
    let zero = SizeLimits {
        min: Mass::ZERO,
        step: SizeStep::Unit,
        max: Mass::ZERO,
    };
    let Some(fields) = fields.need_table("size") else {
        return zero;
    };
    fields.only(SIZE_KEYS);
    let (min, max) = (
        fields.whole("min_g", 1..=GRAMS_MAX),
        fields.whole("max_g", 1..=GRAMS_MAX),
    );
    if max > 1 && min > max {
        fields.problem_at(
            "min_g",
            format!("`{min}` is more than max_g, `{max}`"),
            "Swap the two.",
        );
    }
    SizeLimits {
        min: Mass::from_g(min),
        step: size_step(&fields),
        max: Mass::from_g(max),
    }
}

fn size_step(fields: &Fields<'_>) -> SizeStep {
    let help = "Write either step_g = 50, or step = \"pack\", or step = \"unit\".";
    match (fields.get("step_g"), fields.get("step")) {
        (Some(grams), None) => SizeStep::Mass(Mass::from_g(grams.whole(&(1..=GRAMS_MAX)).unwrap_or(1))),
        (None, Some(word)) => match word.text() {
            Some("pack") => SizeStep::Pack,
            Some("unit") | None => SizeStep::Unit,
            Some(typed) => {
                word.unknown("way to grow", typed, ["pack", "unit"].into_iter());
                SizeStep::Unit
            }
        },
        (Some(_), Some(_)) => {
            fields.problem("has both step_g and step", help);
            SizeStep::Unit
        }
        (None, None) => {
            fields.problem("does not say in what steps the batch grows", help);
            SizeStep::Unit
        }
    }
}

fn yields(fields: &Fields<'_>) -> Yield {
    let none = Permille::from_permille(0);
    let zero = Yield {
        low: none,
        likely: none,
        high: none,
        source: String::new(),
    };
    let Some(fields) = fields.need_table("yield") else {
        return zero;
    };
    fields.only(YIELD_KEYS);
    let [low, likely, high] = triple(&fields, "permille", 1, 20_000).unwrap_or([1; 3]);
    Yield {
        low: Permille::from_permille(low),
        likely: Permille::from_permille(likely),
        high: Permille::from_permille(high),
        source: fields.text("source"),
    }
}

/// A low, a likely and a high value, in that order; `None` when that is not what stands there.
pub(super) fn triple(fields: &Fields<'_>, key: &str, least: i64, most: i64) -> Option<[i64; 3]> {
    let value = fields.need(key)?;
    let written = value.list();
    let numbers: Option<Vec<i64>> = written.iter().map(|part| part.whole(&(least..=most))).collect();
    let three: [i64; 3] = match numbers?.try_into() {
        Ok(three) => three,
        Err(_) => {
            value.problem(
                "has not three numbers",
                "Write the low, the likely and the high value.",
            );
            return None;
        }
    };
    if !three.is_sorted() {
        value.problem(
            "is not in order",
            "Write the low, the likely and the high value, in that order.",
        );
    }
    Some(three)
}

fn input(fields: &Fields<'_>) -> Input {
    fields.only(INPUT_KEYS);
    let (fixed, per_kg) = (
        amount(fields, "fixed_g", "fixed_mg"),
        amount(fields, "per_kg_g", "per_kg_mg"),
    );
    if fixed.is_none() && per_kg.is_none() {
        fields.problem(
            "has no amount",
            "Add fixed_g or per_kg_g, or fixed_mg or per_kg_mg for spices.",
        );
    }
    Input {
        food: FoodId::new(&fields.id("food")),
        fixed: fixed.unwrap_or(Mass::ZERO),
        per_kg: per_kg.unwrap_or(Mass::ZERO),
        drained: fields.flag("drained"),
        prep: fields.text_or_empty("prep"),
    }
}

/// An amount in grams or in milligrams, not both; `None` when neither is there.
fn amount(fields: &Fields<'_>, grams: &str, milligrams: &str) -> Option<Mass> {
    if fields.has(grams) && fields.has(milligrams) {
        fields.problem_at(
            milligrams,
            format!("stands beside {grams}"),
            "Write one of the two.",
        );
    }
    if fields.has(grams) {
        return Some(Mass::from_g(fields.whole(grams, 0..=GRAMS_MAX)));
    }
    fields
        .has(milligrams)
        .then(|| Mass::from_mg(fields.whole(milligrams, 0..=GRAMS_MAX * 1000)))
}
