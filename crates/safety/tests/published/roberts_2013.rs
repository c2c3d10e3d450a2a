//! Roberts, Olds, Shanklin, Sauer and Sneed, Food Protection Trends 33(1) (2013) 27-31, abstract read at
//! foodprotection.org: chili and tomato sauce 2 and 3 in deep, uncovered. Only 2 in in the walk-in freezer met both
//! limits of the Food Code; in the walk-in fridge, with and without an ice bath, neither depth did.

use larderwright_quantity::{Length, Seconds, Temperature};
use larderwright_safety::chilling::demanded;
use larderwright_safety::cooling::{Composition, Container, Cooling, Place};

use larderwright_model::Profile;

use crate::c;

fn meets(place: Place, air: i64, inches: i64) -> bool {
    let curve = demanded(Profile::UsFoodService).expect("the food service has a curve");
    let pan = Cooling {
        properties: Composition::of_water(750).properties(c(300)),
        depth: Length::from_inches(inches),
        sides: None,
        container: Container::OpenTray,
        place,
        air: c(air),
        start: Temperature::from_f(135),
    };
    curve.stages.iter().all(|stage| {
        let time = pan.times_to(stage.to).likely;
        time.unwrap_or(Seconds::from_hours(1000)) <= stage.within
    })
}

#[test]
fn two_inches_in_the_walk_in_freezer_pass() {
    assert!(meets(Place::FanFreezer, -180, 2));
}

#[test]
fn three_inches_in_the_walk_in_freezer_fail() {
    assert!(!meets(Place::FanFreezer, -180, 3));
}

#[test]
fn two_and_three_inches_in_the_walk_in_fridge_fail() {
    assert!(!meets(Place::FanFridge, 20, 2));
    assert!(!meets(Place::FanFridge, 20, 3));
}

#[test]
fn a_pan_set_in_ice_without_stirring_fails() {
    assert!(!meets(Place::IceBath, 20, 2));
    assert!(!meets(Place::IceBath, 20, 3));
}

/// The abstract's order of places is the model's: the freezer before the fridge.
#[test]
fn the_freezer_is_quicker_than_the_fridge_at_each_depth() {
    for inches in [2, 3] {
        let time = |place, air| {
            let pan = Cooling {
                properties: Composition::of_water(750).properties(c(300)),
                depth: Length::from_inches(inches),
                sides: None,
                container: Container::OpenTray,
                place,
                air: c(air),
                start: Temperature::from_f(135),
            };
            pan.times_to(c(50)).likely.expect("cold air")
        };
        assert!(time(Place::FanFreezer, -180) < time(Place::FanFridge, 20));
    }
}
