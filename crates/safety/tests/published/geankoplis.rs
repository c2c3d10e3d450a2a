//! Geankoplis, Transport Processes, example 5.2-1 (read at tbc-python.fossee.in): a steel ball of one inch radius, h 2
//! Btu/(h ft² F), from 800 °F in 250 °F, one hour. In SI: 699.9 K, 394.3 K, 11.36 W/(m² K), 7849 kg/m³, 460.6 J/(kg K).

use larderwright_quantity::{Mass, Rounding, Seconds};
use larderwright_safety::cooling::Pot;

use crate::{c, near};

/// 474.6 K, which is 395 °F.
#[test]
fn a_steel_ball_has_395_f_after_an_hour() {
    let ball = Pot {
        mass: Mass::from_mg(538_770),
        specific_heat_j: 461,
        area_cm2: 81,
        through_deci_w: 114,
        start: c(4268),
        around: c(1212),
    };
    let then = ball.temperature(Seconds::from_hours(1));
    near(then.f(Rounding::Nearest), 395, 1);
    near(then.deci_c(), 2015, 5);
}
