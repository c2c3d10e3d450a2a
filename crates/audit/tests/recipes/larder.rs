//! The whole built-in larder.

use larderwright_reference::keeping::KeepingBasis;

use super::*;

#[test]
fn every_component_is_plausible_or_explains_itself() {
    let shelf = Shelf::open();
    let open: Vec<Finding> = COMPONENTS
        .iter()
        .flat_map(|&(id, text)| {
            open(
                check_component(&shelf.components[&id.into()], &shelf.foods),
                id,
                text,
            )
        })
        .collect();
    assert!(open.is_empty(), "{}", told(&open));
}

#[test]
fn every_meal_is_plausible_or_explains_itself() {
    let shelf = Shelf::open();
    let open: Vec<Finding> = MEALS
        .iter()
        .flat_map(|&(id, text)| open(check_meal(&shelf.meals[&id.into()], shelf.pantry()), id, text))
        .collect();
    assert!(open.is_empty(), "{}", told(&open));
}

#[test]
fn what_one_recipe_leaves_of_a_perishable_pack_another_takes() {
    let shelf = Shelf::open();
    let fates = packs::fates(shelf.pantry(), &shelf.meals);
    let foods: Vec<&str> = fates.iter().map(|fate| fate.food.as_str()).collect();
    for expected in ["parsley", "coriander-leaf", "coconut-milk-canned", "kale"] {
        assert!(foods.contains(&expected), "{expected} perishes");
    }
    for keeps in ["salt", "oats-rolled", "beef-mince", "carrot"] {
        assert!(!foods.contains(&keeps), "{keeps} keeps or is left out");
    }
    let lonely: Vec<String> = fates
        .iter()
        .filter(|fate| fate.is_lonely())
        .map(|fate| format!("{}: {:?}", fate.food, fate.leaves))
        .collect();
    assert!(lonely.is_empty(), "{}", lonely.join("\n"));
}

#[test]
fn an_open_pack_has_two_more_takers_or_freezes_by_a_row_of_the_table() {
    let shelf = Shelf::open();
    let fates = packs::fates(shelf.pantry(), &shelf.meals);
    assert!(fates.len() >= 20, "{}", fates.len());
    let freezes = |id: &str| {
        let rows = larderwright_reference::food(id).map_or(&[][..], |row| row.keeping);
        let known = [
            KeepingBasis::Read,
            KeepingBasis::SecondHand,
            KeepingBasis::Derived,
        ];
        rows.iter()
            .any(|row| row.freezer_days.is_some() && known.contains(&row.basis))
    };
    let open = fates.iter().filter(|fate| {
        // A recipe that leaves a rest is itself among the takers.
        !fate.leaves.is_empty() && fate.takes.len() < 3 && !freezes(fate.food.as_str())
    });
    let open: Vec<String> = open
        .map(|fate| format!("{}: {:?}", fate.food, fate.takes))
        .collect();
    assert!(open.is_empty(), "{}", open.join("\n"));
}

#[test]
fn the_larder_holds_the_families_that_a_week_needs() {
    let shelf = Shelf::open();
    let count = |family| {
        let components = shelf.components.values();
        components.filter(|component| component.family == family).count()
    };
    use larderwright_model::Family;
    assert!(shelf.components.len() >= 40, "{}", shelf.components.len());
    for (family, least) in [
        (Family::Pulse, 4),
        (Family::Grain, 8),
        (Family::Protein, 6),
        (Family::Vegetable, 8),
        (Family::Egg, 1),
        (Family::Sauce, 6),
        (Family::Pickle, 1),
        (Family::Salad, 2),
        (Family::Dough, 1),
        (Family::Breakfast, 2),
        (Family::Stock, 2),
    ] {
        assert!(count(family) >= least, "{family:?}: {}", count(family));
    }
}

#[test]
fn a_kitchen_without_an_oven_finds_two_components_of_every_family() {
    use larderwright_model::{Equipment, Family};
    let shelf = Shelf::open();
    let without = |component: &Component| {
        let ovens = [Equipment::Oven, Equipment::Rack];
        component
            .ways
            .iter()
            .any(|way| !way.needs.iter().any(|need| ovens.contains(need)))
    };
    for family in [
        Family::Pulse,
        Family::Grain,
        Family::Protein,
        Family::Vegetable,
        Family::Breakfast,
    ] {
        let of_family = shelf.components.values().filter(|it| it.family == family);
        let can = of_family.filter(|component| without(component)).count();
        assert!(can >= 2, "{family:?}: {can} without an oven");
    }
}
