//! Reads the words of the command: classes, profiles, moments, eaters.

use jiff::civil::{Date, DateTime, Time, time};
use jiff::tz::TimeZone;
use larderwright_model::{Caution, Profile};
use larderwright_quantity::{Rounding, Temperature, mul_div};
use larderwright_safety::advice::{self, Topic};
use larderwright_safety::keeping::{KeepClass, classes};

/// A moment as it was said: with its time, as a whole day, or as a time alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Moment {
    At(DateTime),
    Day(Date),
    Clock(Time),
}

impl Moment {
    /// A time alone becomes the first such time after another moment.
    pub(crate) fn after(self, earlier: DateTime) -> Self {
        match self {
            Self::Clock(clock) => {
                let same_day = earlier.date().to_datetime(clock);
                let next = || same_day.saturating_add(jiff::Span::new().days(1));
                Self::At(if same_day < earlier { next() } else { same_day })
            }
            other => other,
        }
    }

    pub(crate) fn is_day(self) -> bool {
        matches!(self, Self::Day(_))
    }

    /// The earliest it may have been.
    pub(crate) fn early(self) -> DateTime {
        match self {
            Self::At(at) => at,
            Self::Day(day) => day.to_datetime(time(0, 0, 0, 0)),
            Self::Clock(clock) => Date::default().to_datetime(clock),
        }
    }

    /// The latest it may have been.
    pub(crate) fn late(self) -> DateTime {
        match self {
            Self::Day(day) => day.to_datetime(time(23, 59, 0, 0)),
            other => other.early(),
        }
    }
}

pub(crate) fn moment(text: &str) -> Result<Moment, String> {
    let date_alone = !text.contains(['T', 't', ' ', ':']);
    let read = if date_alone {
        text.parse().ok().map(Moment::Day)
    } else {
        text.parse().ok().map(Moment::At)
    };
    read.filter(|moment| (1900..=9000).contains(&moment.early().year()))
        .ok_or_else(|| format!("`{text}` is no local time: write `2026-11-22T18:00` or `2026-11-22`"))
}

pub(crate) fn clock_or_moment(text: &str) -> Result<Moment, String> {
    let clock = text.contains(':') && !text.contains(['T', 't', ' ', '-']);
    match text.parse::<Time>() {
        Ok(read) if clock => Ok(Moment::Clock(read)),
        _ => moment(text).map_err(|error| format!("{error}, or `18:00`")),
    }
}

pub(crate) fn class(text: &str) -> Result<KeepClass, String> {
    KeepClass::parse(text).ok_or_else(|| {
        let close = classes()
            .iter()
            .map(|class| class.word())
            .filter(|word| text.split('-').any(|part| part.len() > 2 && word.contains(part)))
            .collect::<Vec<_>>();
        let hint = if close.is_empty() {
            "`larderwright keep --list` shows all".to_owned()
        } else {
            format!("did you mean {}?", close.join(", "))
        };
        format!("there is no keeping class `{text}`: {hint}")
    })
}

pub(crate) fn profile(text: &str) -> Result<Profile, String> {
    Profile::parse(text).ok_or_else(|| {
        let words = Profile::ALL.map(Profile::word).join(", ");
        format!("there is no guidance profile `{text}`: there are {words}")
    })
}

pub(crate) fn topic(text: &str) -> Result<Topic, String> {
    let mut topics: Vec<Topic> = advice::rows().iter().map(|row| row.topic).collect();
    topics.sort_unstable();
    topics.dedup();
    let found = topics.iter().find(|topic| topic.word() == text);
    found.copied().ok_or_else(|| {
        let words: Vec<&str> = topics.iter().map(|topic| topic.word()).collect();
        format!("there is no topic `{text}`: there are {}", words.join(", "))
    })
}

const STATES: [(Caution, &str); 5] = [
    (Caution::Pregnant, "pregnant"),
    (Caution::Breastfeeding, "breastfeeding"),
    (Caution::Infant, "infant"),
    (Caution::ImmuneCompromised, "immune-compromised"),
    (Caution::OlderThan65, "older-than-65"),
];

pub(crate) fn state(text: &str) -> Result<Caution, String> {
    let found = STATES.iter().find(|(_, word)| *word == text);
    found.map(|(state, _)| *state).ok_or_else(|| {
        let words = STATES.map(|(_, word)| word).join(", ");
        format!("there is no state `{text}`: there are {words}")
    })
}

pub(crate) fn state_word(state: Caution) -> &'static str {
    let found = STATES.iter().find(|(known, _)| *known == state);
    found.map_or("eater at risk", |(_, word)| word)
}

/// Degrees Celsius, to the nearest tenth.
pub(crate) fn degrees(text: &str) -> Result<Temperature, String> {
    decimal(text, 2)
        .filter(|hundredths| (-6_000..=30_000).contains(hundredths))
        .map(|hundredths| Temperature::from_deci_c(mul_div(hundredths, 1, 10, Rounding::Nearest)))
        .ok_or_else(|| format!("`{text}` is no temperature in °C: write `3` or `57.2`"))
}

pub(crate) fn zone(text: &str) -> Result<TimeZone, String> {
    TimeZone::get(text).map_err(|_| {
        format!("there is no time zone `{text}`: write an area and a place, as in `Europe/Vienna`")
    })
}

/// A decimal figure in parts of so many digits, with a sign; digits beyond them are refused unless they are noughts.
pub(crate) fn decimal(text: &str, places: usize) -> Option<i64> {
    let (sign, figure) = text.strip_prefix('-').map_or((1, text), |rest| (-1, rest));
    let plain = match figure.split_once('.') {
        Some((_, "")) => return None,
        Some(_) => figure.trim_end_matches('0').trim_end_matches('.'),
        None => figure,
    };
    larderwright_quantity::decimal(plain, places).map(|parts| sign * parts)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_alone_is_the_next_such_time() {
        let cooked = moment("2026-11-22T23:00").expect("a time").early();
        let chilled = clock_or_moment("00:30").expect("a clock").after(cooked);
        assert_eq!(chilled.early().to_string(), "2026-11-23T00:30:00");
    }

    #[test]
    fn what_is_no_moment_is_refused() {
        for text in [
            "",
            "tomorrow",
            "2026-13-01",
            "2026-11-22T25:00",
            "22.11.2026",
            "0001-01-01",
        ] {
            assert!(moment(text).is_err(), "{text}");
            assert!(clock_or_moment(text).is_err(), "{text}");
        }
        assert!(moment("18:00").is_err());
    }

    #[test]
    fn figures_have_no_more_digits_than_count() {
        assert_eq!(decimal("57.2", 2), Some(5_720));
        assert_eq!(decimal("-18", 1), Some(-180));
        assert_eq!(decimal("5.000", 1), Some(50));
        assert_eq!(degrees("57.22"), Ok(Temperature::from_deci_c(572)));
        for text in ["", "-", ".5", "5.", "1.256", "1e3", "--1", "5,1", "+3"] {
            assert_eq!(decimal(text, 2), None, "{text}");
        }
    }

    #[test]
    fn a_near_miss_is_helped() {
        assert!(class("rice").expect_err("no class").contains("rice-cooked"));
        assert!(class("zzz").expect_err("no class").contains("--list"));
    }
}
