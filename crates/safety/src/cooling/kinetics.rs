//! How heat kills, how cold keeps quality, and where water boils: three small laws of temperature.
//!
//! Equal holds by a z-value; quality lost in a freezer by Arrhenius; boiling by the standard atmosphere and Antoine.
//! They explain published figures and never replace one.

#![expect(clippy::float_arithmetic, reason = "physics; whole numbers in and out")]

use larderwright_quantity::{Seconds, Temperature};

use super::units::{celsius, seconds, seconds_up, whole};

/// The gas constant, J/(mol K).
const GAS: f64 = 8.314_462;
const ZERO_C: f64 = 273.15;
/// Pressure at sea level, pascals.
pub const SEA_LEVEL_PA: i64 = 101_325;
/// Where the two equations agree.
const MEETING_PA: i64 = 150_000;
const PASCALS_PER_TORR: f64 = 133.322_387;

/// How long at another temperature kills as much as a hold that guidance names, rounded up; `None` when it would
/// take a year.
///
/// `t = t_ref 10^((T_ref - T) / z)`, z in tenths of a degree.
#[must_use]
pub fn equal_hold((hot, time): (Temperature, Seconds), z_deci: i64, at: Temperature) -> Option<Seconds> {
    let decades = (hot.deci_c() - at.deci_c()) as f64 / z_deci as f64;
    seconds_up(seconds(time) * libm::pow(10.0, decades))
}

/// How many times as fast quality is lost at one temperature as at another, thousandths to the nearest.
///
/// `exp(Ea/R (1/T_from - 1/T_to))` with the activation energy in joules per mole.
#[must_use]
pub fn faster_milli(energy_j: i64, (from, to): (Temperature, Temperature)) -> i64 {
    let kelvin = |temperature| celsius(temperature) + ZERO_C;
    let ratio = libm::exp(energy_j as f64 / GAS * (1.0 / kelvin(from) - 1.0 / kelvin(to)));
    whole(ratio * 1000.0)
}

/// Air pressure at an altitude by the standard atmosphere, pascals to the nearest.
#[must_use]
pub fn pressure_at(altitude_m: i64) -> i64 {
    let share = (1.0 - 2.255_77e-5 * altitude_m as f64).max(0.01);
    whole(SEA_LEVEL_PA as f64 * libm::pow(share, 5.255_88))
}

/// Where water boils under a pressure, to the nearest tenth, by the two Antoine equations of water, which meet at
/// about 111 °C (constants from any table).
#[must_use]
pub fn boils_at(pressure_pa: i64) -> Temperature {
    let torr = libm::log10(pressure_pa.max(1) as f64 / PASCALS_PER_TORR);
    let (a, b, c) = if pressure_pa > MEETING_PA {
        (8.140_19, 1810.94, 244.485)
    } else {
        (8.071_31, 1730.63, 233.426)
    };
    Temperature::from_deci_c(whole((b / (a - torr) - c) * 10.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hotter_needs_less_time_and_colder_keeps_longer() {
        let two_minutes = (Temperature::from_c(70), Seconds::from_mins(2));
        let hold = |c| equal_hold(two_minutes, 60, Temperature::from_c(c)).expect("hours at most");
        assert!(hold(75) < hold(70) && hold(70) < hold(65));
        let colder = (Temperature::from_c(-12), Temperature::from_c(-18));
        assert!(faster_milli(100_000, colder) < 1000);
        assert_eq!(equal_hold(two_minutes, 60, Temperature::from_c(4)), None);
    }

    #[test]
    fn water_boils_at_one_hundred_by_the_sea() {
        assert_eq!(pressure_at(0), SEA_LEVEL_PA);
        assert!((boils_at(SEA_LEVEL_PA).deci_c() - 1000).abs() <= 1);
        assert!((boils_at(MEETING_PA + 1).deci_c() - boils_at(MEETING_PA).deci_c()).abs() <= 1);
    }
}
