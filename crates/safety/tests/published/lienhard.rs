//! Lienhard, A Heat Transfer Textbook, example 5.2 (read through a stored data set; inputs at askfilo): apples of
//! 10 cm with the properties of water, h 6 W/(m² K), from 30 °C in a fridge of 5 °C.

use larderwright_quantity::Seconds;
use larderwright_safety::cooling::{Body, Material, Shape, Spot};

use crate::{about, c, mm, near};

fn apple() -> Body {
    Body {
        shape: Shape::Sphere,
        measure: mm(50),
        // 0.603 W/(m K), 997.6 kg/m³, 4180 J/(kg K).
        material: Material {
            conductivity_uw: 603_000,
            heat_j: 4_169_968,
        },
        surface_deci_w: 60,
        start: c(300),
        around: c(50),
    }
}

/// 6 h 12 min until the centre has 10 °C.
#[test]
fn apples_take_six_hours_and_twelve_minutes() {
    about(
        apple().time_to(Spot::Centre, c(100)),
        Seconds::from_secs(22_300),
        9,
    );
}

/// Twelve apples give off 524 kJ by the chart, 541 by the series, until then.
#[test]
fn twelve_apples_give_off_their_heat() {
    let given = apple().heat_given_j(Seconds::from_secs(22_300));
    // One has 523.6 cubic centimetres.
    let joules = given * 5236 / 10_000_000 * 12;
    assert!((524_000..=545_000).contains(&joules), "{joules}");
}

/// Independent finite differences: 26.5 °C in the centre after an hour.
#[test]
fn an_hour_hardly_cools_an_apple() {
    near(
        apple().temperature(Spot::Centre, Seconds::from_hours(1)).deci_c(),
        265,
        3,
    );
}
