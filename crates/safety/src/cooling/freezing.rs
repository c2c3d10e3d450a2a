//! How long food takes to freeze and to thaw: Pham (1986) for freezing, Plank (1913) as a check and for thawing.
//!
//! Forms from memory of the publications, checked against an enthalpy solution (docs/food-safety.md). Plank leaves
//! out the heat above and below the freezing point and comes out short; Pham has it. Thawing is Plank with the
//! conductivity of thawed food: the skin that forms conducts worse than ice.

#![expect(clippy::float_arithmetic, reason = "physics; whole numbers in and out")]

use larderwright_quantity::{Length, Seconds, Temperature};

use super::roots::Shape;
use super::units::{celsius, coefficient, metres, seconds_up};

/// Heat that freezes a kilogram of water, joules.
pub const LATENT_WATER_J: i64 = 333_200;

/// Food that freezes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Freezable {
    /// Density, grams per litre, air between pieces included.
    pub density_g_per_l: i64,
    /// Heat that freezes a kilogram of it, joules.
    pub latent_j: i64,
    /// Specific heat before and after freezing, joules per kilogram and kelvin.
    pub specific_heat_j: [i64; 2],
    /// Conductivity before and after freezing, microwatts per metre and kelvin.
    pub conductivity_uw: [i64; 2],
    /// Where it begins to freeze.
    pub freezes_at: Temperature,
}

/// A piece of it: shape, full thickness or diameter, surface coefficient in tenths of a W/(m² K), air around it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Piece {
    /// Its shape.
    pub shape: Shape,
    /// Full thickness or diameter.
    pub size: Length,
    /// Surface coefficient.
    pub surface_deci_w: i64,
    /// The air around it.
    pub around: Temperature,
}

/// Plank's constants for flow to the surface and through the piece.
fn plank_constants(shape: Shape) -> (f64, f64) {
    match shape {
        Shape::Slab => (1.0 / 2.0, 1.0 / 8.0),
        Shape::Cylinder => (1.0 / 4.0, 1.0 / 16.0),
        Shape::Sphere => (1.0 / 6.0, 1.0 / 24.0),
    }
}

/// Time to freeze food that is at its freezing point, by Plank; `None` in air that is too warm.
#[must_use]
pub fn plank(food: &Freezable, piece: &Piece) -> Option<Seconds> {
    let drop = celsius(food.freezes_at) - celsius(piece.around);
    front(food, piece, (drop, food.conductivity_uw[1], food.latent_j as f64))
}

/// Time for frozen food at `from` to thaw through, by Plank with the heat up to the thaw point added; `None` in air
/// that is too cold. Derived.
#[must_use]
pub fn thaw(food: &Freezable, piece: &Piece, from: Temperature) -> Option<Seconds> {
    let rise = celsius(piece.around) - celsius(food.freezes_at);
    let warm_up = food.specific_heat_j[1] as f64 * (celsius(food.freezes_at) - celsius(from)).max(0.0) / 2.0;
    front(
        food,
        piece,
        (rise, food.conductivity_uw[0], food.latent_j as f64 + warm_up),
    )
}

fn front(food: &Freezable, piece: &Piece, (drive, conductivity, heat): (f64, i64, f64)) -> Option<Seconds> {
    if drive <= 0.0 {
        return None;
    }
    let (p, r) = plank_constants(piece.shape);
    let size = metres(piece.size);
    let resistance =
        p * size / coefficient(piece.surface_deci_w) + r * size * size / (conductivity as f64 * 1e-6);
    seconds_up(food.density_g_per_l as f64 * heat / drive * resistance)
}

/// Time for food at `from` to freeze until its middle is at `to`, by Pham; `None` in air that is too warm.
#[must_use]
pub fn pham(food: &Freezable, piece: &Piece, (from, to): (Temperature, Temperature)) -> Option<Seconds> {
    let (start, end, air) = (celsius(from), celsius(to), celsius(piece.around));
    if air >= end {
        return None;
    }
    let mean = 1.8 + 0.263 * end + 0.105 * air;
    let density = food.density_g_per_l as f64;
    let [warm, frozen] = food.specific_heat_j.map(|heat| heat as f64);
    let heat_1 = density * warm * (start - mean).max(0.0);
    let heat_2 = density * (food.latent_j as f64 + frozen * (mean - end));
    let drive_1 = (start + mean) / 2.0 - air;
    let drive_2 = mean - air;
    let half = metres(piece.size) / 2.0;
    let h = coefficient(piece.surface_deci_w);
    let biot = h * half / (food.conductivity_uw[1] as f64 * 1e-6);
    let dimensions = match piece.shape {
        Shape::Slab => 1.0,
        Shape::Cylinder => 2.0,
        Shape::Sphere => 3.0,
    };
    seconds_up(half / (dimensions * h) * (heat_1 / drive_1 + heat_2 / drive_2) * (1.0 + biot / 2.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn beans() -> Freezable {
        Freezable {
            density_g_per_l: 1110,
            latent_j: 219_000,
            specific_heat_j: [3330, 1900],
            conductivity_uw: [510_000, 1_300_000],
            freezes_at: Temperature::from_c(-1),
        }
    }

    fn slab(mm: i64, c: i64) -> Piece {
        Piece {
            shape: Shape::Slab,
            size: Length::from_mm(mm),
            surface_deci_w: 100,
            around: Temperature::from_c(c),
        }
    }

    #[test]
    fn warm_air_freezes_nothing_and_cold_air_thaws_nothing() {
        let range = (Temperature::from_c(5), Temperature::from_c(-10));
        assert_eq!(plank(&beans(), &slab(50, 3)), None);
        assert_eq!(pham(&beans(), &slab(50, -5), range), None);
        assert_eq!(thaw(&beans(), &slab(50, -18), Temperature::from_c(-18)), None);
    }

    #[test]
    fn thawing_in_a_fridge_takes_longer_than_freezing() {
        let range = (Temperature::from_c(5), Temperature::from_c(-10));
        let freezes = pham(&beans(), &slab(30, -18), range).expect("the freezer is cold");
        let thaws = thaw(&beans(), &slab(30, 4), Temperature::from_c(-18)).expect("the fridge is warm");
        assert!(thaws > freezes);
    }

    #[test]
    fn twice_as_thick_takes_more_than_twice_as_long() {
        let time = |mm| plank(&beans(), &slab(mm, -18)).expect("cold").secs();
        assert!(time(50) > 2 * time(25));
    }
}
