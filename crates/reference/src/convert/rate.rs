//! Milligrams per small unit, exactly.

use std::cmp::Ordering;

use larderwright_quantity::{Mass, Rounding, mul_div};

/// Milligrams per microlitre, per thousandth of a piece, or per milligram as purchased. Always above nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Rate {
    mg: i64,
    per: i64,
}

impl Rate {
    /// `None` unless both are above nothing and the shortened ratio fits.
    pub(super) fn new(mg: i128, per: i128) -> Option<Self> {
        if mg <= 0 || per <= 0 {
            return None;
        }
        let (mut divisor, mut rest) = (mg, per);
        while rest != 0 {
            (divisor, rest) = (rest, divisor % rest);
        }
        Some(Self {
            mg: i64::try_from(mg / divisor).ok()?,
            per: i64::try_from(per / divisor).ok()?,
        })
    }

    /// So many parts per thousand of it.
    pub(super) fn permille(self, permille: i64) -> Self {
        let scaled = Self::new(
            i128::from(self.mg) * i128::from(permille),
            i128::from(self.per) * 1000,
        );
        scaled.expect("a rate of a kitchen leaves room for a factor of a thousand")
    }

    pub(super) fn mass_of(self, units: i64, rounding: Rounding) -> Mass {
        Mass::from_mg(mul_div(units, self.mg, self.per, rounding))
    }

    pub(super) fn units_in(self, mass: Mass, rounding: Rounding) -> i64 {
        mul_div(mass.mg(), self.per, self.mg, rounding)
    }

    /// How far apart two rates are, for telling which of several is nearest to one.
    pub(super) fn apart(self, from: Self) -> i128 {
        let cross = i128::from(self.mg) * i128::from(from.per) - i128::from(from.mg) * i128::from(self.per);
        // In millionths of `from`.
        cross.abs().saturating_mul(1_000_000) / (i128::from(self.per) * i128::from(from.mg))
    }
}

impl PartialOrd for Rate {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Rate {
    fn cmp(&self, other: &Self) -> Ordering {
        let (one, two) = (
            i128::from(self.mg) * i128::from(other.per),
            i128::from(other.mg) * i128::from(self.per),
        );
        one.cmp(&two)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rates_are_ordered_by_what_they_weigh() {
        let rate = |mg, per| Rate::new(mg, per).expect("small figures fit");
        assert!(rate(1, 2) < rate(2, 3));
        assert_eq!(rate(2, 4).cmp(&rate(1, 2)), Ordering::Equal);
        assert!(rate(11, 10).apart(rate(1, 1)) < rate(5, 4).apart(rate(1, 1)));
    }

    #[test]
    fn nothing_has_no_rate() {
        assert_eq!(Rate::new(0, 1), None);
        assert_eq!(Rate::new(1, 0), None);
        assert_eq!(Rate::new(-1, 1), None);
        assert_eq!(Rate::new(i128::MAX, 1), None);
    }
}
