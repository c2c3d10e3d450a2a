//! Figures and worked examples that others published, one module for each source. No expectation here was made by
//! the function it judges: each comes from the page named beside it, or from an independent solution in
//! `tests/scipy`.

mod calendar;
mod cengel;
mod cereus_rice;
mod choi_okos;
mod containers;
mod countries;
mod dates;
mod eigenvalues;
mod food_code;
mod freezing;
mod geankoplis;
mod hazards;
mod kitchen_heat;
mod lienhard;
mod nchfp;
mod other_growth;
mod roberts_2013;
mod scipy;
mod singh_heldman;
mod times;

use larderwright_quantity::{Length, Seconds, Temperature};
use larderwright_safety::cooling::Material;

/// A value within a tolerance of a published one.
#[track_caller]
fn near(found: i64, published: i64, tolerance: i64) {
    assert!(
        (found - published).abs() <= tolerance,
        "found {found}, published {published} within {tolerance}"
    );
}

/// A duration within so many thousandths of a published one.
#[track_caller]
fn about(found: Option<Seconds>, published: Seconds, permille: i64) {
    let found = found.expect("it gets there").secs();
    near(found, published.secs(), published.secs() * permille / 1000);
}

fn hundredths_of_hours(hundredths: i64) -> Seconds {
    Seconds::from_secs(hundredths * 36)
}

fn c(tenths: i64) -> Temperature {
    Temperature::from_deci_c(tenths)
}

fn mm(millimetres: i64) -> Length {
    Length::from_mm(millimetres)
}

/// Cooked food as the container table takes it: 0.53 W/(m K), 3.74 MJ/(m³ K).
const COOKED: Material = Material {
    conductivity_uw: 530_000,
    heat_j: 3_740_000,
};
