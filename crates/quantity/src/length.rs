//! Length in whole micrometres.

use crate::rounding::{Rounding, mul_div};
use crate::whole::whole;

whole! {
    /// A length in micrometres.
    Length, from_um, um
}

impl Length {
    /// Makes it from whole millimetres.
    #[must_use]
    pub const fn from_mm(millimetres: i64) -> Self {
        Self::from_um(millimetres * 1000)
    }

    /// Makes it from whole inches of 25.4 mm exactly (NIST Handbook 44, appendix C).
    #[must_use]
    pub const fn from_inches(inches: i64) -> Self {
        Self::from_um(inches * 25_400)
    }

    /// Whole millimetres.
    #[must_use]
    pub fn mm(self, rounding: Rounding) -> i64 {
        mul_div(self.um(), 1, 1000, rounding)
    }
}
