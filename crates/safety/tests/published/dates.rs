//! Dates against worked examples that authorities print.

use jiff::civil::{DateTime, date};
use larderwright_model::{Keep, Profile};
use larderwright_safety::{KeepClass, chilled_in_time, cupboard, earliest, fridge, rule, thawed};

fn at(month: i8, day: i8, hour: i8) -> DateTime {
    date(2026, month, day).at(hour, 0, 0, 0)
}

fn kept(profile: Profile, class: KeepClass, made: DateTime) -> Keep {
    fridge(profile, class, made, made)
}

/// FDA Food Code 3-501.17(A), rule read in 010-3 Wyo. Code R. 3-60; the example (made Oct 15, last day Oct 21) on a
/// secondary page.
#[test]
fn food_service_food_made_on_the_15th_lasts_until_the_21st() {
    for class in [
        KeepClass::RiceCooked,
        KeepClass::PulseCooked,
        KeepClass::PoultryCooked,
    ] {
        let keep = kept(Profile::UsFoodService, class, at(10, 15, 9));
        assert_eq!(keep.use_by.date(), date(2026, 10, 21));
    }
}

/// North Carolina date-marking handout, studylib.net/doc/13385666: cook Oct 1 (day 1), hold Oct 2 (day 2), freeze
/// Oct 3, thaw Oct 10 (day 3), discard at the end of Oct 14 (day 7).
#[test]
fn freezing_pauses_the_count_and_does_not_reset_it() {
    let keep = thawed(
        Profile::UsFoodService,
        KeepClass::Soup,
        at(10, 1, 12),
        at(10, 3, 8),
        at(10, 10, 8),
    );
    assert_eq!(keep.use_by, date(2026, 10, 14).at(23, 59, 0, 0));
}

/// FDA Food Code 3-501.17(C), read in 010-3 Wyo. Code R. 3-60(c): a mix keeps the date of its earliest part.
#[test]
fn a_plate_keeps_the_date_of_its_earliest_component() {
    let rice = kept(Profile::UsFoodService, KeepClass::RiceCooked, at(11, 29, 12));
    let beans = kept(Profile::UsFoodService, KeepClass::PulseCooked, at(12, 1, 12));
    let sauce = kept(Profile::UsFoodService, KeepClass::SauceCooked, at(12, 2, 12));
    assert_eq!(earliest([&beans, &rice, &sauce]), Some(&rice));
}

/// USDA left-overs advice as quoted by fox8.com: from a Thursday feast Monday is the last day.
#[test]
fn left_overs_of_a_thursday_last_until_monday_at_home() {
    let keep = kept(Profile::UsHome, KeepClass::PoultryCooked, at(11, 26, 18));
    assert_eq!(keep.use_by.date(), date(2026, 11, 30));
    assert_eq!(keep.best_by.date(), date(2026, 11, 29));
}

/// healthwell.eani.org.uk (text of the national health service): rice cools within 1 h and keeps 24 h.
#[test]
fn rice_of_sunday_evening_ends_on_monday_evening_in_the_uk() {
    let keep = fridge(Profile::Uk, KeepClass::RiceCooked, at(11, 29, 18), at(11, 29, 19));
    assert!(keep.use_by >= at(11, 30, 18) && keep.use_by <= at(11, 30, 19));
    let row = rule(Profile::Uk, KeepClass::RiceCooked);
    assert!(row.reheat_once);
    assert!(chilled_in_time(row, at(11, 29, 18), at(11, 29, 19)));
    assert!(!chilled_in_time(
        row,
        at(11, 29, 18),
        date(2026, 11, 29).at(19, 30, 0, 0)
    ));
}

/// NCHFP, Freezing Garlic-in-Oil (reviewed 2015): 4 days at 40 °F, never at room temperature.
#[test]
fn garlic_in_oil_is_thrown_away_after_its_fourth_day_and_never_left_out() {
    let keep = kept(Profile::UsHome, KeepClass::GarlicInOil, at(11, 29, 12));
    assert!(keep.use_by >= at(12, 3, 20));
    assert!(keep.use_by < at(12, 4, 0));
    assert_eq!(
        cupboard(Profile::UsHome, KeepClass::GarlicInOil, at(11, 29, 12)),
        None
    );
}

/// Cold Food Storage Chart, foodsafety.gov, row hard-cooked eggs: 1 week.
#[test]
fn eggs_boiled_on_monday_last_until_the_next_monday() {
    let keep = kept(Profile::UsHome, KeepClass::EggHardCooked, at(11, 30, 9));
    assert_eq!(keep.use_by.date(), date(2026, 12, 7));
    let row = rule(Profile::UsHome, KeepClass::EggHardCooked);
    assert_eq!(row.freezer_months, None);
}

/// Cold Food Storage Chart, foodsafety.gov: soups and stews 3-4 days and 2-3 months, cooked meat or poultry 3-4 days
/// and 2-6 months.
#[test]
fn the_federal_chart_is_copied_row_by_row() {
    let soup = rule(Profile::UsHome, KeepClass::Soup);
    assert_eq!(
        (soup.fridge_days, soup.freezer_months),
        (Some((3, 4)), Some((2, 3)))
    );
    for class in [KeepClass::MeatCooked, KeepClass::PoultryCooked] {
        let row = rule(Profile::UsHome, class);
        assert_eq!(
            (row.fridge_days, row.freezer_months),
            (Some((3, 4)), Some((2, 6)))
        );
    }
}

/// newswire.ca 2014-10-10, Canadian federal advice: left-overs 2 to 4 days.
#[test]
fn canadian_left_overs_last_two_to_four_days() {
    let keep = kept(Profile::Canada, KeepClass::PastaCooked, at(12, 30, 18));
    assert_eq!(keep.best_by.date(), date(2027, 1, 1));
    assert_eq!(keep.use_by.date(), date(2027, 1, 3));
}
