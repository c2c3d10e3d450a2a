//! Fractions a cook can measure: whole numbers with eighths, quarters, thirds and halves.
//!
//! For display only. What is shown is never counted with again.

use std::fmt;

/// One as a count of the small parts in which all kitchen fractions are whole.
const ONE_24THS: i64 = 24;

/// A whole number and a part such as `1½`; both parts carry the sign.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Fraction {
    /// Twenty-fourths; the part left after whole ones is always on some kitchen scale.
    parts: i64,
}

impl Fraction {
    /// The whole number, towards zero.
    #[must_use]
    pub const fn whole(self) -> i64 {
        self.parts / ONE_24THS
    }

    /// The part after the whole number as numerator and denominator in lowest terms; `(0, 1)` if none.
    #[must_use]
    pub const fn part(self) -> (i64, i64) {
        let sign = self.parts.signum();
        match (self.parts % ONE_24THS).abs() {
            3 => (sign, 8),
            6 => (sign, 4),
            8 => (sign, 3),
            12 => (sign, 2),
            16 => (2 * sign, 3),
            18 => (3 * sign, 4),
            _ => (0, 1),
        }
    }

    /// Whether nothing is left of it.
    #[must_use]
    pub const fn is_zero(self) -> bool {
        self.parts == 0
    }

    /// Whether its word stands in the singular: nothing above one does.
    #[must_use]
    pub const fn is_singular(self) -> bool {
        0 < self.parts && self.parts <= ONE_24THS
    }
}

impl fmt::Display for Fraction {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.parts < 0 { "-" } else { "" };
        let glyph = match self.part() {
            (1 | -1, 8) => "⅛",
            (1 | -1, 4) => "¼",
            (1 | -1, 3) => "⅓",
            (1 | -1, 2) => "½",
            (2 | -2, 3) => "⅔",
            (3 | -3, 4) => "¾",
            _ => "",
        };
        match (self.whole().abs(), glyph) {
            (0, "") => f.write_str("0"),
            (0, glyph) => write!(f, "{sign}{glyph}"),
            (whole, glyph) => write!(f, "{sign}{whole}{glyph}"),
        }
    }
}

/// Which parts of one can be measured, in twenty-fourths, rising, from nothing to one.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Scale(&'static [i64]);

/// ⅛ ¼ ⅓ ½ ⅔ ¾, what a set of cups holds.
pub(crate) const KITCHEN: Scale = Scale(&[0, 3, 6, 8, 12, 16, 18, ONE_24THS]);
/// ¼ ⅓ ½ ⅔ ¾, what whole and half teaspoons make of a tablespoon.
pub(crate) const TABLESPOON: Scale = Scale(&[0, 6, 8, 12, 16, 18, ONE_24THS]);
/// ¼ ½ ¾.
pub(crate) const QUARTERS: Scale = Scale(&[0, 6, 12, 18, ONE_24THS]);
/// ⅛ ¼ ½ ¾, what a set of small spoons holds.
pub(crate) const TEASPOON: Scale = Scale(&[0, 3, 6, 12, 18, ONE_24THS]);

/// The kitchen fraction nearest to `num / den`; halfway goes away from zero.
///
/// # Panics
/// Panics when `den` is not positive or the result does not fit.
///
/// ```
/// # use larderwright_quantity::kitchen_fraction;
/// assert_eq!(kitchen_fraction(3, 2).to_string(), "1½");
/// ```
#[must_use]
pub fn kitchen_fraction(num: i64, den: i64) -> Fraction {
    nearest_on(KITCHEN, i128::from(num), i128::from(den))
}

/// The fraction of `scale` nearest to `num / den`; halfway goes away from zero.
pub(crate) fn nearest_on(scale: Scale, num: i128, den: i128) -> Fraction {
    assert!(den > 0, "a divisor is positive");
    let (whole, rest) = (num.abs() / den, num.abs() % den);
    let twenty_fourths = rest * i128::from(ONE_24THS);
    let part = scale
        .0
        .iter()
        .rev()
        .copied()
        .min_by_key(|part| (twenty_fourths - i128::from(*part) * den).abs())
        .expect("a scale has steps");
    let parts = whole * i128::from(ONE_24THS) + i128::from(part);
    let signed = if num < 0 { -parts } else { parts };
    Fraction {
        parts: i64::try_from(signed).expect("a fraction for display fits 64 bits"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(num: i64, den: i64, text: &str) {
        assert_eq!(kitchen_fraction(num, den).to_string(), text, "{num}/{den}");
    }

    #[test]
    fn every_kitchen_fraction_is_shown_as_itself() {
        check(1, 8, "⅛");
        check(1, 4, "¼");
        check(1, 3, "⅓");
        check(1, 2, "½");
        check(2, 3, "⅔");
        check(3, 4, "¾");
        check(1, 1, "1");
        check(0, 1, "0");
        check(9, 4, "2¼");
    }

    #[test]
    fn others_go_to_the_nearest() {
        check(3, 10, "⅓");
        check(29, 100, "¼");
        check(7, 8, "1");
        check(86, 100, "¾");
        check(1, 20, "0");
        check(195, 100, "2");
        check(1, 16, "⅛");
    }

    #[test]
    fn a_negative_amount_mirrors_a_positive_one() {
        check(-5, 2, "-2½");
        check(-1, 8, "-⅛");
        check(-1, 16, "-⅛");
        check(-1, 100, "0");
        assert_eq!(kitchen_fraction(-8, 3).part(), (-2, 3));
        assert_eq!(kitchen_fraction(-8, 3).whole(), -2);
    }

    #[test]
    fn a_set_of_small_spoons_has_no_thirds() {
        assert_eq!(nearest_on(TEASPOON, 1, 3).to_string(), "¼");
        assert_eq!(nearest_on(TEASPOON, 2, 3).to_string(), "¾");
        assert_eq!(nearest_on(TEASPOON, 1, 8).to_string(), "⅛");
    }

    #[test]
    fn only_more_than_nothing_up_to_one_is_singular() {
        assert!(kitchen_fraction(1, 2).is_singular());
        assert!(kitchen_fraction(1, 1).is_singular());
        assert!(!kitchen_fraction(9, 8).is_singular());
        assert!(!kitchen_fraction(0, 1).is_singular());
    }

    #[test]
    #[should_panic(expected = "a divisor is positive")]
    fn a_zero_divisor_is_refused() {
        let _ = kitchen_fraction(1, 0);
    }
}
