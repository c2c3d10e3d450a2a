//! The judge of recipes: whether the numbers of a component or a meal are plausible in any kitchen.
//!
//! It computes what a recipe comes to (salt, liquid, heat, money, minutes) and compares it with bands that were
//! written down beforehand. A flag is not a fault: it is mended, or explained in the recipe's file. Nothing here
//! tastes, and silence never means that food is safe.

mod band;
mod batch;
mod hazard;
mod heat;
mod mass;
mod meal;
pub mod packs;
mod plate;
pub mod rules;
mod words;
mod worth;

use std::collections::BTreeMap;

use larderwright_model::{Component, ComponentId, Finding, Food, FoodId, Meal, RuleId};
use larderwright_quantity::Mass;

use crate::notes::Notes;
use batch::Batch;

/// What recipes are judged with.
#[derive(Clone, Copy, Debug)]
pub struct Pantry<'p> {
    /// Components by identifier: meals are made of them.
    pub components: &'p BTreeMap<ComponentId, Component>,
    /// Foods with packs and prices.
    pub foods: &'p BTreeMap<FoodId, Food>,
}

/// Judges every way of a component, at its smallest and its largest batch.
///
/// Findings come gravest first, then by rule and subject; the subject is `component/way`.
#[must_use]
pub fn check_component(component: &Component, foods: &BTreeMap<FoodId, Food>) -> Vec<Finding> {
    let mut notes = Notes::default();
    for way in &component.ways {
        for x in sizes(way.size.min, way.size.max) {
            let batch = Batch {
                component,
                way,
                x,
                foods,
            };
            mass::check(&batch, &mut notes);
            worth::check(&batch, &mut notes);
            heat::check(&batch, &mut notes);
        }
        hazard::check(component, way, foods, &mut notes);
        words::check(component, way, &mut notes);
    }
    notes.sorted()
}

fn sizes(min: Mass, max: Mass) -> Vec<Mass> {
    if min == max { vec![min] } else { vec![min, max] }
}

/// Judges a meal on the plate of a usual adult: its first options, and every other option in their place.
///
/// Findings come gravest first, then by rule and subject; the subject is the meal, or `meal/element/item`.
#[must_use]
pub fn check_meal(meal: &Meal, pantry: Pantry<'_>) -> Vec<Finding> {
    let mut notes = Notes::default();
    meal::check(meal, pantry, &mut notes);
    plate::check(meal, pantry, &mut notes);
    notes.sorted()
}

/// The findings that the recipe's file does not explain, and one for every explanation that explains nothing.
///
/// Fatal findings cannot be explained away.
#[must_use]
pub fn without_explained(
    findings: Vec<Finding>,
    explained: &[(RuleId, String)],
    subject: &str,
) -> Vec<Finding> {
    let may_go = |finding: &Finding| finding.severity != larderwright_model::Severity::Fatal;
    let explains = |rule: &RuleId, finding: &Finding| may_go(finding) && finding.rule == *rule;
    let mut notes = Notes::default();
    for (rule, why) in explained {
        if !findings.iter().any(|finding| explains(rule, finding)) {
            notes
                .say(
                    &rules::EXPLAINED,
                    subject,
                    format!("`{rule}` is explained but raises no flag"),
                )
                .evidence
                .clone_from(why);
        }
    }
    let open = findings
        .into_iter()
        .filter(|finding| !explained.iter().any(|(rule, _)| explains(rule, finding)));
    open.chain(notes.sorted()).collect()
}
