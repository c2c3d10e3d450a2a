//! One thing is broken in a recipe that is plausible, and exactly the rule that watches it speaks.

use std::collections::BTreeSet;

use larderwright_audit::recipe::rules;

use super::*;

fn text_of(list: &[(&str, &'static str)], id: &str) -> &'static str {
    let found = list.iter().find(|(known, _)| *known == id);
    found.expect("the larder has the recipe").1
}

fn replaced(text: &str, id: &str, from: &str, to: &str) -> String {
    assert!(text.contains(from), "{id} has no `{from}`");
    text.replace(from, to)
}

/// The rules that speak after every `from` in a component's file became `to`.
fn component(id: &str, from: &str, to: &str) -> BTreeSet<String> {
    let text = replaced(text_of(COMPONENTS, id), id, from, to);
    let shelf = Shelf::open();
    let found = check_component(&read_component(id, &text), &shelf.foods);
    names(&open(found, id, &text))
}

/// The same for a meal.
fn meal(id: &str, from: &str, to: &str) -> BTreeSet<String> {
    let text = replaced(text_of(MEALS, id), id, from, to);
    let shelf = Shelf::open();
    let found = check_meal(&read_meal(id, &text), shelf.pantry());
    names(&open(found, id, &text))
}

fn names(findings: &[Finding]) -> BTreeSet<String> {
    findings.iter().map(|it| it.rule.as_str().to_owned()).collect()
}

/// Component, what is replaced, by what, and the rule that speaks.
const COMPONENTS_BROKEN: &[(&str, &str, &str, &str)] = &[
    // The pot gives more than went into it.
    (
        "quinoa",
        "[2500, 2700, 2950]",
        "[2500, 2700, 3300]",
        "recipe.mass",
    ),
    // A sauce that boils away.
    (
        "tomato-sauce",
        "[960, 1060, 1150]",
        "[500, 600, 700]",
        "recipe.evaporation",
    ),
    // A bathtub for a kilogram of dry lentils.
    (
        "green-lentils",
        "fixed_g = 600\nper_kg_g = 3500",
        "fixed_g = 600\nper_kg_g = 35000",
        "recipe.liquid",
    ),
    // Rice that does not swell.
    (
        "white-rice",
        "[2400, 2600, 2690]",
        "[1700, 1800, 1900]",
        "recipe.yield",
    ),
    // A zero too many.
    (
        "roast-squash",
        "per_kg_mg = 6000",
        "per_kg_mg = 60000",
        "recipe.salt",
    ),
    // A zero too few.
    (
        "roast-squash",
        "per_kg_mg = 6000",
        "per_kg_mg = 600",
        "recipe.salt",
    ),
    // A quarter of a litre of oil in a kilogram of greens.
    (
        "braised-greens",
        "food = \"olive-oil\"\nper_kg_g = 40",
        "food = \"olive-oil\"\nper_kg_g = 250",
        "recipe.energy",
    ),
    // Saffron for oil.
    (
        "green-beans",
        "food = \"olive-oil\"\nper_kg_g = 10",
        "food = \"saffron\"\nper_kg_g = 10",
        "recipe.cost",
    ),
    // An hour's peeling for a kilogram.
    (
        "roast-squash",
        "per_kg_s = 330",
        "per_kg_s = 3300",
        "recipe.hands",
    ),
    // Trays heaped three high.
    (
        "roast-potatoes",
        "tray_g = 950",
        "tray_g = 1250",
        "recipe.oven-tray",
    ),
    // Half a kilogram of juice gone in a quarter of an hour.
    (
        "turkey-meatballs",
        "fixed_s = 1200",
        "fixed_s = 900",
        "recipe.oven-power",
    ),
    // Hotter is said to be slower.
    (
        "roast-potatoes",
        "s_per_c = -22",
        "s_per_c = 22",
        "recipe.oven-slope",
    ),
    // A range that nobody's oven holds to.
    (
        "roast-potatoes",
        "min_c = 195",
        "min_c = 130",
        "recipe.oven-range",
    ),
    // A saucepan for a stockpot's work.
    (
        "vegetable-stock",
        "pot_ml_per_kg = 13500",
        "pot_ml_per_kg = 3500",
        "recipe.pot",
    ),
    // Poultry taken out at the temperature of beef.
    ("turkey-meatballs", "core_c = 75", "core_c = 63", "recipe.core"),
    // Fish that is only warmed.
    ("poached-salmon", "core_c = 70", "core_c = 50", "recipe.core"),
    // Cannellini boiled for a minute.
    ("white-beans", "boil_s = 1800", "boil_s = 60", "recipe.boil"),
    // Ten minutes are not enough in the mountains.
    ("white-beans", "boil_s = 1800", "boil_s = 600", "recipe.boil"),
    // Nobody says where the clean board begins.
    (
        "poached-salmon",
        "hygiene = \"ready\"",
        "hygiene = \"plain\"",
        "recipe.hygiene",
    ),
    (
        "poached-salmon",
        "hygiene = \"raw-meat\"",
        "hygiene = \"plain\"",
        "recipe.hygiene",
    ),
    // An amount typed twice goes stale.
    (
        "quinoa",
        "Turn down low.",
        "Turn down for 15 minutes.",
        "recipe.wording",
    ),
    (
        "quinoa",
        "Turn down low.",
        "Turn down until it is safe.",
        "recipe.wording",
    ),
    // Explained, but nothing is flagged.
    (
        "quinoa",
        "[[way]]",
        "[[explain]]\nrule = \"recipe.salt\"\nwhy = \"None.\"\n\n[[way]]",
        "recipe.explained",
    ),
];

/// Meal, what is replaced, by what, and the rule that speaks.
const MEALS_BROKEN: &[(&str, &str, &str, &str)] = &[
    (
        "levantine-bowl",
        "portion_g = 160",
        "portion_g = 16",
        "recipe.portion",
    ),
    (
        "levantine-bowl",
        "fixed_s = 180",
        "fixed_s = 1800",
        "recipe.assembly",
    ),
];

#[test]
fn a_broken_component_is_told_by_the_rule_that_watches_it() {
    let others: Vec<String> = COMPONENTS_BROKEN
        .iter()
        .map(|case @ (id, from, to, _)| (case, component(id, from, to)))
        .filter(|((_, _, _, rule), told)| *told != BTreeSet::from([(*rule).to_owned()]))
        .map(|((id, from, to, rule), told)| format!("{id}: {from} -> {to}: {rule}, but {told:?}"))
        .collect();
    assert!(others.is_empty(), "{}", others.join("\n"));
}

#[test]
fn a_broken_meal_is_told_by_the_rule_that_watches_it() {
    for (id, from, to, rule) in MEALS_BROKEN {
        assert!(meal(id, from, to).contains(*rule), "{id}: {from} -> {to}");
    }
}

#[test]
fn a_way_of_two_steps_is_told() {
    let text = text_of(COMPONENTS, "peanut-sauce");
    let at = text.rfind("[[way.step]]").expect("it has steps");
    let shelf = Shelf::open();
    let found = check_component(&read_component("peanut-sauce", &text[..at]), &shelf.foods);
    assert_eq!(names(&found), BTreeSet::from(["recipe.steps".to_owned()]));
}

/// A meal of one element with one option.
fn bare(at: &str, item: &str, portion_g: i64) -> BTreeSet<String> {
    let text = format!(
        "name = \"Bare\"\ncuisine = \"none\"\nat = [\"{at}\"]\nkind = \"plate\"\n\
         assemble = {{ fixed_s = 60, per_cover_s = 10 }}\ntext = \"Serve.\"\n\
         [[element]]\nid = \"main\"\nportion_g = {portion_g}\nneed = \"one\"\n\
         [[element.option]]\nfood = \"{item}\"\nfinish = \"raw\"\n"
    );
    names(&check_meal(&read_meal("bare", &text), Shelf::open().pantry()))
}

#[test]
fn plates_are_weighed_and_counted() {
    let set = |rules: &[&str]| rules.iter().map(|&rule| rule.to_owned()).collect::<BTreeSet<_>>();
    assert_eq!(bare("snack", "apple", 150), set(&[]));
    assert_eq!(
        bare("snack", "apple", 20),
        set(&["recipe.plate", "recipe.plate-energy"])
    );
    // Sugar: energy enough, and nothing else.
    assert_eq!(bare("dinner", "sugar", 250), set(&["recipe.plate-protein"]));
    // Butter for supper.
    let butter = bare("dinner", "butter", 250);
    assert!(butter.contains("recipe.plate-energy"), "{butter:?}");
    // Saffron by the plate.
    assert!(bare("dinner", "saffron", 200).contains("recipe.plate-cost"));
}

#[test]
fn a_place_with_animal_foods_and_nuts_only_is_told() {
    for food in ["cheddar", "almond", "tahini", "honey", "salmon-fillet"] {
        assert!(bare("snack", food, 60).contains("recipe.free-choice"), "{food}");
    }
    for food in ["apple", "sunflower-seed", "carrot"] {
        assert!(!bare("snack", food, 60).contains("recipe.free-choice"), "{food}");
    }
}

#[test]
fn fatal_findings_cannot_be_explained_away() {
    let explained = "[[explain]]\nrule = \"recipe.core\"\nwhy = \"We like it so.\"\n\n[[way]]";
    let text = replaced(
        text_of(COMPONENTS, "turkey-meatballs"),
        "turkey-meatballs",
        "core_c = 75",
        "core_c = 63",
    );
    let text = text.replacen("[[way]]", explained, 1);
    let shelf = Shelf::open();
    let found = check_component(&read_component("turkey-meatballs", &text), &shelf.foods);
    assert!(names(&open(found, "turkey-meatballs", &text)).contains("recipe.core"));
}

#[test]
fn every_rule_of_recipes_is_shown_to_speak() {
    let tables = COMPONENTS_BROKEN
        .iter()
        .chain(MEALS_BROKEN)
        .map(|(_, _, _, rule)| *rule);
    let elsewhere = [
        "recipe.steps",
        "recipe.plate",
        "recipe.plate-energy",
        "recipe.plate-protein",
        "recipe.plate-cost",
        "recipe.free-choice",
    ];
    let shown: BTreeSet<&str> = tables.chain(elsewhere).collect();
    let all: BTreeSet<&str> = rules::ALL.iter().map(|rule| rule.id).collect();
    assert_eq!(shown, all);
}
