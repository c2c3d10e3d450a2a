//! Diets and things left out by choice.

use larderwright_model::{Allergen, Avoid, Diet, Food, FoodKind, Presence};

use super::Served;
use crate::book::Book;
use crate::notes::Notes;
use crate::rules;

const FLESH: [FoodKind; 6] = [
    FoodKind::Poultry,
    FoodKind::Beef,
    FoodKind::Pork,
    FoodKind::Lamb,
    FoodKind::OtherMeat,
    FoodKind::Gelatine,
];
const SEA: [FoodKind; 3] = [FoodKind::Fish, FoodKind::Crustacean, FoodKind::Mollusc];
const ANIMAL: [FoodKind; 3] = [FoodKind::Dairy, FoodKind::Egg, FoodKind::Honey];

pub(super) fn check(book: &Book<'_>, served: &Served<'_>, notes: &mut Notes) {
    for food in book.portion_foods(served.portion) {
        if let Some(kind) = left_out(served.eater.diet, food) {
            notes
                .say(
                    &rules::EATERS_DIET,
                    served.subject(),
                    format!("{} is not in the diet", served.dish(food)),
                )
                .evidence = format!("{:?} does not eat {kind:?}", served.eater.diet);
        }
        for avoid in &served.eater.avoid {
            if has(food, *avoid) {
                notes
                    .say(
                        &rules::EATERS_AVOID,
                        served.subject(),
                        format!("{} is left out by choice", served.dish(food)),
                    )
                    .evidence = format!("avoids {avoid:?}");
            }
        }
    }
}

fn left_out(diet: Diet, food: &Food) -> Option<FoodKind> {
    let groups: &[&[FoodKind]] = match diet {
        Diet::Everything => &[],
        Diet::Pescatarian => &[&FLESH],
        Diet::Vegetarian => &[&FLESH, &SEA],
        Diet::Vegan => &[&FLESH, &SEA, &ANIMAL],
    };
    groups
        .iter()
        .flat_map(|group| group.iter())
        .find(|kind| food.kinds.contains(kind))
        .copied()
}

/// Gelatine counts as pork: it mostly is, and no label is assumed.
fn has(food: &Food, avoid: Avoid) -> bool {
    let contains = |allergen: Allergen| {
        let listed = food.allergens.as_ref();
        listed.is_some_and(|all| all.get(&allergen) == Some(&Presence::Contains))
    };
    let kind = |kind: FoodKind| food.kinds.contains(&kind);
    match avoid {
        Avoid::Dairy => kind(FoodKind::Dairy) || contains(Allergen::Milk),
        Avoid::Gluten => contains(Allergen::Gluten) || contains(Allergen::Wheat),
        Avoid::Pork => kind(FoodKind::Pork) || kind(FoodKind::Gelatine),
        Avoid::Alcohol => kind(FoodKind::Alcohol),
    }
}
