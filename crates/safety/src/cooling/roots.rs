//! Eigenvalues of cooling bodies: slab, long cylinder and sphere with one surface coefficient, and the slab with two.
//!
//! Every root is bracketed and halved until it stands still, so that none is missed and none is found twice.

#![expect(clippy::float_arithmetic, reason = "physics; whole numbers in and out")]

use std::f64::consts::PI;

use super::units::{micro, millionths};

/// A body whose surface is cooled alike everywhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// Infinite slab; its measure is half the thickness.
    Slab,
    /// Long cylinder; its measure is the radius.
    Cylinder,
    /// Sphere; its measure is the radius.
    Sphere,
}

/// First eigenvalue and amplitude at the centre, in millionths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FirstTerm {
    /// The eigenvalue.
    pub lambda_micro: i64,
    /// The amplitude.
    pub amplitude_micro: i64,
}

/// The first term of the series of a body at a Biot number in millionths.
///
/// `Bi = h L / k` with L the body's measure.
#[must_use]
pub fn first_term(shape: Shape, biot_micro: i64) -> FirstTerm {
    let lambda = nth(shape, millionths(biot_micro), 1, 0.0);
    FirstTerm {
        lambda_micro: micro(lambda),
        amplitude_micro: micro(amplitude(shape, lambda)),
    }
}

/// The n-th root, counted from one; the cylinder starts its search behind the root before.
pub(super) fn nth(shape: Shape, biot: f64, n: usize, before: f64) -> f64 {
    let turn = (n - 1) as f64 * PI;
    match shape {
        Shape::Slab => bracket(|l| l * libm::sin(l) - biot * libm::cos(l), turn, turn + PI / 2.0),
        Shape::Sphere => bracket(
            |l| l * libm::cos(l) + (biot - 1.0) * libm::sin(l),
            turn.max(1e-9),
            turn + PI,
        ),
        Shape::Cylinder => {
            let f = |l: f64| l * libm::j1(l) - biot * libm::j0(l);
            let mut low = if n == 1 { 1e-9 } else { before + 1e-3 };
            let sign = f(low) > 0.0;
            while (f(low + 0.05) > 0.0) == sign {
                low += 0.05;
            }
            bracket(f, low, low + 0.05)
        }
    }
}

/// What the n-th eigenfunction of a body contributes at its centre.
pub(super) fn amplitude(shape: Shape, l: f64) -> f64 {
    match shape {
        Shape::Slab => 4.0 * libm::sin(l) / (2.0 * l + libm::sin(2.0 * l)),
        Shape::Cylinder => {
            let (j0, j1) = (libm::j0(l), libm::j1(l));
            2.0 / l * j1 / (j0 * j0 + j1 * j1)
        }
        Shape::Sphere => 4.0 * (libm::sin(l) - l * libm::cos(l)) / (2.0 * l - libm::sin(2.0 * l)),
    }
}

/// The n-th root of a slab of thickness one with Biot numbers of its own on both faces.
///
/// `tan l = l (B1 + B2) / (l² - B1 B2)`, one root in each half turn.
pub(super) fn two_faced(biot: (f64, f64), n: usize) -> f64 {
    let (sum, product) = (biot.0 + biot.1, biot.0 * biot.1);
    let turn = (n - 1) as f64 * PI;
    let f = |l: f64| (l * l - product) * libm::sin(l) - l * sum * libm::cos(l);
    bracket(f, turn.max(1e-9), turn + PI)
}

/// A root between two places at which the function has different signs, by false position that keeps moving both
/// ends (Illinois), and halving where that stalls.
fn bracket(f: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> f64 {
    let (mut f_low, mut f_high) = (f(low), f(high));
    let mut kept = 0;
    for round in 0..80 {
        let width = high - low;
        if width < 1e-13 * high.max(1e-3) {
            break;
        }
        let guess = low + width * f_low / (f_low - f_high);
        let inside = guess > low && guess < high && round % 4 != 3;
        let middle = if inside { guess } else { low + width / 2.0 };
        let value = f(middle);
        if value == 0.0 {
            return middle;
        }
        if (value > 0.0) == (f_low > 0.0) {
            (low, f_low) = (middle, value);
            if kept == 1 {
                f_high /= 2.0;
            }
            kept = 1;
        } else {
            (high, f_high) = (middle, value);
            if kept == 2 {
                f_low /= 2.0;
            }
            kept = 2;
        }
    }
    low + (high - low) / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn roots_come_in_order_and_solve_their_equations() {
        for biot in [0.01, 0.3, 2.0, 40.0] {
            for shape in [Shape::Slab, Shape::Cylinder, Shape::Sphere] {
                let mut before = 0.0;
                for n in 1..=6 {
                    let l = nth(shape, biot, n, before);
                    assert!(l > before, "{shape:?} {biot} {n}");
                    let rest = match shape {
                        Shape::Slab => l * libm::tan(l) - biot,
                        Shape::Cylinder => l * libm::j1(l) / libm::j0(l) - biot,
                        Shape::Sphere => 1.0 - l / libm::tan(l) - biot,
                    };
                    assert!(rest.abs() < 1e-6 * (1.0 + biot), "{shape:?} {biot} {n} {rest}");
                    before = l;
                }
            }
        }
    }

    #[test]
    fn a_slab_cooled_alike_on_both_faces_has_the_roots_of_its_half() {
        // Thickness one with Bi on both faces: the even ones of its roots are twice those of the half slab at Bi/2.
        for n in 1..=3 {
            let half = nth(Shape::Slab, 0.7, n, 0.0);
            let whole = two_faced((1.4, 1.4), 2 * n - 1);
            assert!((whole - 2.0 * half).abs() < 1e-9, "{n}: {whole} {half}");
        }
    }
}
