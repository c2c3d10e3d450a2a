//! Nutrients of a component as its recipe makes it: which method its steps mean, and its inputs at one size.
//! A recipe has one method for all its inputs; what is stirred in raw at the end is counted as cooked.

use larderwright_model::{Equipment, FoodId, Step, Way};
use larderwright_quantity::{Mass, Rounding};

use super::{CookedError, Ingredient, Input, Nutrients, cooked};
use crate::retention::{self, Group, Method};

/// A food of the built-in table as an ingredient.
#[must_use]
pub fn built_in(food: &FoodId) -> Option<Ingredient> {
    crate::food(food.as_str()).map(Ingredient::of_row)
}

/// The method that the steps of a way mean.
///
/// | the session heats | liquid | method |
/// |---|---|---|
/// | nothing | | raw |
/// | on a burner or under pressure | some is drained | boiled, drained |
/// | on a burner | kept, after a step in fat | braised |
/// | on a burner or under pressure | kept | boiled, water used |
/// | in an oven | among the inputs, without tray | braised |
/// | in an oven | none, or on a tray | roasted |
/// | on a burner | none | fried |
/// | in a microwave oven only | | steamed |
///
/// Liquid is an input such as water or stock, or a step that brings something to the boil. Steps done ahead
/// of the session are left out.
#[must_use]
pub fn method_of(way: &Way) -> Method {
    let heated = |equipment: &[Equipment]| {
        way.steps
            .iter()
            .any(|step| !step.lead && step.uses.iter().any(|used| equipment.contains(used)))
    };
    let pot = heated(&[Equipment::Burner, Equipment::PressureCooker]);
    let oven = heated(&[Equipment::Rack, Equipment::Oven]);
    let tray = way.steps.iter().any(|step| step.uses.contains(&Equipment::Tray));
    let boil = way.steps.iter().position(|step| step.boil.is_some());
    let liquid = |drained: bool| {
        way.inputs
            .iter()
            .any(|input| input.drained == drained && retention::group(input.food.as_str()) == Group::Liquid)
    };
    // Water that goes onto a tray is part of a mixture: nothing cooks in it.
    let wet = (pot && boil.is_some()) || ((pot || !tray) && (liquid(false) || liquid(true)));
    match (pot, oven) {
        (false, false) if heated(&[Equipment::Microwave]) => Method::Steamed,
        (false, false) => Method::Raw,
        (_, true) if tray || !wet => Method::Roasted,
        (true, false) if !wet => Method::Fried,
        _ if liquid(true) => Method::BoiledDrained,
        (_, true) => Method::Braised,
        _ if way.steps.iter().take(boil.unwrap_or(way.steps.len())).any(in_fat) => Method::Braised,
        _ => Method::BoiledWaterUsed,
    }
}

/// A step at the stove with busy hands, before anything boils: softening, toasting, browning.
fn in_fat(step: &Step) -> bool {
    step.uses.contains(&Equipment::Burner) && step.hands > 0
}

/// Nutrients per 100 g of a component made with `x` of its driver, at the likely yield. `ingredient` finds a
/// food by its identifier; [`built_in`] does for the foods of the table.
///
/// # Errors
/// When a food is not found, or the yield leaves nothing.
pub fn of_way(
    way: &Way,
    x: Mass,
    ingredient: &dyn Fn(&FoodId) -> Option<Ingredient>,
) -> Result<Nutrients, CookedError> {
    let mut inputs = Vec::new();
    for input in &way.inputs {
        inputs.push(Input {
            ingredient: ingredient(&input.food).ok_or_else(|| CookedError::NoFood(input.food.clone()))?,
            mass: input.fixed + input.per_kg.scale(x.mg(), 1_000_000, Rounding::Nearest),
            drained: input.drained,
        });
    }
    let output = way.yields.likely.of(x, Rounding::Nearest);
    cooked(&inputs, output, method_of(way))
}

#[cfg(test)]
mod tests;
