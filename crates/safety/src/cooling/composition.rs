//! Thermal properties of food from its composition, by the polynomials of Choi and Okos (1986) as ASHRAE prints
//! them (Refrigeration 2006, chapter 9, tables 1 and 2), in °C from -40 to 150.
//!
//! Read in an open library of thermophysical properties and cross-read with a textbook table (Ibarz). Water's
//! specific heat has two published constants, 4.1762 and 4.1289 kJ/(kg K); the first is nearer to water and is taken.

#![expect(clippy::float_arithmetic, reason = "physics; whole numbers in and out")]

use larderwright_quantity::{Density, Temperature};

use super::units::{celsius, whole};

/// What a food is made of, in grams per 100 kg (thousandths of a gram per 100 g); brought to a whole when used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Composition {
    /// Water.
    pub water: i64,
    /// Protein.
    pub protein: i64,
    /// Fat.
    pub fat: i64,
    /// Carbohydrate without fibre.
    pub carbohydrate: i64,
    /// Fibre.
    pub fibre: i64,
    /// Ash.
    pub ash: i64,
}

/// Thermal properties in whole numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Properties {
    /// Thermal conductivity, microwatts per metre and kelvin.
    pub conductivity_uw: i64,
    /// Density, grams per cubic metre.
    pub density_g: i64,
    /// Specific heat, joules per kilogram and kelvin.
    pub specific_heat_j: i64,
}

/// What conducts heat through a layer of food.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Material {
    /// Thermal conductivity, microwatts per metre and kelvin.
    pub conductivity_uw: i64,
    /// Heat of a volume, joules per cubic metre and kelvin.
    pub heat_j: i64,
}

/// A quadratic in °C.
type Quadratic = [f64; 3];

fn at(quadratic: Quadratic, t: f64) -> f64 {
    quadratic[0] + t * (quadratic[1] + t * quadratic[2])
}

struct Part {
    conductivity: Quadratic,
    density: Quadratic,
    heat: Quadratic,
}

const WATER: Part = Part {
    conductivity: [0.57109, 1.7625e-3, -6.7036e-6],
    density: [997.18, 3.1439e-3, -3.7574e-3],
    heat: [4176.2, -9.0864e-2, 5.4731e-3],
};
const WATER_HEAT_BELOW_ZERO: Quadratic = [4081.7, -5.3062, 0.99516];
const PROTEIN: Part = Part {
    conductivity: [0.17881, 1.1958e-3, -2.7178e-6],
    density: [1329.9, -0.5184, 0.0],
    heat: [2008.2, 1.2089, -1.3129e-3],
};
const FAT: Part = Part {
    conductivity: [0.18071, -2.7604e-4, -1.7749e-7],
    density: [925.59, -0.41757, 0.0],
    heat: [1984.2, 1.4733, -4.8008e-3],
};
const CARBOHYDRATE: Part = Part {
    conductivity: [0.20141, 1.3874e-3, -4.3312e-6],
    density: [1599.1, -0.31046, 0.0],
    heat: [1548.8, 1.9625, -5.9399e-3],
};
const FIBRE: Part = Part {
    conductivity: [0.18331, 1.2497e-3, -3.1683e-6],
    density: [1311.5, -0.36589, 0.0],
    heat: [1845.9, 1.8306, -4.6509e-3],
};
const ASH: Part = Part {
    conductivity: [0.32962, 1.4011e-3, -2.9069e-6],
    density: [2423.8, -0.28063, 0.0],
    heat: [1092.6, 1.8896, -3.6817e-3],
};

impl Composition {
    /// Food of which only the water is known, in tenths of a percent: of the rest a quarter counts as protein and
    /// three quarters as carbohydrate (derived: cooked pulses and grains are near it; fat would cool no slower).
    #[must_use]
    pub fn of_water(permille: i64) -> Self {
        let rest = (1000 - permille).max(0) * 100;
        Self {
            water: permille * 100,
            protein: rest / 4,
            fat: 0,
            carbohydrate: rest - rest / 4,
            fibre: 0,
            ash: 0,
        }
    }

    fn parts(self) -> [(f64, &'static Part); 6] {
        let all = [
            (self.water, &WATER),
            (self.protein, &PROTEIN),
            (self.fat, &FAT),
            (self.carbohydrate, &CARBOHYDRATE),
            (self.fibre, &FIBRE),
            (self.ash, &ASH),
        ];
        let sum: i64 = all.iter().map(|(share, _)| (*share).max(0)).sum();
        all.map(|(share, part)| (share.max(0) as f64 / sum.max(1) as f64, part))
    }

    /// Properties at a temperature: volumes and specific heats add up; conductivities side by side by volume.
    ///
    /// Above freezing; ice is another matter.
    #[must_use]
    pub fn properties(self, temperature: Temperature) -> Properties {
        let t = celsius(temperature).clamp(-40.0, 150.0);
        let parts = self.parts();
        let volume: f64 = parts
            .iter()
            .map(|(share, part)| share / at(part.density, t))
            .sum();
        let heat: f64 = parts.iter().map(|(share, part)| share * heat_of(part, t)).sum();
        let conductivity: f64 = parts
            .iter()
            .map(|(share, part)| share / at(part.density, t) / volume * at(part.conductivity, t))
            .sum();
        Properties {
            conductivity_uw: whole(conductivity * 1e6),
            density_g: whole(1000.0 / volume),
            specific_heat_j: whole(heat),
        }
    }
}

fn heat_of(part: &Part, t: f64) -> f64 {
    if t < 0.0 && part.density[0] == WATER.density[0] {
        at(WATER_HEAT_BELOW_ZERO, t)
    } else {
        at(part.heat, t)
    }
}

impl Properties {
    /// Food without air in it.
    #[must_use]
    pub fn solid(self) -> Material {
        Material {
            conductivity_uw: self.conductivity_uw,
            heat_j: whole(self.density_g as f64 * 1e-3 * self.specific_heat_j as f64),
        }
    }

    /// Loose food with air in it, by its mass per litre of box: heat and conductivity shrink alike (derived), so
    /// that it cools through no faster while there is less to cool.
    #[must_use]
    pub fn loose(self, bulk: Density) -> Material {
        let solid = self.solid();
        let share = (bulk.g_per_l() as f64 / (self.density_g as f64 * 1e-3)).clamp(0.1, 1.0);
        Material {
            conductivity_uw: whole(solid.conductivity_uw as f64 * share),
            heat_j: whole(solid.heat_j as f64 * share),
        }
    }
}

impl Material {
    /// Conductivity in W/(m K).
    pub(super) fn conductivity(self) -> f64 {
        self.conductivity_uw as f64 * 1e-6
    }

    /// Heat of a volume in J/(m³ K).
    pub(super) fn heat(self) -> f64 {
        self.heat_j as f64
    }

    /// Diffusivity in m²/s.
    pub(super) fn diffusivity(self) -> f64 {
        self.conductivity() / self.heat()
    }

    /// Diffusivity in thousandths of a square millimetre per second, to the nearest.
    #[must_use]
    pub fn diffusivity_um2(self) -> i64 {
        whole(self.diffusivity() * 1e12)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_are_brought_to_a_whole() {
        let whole = Composition::of_water(660);
        let half = Composition {
            water: whole.water / 2,
            protein: whole.protein / 2,
            carbohydrate: whole.carbohydrate / 2,
            ..whole
        };
        let warm = Temperature::from_c(30);
        assert_eq!(whole.properties(warm), half.properties(warm));
    }

    #[test]
    fn wetter_food_holds_and_conducts_more_heat() {
        let warm = Temperature::from_c(30);
        let dry = Composition::of_water(600).properties(warm);
        let wet = Composition::of_water(900).properties(warm);
        assert!(wet.specific_heat_j > dry.specific_heat_j);
        assert!(wet.conductivity_uw > dry.conductivity_uw);
    }

    #[test]
    fn air_between_grains_takes_heat_and_conductivity_alike() {
        let properties = Composition::of_water(684).properties(Temperature::from_c(30));
        let (solid, loose) = (properties.solid(), properties.loose(Density::from_g_per_l(668)));
        assert!(loose.heat_j < solid.heat_j && loose.conductivity_uw < solid.conductivity_uw);
        assert!((loose.diffusivity_um2() - solid.diffusivity_um2()).abs() <= 1);
    }
}
