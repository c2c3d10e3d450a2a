//! Durations in whole seconds.

use crate::rounding::{Rounding, mul_div};
use crate::whole::whole;

whole! {
    /// A duration in seconds; negative only as a difference.
    Seconds, from_secs, secs
}

impl Seconds {
    /// Makes it from whole minutes.
    #[must_use]
    pub const fn from_mins(minutes: i64) -> Self {
        Self::from_secs(minutes * 60)
    }

    /// Makes it from whole hours.
    #[must_use]
    pub const fn from_hours(hours: i64) -> Self {
        Self::from_secs(hours * 3600)
    }

    /// Whole minutes.
    #[must_use]
    pub fn mins(self, rounding: Rounding) -> i64 {
        mul_div(self.secs(), 1, 60, rounding)
    }
}
