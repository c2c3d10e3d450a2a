//! The judge of recipes before the built-in larder: every flag is mended or explained in the recipe's own file,
//! and every rule is shown to speak.

mod broken;
mod larder;
mod published;

use std::collections::BTreeMap;

use larderwright_audit::recipe::{Pantry, check_component, check_meal, packs, without_explained};
use larderwright_model::{Component, ComponentId, Finding, Food, FoodId, Meal, MealId};
use larderwright_records::larder::{parse_component, parse_explained, parse_meal};
use larderwright_reference::larder::{COMPONENTS, MEALS};

/// The built-in larder and the foods of the table.
struct Shelf {
    components: BTreeMap<ComponentId, Component>,
    meals: BTreeMap<MealId, Meal>,
    foods: BTreeMap<FoodId, Food>,
}

impl Shelf {
    fn open() -> Self {
        let component = |&(id, text): &(&str, &str)| (id.into(), read_component(id, text));
        let meal = |&(id, text): &(&str, &str)| (id.into(), read_meal(id, text));
        let rows = larderwright_reference::all().iter();
        Self {
            components: COMPONENTS.iter().map(component).collect(),
            meals: MEALS.iter().map(meal).collect(),
            foods: rows.map(|row| (FoodId::new(row.id), row.to_food())).collect(),
        }
    }

    fn pantry(&self) -> Pantry<'_> {
        Pantry {
            components: &self.components,
            foods: &self.foods,
        }
    }
}

fn read_component(id: &str, text: &str) -> Component {
    parse_component(id, text).unwrap_or_else(|problems| panic!("{id}: {problems:?}"))
}

fn read_meal(id: &str, text: &str) -> Meal {
    parse_meal(id, text).unwrap_or_else(|problems| panic!("{id}: {problems:?}"))
}

/// What a file leaves open after its explanations.
fn open(findings: Vec<Finding>, id: &str, text: &str) -> Vec<Finding> {
    let explained = parse_explained(text).unwrap_or_else(|problems| panic!("{id}: {problems:?}"));
    without_explained(findings, &explained, id)
}

fn told(findings: &[Finding]) -> String {
    let line = |it: &Finding| format!("{} {}: {} ({})", it.rule, it.subject, it.message, it.evidence);
    findings.iter().map(line).collect::<Vec<_>>().join("\n")
}
