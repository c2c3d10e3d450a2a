//! Units against the tables of the US National Institute of Standards and Technology.
//!
//! HB44 is NIST Handbook 44, appendix C; SP811 is NIST Special Publication 811, appendix B; SP430 is the
//! card NIST SP 430 of 2004. Each figure says how it was come by: `read` in a stored copy of the
//! publication, `read second-hand` in a text that quotes or reprints it, or `from memory` of the
//! publication, not checked. A decimal is written as its digits and their number after the point.

use larderwright_quantity::{Length, Mass, Rounding, Temperature, Unit, Volume};

/// So many of a unit that the published decimal becomes a whole number of the small unit.
const MANY: i64 = 100_000_000;

/// One of `unit`, as published: `published / MANY` milligrams or microlitres, exactly.
fn check_exact(unit: Unit, published: i64) {
    let many = unit
        .to_mass(MANY, 1)
        .map(Mass::mg)
        .or(unit.to_volume(MANY, 1).map(Volume::ul));
    assert_eq!(many, Some(published), "{unit:?}");
}

/// One of `unit` in grams or millilitres, rounded to three places as published.
fn check_thousandths(unit: Unit, published: i64) {
    let one = unit
        .to_mass(1, 1)
        .map(Mass::mg)
        .or(unit.to_volume(1, 1).map(Volume::ul));
    assert_eq!(one, Some(published), "{unit:?}");
}

#[test]
fn pound_and_ounce_are_exact() {
    // HB44 section 4, units of mass: 1 pound = 453.592 37 g exactly; read second-hand.
    check_exact(Unit::Lb, 45_359_237_000_000);
    // HB44 section 4, units of mass: 1 ounce avoirdupois = 28.349 523 125 g exactly; from memory.
    check_exact(Unit::Oz, 2_834_952_312_500);
}

#[test]
fn us_measures_are_exact() {
    // HB44 section 4, liquid volume: 1 gallon = 3.785 411 784 l exactly; read second-hand.
    check_exact(Unit::GallonUs, 378_541_178_400_000);
    // The same section: 1 quart = 0.946 352 946 l, 1 pint = 0.473 176 473 l; from memory.
    check_exact(Unit::QuartUs, 94_635_294_600_000);
    check_exact(Unit::PintUs, 47_317_647_300_000);
    // The same section: fluid ounce 29.573 529 562 5 ml, cup 236.588 236 5 ml, tablespoon
    // 14.786 764 781 25 ml, teaspoon 4.928 921 593 75 ml; read second-hand.
    check_exact(Unit::CupUs, 23_658_823_650_000);
    check_exact(Unit::FlOzUs, 2_957_352_956_250);
    check_exact(Unit::TbspUs, 1_478_676_478_125);
    check_exact(Unit::TspUs, 492_892_159_375);
}

#[test]
fn a_gallon_is_231_cubic_inches() {
    // HB44 section 5: 1 gallon (US) = 231 cubic inches exactly; read second-hand.
    let inch_um = Length::from_inches(1).um();
    let cubic_inch_um3 = i128::from(inch_um).pow(3);
    // A microlitre is a cubic millimetre: 10^9 cubic micrometres.
    let many = Unit::GallonUs
        .to_volume(MANY, 1)
        .expect("a gallon is a unit of volume");
    assert_eq!(
        i128::from(many.ul()) * 1_000_000_000,
        231 * cubic_inch_um3 * i128::from(MANY)
    );
}

#[test]
fn rounded_equivalents_agree() {
    // HB44 section 5, tables of equivalents: ounce 28.350 g, fluid ounce 29.574 ml, pound
    // 453.592 37 g; read second-hand.
    check_thousandths(Unit::Oz, 28_350);
    check_thousandths(Unit::FlOzUs, 29_574);
    check_thousandths(Unit::Lb, 453_592);
    // The same: cup 237 ml, liquid pint 0.473 l, liquid quart 0.946 l, gallon 3.785 l; read second-hand.
    let rounded = [
        (Unit::CupUs, 237),
        (Unit::PintUs, 473),
        (Unit::QuartUs, 946),
        (Unit::GallonUs, 3785),
    ];
    for (unit, ml) in rounded {
        let volume = unit.to_volume(1, 1).expect("a unit of volume");
        assert_eq!(volume.ml(Rounding::Nearest), ml, "{unit:?}");
    }
}

#[test]
fn kitchen_measures_are_parts_of_each_other() {
    // SP430, equivalents of the common kitchen volume units; read in a stored copy (studylib.net).
    // HB44 section 5 has the same for cup, tablespoon and teaspoon; read second-hand.
    let published = [
        (Unit::TbspUs, 3, Unit::TspUs),
        (Unit::FlOzUs, 6, Unit::TspUs),
        (Unit::FlOzUs, 2, Unit::TbspUs),
        (Unit::CupUs, 48, Unit::TspUs),
        (Unit::CupUs, 16, Unit::TbspUs),
        (Unit::CupUs, 8, Unit::FlOzUs),
        (Unit::PintUs, 16, Unit::FlOzUs),
        (Unit::PintUs, 2, Unit::CupUs),
        (Unit::QuartUs, 32, Unit::FlOzUs),
        (Unit::QuartUs, 2, Unit::PintUs),
        (Unit::QuartUs, 4, Unit::CupUs),
        (Unit::GallonUs, 4, Unit::QuartUs),
    ];
    for (larger, parts, smaller) in published {
        let whole = larger.to_volume(MANY, 1);
        assert_eq!(
            whole,
            smaller.to_volume(MANY * parts, 1),
            "{larger:?} {smaller:?}"
        );
    }
}

#[test]
fn a_metric_spoon_holds_what_the_card_rounds_a_us_one_to() {
    // SP430: teaspoonful 5 ml, tablespoonful 15 ml; read in a stored copy (studylib.net).
    assert_eq!(Unit::TspMetric.to_volume(1, 1), Some(Volume::from_ml(5)));
    assert_eq!(Unit::TbspMetric.to_volume(1, 1), Some(Volume::from_ml(15)));
}

#[test]
fn sp811_factors_agree_to_seven_digits() {
    // SP811 section B.8 gives seven digits; all from memory. Digits, and the power of ten that makes
    // them milligrams or microlitres: the last column is how many units make the digits whole.
    let published = [
        (Unit::Oz, 2_834_952, 100),     // 2.834 952 E-02 kg
        (Unit::Lb, 4_535_924, 10),      // 4.535 924 E-01 kg
        (Unit::TspUs, 4_928_922, 1000), // 4.928 922 E-06 m3
        (Unit::TbspUs, 1_478_676, 100), // 1.478 676 E-05 m3
        (Unit::FlOzUs, 2_957_353, 100), // 2.957 353 E-05 m3
        (Unit::CupUs, 2_365_882, 10),   // 2.365 882 E-04 m3
        (Unit::PintUs, 4_731_765, 10),  // 4.731 765 E-04 m3
        (Unit::QuartUs, 9_463_529, 10), // 9.463 529 E-04 m3
        (Unit::GallonUs, 3_785_412, 1), // 3.785 412 E-03 m3
    ];
    for (unit, digits, units) in published {
        check_exactly_that_many(unit, units, digits);
    }
}

fn check_exactly_that_many(unit: Unit, units: i64, published: i64) {
    let amount = unit
        .to_mass(units, 1)
        .map(Mass::mg)
        .or(unit.to_volume(units, 1).map(Volume::ul));
    assert_eq!(amount, Some(published), "{unit:?}");
}

#[test]
fn the_uk_pint_is_an_eighth_of_the_uk_gallon() {
    // SP811 section B.8: gallon (Canadian and UK) = 4.546 09 E-03 m3; from memory of that table, read
    // second-hand in a text on the imperial gallon.
    let gallon = Unit::PintUk.to_volume(8, 1);
    assert_eq!(gallon, Some(Volume::from_ul(4_546_090)));
}

#[test]
fn an_inch_is_25_4_millimetres() {
    // HB44 section 4, units of length: 1 inch = 2.54 cm exactly; read second-hand.
    assert_eq!(Length::from_inches(1), Length::from_um(25_400));
    assert_eq!(Length::from_inches(12), Length::from_um(304_800));
}

#[test]
fn fahrenheit_is_nine_fifths_and_32() {
    // HB44 section 4, conversion equations for units of temperature: F = 1.8 C + 32; from memory.
    for (celsius, fahrenheit) in [(-40, -40), (0, 32), (5, 41), (60, 140), (100, 212), (205, 401)] {
        assert_eq!(Temperature::from_f(fahrenheit), Temperature::from_c(celsius));
        assert_eq!(Temperature::from_c(celsius).f(Rounding::Nearest), fahrenheit);
    }
}
