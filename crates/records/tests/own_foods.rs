//! Foods of a household's own: three lines are enough, what nobody wrote is not known, and mistakes are told at their
//! line with how to mend them.

use larderwright_model::{Allergen, Food, FoodKind, Presence, PriceBasis, StorageClass};
use larderwright_quantity::{Mass, Money};
use larderwright_records::Problem;
use larderwright_records::household::{EXAMPLE_HOUSEHOLD, parse_household};

/// The example with these lines as a food of its own at the end.
fn parse(lines: &str) -> Result<Vec<Food>, Vec<Problem>> {
    parse_household(&format!("{EXAMPLE_HOUSEHOLD}\n[[food]]\n{lines}\n")).map(|household| household.foods)
}

fn read(lines: &str) -> Food {
    let mut foods = parse(lines).unwrap_or_else(|problems| panic!("{problems:?}"));
    foods.remove(0)
}

fn marks(food: &Food) -> Vec<(Allergen, Presence)> {
    let marks = food.allergens.as_ref().expect("the allergens are known");
    marks
        .iter()
        .map(|(allergen, presence)| (*allergen, *presence))
        .collect()
}

const PLAIN: &str = "name = \"Smoked tofu\"\ndepartment = \"chilled\"";

#[test]
fn the_block_in_the_example_means_what_it_says() {
    let block = EXAMPLE_HOUSEHOLD
        .split("# [[food]]\n")
        .nth(1)
        .expect("the block is there");
    let lines: Vec<&str> = block
        .lines()
        .take_while(|line| !line.is_empty())
        .map(|line| line.strip_prefix("# ").unwrap_or(line))
        .collect();
    let food = read(&lines.join("\n"));
    assert_eq!(
        (food.id.as_str(), food.name.as_str()),
        ("smoked-tofu", "Smoked tofu")
    );
    assert_eq!(
        marks(&food),
        [
            (Allergen::Soy, Presence::Contains),
            (Allergen::Sesame, Presence::MayContain)
        ]
    );
    assert_eq!(food.kinds, [FoodKind::Plant].into());
    let pack = &food.packs[0];
    assert_eq!(
        (pack.size.label.as_str(), pack.size.mass),
        ("block of 200 g", Mass::from_g(200))
    );
    assert_eq!(
        (pack.price, &pack.basis),
        (Money::from_minor(279), &PriceBasis::Household)
    );
    assert_eq!(food.storage, StorageClass::Fridge);
    assert_eq!(food.unit.expect("it is counted").plural, "blocks");
}

#[test]
fn what_nobody_wrote_is_not_known() {
    let food = read(PLAIN);
    assert_eq!(food.allergens, None);
    assert!(food.kinds.contains(&FoodKind::Pork) && food.kinds.contains(&FoodKind::Honey));
    assert!(food.packs.is_empty() && food.unit.is_none() && food.density.is_none());
    assert_eq!(food.storage, StorageClass::FridgeShort);
    assert_eq!(food.edible.value.permille(), 1000);
    assert!(food.read_label);
    assert_eq!(
        read(&format!(
            "{PLAIN}\nallergens = \"not known\"\nmade_of = \"not known\""
        )),
        food
    );
}

#[test]
fn an_empty_list_of_allergens_says_that_there_are_none() {
    assert_eq!(marks(&read(&format!("{PLAIN}\nallergens = []"))), []);
}

#[test]
fn wheat_is_gluten_and_gluten_of_no_named_cereal_may_be_wheat() {
    use Presence::{Contains, MayContain};
    let check = |lines: &str, wheat: Presence, gluten: Presence| {
        let food = read(&format!("{PLAIN}\n{lines}"));
        assert_eq!(
            marks(&food),
            [(Allergen::Gluten, gluten), (Allergen::Wheat, wheat)],
            "{lines}"
        );
    };
    check("allergens = [\"wheat\"]", Contains, Contains);
    check("allergens = [\"gluten\"]", Contains, Contains);
    check(
        "allergens = [\"gluten\"]\nmay_contain = [\"wheat\"]",
        MayContain,
        Contains,
    );
    check(
        "allergens = []\nmay_contain = [\"wheat\"]",
        MayContain,
        MayContain,
    );
}

#[test]
fn an_animal_allergen_brings_its_kind() {
    let food = read(&format!("{PLAIN}\nallergens = [\"milk\"]\nmade_of = [\"plant\"]"));
    assert_eq!(food.kinds, [FoodKind::Plant, FoodKind::Dairy].into());
}

#[test]
fn a_pack_without_a_price_is_an_estimate_without_a_figure() {
    let food = read(&format!("{PLAIN}\npack = \"1 lb\""));
    assert_eq!(food.packs[0].basis, PriceBasis::Estimate);
    assert_eq!(
        (food.packs[0].price, food.packs[0].size.label.as_str()),
        (Money::ZERO, "1 lb")
    );
}

/// What is written below name and department, at which of these lines the problem is told, and as what.
const MISTAKES: &[(&str, usize, &str)] = &[
    ("allergens = \"milk\"", 1, "food[1].allergens: `milk` is no list"),
    (
        "allergens = [\"mlk\"]",
        1,
        "food[1].allergens[1]: `mlk` is no known allergen",
    ),
    (
        "may_contain = [\"milk\"]",
        1,
        "food[1].may_contain: stands alone, and what it does contain is not known",
    ),
    (
        "allergens = [\"milk\"]\nmay_contain = [\"milk\"]",
        2,
        "food[1].may_contain: `milk` stands among the allergens already",
    ),
    (
        "allergens = []\nmade_of = [\"dairy\"]",
        2,
        "food[1].made_of: `dairy` is the allergen `milk`",
    ),
    (
        "made_of = [\"wood\"]",
        1,
        "food[1].made_of[1]: `wood` is no known kind of food",
    ),
    ("pack = \"2 l\"", 1, "food[1].pack: `2 l` is no weight"),
    ("pack = \"0 g\"", 1, "food[1].pack: weighs nothing"),
    ("price = \"2.79\"", 1, "food[1].price: stands without a pack"),
    (
        "pack = \"200 g\"\nprice = \"2,79\"",
        2,
        "food[1].price: `2,79` is no price",
    ),
    (
        "storage = \"shed\"",
        1,
        "food[1].storage: `shed` is no known storage class",
    ),
    (
        "edible_percent = 120",
        1,
        "food[1].edible_percent: `120` is out of range",
    ),
    ("unit = { one = \"block\" }", 1, "food[1].unit.weighs: is missing"),
    (
        "alergens = []",
        1,
        "food[1].alergens: is no field that is known here",
    ),
    ("id = \"Tofu!\"", 1, "food[1].id: `Tofu!` is no identifier"),
];

#[test]
fn every_mistake_is_told_at_its_line_with_help() {
    let above = EXAMPLE_HOUSEHOLD.lines().count() + 2 + PLAIN.lines().count();
    for (lines, at, message) in MISTAKES {
        let problems = parse(&format!("{PLAIN}\n{lines}")).expect_err(lines);
        let told: Vec<String> = problems
            .iter()
            .map(|it| format!("{} {}: {}", it.line, it.field, it.message))
            .collect();
        assert_eq!(told, [format!("{} {message}", above + at)], "{lines}");
        assert!(problems[0].help.ends_with(['.', '?']), "{}", problems[0].help);
    }
}

#[test]
fn two_foods_of_one_name_need_ids() {
    let twice = format!("{PLAIN}\n[[food]]\n{PLAIN}");
    let problems = parse(&twice).expect_err("the names are the same");
    assert_eq!(problems[0].message, "the id `smoked-tofu` is used twice");
    assert_eq!(
        parse(&format!("{twice}\nid = \"tofu-2\"")).map(|foods| foods.len()),
        Ok(2)
    );
}

#[test]
fn a_food_without_name_or_department_is_told_both() {
    let problems = parse("").expect_err("nothing was written");
    let fields: Vec<&str> = problems.iter().map(|it| it.field.as_str()).collect();
    assert_eq!(fields, ["food[1].department", "food[1].name"]);
}
