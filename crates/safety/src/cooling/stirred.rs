//! A stirred pot: one temperature throughout, heat leaves through wall and bottom.
//!
//! Exact for a liquid that is kept moving: `T = Ta + (T0 - Ta) exp(-U A t / m c)`. A pot that is not stirred cools
//! more slowly; nothing here covers it.

#![expect(clippy::float_arithmetic, reason = "physics; whole numbers in and out")]

use std::f64::consts::PI;

use larderwright_quantity::{Length, Mass, Seconds, Temperature};

use super::units::{celsius, coefficient, metres, seconds, seconds_up, warmer, whole};

/// A stirred pot in a medium.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pot {
    /// What is in it.
    pub mass: Mass,
    /// Its specific heat, joules per kilogram and kelvin.
    pub specific_heat_j: i64,
    /// Wetted wall and bottom, square centimetres.
    pub area_cm2: i64,
    /// From the food to the medium, tenths of a W/(m² K).
    pub through_deci_w: i64,
    /// Its temperature at the start.
    pub start: Temperature,
    /// The temperature of the medium.
    pub around: Temperature,
}

impl Pot {
    /// How long until it has come down to a temperature, rounded up; `None` when it never does.
    #[must_use]
    pub fn time_to(&self, target: Temperature) -> Option<Seconds> {
        let (start, around, target) = (celsius(self.start), celsius(self.around), celsius(target));
        if target >= start {
            return Some(Seconds::ZERO);
        }
        if target <= around {
            return None;
        }
        seconds_up(self.constant() * libm::log((start - around) / (target - around)))
    }

    /// The temperature after a time, rounded to the warmer tenth.
    #[must_use]
    pub fn temperature(&self, after: Seconds) -> Temperature {
        let (start, around) = (celsius(self.start), celsius(self.around));
        warmer(around + (start - around) * libm::exp(-seconds(after) / self.constant()))
    }

    /// The time in which all but a 2.718th of the difference is gone.
    fn constant(&self) -> f64 {
        let mass = self.mass.mg() as f64 * 1e-6;
        let through = coefficient(self.through_deci_w) * self.area_cm2 as f64 * 1e-4;
        mass * self.specific_heat_j as f64 / through
    }
}

/// Wetted wall and bottom of a round pot, square centimetres to the nearest, and what it holds, millilitres.
#[must_use]
pub fn round_pot(diameter: Length, depth: Length) -> (i64, i64) {
    let (d, h) = (metres(diameter), metres(depth));
    let bottom = PI * d * d / 4.0;
    (whole((bottom + PI * d * h) * 1e4), whole(bottom * h * 1e6))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pot_on_a_warm_counter_never_gets_cold() {
        let pot = Pot {
            mass: Mass::from_g(3000),
            specific_heat_j: 3900,
            area_cm2: 1200,
            through_deci_w: 100,
            start: Temperature::from_f(135),
            around: Temperature::from_c(22),
        };
        assert_eq!(pot.time_to(Temperature::from_f(70)), None);
        assert!(pot.temperature(Seconds::from_hours(100)) >= Temperature::from_c(22));
    }

    #[test]
    fn a_round_pot_is_measured_as_a_cylinder() {
        // 24 cm wide, 10 cm deep: 452 + 754 square centimetres, 4.52 litres.
        assert_eq!(
            round_pot(Length::from_mm(240), Length::from_mm(100)),
            (1206, 4524)
        );
    }
}
