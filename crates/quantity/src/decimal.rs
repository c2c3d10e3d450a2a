//! Decimal numbers as people write them, read as whole parts, and what a thermometer says.

use crate::{Rounding, Temperature, mul_div};

/// A decimal number without sign, times ten to the power of `places`; `None` for anything else, or with more digits than
/// that behind the point, or more than nine before it.
///
/// ```
/// # use larderwright_quantity::decimal;
/// assert_eq!(decimal("3.2", 2), Some(320));
/// assert_eq!(decimal("3.205", 2), None);
/// ```
#[must_use]
pub fn decimal(text: &str, places: usize) -> Option<i64> {
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    let digits = |it: &str| it.bytes().all(|byte| byte.is_ascii_digit());
    if whole.is_empty() || whole.len() > 9 || part.len() > places || !digits(whole) || !digits(part) {
        return None;
    }
    format!("{whole}{part:0<places$}").parse().ok()
}

/// What a thermometer says, to the nearest tenth of a degree Celsius: `57C`, `57.2 °C`, `-18 C`, `135F`; `None` for anything
/// else, also without a scale.
///
/// ```
/// # use larderwright_quantity::{Temperature, thermometer};
/// assert_eq!(thermometer("135 °F"), Some(Temperature::from_deci_c(572)));
/// assert_eq!(thermometer("57"), None);
/// ```
#[must_use]
pub fn thermometer(text: &str) -> Option<Temperature> {
    let cleaned: String = text.chars().filter(|c| !c.is_whitespace() && *c != '°').collect();
    let figure = cleaned.strip_suffix(['C', 'c', 'F', 'f'])?;
    let (sign, figure) = figure.strip_prefix('-').map_or((1, figure), |rest| (-1, rest));
    let tenths = sign * decimal(figure, 1).filter(|tenths| *tenths < 10_000)?;
    Some(Temperature::from_deci_c(if cleaned.ends_with(['F', 'f']) {
        mul_div(tenths - 320, 5, 9, Rounding::Nearest)
    } else {
        tenths
    }))
}
