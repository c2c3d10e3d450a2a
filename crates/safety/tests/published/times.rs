//! Times out of the fridge and limits of temperature against published figures.

use larderwright_model::Profile;
use larderwright_quantity::{Seconds, Temperature};
use larderwright_safety::limits;
use larderwright_safety::standing::{Stood, stood_out, time_as_control};

fn minutes(minutes: i64) -> Seconds {
    Seconds::from_mins(minutes)
}

/// U.S. National Agricultural Library, How long should I keep leftover food: 2 h, 1 h above 90 °F.
#[test]
fn two_hours_at_room_temperature_and_one_on_a_hot_day() {
    let out = |time, fahrenheit| stood_out(Profile::UsHome, minutes(time), Temperature::from_f(fahrenheit));
    assert_eq!(out(121, 80), Stood::Discard);
    assert_eq!(out(61, 91), Stood::Discard);
    assert_eq!(out(59, 91), Stood::Within);
    assert_eq!(out(119, 80), Stood::Within);
}

/// eggsafety.org: hard-cooked eggs go into the fridge within 2 h.
#[test]
fn a_hard_cooked_egg_left_out_past_two_hours_is_thrown_away() {
    assert_eq!(
        stood_out(Profile::UsHome, minutes(121), Temperature::from_f(70)),
        Stood::Discard
    );
}

/// FDA Food Code 3-501.19(B) and (C), read in 16 Del. Admin. Code 3-501.19.
#[test]
fn time_as_a_control_gives_four_hours_or_six_below_70_f() {
    let held = |start, warmest, time| {
        time_as_control(
            Temperature::from_f(start),
            Temperature::from_f(warmest),
            minutes(time),
        )
    };
    assert_eq!(held(41, 69, 359), Stood::Within);
    assert_eq!(held(41, 71, 359), Stood::Discard);
    assert_eq!(held(41, 69, 361), Stood::Discard);
    assert_eq!(held(135, 135, 241), Stood::Discard);
    assert_eq!(held(135, 135, 239), Stood::Within);
}

/// foodsafety.gov 40 °F, 0 °F and 165 °F; Food Code 3-501.16 41 °F and 135 °F; SI 2006/14 63 °C; Quebec P-29 4 and
/// 60 °C; Food Standards Code 3.2.2 5 and 60 °C.
#[test]
fn limits_of_cold_and_hot_are_those_of_the_texts() {
    let home = limits(Profile::UsHome);
    assert_eq!(home.fridge_max, Temperature::from_f(40));
    assert_eq!(home.freezer_max, Temperature::from_f(0));
    assert_eq!(home.reheat_core, Temperature::from_f(165));
    let service = limits(Profile::UsFoodService);
    assert_eq!(service.fridge_max, Temperature::from_f(41));
    assert_eq!(service.hot_min, Temperature::from_f(135));
    assert_eq!(limits(Profile::Uk).hot_min, Temperature::from_c(63));
    assert_eq!(limits(Profile::Canada).fridge_max, Temperature::from_c(4));
    assert_eq!(limits(Profile::Australia).fridge_max, Temperature::from_c(5));
}
