//! Singh and Heldman, Introduction to Food Engineering: an apple in a stream of chilled water (example 4.26, inputs
//! read at mazurekgravity.in), a stirred kettle (inputs read at scribd 177298438). Answers from memory or by
//! independent finite differences.

use larderwright_quantity::{Mass, Seconds};
use larderwright_safety::cooling::{Body, Material, Pot, Shape, Spot};

use crate::{about, c, mm, near};

/// Apple of 6 cm, k 0.355, 820 kg/m³, 3600 J/(kg K), h 50, from 15 °C in water of 2 °C, centre 3 °C: 3778 s by finite
/// differences.
#[test]
fn an_apple_in_chilled_water_takes_an_hour() {
    let apple = Body {
        shape: Shape::Sphere,
        measure: mm(30),
        material: Material {
            conductivity_uw: 355_000,
            heat_j: 2_952_000,
        },
        surface_deci_w: 500,
        start: c(150),
        around: c(20),
    };
    about(apple.time_to(Spot::Centre, c(30)), Seconds::from_secs(3778), 5);
}

/// Half a ball of 0.5 m radius, 980 kg/m³, 3950 J/(kg K), h 5000, 20 °C in walls of 90 °C, five minutes: about 83 °C (83.3
/// from memory).
#[test]
fn a_stirred_kettle_has_83_degrees_after_five_minutes() {
    let kettle = Pot {
        mass: Mass::from_g(256_563),
        specific_heat_j: 3950,
        area_cm2: 15_708,
        through_deci_w: 50_000,
        start: c(200),
        around: c(900),
    };
    near(kettle.temperature(Seconds::from_mins(5)).deci_c(), 832, 3);
}
