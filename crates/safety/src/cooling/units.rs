//! Between whole numbers and floating point: conversions in, and named roundings out, always to the side on which
//! food is warmer and slower.

#![expect(clippy::float_arithmetic, reason = "physics; whole numbers in and out")]

use larderwright_quantity::{Length, Seconds, Temperature};

/// Times beyond this are told as never: a year.
const LONGEST: f64 = 365.0 * 86_400.0;

pub(super) fn metres(length: Length) -> f64 {
    length.um() as f64 * 1e-6
}

pub(super) fn celsius(temperature: Temperature) -> f64 {
    temperature.deci_c() as f64 * 0.1
}

/// Tenths of a W/(m² K).
pub(super) fn coefficient(deci_w: i64) -> f64 {
    deci_w as f64 * 0.1
}

/// Millionths of a unit.
pub(super) fn millionths(micro: i64) -> f64 {
    micro as f64 * 1e-6
}

/// To millionths, to the nearest.
pub(super) fn micro(value: f64) -> i64 {
    libm::round(value * 1e6) as i64
}

/// To whole units, to the nearest.
pub(super) fn whole(value: f64) -> i64 {
    libm::round(value) as i64
}

/// A duration rounded up to the second; `None` when it never ends.
pub(super) fn seconds_up(seconds: f64) -> Option<Seconds> {
    (seconds.is_finite() && seconds < LONGEST)
        .then(|| Seconds::from_secs(libm::ceil(seconds.max(0.0)) as i64))
}

pub(super) fn seconds(duration: Seconds) -> f64 {
    duration.secs() as f64
}

/// A temperature rounded to the warmer tenth; a millionth of a degree is no warmth.
pub(super) fn warmer(celsius: f64) -> Temperature {
    Temperature::from_deci_c(libm::ceil(celsius * 10.0 - 1e-6) as i64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_never_shortened_and_warmth_never_lost() {
        assert_eq!(seconds_up(60.001), Some(Seconds::from_secs(61)));
        assert_eq!(seconds_up(-3.0), Some(Seconds::ZERO));
        assert_eq!(seconds_up(f64::INFINITY), None);
        assert_eq!(seconds_up(f64::NAN), None);
        assert_eq!(warmer(21.11), Temperature::from_deci_c(212));
        assert_eq!(warmer(-0.05), Temperature::from_deci_c(0));
        assert_eq!(
            warmer(celsius(Temperature::from_deci_c(211))),
            Temperature::from_deci_c(211)
        );
    }
}
