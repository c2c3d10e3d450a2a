//! The built-in recipes' format: one TOML file for each component and meal, read into the model's nouns. Whether
//! the foods and components it names exist is for the reader of the whole larder to say, not for one file.

mod component;
mod explain;
mod meal;
mod step;

use larderwright_model::{Component, Meal, RuleId};

use crate::problem::Problem;
use crate::reader::read_file;
use crate::wire::{Wire, text};

#[cfg(test)]
pub(crate) use component::{COMPONENT_KEYS, INPUT_KEYS, SIZE_KEYS, WAY_KEYS, YIELD_KEYS};
#[cfg(test)]
pub(crate) use explain::EXPLAIN_KEYS;
#[cfg(test)]
pub(crate) use meal::{ASSEMBLE_KEYS, ELEMENT_KEYS, MEAL_KEYS, OPTION_KEYS, RULE_KEYS};
#[cfg(test)]
pub(crate) use step::{AFTER_KEYS, BOIL_KEYS, LAW_KEYS, OVEN_KEYS, SAFETY_KEYS, STEP_KEYS, VISIT_KEYS};

/// Reads a component file; `id` is the file's stem.
///
/// # Errors
/// Every problem of the file, by line.
pub fn parse_component(id: &str, text: &str) -> Result<Component, Vec<Problem>> {
    read_file(text, |fields| component::read(id, fields))
}

/// Reads a meal file; `id` is the file's stem.
///
/// # Errors
/// Every problem of the file, by line.
pub fn parse_meal(id: &str, text: &str) -> Result<Meal, Vec<Problem>> {
    read_file(text, |fields| meal::read(id, fields))
}

/// Reads what a component or meal file explains: the rule of the recipe checker that speaks, and why the figure is
/// meant.
///
/// # Errors
/// Every problem of the explanations, by line.
pub fn parse_explained(text: &str) -> Result<Vec<(RuleId, String)>, Vec<Problem>> {
    read_file(text, explain::read)
}

/// A component as snapshots hold it, as JSON.
#[must_use]
pub fn component_to_json(component: &Component) -> String {
    text(&component.to_record())
}

/// A meal as snapshots hold it, as JSON.
#[must_use]
pub fn meal_to_json(meal: &Meal) -> String {
    text(&meal.to_record())
}
