//! Exact series for slab, long cylinder and sphere that start at one temperature and are cooled alike all over by a
//! medium that stays as it is.
//!
//! Notation: `theta = (T - Ta) / (T0 - Ta) = sum A exp(-l² Fo) f(l x)`, `Fo = a t / L²`. Literature: any textbook of
//! heat conduction; the eigenvalues are in `roots`. Not for changing air: that is `volumes`.

#![expect(clippy::float_arithmetic, reason = "physics; whole numbers in and out")]

use larderwright_quantity::{Length, Seconds, Temperature};

use super::composition::Material;
use super::roots::{Shape, amplitude, nth};
use super::units::{celsius, coefficient, metres, seconds, seconds_up, warmer, whole};

/// Terms beyond this many change nothing that is shown.
const TERMS: usize = 24;

/// A body in a medium.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Body {
    /// Its shape.
    pub shape: Shape,
    /// Half the thickness, or the radius.
    pub measure: Length,
    /// What it is made of.
    pub material: Material,
    /// Surface coefficient, tenths of a W/(m² K).
    pub surface_deci_w: i64,
    /// Its temperature at the start.
    pub start: Temperature,
    /// The temperature around it.
    pub around: Temperature,
}

/// Where in a body.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spot {
    /// At its centre.
    Centre,
    /// At its surface.
    Surface,
}

impl Body {
    /// The temperature after a time, rounded to the warmer tenth.
    #[must_use]
    pub fn temperature(&self, spot: Spot, after: Seconds) -> Temperature {
        let theta = self.series().theta(spot, self.fourier(seconds(after)));
        warmer(self.at_theta(theta))
    }

    /// How long until a spot has come to a temperature, rounded up; `None` when it never does.
    #[must_use]
    pub fn time_to(&self, spot: Spot, target: Temperature) -> Option<Seconds> {
        let (start, around) = (celsius(self.start), celsius(self.around));
        let wanted = (celsius(target) - around) / (start - around);
        if wanted.is_nan() || wanted <= 0.0 {
            return None;
        }
        if wanted >= 1.0 {
            return Some(Seconds::ZERO);
        }
        let series = self.series();
        let theta = |t: f64| series.theta(spot, self.fourier(t));
        seconds_up(falls_to(theta, wanted))
    }

    /// Heat given off until a time by one body of this shape, joules per cubic metre, to the nearest; negative when
    /// it takes up heat.
    #[must_use]
    pub fn heat_given_j(&self, after: Seconds) -> i64 {
        let left = self.series().mean(self.fourier(seconds(after)));
        let span = celsius(self.start) - celsius(self.around);
        whole(self.material.heat() * span * (1.0 - left))
    }

    fn fourier(&self, time: f64) -> f64 {
        let measure = metres(self.measure);
        self.material.diffusivity() * time / (measure * measure)
    }

    fn at_theta(&self, theta: f64) -> f64 {
        let around = celsius(self.around);
        around + theta * (celsius(self.start) - around)
    }

    fn series(&self) -> Series {
        let biot = coefficient(self.surface_deci_w) * metres(self.measure) / self.material.conductivity();
        Series::new(self.shape, biot)
    }
}

struct Series {
    shape: Shape,
    terms: Vec<(f64, f64)>,
}

impl Series {
    fn new(shape: Shape, biot: f64) -> Self {
        let mut terms: Vec<(f64, f64)> = Vec::with_capacity(TERMS);
        let mut before = 0.0;
        for n in 1..=TERMS {
            let lambda = nth(shape, biot, n, before);
            terms.push((lambda, amplitude(shape, lambda)));
            before = lambda;
        }
        Self { shape, terms }
    }

    fn theta(&self, spot: Spot, fourier: f64) -> f64 {
        self.sum(fourier, |l| match (spot, self.shape) {
            (Spot::Centre, _) => 1.0,
            (Spot::Surface, Shape::Slab) => libm::cos(l),
            (Spot::Surface, Shape::Cylinder) => libm::j0(l),
            (Spot::Surface, Shape::Sphere) => libm::sin(l) / l,
        })
    }

    /// The mean over the volume.
    fn mean(&self, fourier: f64) -> f64 {
        self.sum(fourier, |l| match self.shape {
            Shape::Slab => libm::sin(l) / l,
            Shape::Cylinder => 2.0 * libm::j1(l) / l,
            Shape::Sphere => 3.0 * (libm::sin(l) - l * libm::cos(l)) / (l * l * l),
        })
    }

    fn sum(&self, fourier: f64, factor: impl Fn(f64) -> f64) -> f64 {
        if fourier <= 0.0 {
            return 1.0;
        }
        let mut sum = 0.0;
        for (lambda, amplitude) in &self.terms {
            let decay = libm::exp(-lambda * lambda * fourier);
            if decay < 1e-14 {
                break;
            }
            sum += amplitude * decay * factor(*lambda);
        }
        sum.clamp(0.0, 1.0)
    }
}

/// When a falling function of time comes down to a value, in seconds; infinite when not within a year.
pub(super) fn falls_to(f: impl Fn(f64) -> f64, value: f64) -> f64 {
    let mut high = 60.0;
    while f(high) > value {
        high *= 2.0;
        if high > 4e7 {
            return f64::INFINITY;
        }
    }
    let mut low = if high > 60.0 { high / 2.0 } else { 0.0 };
    while high - low > 0.01 {
        let middle = low + (high - low) / 2.0;
        if f(middle) > value {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ball() -> Body {
        Body {
            shape: Shape::Sphere,
            measure: Length::from_mm(45),
            material: Material {
                conductivity_uw: 418_000,
                heat_j: 3_200_400,
            },
            surface_deci_w: 80,
            start: Temperature::from_c(60),
            around: Temperature::from_c(3),
        }
    }

    #[test]
    fn time_and_temperature_are_each_other_s_answer() {
        let body = ball();
        let target = Temperature::from_c(21);
        let time = body.time_to(Spot::Centre, target).expect("it gets there");
        let then = body.temperature(Spot::Centre, time);
        assert!((then.deci_c() - target.deci_c()).abs() <= 1, "{then:?}");
    }

    #[test]
    fn nothing_cools_below_what_is_around_it() {
        assert_eq!(ball().time_to(Spot::Centre, Temperature::from_c(3)), None);
        assert_eq!(ball().time_to(Spot::Surface, Temperature::from_c(2)), None);
    }

    #[test]
    fn the_surface_is_cooler_than_the_centre_and_time_cools_both() {
        let body = ball();
        let mut before = body.start;
        for minutes in [10, 30, 60, 120, 240] {
            let centre = body.temperature(Spot::Centre, Seconds::from_mins(minutes));
            assert!(body.temperature(Spot::Surface, Seconds::from_mins(minutes)) < centre);
            assert!(centre <= before);
            before = centre;
        }
    }
}
