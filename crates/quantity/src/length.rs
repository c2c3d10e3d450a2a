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

    /// Whole millimetres.
    #[must_use]
    pub fn mm(self, rounding: Rounding) -> i64 {
        mul_div(self.um(), 1, 1000, rounding)
    }
}
