//! Freezing: Plank's worked examples, and an independent enthalpy solution of a slab of cooked beans beside which
//! Pham comes within 7 % and Plank alone is 17 % short.

use larderwright_quantity::Seconds;
use larderwright_safety::cooling::{Freezable, Piece, Shape, pham, plank};

use crate::{about, c, hundredths_of_hours, mm};

/// Singh and Heldman (from memory): a ball of 7 cm, 1000 kg/m³, 250 kJ/kg, k 1.2, h 50, freezing at -1.25 °C in -40 °C:
/// 0.72 h.
#[test]
fn a_ball_of_seven_centimetres_freezes_in_three_quarters_of_an_hour() {
    let food = Freezable {
        density_g_per_l: 1000,
        latent_j: 250_000,
        specific_heat_j: [3600, 1900],
        conductivity_uw: [500_000, 1_200_000],
        freezes_at: c(-13),
    };
    let ball = Piece {
        shape: Shape::Sphere,
        size: mm(70),
        surface_deci_w: 500,
        around: c(-400),
    };
    about(plank(&food, &ball), hundredths_of_hours(72), 10);
}

/// Beef, 5 cm, 73 % water, 970 kg/m³, k 1.1, h 5, freezing at -1.75 °C in -30 °C (inputs read): 12.26 h by hand.
#[test]
fn a_slab_of_beef_freezes_in_twelve_hours() {
    let food = Freezable {
        density_g_per_l: 970,
        latent_j: 243_236,
        specific_heat_j: [3500, 1800],
        conductivity_uw: [480_000, 1_100_000],
        freezes_at: c(-18),
    };
    let slab = Piece {
        shape: Shape::Slab,
        size: mm(50),
        surface_deci_w: 50,
        around: c(-300),
    };
    about(plank(&food, &slab), hundredths_of_hours(1226), 10);
}

/// Cooked beans, 65.7 % water, 1110 kg/m³, frozen k 1.3, freezing at -1 °C, from 5 °C until the middle has -10 °C in
/// -18 °C: the enthalpy solution in hundredths of an hour.
#[test]
fn pham_is_within_seven_percent_of_an_enthalpy_solution() {
    let food = Freezable {
        density_g_per_l: 1110,
        latent_j: 219_000,
        specific_heat_j: [3330, 1900],
        conductivity_uw: [510_000, 1_300_000],
        freezes_at: c(-10),
    };
    let rows = [(25, 100, 628, 521), (50, 100, 1320, 1090), (50, 200, 717, 593)];
    for (thick, surface_deci_w, enthalpy, by_plank) in rows {
        let slab = Piece {
            shape: Shape::Slab,
            size: mm(thick),
            surface_deci_w,
            around: c(-180),
        };
        about(
            pham(&food, &slab, (c(50), c(-100))),
            hundredths_of_hours(enthalpy),
            75,
        );
        about(plank(&food, &slab), hundredths_of_hours(by_plank), 20);
        let short = plank(&food, &slab).unwrap_or(Seconds::ZERO);
        assert!(short < hundredths_of_hours(enthalpy));
    }
}
