//! What time it is: the only place that looks at the clock.

use jiff::Timestamp;
use jiff::tz::TimeZone;
use larderwright_app::home::Now;
use larderwright_model::Moment;

use crate::failure::Failure;

/// The machine's clock.
pub(crate) fn timestamp() -> Timestamp {
    #[expect(
        clippy::disallowed_methods,
        reason = "the composition root reads the clock and hands the time on"
    )]
    let now = Timestamp::now();
    now
}

/// A time zone by its name.
///
/// # Errors
/// When it is not known.
pub(crate) fn zone(name: &str) -> Result<TimeZone, Failure> {
    TimeZone::get(name).map_err(|_| {
        Failure::usage(
            format!("there is no time zone `{name}`"),
            "Write an area and a place, as in `Europe/Vienna`.",
        )
    })
}

/// An instant on the wall of a kitchen.
pub(crate) fn now_of(zone: &TimeZone, instant: Timestamp) -> Now {
    let local = zone.to_datetime(instant);
    Now {
        ms: instant.as_millisecond(),
        moment: Moment {
            at: local.date().at(local.hour(), local.minute(), local.second(), 0),
            offset_s: zone.to_offset(instant).seconds(),
            zone: zone.iana_name().unwrap_or("UTC").to_owned(),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn zones_are_known_without_the_machine_s_help() {
        assert!(zone("America/Chicago").is_ok());
        assert!(zone("Europe/Vienna").is_ok());
        assert_eq!(
            zone("Atlantis/Centre").map_err(|failure| failure.exit_code() == 2.into()),
            Err(true)
        );
    }

    #[test]
    fn an_instant_keeps_its_offset_through_the_clocks_going_back() {
        let zone = zone("Europe/Vienna").expect("it is known");
        let first: Timestamp = "2026-10-25T00:30:00Z".parse().expect("an instant");
        let second: Timestamp = "2026-10-25T01:30:00Z".parse().expect("an instant");
        let (one, other) = (now_of(&zone, first), now_of(&zone, second));
        assert_eq!(one.moment.at, other.moment.at);
        assert_eq!((one.moment.offset_s, other.moment.offset_s), (7200, 3600));
        assert_eq!(other.moment.instant_s() - one.moment.instant_s(), 3600);
    }
}
