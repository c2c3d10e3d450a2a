//! How much more growth one way of cooling allows than another. An indicator, not a safety decision: it explains
//! why a rule is as it is and never relaxes one.
//!
//! Rates by the cardinal model (Rosso 1993) or the extended square root (Ratkowsky 1983), growth by Baranyi and
//! Roberts (1994): `dq/dt = mu q`, `dy/dt = mu q/(1+q) (1 - exp(y - ymax))`, `q0 = 1/(exp(h0) - 1)`. Forms from
//! memory of the publications; the form of q0 and the parameters were read. Published models mis-predict: strain,
//! acid, salt and lag vary, a toxin is not a population, and one hour of lag changes everything; so two curves are
//! compared and no count is shown.

#![expect(clippy::float_arithmetic, reason = "physics; whole numbers in and out")]

use std::f64::consts::LN_10;

use larderwright_quantity::{Seconds, Temperature};

use super::units::{celsius, micro, millionths, seconds, whole};
use crate::source::Flag;

/// How fast a kind of microbe grows at a temperature.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rate {
    /// Cardinal temperatures in tenths of a degree; the best rate in millionths, natural units per hour.
    Cardinal {
        /// Below this nothing grows.
        min: Temperature,
        /// Here it grows best.
        best: Temperature,
        /// Above this nothing grows.
        max: Temperature,
        /// The rate there.
        rate_micro: i64,
    },
    /// Extended square root, giving log10 units per hour: `sqrt(mu) = a (T - min) (1 - exp(c (T - max)))`.
    SquareRoot {
        /// Millionths.
        a_micro: i64,
        /// Millionths.
        c_micro: i64,
        /// Hundredths of a degree.
        min_centi: i64,
        /// Hundredths of a degree.
        max_centi: i64,
    },
}

/// A published set of parameters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Microbe {
    /// Its name and the food.
    pub name: &'static str,
    /// Its rate.
    pub rate: Rate,
    /// The work to be done before it grows, millionths; `mu` times lag.
    pub lag_micro: i64,
    /// The most there can be, thousandths of a log10 per gram.
    pub most_milli: i64,
    /// Where the parameters were read.
    pub source: &'static str,
    /// How sure they are.
    pub flag: Flag,
}

/// *Clostridium perfringens* in roasted chicken; the lag is that of no growth at all left out, so that the
/// comparison is between temperatures alone.
pub static PERFRINGENS_CHICKEN: Microbe = Microbe {
    name: "Clostridium perfringens, roasted chicken",
    rate: Rate::Cardinal {
        min: Temperature::from_deci_c(88),
        best: Temperature::from_deci_c(464),
        max: Temperature::from_deci_c(515),
        rate_micro: 6_060_000,
    },
    lag_micro: 0,
    most_milli: 8_000,
    source: "one-step dynamic analysis, Food Control, abstract: 8.8, 46.4, 51.5 °C, 6.06 per hour; the most from memory",
    flag: Flag::Read,
};

/// *Bacillus cereus* in cooked rice: lag and most are published, the rate is a fit of ours to the published rates.
pub static CEREUS_RICE: Microbe = Microbe {
    name: "Bacillus cereus, cooked rice",
    rate: Rate::SquareRoot {
        a_micro: 41_690,
        c_micro: 103_200,
        min_centi: 841,
        max_centi: 5_260,
    },
    lag_micro: 4_100_000,
    most_milli: 8_030,
    source: "USDA ARS, pmp.errc.ars.usda.gov ModelID 2021166: h0 4.1, most 8.03; rate fitted to its table, not the authors' \
             parameters",
    flag: Flag::Derived,
};

impl Microbe {
    /// The rate in millionths of a natural unit per hour, to the nearest.
    #[must_use]
    pub fn rate_micro(&self, temperature: Temperature) -> i64 {
        micro(self.rate(celsius(temperature)))
    }

    /// Counts along a profile, thousandths of a log10 per gram to the nearest: one for each point of the profile.
    ///
    /// Temperatures run straight from point to point. Each stretch is taken in steps of at most ten seconds.
    #[must_use]
    pub fn grow(&self, start_milli: i64, profile: &[(Seconds, Temperature)]) -> Vec<i64> {
        let h0 = millionths(self.lag_micro);
        // Without a lag everything is ready at once: q as good as endless.
        let mut q = if h0 > 0.0 {
            1.0 / (libm::exp(h0) - 1.0)
        } else {
            1e12
        };
        let to_natural = |milli: i64| milli as f64 * 1e-3 * LN_10;
        let mut y = to_natural(start_milli);
        let most = to_natural(self.most_milli);
        let mut counts = Vec::with_capacity(profile.len());
        for (n, (at, warm)) in profile.iter().enumerate() {
            if n > 0 {
                let (before, cold) = profile[n - 1];
                let stretch = (seconds(*at) - seconds(before)).max(0.0) / 3600.0;
                let steps = libm::ceil(stretch * 360.0).max(1.0);
                let step = stretch / steps;
                for s in 0..steps as i64 {
                    let share = (s as f64 + 0.5) / steps;
                    let here = celsius(cold) + share * (celsius(*warm) - celsius(cold));
                    let work = self.rate(here) * step;
                    q = (q * libm::exp(work)).min(1e12);
                    y += work * q / (1.0 + q) * (1.0 - libm::exp(y - most));
                }
            }
            counts.push(whole(y / LN_10 * 1e3));
        }
        counts
    }

    /// Natural units per hour at a temperature.
    fn rate(&self, t: f64) -> f64 {
        match self.rate {
            Rate::Cardinal {
                min,
                best,
                max,
                rate_micro,
            } => {
                let (min, best, max) = (celsius(min), celsius(best), celsius(max));
                if t <= min || t >= max {
                    return 0.0;
                }
                let above = (t - max) * (t - min) * (t - min);
                let below =
                    (best - min) * ((best - min) * (t - best) - (best - max) * (best + min - 2.0 * t));
                millionths(rate_micro) * above / below
            }
            Rate::SquareRoot {
                a_micro,
                c_micro,
                min_centi,
                max_centi,
            } => {
                let (min, max) = (min_centi as f64 * 0.01, max_centi as f64 * 0.01);
                if t <= min || t >= max {
                    return 0.0;
                }
                let root =
                    millionths(a_micro) * (t - min) * (1.0 - libm::exp(millionths(c_micro) * (t - max)));
                root * root * LN_10
            }
        }
    }
}

/// How many times the growth of the slowest curve that a published limit allows, in thousandths, to the nearest:
/// above a thousand there is more time for growth than there.
///
/// Both curves are followed with the same microbe without lag; the count itself is never shown. `None` when the
/// reference allows none.
#[must_use]
pub fn relative_milli(
    microbe: &Microbe,
    profile: &[(Seconds, Temperature)],
    reference: &[(Seconds, Temperature)],
) -> Option<i64> {
    let generations = |profile: &[(Seconds, Temperature)]| {
        let free = Microbe {
            lag_micro: 0,
            most_milli: 1_000_000,
            ..*microbe
        };
        let grown = free.grow(0, profile);
        grown.last().copied().unwrap_or(0)
    };
    let by = generations(reference);
    (by > 0).then(|| {
        larderwright_quantity::mul_div(
            generations(profile),
            1000,
            by,
            larderwright_quantity::Rounding::Nearest,
        )
    })
}

/// Growth per day at 5 °C of *Listeria monocytogenes* in a food, millionths of a log10 to the nearest, from growth
/// observed at another temperature: `EGR5 = EGR (6.18 / (T + 1.18))²`.
///
/// Form from memory, confirmed on seven rows of the FDA/FSIS/CDC risk assessment of 2003, appendix 8, table 1.
#[must_use]
pub fn listeria_at_5_micro(log10_milli: i64, days: i64, at: Temperature) -> i64 {
    let factor = 6.18 / (celsius(at) + 1.18);
    micro(log10_milli as f64 * 1e-3 / days as f64 * factor * factor)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hold(hours: i64, c: i64) -> Vec<(Seconds, Temperature)> {
        vec![
            (Seconds::ZERO, Temperature::from_c(c)),
            (Seconds::from_hours(hours), Temperature::from_c(c)),
        ]
    }

    #[test]
    fn nothing_grows_in_the_fridge_or_the_pot() {
        for c in [4, 60] {
            for microbe in [&PERFRINGENS_CHICKEN, &CEREUS_RICE] {
                assert_eq!(microbe.grow(2000, &hold(12, c)), [2000, 2000]);
            }
        }
    }

    #[test]
    fn growth_ends_at_the_most() {
        let counts = CEREUS_RICE.grow(2000, &hold(200, 35));
        assert!((counts[1] - 8030).abs() <= 5, "{counts:?}");
    }

    #[test]
    fn a_curve_measured_by_itself_is_one() {
        let curve = [
            (Seconds::ZERO, Temperature::from_deci_c(572)),
            (Seconds::from_hours(2), Temperature::from_deci_c(211)),
            (Seconds::from_hours(6), Temperature::from_c(5)),
        ];
        assert_eq!(relative_milli(&PERFRINGENS_CHICKEN, &curve, &curve), Some(1000));
        assert_eq!(relative_milli(&PERFRINGENS_CHICKEN, &curve, &hold(1, 4)), None);
    }
}
