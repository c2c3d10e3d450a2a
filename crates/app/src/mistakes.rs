//! Every mistake in a household's file, before anything is kept: what cannot be read, and names that lead nowhere.

use jiff::civil::DateTime;
use larderwright_records::Problem;
use larderwright_records::household::parse_household;

use crate::{Options, build_snapshot, dates, locate};

/// The mistakes in a household's file; none when a week could be planned from it.
#[must_use]
pub fn mistakes(text: &str, now: DateTime) -> Vec<Problem> {
    let household = match parse_household(text) {
        Ok(household) => household,
        Err(problems) => return locate(text, problems),
    };
    let monday = dates::next_to_plan(&household, now);
    match build_snapshot(household, monday, now, Options::default()) {
        Ok(_) => Vec::new(),
        Err(problems) => locate(text, problems),
    }
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;
    use larderwright_records::household::{DEMO_HOUSEHOLD, PATTERNS};

    use super::*;

    fn check(text: &str) -> Vec<Problem> {
        mistakes(text, date(2026, 11, 27).at(18, 0, 0, 0))
    }

    #[test]
    fn patterns_have_none() {
        for pattern in PATTERNS {
            assert_eq!(check(pattern.text), [], "{}", pattern.name);
        }
    }

    #[test]
    fn each_stands_at_its_line() {
        let bad = DEMO_HOUSEHOLD.replacen("\ntime_zone", "\ntime_zones", 1);
        let found = check(&bad);
        assert!(found.iter().any(|problem| problem.line == 9), "{found:?}");
    }
}
