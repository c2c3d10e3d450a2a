//! Methods read from recipes of a few words, and recipes cooked at their yield.

use larderwright_model::{
    Boil, Equipment, FoodId, Hygiene, Input as WayInput, Law, SizeLimits, SizeStep, Skill, Spread, Station,
    Step, StepId, Way, WayId, Yield,
};
use larderwright_quantity::{Mass, Permille, Seconds, Volume};

use super::*;
use crate::cooked::Figure;
use crate::nutrient::Nutrient;

fn equipment(word: &str) -> Option<Equipment> {
    Some(match word {
        "burner" => Equipment::Burner,
        "rack" => Equipment::Rack,
        "tray" => Equipment::Tray,
        "microwave" => Equipment::Microwave,
        "pressure" => Equipment::PressureCooker,
        _ => return None,
    })
}

/// A step from words: its equipment, `busy`, `boil`, `lead`.
fn step(text: &str) -> Step {
    let words: Vec<&str> = text.split(' ').collect();
    let busy = words.contains(&"busy");
    Step {
        id: StepId::new(text),
        title: text.to_owned(),
        text: String::new(),
        cue: String::new(),
        lead: words.contains(&"lead"),
        lead_min: None,
        station: Station::Stove,
        hands: u32::from(busy),
        skill: Skill::Any,
        after: Vec::new(),
        uses: words.iter().filter_map(|word| equipment(word)).collect(),
        pot_fixed: Volume::ZERO,
        pot_per_kg: Volume::ZERO,
        load: None,
        tray: None,
        law: Law {
            fixed: Seconds::ZERO,
            per_kg: Seconds::ZERO,
            per_load: Seconds::ZERO,
            load: None,
            spread: Spread::NONE,
            source: String::new(),
        },
        boil: words.contains(&"boil").then_some(Boil {
            fixed: Mass::ZERO,
            per_kg: Mass::from_g(1000),
        }),
        visit: None,
        oven: None,
        hygiene: Hygiene::Plain,
        safety: None,
        merge: None,
    }
}

/// Grams of an input for each kilogram of the driver, with `!` before what is drained.
fn input(text: &str) -> WayInput {
    let (food, grams) = text.split_once(' ').expect("a food and its grams");
    WayInput {
        food: FoodId::new(food.trim_start_matches('!')),
        fixed: Mass::ZERO,
        per_kg: Mass::from_g(grams.parse().expect("whole grams")),
        drained: food.starts_with('!'),
        prep: String::new(),
    }
}

fn way(inputs: &str, steps: &str) -> Way {
    let inputs: Vec<WayInput> = inputs.split(", ").map(input).collect();
    Way {
        id: WayId::new("way"),
        name: String::new(),
        driver: inputs[0].food.clone(),
        size: SizeLimits {
            min: Mass::from_g(100),
            step: SizeStep::Unit,
            max: Mass::from_g(1000),
        },
        yields: Yield {
            low: Permille::from_permille(900),
            likely: Permille::from_permille(2000),
            high: Permille::from_permille(2100),
            source: String::new(),
        },
        needs: Vec::new(),
        inputs,
        steps: steps.split(", ").map(step).collect(),
    }
}

#[test]
fn the_steps_tell_the_method() {
    for (inputs, steps, method) in [
        ("chickpea-canned 1000", "busy", Method::Raw),
        ("oats-rolled 1000, water 2000", "counter", Method::Raw),
        (
            "pasta-dry 1000, !water 5000",
            "burner boil, burner busy",
            Method::BoiledDrained,
        ),
        (
            "pork-shoulder 1000, !water 300",
            "burner busy, burner boil",
            Method::BoiledDrained,
        ),
        (
            "rice-brown-long-dry 1000, water 2000",
            "burner boil",
            Method::BoiledWaterUsed,
        ),
        (
            "rice-brown-long-dry 1000, water 2000",
            "burner boil, burner busy",
            Method::BoiledWaterUsed,
        ),
        (
            "bulgur-dry 1000, water 1700",
            "burner busy, burner boil",
            Method::Braised,
        ),
        (
            "cabbage-white 1000, water 100",
            "burner busy, burner",
            Method::Braised,
        ),
        (
            "tomato-canned-chopped 1000",
            "burner boil",
            Method::BoiledWaterUsed,
        ),
        (
            "chickpea-dry 1000, water 2000",
            "pressure",
            Method::BoiledWaterUsed,
        ),
        ("black-bean-canned 1000", "burner busy", Method::Fried),
        ("carrot 1000", "busy, rack tray", Method::Roasted),
        ("white-bean-canned 1000, water 50", "rack tray", Method::Roasted),
        (
            "potato 1000, !water 2000",
            "burner boil, rack tray",
            Method::Roasted,
        ),
        (
            "pork-shoulder 1000, water 500",
            "burner busy, rack",
            Method::Braised,
        ),
        ("pork-shoulder 1000, !water 500", "rack", Method::BoiledDrained),
        ("potato 1000", "microwave", Method::Steamed),
        ("potato 1000", "lead burner boil", Method::Raw),
    ] {
        assert_eq!(method_of(&way(inputs, steps)), method, "{inputs}; {steps}");
    }
}

#[test]
fn a_way_is_cooked_at_its_likely_yield() {
    let way = way("black-bean-dry 1000, !water 6000", "burner boil");
    let nutrients = of_way(&way, Mass::from_g(500), &built_in).expect("the foods are known");
    assert_eq!(nutrients.method, Method::BoiledDrained);
    assert_eq!(nutrients.figure(Nutrient::Iron), Figure::Known(2_008));
    assert_eq!(nutrients.basis[0].factors.map(|row| row.code), Some("0521"));
}

#[test]
fn a_food_that_nobody_knows_is_named() {
    let way = way("moon-cheese 1000", "busy");
    assert_eq!(
        of_way(&way, Mass::from_g(500), &built_in),
        Err(CookedError::NoFood(FoodId::new("moon-cheese")))
    );
}
