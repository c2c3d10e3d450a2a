//! Yield and conversion arithmetic as kitchens are taught it: as purchased (AP), edible portion (EP),
//! recipe conversion factor.
//!
//! The formulas are `EP = AP x yield` and `AP = EP / yield`. OPENWA is the open textbook Bakery and
//! Business Math, chapter 25 (openwa.pressbooks.pub); GUIDE is a food-service purchasing guide
//! (content.yudu.com). All examples were read in stored copies; the printed results are rounded.

use larderwright_quantity::{Mass, Money, Permille, Rounding, Unit};

/// How far a published result, rounded to hundredths of its unit, may stand from the exact one.
fn half_a_hundredth(unit: Unit) -> Mass {
    unit.to_mass(1, 200).expect("a unit of mass")
}

fn check(result: Mass, published_hundredths: i64, unit: Unit) {
    let published = unit.to_mass(published_hundredths, 100).expect("a unit of mass");
    let off = (result - published).abs();
    assert!(off <= half_a_hundredth(unit), "{result:?} is not {published:?}");
}

fn mass(count: i64, unit: Unit) -> Mass {
    unit.to_mass(count, 1).expect("a unit of mass")
}

#[test]
fn pears_as_purchased_from_edible() {
    // OPENWA: 32 oz at 78 % is 41.03 oz as purchased.
    let bought = Permille::from_permille(780).undo(mass(32, Unit::Oz), Rounding::Up);
    check(bought, 41_03, Unit::Oz);
}

#[test]
fn broccoli_as_purchased_from_edible() {
    // GUIDE: 5 lb at 81 % is 6.17 lb as purchased.
    let bought = Permille::from_permille(810).undo(mass(5, Unit::Lb), Rounding::Up);
    check(bought, 6_17, Unit::Lb);
}

#[test]
fn zucchini_edible_from_purchased() {
    // OPENWA: 3 lb at 95 % is 2.85 lb edible.
    let edible = Permille::from_permille(950).of(mass(3, Unit::Lb), Rounding::Down);
    check(edible, 2_85, Unit::Lb);
}

#[test]
fn strawberries_edible_from_purchased() {
    // OPENWA: 5000 g at 87 % is 4350 g edible.
    let edible = Permille::from_permille(870).of(Mass::from_g(5000), Rounding::Down);
    assert_eq!(edible, Mass::from_g(4350));
}

#[test]
fn turkey_edible_from_purchased_in_portions() {
    // GUIDE: 36 lb at 47 % is 16.92 lb, 90 portions of 3 oz.
    let edible = Permille::from_permille(470).of(mass(36, Unit::Lb), Rounding::Down);
    check(edible, 16_92, Unit::Lb);
    let whole_portions = edible.mg() / mass(3, Unit::Oz).mg();
    assert_eq!(whole_portions, 90);
}

#[test]
fn refuse_is_what_the_edible_part_leaves() {
    // USDA SR28, broccoli: refuse 39 % leaves an edible part of 61 %; read.
    let bought = Mass::from_g(1000);
    let refuse = Permille::from_permille(390).of(bought, Rounding::Up);
    let edible = Permille::from_permille(610).of(bought, Rounding::Down);
    assert_eq!(refuse + edible, bought);
}

#[test]
fn edible_cost_is_purchased_cost_over_yield() {
    // GUIDE: cauliflower at $1.49 and 55 %. The page prints $2.70; 1.49 / 0.55 = 2.709, so $2.71 here
    // (a deliberate departure: rounded, not cut off).
    let bought = Money::from_minor(149);
    assert_eq!(bought.scale(1000, 550, Rounding::Nearest), Money::from_minor(271));
    assert_eq!(bought.scale(1000, 550, Rounding::Down), Money::from_minor(270));
}

#[test]
fn a_recipe_for_ten_makes_24_at_a_factor_of_2_4() {
    // Common practice: the factor is new yield / old yield, 24 / 10 = 2.4 exactly.
    let (old, new) = (10, 24);
    let one_kg = Mass::from_g(1000);
    assert_eq!(one_kg.scale(new, old, Rounding::Nearest), Mass::from_g(2400));
    // And back again without loss.
    assert_eq!(Mass::from_g(2400).scale(old, new, Rounding::Nearest), one_kg);
}
