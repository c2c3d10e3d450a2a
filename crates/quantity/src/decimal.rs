//! Decimal numbers as people write them, read as whole parts.

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
