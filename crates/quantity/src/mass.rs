//! Mass in whole milligrams.

use crate::rounding::{Rounding, mul_div};
use crate::whole::whole;

whole! {
    /// A mass in milligrams; negative only as a difference.
    Mass, from_mg, mg
}

impl Mass {
    /// Makes it from whole grams.
    #[must_use]
    pub const fn from_g(grams: i64) -> Self {
        Self::from_mg(grams * 1000)
    }

    /// Whole grams.
    #[must_use]
    pub fn g(self, rounding: Rounding) -> i64 {
        mul_div(self.mg(), 1, 1000, rounding)
    }
}
