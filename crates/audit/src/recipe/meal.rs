//! Meals by themselves: portions, minutes at the counter, and whether everybody finds an option.

use larderwright_model::{Allergen, ElementOption, Food, FoodKind, Item, Meal, Need, Presence};
use larderwright_quantity::Rounding;

use super::band::portion_g;
use super::{Pantry, rules};
use crate::notes::Notes;

const ASSEMBLY_S: std::ops::RangeInclusive<i64> = 30..=900;

pub(super) fn check(meal: &Meal, pantry: Pantry<'_>, notes: &mut Notes) {
    for element in &meal.elements {
        let band = portion_g(element.id.as_str(), &meal.kind);
        for option in &element.options {
            let grams = option.portion.g(Rounding::Nearest);
            if !band.holds(grams) {
                let subject = format!("{}/{}/{}", meal.id, element.id, option.item.as_str());
                notes.say(&rules::PORTION, subject, "an unusual portion").evidence =
                    format!("{grams} g, usual {} to {}", band.low, band.high);
            }
        }
        let must = element.need != Need::Optional;
        if must && !element.options.iter().any(|option| free(option, pantry)) {
            notes.say(
                &rules::FREE_CHOICE,
                format!("{}/{}", meal.id, element.id),
                "no option is free of animal foods, nuts and sesame",
            );
        }
    }
    let two = meal.assemble_fixed + meal.assemble_per_cover.times(2);
    if !ASSEMBLY_S.contains(&two.secs()) {
        notes
            .say(
                &rules::ASSEMBLY,
                meal.id.as_str(),
                "an odd time to put two plates together",
            )
            .evidence = format!("{} s", two.secs());
    }
}

/// Whether an option holds no animal food, no nuts and no sesame, in the first way it is made.
fn free(option: &ElementOption, pantry: Pantry<'_>) -> bool {
    let food = |id| pantry.foods.get(id).is_some_and(plain);
    match &option.item {
        Item::Food(id) => food(id),
        Item::Component(id) => pantry.components.get(id).is_some_and(|component| {
            component
                .ways
                .first()
                .is_some_and(|way| way.inputs.iter().all(|input| food(&input.food)))
        }),
    }
}

fn plain(food: &Food) -> bool {
    let harmless = |kind: &FoodKind| matches!(kind, FoodKind::Plant | FoodKind::Mineral);
    let nutty = [Allergen::TreeNuts, Allergen::Peanuts, Allergen::Sesame];
    let holds = |allergen: &Allergen| {
        food.allergens
            .as_ref()
            .is_none_or(|marks| marks.get(allergen) == Some(&Presence::Contains))
    };
    food.kinds.iter().all(harmless) && !nutty.iter().any(holds)
}
