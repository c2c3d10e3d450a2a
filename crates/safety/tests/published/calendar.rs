//! The calendar as everybody knows it: ends of months and years, leap days, clocks that change. Days were counted on
//! a printed calendar.

use jiff::civil::{DateTime, date};
use jiff::tz::TimeZone;
use larderwright_model::Profile;
use larderwright_safety::keeping::by_the_clock;
use larderwright_safety::{KeepClass, fridge, frozen, rule, thawed};

fn at(year: i16, month: i8, day: i8, hour: i8) -> DateTime {
    date(year, month, day).at(hour, 0, 0, 0)
}

fn last_day(made: DateTime) -> String {
    let keep = fridge(Profile::UsHome, KeepClass::Soup, made, made);
    keep.use_by.date().to_string()
}

#[test]
fn four_days_cross_the_end_of_a_month() {
    assert_eq!(last_day(at(2026, 11, 28, 18)), "2026-12-02");
    assert_eq!(last_day(at(2026, 4, 29, 18)), "2026-05-03");
}

#[test]
fn four_days_cross_the_end_of_a_year() {
    assert_eq!(last_day(at(2026, 12, 30, 18)), "2027-01-03");
}

#[test]
fn four_days_count_the_leap_day_and_only_then() {
    assert_eq!(last_day(at(2028, 2, 27, 18)), "2028-03-02");
    assert_eq!(last_day(at(2027, 2, 27, 18)), "2027-03-03");
    // 2100 is no leap year, 2000 was one.
    assert_eq!(last_day(at(2100, 2, 27, 18)), "2100-03-03");
    assert_eq!(last_day(at(2000, 2, 27, 18)), "2000-03-02");
}

#[test]
fn seven_days_with_the_first_counted_cross_a_month() {
    let made = at(2027, 1, 28, 9);
    let keep = fridge(Profile::UsFoodService, KeepClass::PulseCooked, made, made);
    assert_eq!(keep.use_by.date(), date(2027, 2, 3));
}

#[test]
fn a_pause_over_the_new_year_moves_the_end_by_its_days() {
    // Made on the 28th, frozen on the 30th, pulled on the 9th: ten days later than the 1st.
    let keep = thawed(
        Profile::UsFoodService,
        KeepClass::Soup,
        at(2026, 12, 28, 12),
        at(2026, 12, 30, 12),
        at(2027, 1, 9, 12),
    );
    assert_eq!(keep.use_by.date(), date(2027, 1, 13));
}

#[test]
fn months_in_the_freezer_end_on_the_last_day_there_is() {
    let keep = frozen(Profile::UsHome, KeepClass::Soup, at(2027, 12, 31, 12)).expect("soup freezes");
    // 2028 has a 29 February.
    assert_eq!(keep.best_by.date(), date(2028, 2, 29));
    assert_eq!(keep.use_by.date(), date(2028, 3, 31));
}

fn london() -> TimeZone {
    TimeZone::posix("GMT0BST,M3.5.0/1,M10.5.0").expect("the rule of British clocks")
}

fn rice(made: DateTime) -> DateTime {
    let keep = fridge(Profile::Uk, KeepClass::RiceCooked, made, made);
    let row = rule(Profile::Uk, KeepClass::RiceCooked);
    by_the_clock(row, keep, made, &london()).use_by
}

#[test]
fn a_day_of_hours_ends_an_hour_sooner_when_clocks_go_back() {
    // Sunday 25 October 2026, 02:00 becomes 01:00.
    assert_eq!(rice(at(2026, 10, 24, 18)), at(2026, 10, 25, 17));
}

#[test]
fn a_day_of_hours_is_never_lengthened_when_clocks_go_forward() {
    // Sunday 28 March 2027, 01:00 becomes 02:00: 24 hours would end at 19:00.
    assert_eq!(rice(at(2027, 3, 27, 18)), at(2027, 3, 28, 18));
}

#[test]
fn on_other_days_clocks_change_nothing() {
    assert_eq!(rice(at(2026, 11, 22, 18)), at(2026, 11, 23, 18));
}

#[test]
fn whole_days_end_at_midnight_whatever_clocks_do() {
    let made = at(2026, 10, 24, 18);
    let keep = fridge(Profile::UsHome, KeepClass::Soup, made, made);
    let row = rule(Profile::UsHome, KeepClass::Soup);
    assert_eq!(by_the_clock(row, keep.clone(), made, &london()), keep);
}
