//! What time it is: the only place that looks at the clock.

use jiff::civil::DateTime;
use jiff::tz::TimeZone;

use crate::failure::Failure;

/// The local time in the household's zone, to the minute.
///
/// # Errors
/// When the zone is not known.
pub(crate) fn now_in(zone: &str) -> Result<DateTime, Failure> {
    let zone_known = TimeZone::get(zone);
    let tz = zone_known.map_err(|_| {
        Failure::usage(
            format!("there is no time zone `{zone}`"),
            "Write an area and a place, as in `Europe/Vienna`.",
        )
    })?;
    #[expect(
        clippy::disallowed_methods,
        reason = "the composition root reads the clock and hands the time on"
    )]
    let now = jiff::Timestamp::now();
    let local = tz.to_datetime(now);
    Ok(local.date().at(local.hour(), local.minute(), 0, 0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn zones_are_known_without_the_machine_s_help() {
        assert!(now_in("America/Chicago").is_ok());
        assert!(now_in("Europe/Vienna").is_ok());
        assert_eq!(
            now_in("Atlantis/Centre").map_err(|failure| failure.exit_code() == 2.into()),
            Err(true)
        );
    }
}
