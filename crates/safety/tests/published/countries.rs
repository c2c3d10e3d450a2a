//! Curves of other countries: Australia (Food Standards Code 3.2.2 clause 7(3), read at experts123.com), France (text of
//! 8 March 2012, read at acfri.com), Canada (60 to 20 °C in 2 h, to 4 °C in 4 more, on secondary pages).

use larderwright_model::Profile;
use larderwright_quantity::{Seconds, Temperature};
use larderwright_safety::chilling::{Curve, yardstick};

fn keeps(curve: &Curve, readings: &[(i64, i64)]) -> bool {
    curve.stages.iter().all(|stage| {
        readings.iter().any(|(minutes, degrees)| {
            Temperature::from_c(*degrees) <= stage.to && Seconds::from_mins(*minutes) <= stage.within
        })
    })
}

#[test]
fn australia_allows_two_hours_and_four_more() {
    let curve = yardstick(Profile::Australia);
    assert_eq!(curve.from, Temperature::from_c(60));
    assert!(keeps(curve, &[(120, 21), (360, 5)]));
    assert!(!keeps(curve, &[(121, 21), (360, 5)]));
    assert!(!keeps(curve, &[(120, 21), (361, 5)]));
}

#[test]
fn france_allows_two_hours_to_ten_degrees() {
    let curve = yardstick(Profile::Eu);
    assert_eq!(curve.from, Temperature::from_c(63));
    assert!(keeps(curve, &[(119, 10)]));
    assert!(!keeps(curve, &[(121, 10)]));
}

#[test]
fn canada_allows_two_hours_and_four_more() {
    let curve = yardstick(Profile::Canada);
    assert_eq!(curve.from, Temperature::from_c(60));
    assert!(keeps(curve, &[(120, 20), (360, 4)]));
    assert!(!keeps(curve, &[(120, 21), (360, 4)]));
}
