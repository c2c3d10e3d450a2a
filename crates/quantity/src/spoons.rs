//! Small volumes as spoons and cups, in fractions a cook can measure.
//!
//! Wording only: what is poured is still counted in microlitres.

use crate::fraction::{Fraction, KITCHEN, QUARTERS, Scale, TABLESPOON, TEASPOON, nearest_on};
use crate::unit::Unit;
use crate::volume::Volume;
use crate::wording::System;

/// A small volume in teaspoons or tablespoons: `¼ tsp`, `1½ tbsp`.
///
/// From one tablespoon on it counts tablespoons. What there is of something too small for the
/// smallest spoon reads `a pinch`, never nothing. Negative volumes keep their sign.
#[must_use]
pub fn spoon_text(volume: Volume, system: System) -> String {
    let (teaspoon, tablespoon) = match system {
        System::Metric => (Unit::TspMetric, Unit::TbspMetric),
        System::UsCustomary => (Unit::TspUs, Unit::TbspUs),
    };
    let small = in_units(volume, teaspoon, TEASPOON);
    if small.is_zero() && volume.is_positive() {
        return "a pinch".to_string();
    }
    // An eighth is a spoon of its own; nobody has one and an eighth.
    let small = if small.whole() == 0 {
        small
    } else {
        in_units(volume, teaspoon, QUARTERS)
    };
    if small.whole().abs() < 3 {
        return format!("{small}\u{a0}tsp");
    }
    format!("{}\u{a0}tbsp", in_units(volume, tablespoon, TABLESPOON))
}

/// A volume in US cups: `½ cup`, `1⅓ cups`; below a quarter cup in US spoons, from four cups on in
/// quarters.
#[must_use]
pub fn cups_text(volume: Volume) -> String {
    let quarters = in_units(volume, Unit::CupUs, QUARTERS);
    if quarters.is_zero() || volume.abs() < a_quarter_cup() {
        return spoon_text(volume, System::UsCustomary);
    }
    let cups = if quarters.whole().abs() < 4 {
        in_units(volume, Unit::CupUs, KITCHEN)
    } else {
        quarters
    };
    let word = if cups.is_singular() { "cup" } else { "cups" };
    format!("{cups}\u{a0}{word}")
}

fn a_quarter_cup() -> Volume {
    Unit::CupUs.to_volume(1, 4).expect("a cup is a unit of volume")
}

fn in_units(volume: Volume, unit: Unit, scale: Scale) -> Fraction {
    let (num, den) = unit.ratio();
    nearest_on(scale, i128::from(volume.ul()) * i128::from(den), i128::from(num))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(ul: i64, metric: &str, us: &str) {
        let volume = Volume::from_ul(ul);
        let spaced = |text: String| text.replace('\u{a0}', " ");
        assert_eq!(spaced(spoon_text(volume, System::Metric)), metric);
        assert_eq!(spaced(spoon_text(volume, System::UsCustomary)), us);
    }

    fn check_cups(ul: i64, text: &str) {
        let shown = cups_text(Volume::from_ul(ul));
        assert_eq!(shown.replace('\u{a0}', " "), text, "{ul} microlitres");
    }

    #[test]
    fn whole_spoons_are_shown_whole() {
        check(5_000, "1 tsp", "1 tsp");
        check(10_000, "2 tsp", "2 tsp");
        check(15_000, "1 tbsp", "1 tbsp");
        check(30_000, "2 tbsp", "2 tbsp");
    }

    #[test]
    fn parts_are_those_of_real_spoons() {
        check(1_250, "¼ tsp", "¼ tsp");
        check(625, "⅛ tsp", "⅛ tsp");
        check(7_500, "1½ tsp", "1½ tsp");
        check(22_500, "1½ tbsp", "1½ tbsp");
        check(20_000, "1⅓ tbsp", "1⅓ tbsp");
        check(5_700, "1¼ tsp", "1¼ tsp");
    }

    #[test]
    fn nearly_a_tablespoon_is_one() {
        check(14_700, "1 tbsp", "1 tbsp");
    }

    #[test]
    fn less_than_the_smallest_spoon_is_a_pinch_and_nothing_is_nothing() {
        check(200, "a pinch", "a pinch");
        check(1, "a pinch", "a pinch");
        check(0, "0 tsp", "0 tsp");
    }

    #[test]
    fn a_difference_keeps_its_sign() {
        check(-1_250, "-¼ tsp", "-¼ tsp");
        check(-45_000, "-3 tbsp", "-3 tbsp");
    }

    #[test]
    fn cups_come_in_kitchen_fractions() {
        check_cups(236_588, "1 cup");
        check_cups(118_294, "½ cup");
        check_cups(78_863, "⅓ cup");
        check_cups(59_147, "¼ cup");
        check_cups(315_451, "1⅓ cups");
        check_cups(473_176, "2 cups");
        check_cups(1_025_000, "4¼ cups");
    }

    #[test]
    fn a_few_spoons_are_not_called_cups() {
        check_cups(44_360, "3 tbsp");
        check_cups(4_929, "1 tsp");
        check_cups(0, "0 tsp");
    }
}
