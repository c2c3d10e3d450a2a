//! FDA Food Code as states print it: cooling (3-501.14, read in 16 Del. Admin. Code 3-501.14), reheating (3-403.11,
//! read in 16 Del. Admin. Code 3-403.11).

use jiff::civil::{DateTime, date};
use larderwright_model::Profile;
use larderwright_quantity::{Seconds, Temperature};
use larderwright_safety::chilling::{
    Correction, Entry, Reheated, Stage, demanded, demanded_of_ambient, judge, judge_reheat,
};
use larderwright_safety::{KeepClass, rule};

fn at(minutes: i64) -> DateTime {
    let start = date(2026, 11, 29).at(12, 0, 0, 0);
    start
        .checked_add(jiff::Span::new().minutes(minutes))
        .expect("inside the calendar")
}

fn log(readings: &[(i64, i64)]) -> Vec<Correction> {
    let entries: Vec<Entry> = readings
        .iter()
        .map(|(minutes, f)| Entry::Measured(at(*minutes), Temperature::from_f(*f)))
        .collect();
    let row = rule(Profile::UsFoodService, KeepClass::Soup);
    judge(row, &entries, at(600))
        .into_iter()
        .map(|finding| finding.correction)
        .collect()
}

#[test]
fn a_log_that_meets_both_limits_passes() {
    assert_eq!(
        log(&[(0, 135), (120, 70), (360, 41)]),
        [Correction::Nothing, Correction::Nothing]
    );
}

#[test]
fn one_degree_too_many_after_two_hours_fails() {
    let found = log(&[(0, 135), (120, 71), (360, 41)]);
    assert_eq!(found[0], Correction::ReheatOrDiscard);
}

#[test]
fn one_degree_too_many_after_six_hours_fails() {
    let found = log(&[(0, 135), (120, 70), (360, 42)]);
    assert_eq!(found, [Correction::Nothing, Correction::Discard]);
}

#[test]
fn the_clock_starts_at_135_f() {
    // An hour above 135 °F does not count.
    assert_eq!(
        log(&[(0, 180), (60, 135), (180, 70), (420, 41)]),
        [Correction::Nothing, Correction::Nothing]
    );
}

#[test]
fn the_two_stages_are_70_f_in_two_hours_and_41_f_in_six() {
    let curve = demanded(Profile::UsFoodService).expect("it has a curve");
    let stage = |f, hours| Stage {
        to: Temperature::from_f(f),
        within: Seconds::from_hours(hours),
    };
    assert_eq!(curve.from, Temperature::from_f(135));
    assert_eq!(curve.stages, [stage(70, 2), stage(41, 6)]);
}

/// 3-501.14(B): made from ingredients at room temperature, 41 °F within 4 h; 4.1 h is too long.
#[test]
fn cold_dishes_are_cold_within_four_hours() {
    let curve = demanded_of_ambient(Profile::UsFoodService).expect("it has a curve");
    let [stage] = curve.stages else {
        panic!("one stage");
    };
    assert_eq!(stage.to, Temperature::from_f(41));
    assert!(Seconds::from_mins(240) <= stage.within);
    assert!(Seconds::from_mins(246) > stage.within);
}

#[test]
fn reheating_takes_two_hours_at_most_and_reaches_165_f() {
    let warmed = |minutes, f| {
        judge_reheat(
            Profile::UsFoodService,
            Reheated {
                took: Seconds::from_mins(minutes),
                core: Temperature::from_f(f),
            },
        )
    };
    assert_eq!(warmed(120, 165), Correction::Nothing);
    assert_eq!(warmed(125, 165), Correction::Discard);
    assert_eq!(warmed(120, 164), Correction::ReheatOrDiscard);
}

/// No home is judged by these.
#[test]
fn homes_have_no_curve() {
    for profile in [
        Profile::UsHome,
        Profile::Uk,
        Profile::Canada,
        Profile::Australia,
        Profile::Eu,
    ] {
        assert!(demanded(profile).is_none());
    }
}
