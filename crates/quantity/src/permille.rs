//! Parts per thousand, for yields, trim and appetite.

use crate::mass::Mass;
use crate::rounding::{Rounding, mul_div};

/// A ratio in whole parts per thousand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Permille(i64);

impl Permille {
    /// The whole.
    pub const ONE: Self = Self(1000);

    /// Makes it from parts per thousand.
    #[must_use]
    pub const fn from_permille(parts: i64) -> Self {
        Self(parts)
    }

    /// The parts per thousand.
    #[must_use]
    pub const fn permille(self) -> i64 {
        self.0
    }

    /// This part of a mass.
    #[must_use]
    pub fn of(self, mass: Mass, rounding: Rounding) -> Mass {
        Mass::from_mg(mul_div(mass.mg(), self.0, 1000, rounding))
    }

    /// The mass of which `part` is this part: edible portion back to as purchased.
    ///
    /// # Panics
    /// Panics when the ratio is not positive.
    #[must_use]
    pub fn undo(self, part: Mass, rounding: Rounding) -> Mass {
        Mass::from_mg(mul_div(part.mg(), 1000, self.0, rounding))
    }
}
