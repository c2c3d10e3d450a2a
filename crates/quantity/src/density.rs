//! Density in whole grams per litre, which is milligrams per millilitre.

use crate::mass::Mass;
use crate::rounding::{Rounding, mul_div};
use crate::volume::Volume;

/// Mass per volume.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Density(i64);

impl Density {
    /// Makes it from grams per litre.
    #[must_use]
    pub const fn from_g_per_l(grams: i64) -> Self {
        Self(grams)
    }

    /// Grams per litre.
    #[must_use]
    pub const fn g_per_l(self) -> i64 {
        self.0
    }

    /// The mass of a volume.
    #[must_use]
    pub fn mass_of(self, volume: Volume, rounding: Rounding) -> Mass {
        Mass::from_mg(mul_div(volume.ul(), self.0, 1000, rounding))
    }

    /// The volume of a mass.
    ///
    /// # Panics
    /// Panics when the density is not positive.
    #[must_use]
    pub fn volume_of(self, mass: Mass, rounding: Rounding) -> Volume {
        Volume::from_ul(mul_div(mass.mg(), 1000, self.0, rounding))
    }
}
