//! Weeks on the command line: `2026-W49` and its Monday.

use jiff::civil::{Date, ISOWeekDate, Weekday};

/// The Monday of an ISO week, or what is wrong with the text.
///
/// # Errors
/// What is wrong, and what to write.
pub(crate) fn parse_week(text: &str) -> Result<Date, (String, String)> {
    let wrong = |what: &str| {
        let help = "Write year and week, as in `2026-W49`.";
        (format!("`{text}` is no week{what}"), help.to_owned())
    };
    let (year, week) = text.split_once("-W").ok_or_else(|| wrong(""))?;
    if year.len() != 4 || week.len() != 2 {
        return Err(wrong(""));
    }
    let year: i16 = year.parse().map_err(|_| wrong(""))?;
    let week: i8 = week.parse().map_err(|_| wrong(""))?;
    let date = ISOWeekDate::new(year, week, Weekday::Monday).map_err(|_| wrong(" of that year"))?;
    Ok(date.date())
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    #[test]
    fn a_week_has_its_monday() {
        assert_eq!(parse_week("2026-W49"), Ok(date(2026, 11, 30)));
        assert_eq!(parse_week("2026-W53"), Ok(date(2026, 12, 28)));
    }

    #[test]
    fn what_is_no_week_is_refused_with_help() {
        for text in ["", "2026", "2026-49", "2026-W5", "2027-W53", "2026-W00", "week 3"] {
            let (message, help) = parse_week(text).expect_err(text);
            assert!(message.contains(text) && help.contains("2026-W49"), "{message}");
        }
    }
}
