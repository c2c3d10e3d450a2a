//! Named rounding: every division says which way it goes.

/// Which way a division goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rounding {
    /// Towards minus infinity.
    Down,
    /// Towards plus infinity.
    Up,
    /// To the nearest; halves away from zero.
    Nearest,
}

/// `value * num / den`, exact inside, rounded once.
///
/// # Panics
/// Panics when `den` is not positive or the result does not fit 64 bits.
#[must_use]
pub fn mul_div(value: i64, num: i64, den: i64, rounding: Rounding) -> i64 {
    assert!(den > 0, "a divisor is positive");
    let product = i128::from(value) * i128::from(num);
    let den = i128::from(den);
    let floor = product.div_euclid(den);
    let rest = product.rem_euclid(den);
    let quotient = match rounding {
        Rounding::Down => floor,
        Rounding::Up => floor + i128::from(rest > 0),
        Rounding::Nearest => {
            let up = if product >= 0 {
                rest * 2 >= den
            } else {
                rest * 2 > den
            };
            floor + i128::from(up)
        }
    };
    i64::try_from(quotient).expect("a quantity fits 64 bits")
}
