//! The arithmetic of cooked nutrients on inputs small enough to check by hand.

use larderwright_model::FoodId;
use larderwright_quantity::Mass;

use super::*;
use crate::nutrient::Nutrient as N;

fn built(food: &str) -> Ingredient {
    built_in(&FoodId::new(food)).expect("the table holds the food of the test")
}

/// `food grams`, with `!` before what is drained.
fn inputs(text: &str) -> Vec<Input> {
    text.split(", ")
        .map(|part| {
            let (food, grams) = part.split_once(' ').expect("a food and its grams");
            Input {
                ingredient: built(food.trim_start_matches('!')),
                mass: Mass::from_g(grams.parse().expect("whole grams")),
                drained: food.starts_with('!'),
            }
        })
        .collect()
}

fn check(text: &str, output_g: i64, method: Method) -> Nutrients {
    cooked(&inputs(text), Mass::from_g(output_g), method).expect("the case has an output")
}

fn known(text: &str, output_g: i64, method: Method, nutrient: N) -> i64 {
    match check(text, output_g, method).figure(nutrient) {
        Figure::Known(value) => value,
        other => panic!("{text}: {nutrient:?} is {other:?}"),
    }
}

#[test]
fn raw_food_that_keeps_its_mass_keeps_every_figure() {
    for food in ["carrot", "salmon-fillet", "chickpea-dry", "milk-whole", "sumac"] {
        let nutrients = check(&format!("{food} 300"), 300, Method::Raw);
        for nutrient in N::ALL {
            let figure = match built(food).composition[nutrient as usize] {
                Some(value) => Figure::Known(i64::from(value)),
                None => Figure::Unknown,
            };
            assert_eq!(nutrients.figure(nutrient), figure, "{food} {nutrient:?}");
        }
    }
}

#[test]
fn energy_protein_and_fat_go_with_the_mass() {
    // 379 kcal, 13.15 g and 6.52 g in 100 g of rolled oats.
    let oats = |nutrient| known("oats-rolled 100", 400, Method::BoiledWaterUsed, nutrient);
    assert_eq!(
        (oats(N::Energy), oats(N::Protein), oats(N::Fat)),
        (94_750, 3_288, 1_630)
    );
}

#[test]
fn the_water_is_what_the_rest_leaves() {
    // 100 g of oats bring 10.84 g of water and 89.16 g of everything else.
    assert_eq!(
        known("oats-rolled 100", 400, Method::BoiledWaterUsed, N::Water),
        77_710
    );
    assert_eq!(known("oats-rolled 100", 50, Method::Roasted, N::Water), 0);
}

#[test]
fn drained_water_takes_what_the_factor_says_and_kept_water_leaves_it() {
    let potassium = |method| known("spinach 100", 100, method, N::Potassium);
    assert_eq!(potassium(Method::Raw), 558_000);
    assert_eq!(potassium(Method::BoiledWaterUsed), 558_000);
    assert_eq!(potassium(Method::BoiledDrained), 474_300);
}

#[test]
fn salt_in_the_water_stays_as_far_as_the_water_is_taken_up() {
    let salted = known(
        "pasta-dry 100, !water 480, !salt 4",
        240,
        Method::BoiledDrained,
        N::Sodium,
    );
    // 140 of 484 g are taken up: 1.157 g of salt (448 mg), 139 g of water (4 mg) and half of the pasta's 6 mg
    // make 456 mg in 240 g.
    assert_eq!(salted, 189_831);
    let beans = "green-bean 100, !water 480, !salt 4";
    let figure = check(beans, 98, Method::BoiledDrained).figure(N::Sodium);
    assert_eq!(figure, Figure::AtLeast(5_816));
    let unsalted = check("green-bean 100, !water 480", 98, Method::BoiledDrained);
    assert_eq!(unsalted.figure(N::Sodium), Figure::Known(5_816));
}

#[test]
fn what_is_lifted_out_again_counts_nothing() {
    let with = check(
        "black-bean-dry 100, !water 650, !onion 12",
        240,
        Method::BoiledDrained,
    );
    let without = check("black-bean-dry 100, !water 650", 240, Method::BoiledDrained);
    assert_eq!(with.figure(N::Carbohydrate), without.figure(N::Carbohydrate));
    assert!(with.basis.iter().all(|basis| basis.food.as_str() != "onion"));
}

#[test]
fn fat_that_runs_out_takes_its_energy_and_its_fatty_acids_along() {
    let of = |method, nutrient| known("beef-mince-20 100", 100, method, nutrient);
    let lost = of(Method::Braised, N::Fat) - of(Method::Fried, N::Fat);
    assert_eq!(lost, 5_320);
    assert_eq!(
        of(Method::Braised, N::Energy) - of(Method::Fried, N::Energy),
        9 * 5_320
    );
    let crossed = of(Method::Fried, N::Saturates) * of(Method::Braised, N::Fat)
        - of(Method::Braised, N::Saturates) * of(Method::Fried, N::Fat);
    assert!(
        crossed.abs() <= of(Method::Braised, N::Fat),
        "saturates go with the fat"
    );
    assert_eq!(of(Method::Braised, N::Protein), of(Method::Fried, N::Protein));
}

#[test]
fn alcohol_leaves_with_its_energy() {
    let wine = |method, nutrient| known("wine-red 100", 100, method, nutrient);
    let gone = wine(Method::Raw, N::Alcohol) - wine(Method::Braised, N::Alcohol);
    assert_eq!(
        wine(Method::Braised, N::Alcohol) * 4,
        wine(Method::Raw, N::Alcohol)
    );
    assert_eq!(
        wine(Method::Raw, N::Energy) - wine(Method::Braised, N::Energy),
        7 * gone
    );
}

#[test]
fn an_unknown_input_makes_the_sum_unknown_unless_there_is_next_to_none() {
    // Nothing is known of sumac.
    let iron = |text: &str| check(text, 1000, Method::Raw).figure(N::Iron);
    let alone = check("carrot 1000", 1000, Method::Raw).figure(N::Iron);
    let Figure::Known(alone) = alone else {
        panic!("the iron of carrots is known")
    };
    assert_eq!(
        iron("carrot 991, sumac 9"),
        Figure::AtLeast((alone * 991 + 500) / 1000)
    );
    assert_eq!(iron("carrot 990, sumac 10"), Figure::Unknown);
    assert_eq!(iron("carrot 1000, sumac 0"), Figure::Known(alone));
    let sodium = |text: &str| check(text, 1000, Method::Raw).figure(N::Sodium);
    assert_eq!(sodium("carrot 999, sumac 1"), Figure::Unknown);
}

#[test]
fn masses_that_cannot_be_are_refused() {
    let carrot = inputs("carrot 100");
    assert_eq!(
        cooked(&carrot, Mass::ZERO, Method::Raw),
        Err(CookedError::NoOutput)
    );
    let mut less = carrot;
    less[0].mass = Mass::from_g(-1);
    let error = cooked(&less, Mass::from_g(1), Method::Raw).expect_err("a mass is not negative");
    assert_eq!(error.to_string(), "the mass of `carrot` is negative");
}

#[test]
fn the_whole_is_the_sum_of_its_parts() {
    let both = |nutrient| known("carrot 400, potato 600", 900, Method::BoiledDrained, nutrient);
    let carrot = |nutrient| known("carrot 400", 900, Method::BoiledDrained, nutrient);
    let potato = |nutrient| known("potato 600", 900, Method::BoiledDrained, nutrient);
    for nutrient in N::ALL.into_iter().filter(|nutrient| *nutrient != N::Water) {
        if built("carrot").composition[nutrient as usize].is_none()
            || built("potato").composition[nutrient as usize].is_none()
        {
            continue;
        }
        let apart = carrot(nutrient) + potato(nutrient);
        assert!((both(nutrient) - apart).abs() <= 1, "{nutrient:?}");
    }
}
