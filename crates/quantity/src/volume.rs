//! Volume in whole microlitres.

use crate::rounding::{Rounding, mul_div};
use crate::whole::whole;

whole! {
    /// A volume in microlitres; negative only as a difference.
    Volume, from_ul, ul
}

impl Volume {
    /// Makes it from whole millilitres.
    #[must_use]
    pub const fn from_ml(millilitres: i64) -> Self {
        Self::from_ul(millilitres * 1000)
    }

    /// Whole millilitres.
    #[must_use]
    pub fn ml(self, rounding: Rounding) -> i64 {
        mul_div(self.ul(), 1, 1000, rounding)
    }
}
