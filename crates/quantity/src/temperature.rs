//! Temperature in tenths of a degree Celsius.

use crate::rounding::{Rounding, mul_div};

/// A temperature in tenths of a degree Celsius.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Temperature(i64);

impl Temperature {
    /// Makes it from tenths of a degree Celsius.
    #[must_use]
    pub const fn from_deci_c(tenths: i64) -> Self {
        Self(tenths)
    }

    /// Makes it from whole degrees Celsius.
    #[must_use]
    pub const fn from_c(degrees: i64) -> Self {
        Self(degrees * 10)
    }

    /// Makes it from whole degrees Fahrenheit, to the nearest tenth of a degree Celsius.
    #[must_use]
    pub fn from_f(degrees: i64) -> Self {
        Self(mul_div(degrees - 32, 50, 9, Rounding::Nearest))
    }

    /// Tenths of a degree Celsius.
    #[must_use]
    pub const fn deci_c(self) -> i64 {
        self.0
    }

    /// Whole degrees Celsius.
    #[must_use]
    pub fn c(self, rounding: Rounding) -> i64 {
        mul_div(self.0, 1, 10, rounding)
    }

    /// Whole degrees Fahrenheit.
    #[must_use]
    pub fn f(self, rounding: Rounding) -> i64 {
        mul_div(self.0 * 9 + 1600, 1, 50, rounding)
    }
}
