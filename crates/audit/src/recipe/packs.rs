//! Open packs: which recipes use a perishable food, so that what one leaves of a bunch, a tin or a carton has
//! somewhere to go. Raw meat and fish are left out: a rest of them goes to the freezer. It plans nothing.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_model::{Department, Food, FoodId, Item, Meal, MealId, SizeStep, StorageClass, Way};
use larderwright_safety::core_minimum;

use super::Pantry;

/// A perishable food and the recipes that use it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fate {
    /// The food.
    pub food: FoodId,
    /// Recipes that take what they need and may leave the rest: components and meals by identifier.
    pub leaves: BTreeSet<String>,
    /// Recipes that can take a rest: those that leave one, and those that count in whole packs.
    pub takes: BTreeSet<String>,
}

impl Fate {
    /// Whether some recipe leaves a rest that no other recipe takes.
    #[must_use]
    pub fn is_lonely(&self) -> bool {
        self.leaves
            .iter()
            .any(|from| self.takes.iter().all(|to| to == from))
    }
}

/// The fates of every perishable food that is bought in packs or bunches, by identifier.
#[must_use]
pub fn fates(pantry: Pantry<'_>, meals: &BTreeMap<MealId, Meal>) -> Vec<Fate> {
    let mut fates: BTreeMap<&FoodId, Fate> = BTreeMap::new();
    let mut note = |food: &'_ FoodId, recipe: &str, whole: bool| {
        let Some((food, _)) = pantry
            .foods
            .get_key_value(food)
            .filter(|(_, food)| perishes(food))
        else {
            return;
        };
        let fate = fates.entry(food).or_insert_with(|| Fate {
            food: food.clone(),
            leaves: BTreeSet::new(),
            takes: BTreeSet::new(),
        });
        fate.takes.insert(recipe.to_owned());
        if !whole {
            fate.leaves.insert(recipe.to_owned());
        }
    };
    for component in pantry.components.values() {
        for way in &component.ways {
            for input in &way.inputs {
                note(&input.food, component.id.as_str(), in_packs(way, &input.food));
            }
        }
    }
    for meal in meals.values() {
        for option in meal.elements.iter().flat_map(|element| &element.options) {
            if let Item::Food(food) = &option.item {
                note(food, meal.id.as_str(), false);
            }
        }
    }
    fates.into_values().collect()
}

/// Whether a way uses this food by the whole pack.
fn in_packs(way: &Way, food: &FoodId) -> bool {
    way.size.step == SizeStep::Pack && way.driver == *food
}

/// Whether an open pack of it does not last: fresh and quick to spoil, or out of a tin or carton.
fn perishes(food: &Food) -> bool {
    let loose = food.packs.iter().any(|pack| pack.size.label.contains("loose"));
    let opened = matches!(
        food.department,
        Department::Cans | Department::Chilled | Department::Dairy
    );
    let flesh = core_minimum(food).is_some();
    !loose && !flesh && (food.storage == StorageClass::FridgeShort || opened)
}
