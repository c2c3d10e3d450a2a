//! Laws: how a duration grows with the size of a batch.

use larderwright_quantity::{Mass, Rounding, Seconds, mul_div};

/// Percent of the law's value at the low, likely and high end of what happens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spread {
    /// Percent at the low end.
    pub low: i64,
    /// Percent of the usual case; 100 unless the law is biased.
    pub likely: i64,
    /// Percent at the high end.
    pub high: i64,
}

impl Spread {
    /// No spread at all.
    pub const NONE: Self = Self {
        low: 100,
        likely: 100,
        high: 100,
    };
}

/// A duration as a function of batch size: `fixed + per kg * x + per load * ceil(x / load)`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Law {
    /// The part that does not depend on size.
    pub fixed: Seconds,
    /// Seconds per kilogram of the driver's edible portion.
    pub per_kg: Seconds,
    /// Seconds for every started load.
    pub per_load: Seconds,
    /// The size of a load; `None` when there is only one.
    pub load: Option<Mass>,
    /// How far reality strays.
    pub spread: Spread,
    /// Where the figures come from.
    pub source: String,
}

impl Law {
    /// The likely duration for a batch of `x`, rounded up to a whole second.
    #[must_use]
    pub fn likely(&self, x: Mass) -> Seconds {
        self.at_percent(x, self.spread.likely)
    }

    /// The duration at the low end of the spread, rounded up.
    #[must_use]
    pub fn low(&self, x: Mass) -> Seconds {
        self.at_percent(x, self.spread.low)
    }

    /// The duration at the high end of the spread, rounded up.
    #[must_use]
    pub fn high(&self, x: Mass) -> Seconds {
        self.at_percent(x, self.spread.high)
    }

    fn at_percent(&self, x: Mass, percent: i64) -> Seconds {
        let per_kg = mul_div(self.per_kg.secs(), x.mg(), 1_000_000, Rounding::Up);
        let loads = self.load.map_or(1, |load| x.div_ceil_by(load).max(1));
        let whole = self.fixed.secs() + per_kg + self.per_load.secs() * loads;
        Seconds::from_secs(mul_div(whole, percent, 100, Rounding::Up))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn law() -> Law {
        Law {
            fixed: Seconds::from_secs(600),
            per_kg: Seconds::from_secs(120),
            per_load: Seconds::from_secs(30),
            load: Some(Mass::from_g(500)),
            spread: Spread {
                low: 80,
                likely: 100,
                high: 150,
            },
            source: "common practice, no source".into(),
        }
    }

    #[test]
    fn a_law_adds_its_fixed_part_its_slope_and_its_loads() {
        assert_eq!(law().likely(Mass::from_g(1250)).secs(), 600 + 150 + 90);
    }

    #[test]
    fn the_spread_brackets_the_likely_value() {
        let x = Mass::from_g(730);
        assert!(law().low(x) < law().likely(x));
        assert!(law().likely(x) < law().high(x));
    }
}
