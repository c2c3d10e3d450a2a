//! Heat that a fridge or ice has to take up. Whole numbers throughout.

use larderwright_quantity::{Mass, Rounding, Seconds, Temperature, mul_div};

/// Heat that melts a kilogram of ice, joules (333.6 kJ, any table of water).
const MELTING_J: i64 = 333_600;
/// Specific heat of water, joules per kilogram and kelvin (ASHRAE and Choi and Okos, near 4.18 kJ).
const WATER_J: i64 = 4_180;

/// Spare cooling power of a household fridge, watts: from memory, a usual size; shown as an estimate only.
pub const FRIDGE_SPARE_W: i64 = 100;

/// Something warm that is put into the cold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Warm {
    /// How much.
    pub mass: Mass,
    /// Its specific heat, joules per kilogram and kelvin.
    pub specific_heat_j: i64,
    /// As it is put in.
    pub from: Temperature,
    /// As it is to become.
    pub to: Temperature,
}

impl Warm {
    /// The heat that leaves it, joules, rounded up; nothing when it is colder already.
    #[must_use]
    pub fn heat_j(self) -> i64 {
        let tenths = (self.from.deci_c() - self.to.deci_c()).max(0);
        mul_div(
            self.mass.mg(),
            self.specific_heat_j * tenths,
            10_000_000,
            Rounding::Up,
        )
    }
}

/// How long a fridge works at that heat, rounded up.
#[must_use]
pub fn fridge_works(loads: &[Warm], spare_w: i64) -> Seconds {
    let heat: i64 = loads.iter().map(|load| load.heat_j()).sum();
    Seconds::from_secs(mul_div(heat, 1, spare_w.max(1), Rounding::Up))
}

/// The ice that takes up the heat of a load, melts, and warms to `water`, rounded up to ten grams.
#[must_use]
pub fn ice_needed(load: Warm, water: Temperature) -> Mass {
    let each_kg = MELTING_J + mul_div(WATER_J, water.deci_c().max(0), 10, Rounding::Down);
    let mg = mul_div(load.heat_j(), 1_000_000, each_kg, Rounding::Up);
    Mass::from_mg(mg).round_to(Mass::from_g(10), Rounding::Up)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cold_food_asks_for_nothing() {
        let cold = Warm {
            mass: Mass::from_g(1000),
            specific_heat_j: 3600,
            from: Temperature::from_c(4),
            to: Temperature::from_c(10),
        };
        assert_eq!(cold.heat_j(), 0);
        assert_eq!(ice_needed(cold, Temperature::from_c(5)), Mass::ZERO);
        assert_eq!(fridge_works(&[cold], FRIDGE_SPARE_W), Seconds::ZERO);
    }
}
