//! Exact reading of decimal figures as whole numbers of a small unit. No floats, so that the same text
//! gives the same table on every machine.

/// Reads a decimal such as `12.34` as a whole number of `10^-places`, half away from zero.
///
/// Returns `None` if the text is not a plain decimal.
pub(super) fn parse_scaled(text: &str, places: u32) -> Option<i64> {
    let text = text.trim();
    let (negative, digits) = match text.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, text),
    };
    let (whole, fraction) = digits.split_once('.').unwrap_or((digits, ""));
    if whole.is_empty() && fraction.is_empty() {
        return None;
    }
    let mut value: i64 = 0;
    for digit in whole.chars() {
        value = value
            .checked_mul(10)?
            .checked_add(i64::from(digit.to_digit(10)?))?;
    }
    let mut fraction_digits = fraction.chars();
    for _ in 0..places {
        let digit = match fraction_digits.next() {
            Some(digit) => digit.to_digit(10)?,
            None => 0,
        };
        value = value.checked_mul(10)?.checked_add(i64::from(digit))?;
    }
    if let Some(next) = fraction_digits.next() {
        value = value.checked_add(i64::from(next.to_digit(10)? >= 5))?;
    }
    Some(if negative { -value } else { value })
}

/// `value * num / den`, to the nearest whole number, half up; for values that are not negative.
pub(super) fn scale_nearest(value: i64, num: i64, den: i64) -> i64 {
    let exact = i128::from(value) * i128::from(num);
    let den = i128::from(den);
    i64::try_from((2 * exact + den) / (2 * den)).expect("figures of food fit into 64 bits")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_decimal_is_read_exactly_and_rounded_half_away_from_zero() {
        for (text, places, value) in [
            ("1.8541", 4, 18541),
            ("0.0005", 3, 1),
            ("12", 3, 12000),
            (".5", 1, 5),
            ("-1.25", 1, -13),
        ] {
            assert_eq!(parse_scaled(text, places), Some(value), "{text}");
        }
    }

    #[test]
    fn what_is_not_a_plain_decimal_is_refused() {
        for text in ["", ".", "1e3", "1,5", "abc", "1.2.3"] {
            assert_eq!(parse_scaled(text, 3), None, "{text}");
        }
    }
}
