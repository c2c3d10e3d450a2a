//! The verbs that all whole-number quantities share.

/// Declares a quantity: a signed whole number of a small unit with arithmetic.
macro_rules! whole {
    ($(#[$doc:meta])* $name:ident, $from:ident, $get:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(i64);

        impl $name {
            /// Nothing.
            pub const ZERO: Self = Self(0);

            /// Makes it from its small unit.
            #[must_use]
            pub const fn $from(value: i64) -> Self {
                Self(value)
            }

            /// The whole number of its small unit.
            #[must_use]
            pub const fn $get(self) -> i64 {
                self.0
            }

            /// `self * num / den`, rounded once.
            #[must_use]
            pub fn scale(self, num: i64, den: i64, rounding: $crate::Rounding) -> Self {
                Self($crate::mul_div(self.0, num, den, rounding))
            }

            /// So many of it.
            #[must_use]
            pub const fn times(self, count: i64) -> Self {
                Self(self.0 * count)
            }

            /// Whether there is any.
            #[must_use]
            pub const fn is_positive(self) -> bool {
                self.0 > 0
            }

            /// Its size without its sign.
            #[must_use]
            pub const fn abs(self) -> Self {
                Self(self.0.abs())
            }

            /// The difference, but never less than nothing.
            #[must_use]
            pub fn saturating_sub(self, other: Self) -> Self {
                Self((self.0 - other.0).max(0))
            }

            /// How many whole units of `unit` cover it; zero when there is nothing to cover.
            ///
            /// # Panics
            /// Panics when `unit` is not positive.
            #[must_use]
            pub fn div_ceil_by(self, unit: Self) -> i64 {
                $crate::mul_div(self.0, 1, unit.0, $crate::Rounding::Up)
            }

            /// The multiple of `step` on the named side.
            ///
            /// # Panics
            /// Panics when `step` is not positive.
            #[must_use]
            pub fn round_to(self, step: Self, rounding: $crate::Rounding) -> Self {
                Self($crate::mul_div(self.0, 1, step.0, rounding) * step.0)
            }
        }

        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl std::ops::AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }

        impl std::ops::SubAssign for $name {
            fn sub_assign(&mut self, other: Self) {
                self.0 -= other.0;
            }
        }

        impl std::ops::Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
                iter.fold(Self::ZERO, std::ops::Add::add)
            }
        }
    };
}

pub(crate) use whole;
