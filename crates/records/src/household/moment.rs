//! Days and times as a person writes them: `Sunday before 13:00-17:30`, `mon-fri`, `6:30 pm`.

use jiff::civil::{Time, Weekday};
use larderwright_model::DayRef;

use crate::reader::Value;
use crate::words::Word;

const WHEN_HELP: &str =
    "Write a day and a time, as in `Sunday 09:30-13:00`; `Sunday before ...` lies before the planned week.";
const DAY_HELP: &str = "Write mon, tue, wed, thu, fri, sat, sun, or a range such as `mon-fri`.";
const CLOCK_HELP: &str = "Write hours and minutes, as in `18:30` or `6:30 pm`.";

/// A weekday by its first three letters or its full name.
pub(super) fn weekday(text: &str) -> Option<Weekday> {
    let lower = text.to_ascii_lowercase();
    let full = [
        "monday",
        "tuesday",
        "wednesday",
        "thursday",
        "friday",
        "saturday",
        "sunday",
    ];
    let short = Weekday::parse(&lower);
    short.or_else(|| {
        full.iter()
            .position(|name| *name == lower)
            .map(|at| Weekday::WORDS[at].1)
    })
}

/// The weekdays of a list, or of one text: `["mon", "thu-sat"]`, `"mon-fri"`, `"every day"`.
pub(super) fn days(value: &Value<'_>) -> Vec<Weekday> {
    let parts = if value.is_text() {
        vec![value.clone()]
    } else {
        value.list()
    };
    let mut days: Vec<Weekday> = Vec::new();
    for part in &parts {
        for day in part
            .text()
            .and_then(|text| some_days(part, text))
            .unwrap_or_default()
        {
            if days.contains(&day) {
                part.problem(format!("names `{}` twice", Word::word(day)), "Drop one of them.");
            } else {
                days.push(day);
            }
        }
    }
    if parts.is_empty() && !value.is_table() {
        value.problem("names no day", DAY_HELP);
    }
    days.sort_by_key(|day| day.to_monday_zero_offset());
    days
}

fn some_days(value: &Value<'_>, text: &str) -> Option<Vec<Weekday>> {
    if text.eq_ignore_ascii_case("every day") {
        return Some(Weekday::WORDS.iter().map(|(_, day)| *day).collect());
    }
    let (first, last) = text.split_once('-').unwrap_or((text, text));
    let (Some(first), Some(last)) = (weekday(first.trim()), weekday(last.trim())) else {
        value.problem(format!("`{text}` is no weekday"), DAY_HELP);
        return None;
    };
    let (from, to) = (first.to_monday_zero_offset(), last.to_monday_zero_offset());
    if from > to {
        value.problem(format!("`{text}` runs backwards"), "A week runs from mon to sun.");
    }
    let all = Weekday::WORDS.iter().map(|(_, day)| *day);
    Some(
        all.filter(|day| (from..=to).contains(&day.to_monday_zero_offset()))
            .collect(),
    )
}

/// A time of the day.
pub(super) fn clock(value: &Value<'_>) -> Option<Time> {
    let text = value.clock_text()?;
    let time = parse_clock(&text);
    if time.is_none() {
        value.problem(format!("`{text}` is no time of the day"), CLOCK_HELP);
    }
    time
}

fn parse_clock(text: &str) -> Option<Time> {
    let lower = text.trim().to_ascii_lowercase();
    let (digits, shift) = match (lower.strip_suffix("am"), lower.strip_suffix("pm")) {
        (Some(digits), _) => (digits, Some(0)),
        (_, Some(digits)) => (digits, Some(12)),
        _ => (lower.as_str(), None),
    };
    let mut parts = digits.trim().split(':');
    let number = |part: &str| part.parse::<i8>().ok().filter(|_| part.len() <= 2);
    let hour = number(parts.next()?)?;
    let minute = match parts.next() {
        Some(part) => number(part)?,
        None => shift.map(|_| 0)?,
    };
    if parts.next().is_some_and(|seconds| seconds != "00") || parts.next().is_some() {
        return None;
    }
    let hour = match shift {
        Some(shift) if (1..=12).contains(&hour) => hour % 12 + shift,
        Some(_) => return None,
        None => hour,
    };
    Time::new(hour, minute, 0, 0).ok()
}

/// A day with what follows it: the rest of the text, spaces dropped.
fn day_and_rest(text: &str) -> Option<(DayRef, String)> {
    let mut words: Vec<&str> = text.split_whitespace().collect();
    let before = words.iter().position(|word| word.eq_ignore_ascii_case("before"));
    if let Some(at) = before {
        words.remove(at);
    }
    let (first, rest) = words.split_first()?;
    let day = weekday(first)?;
    let day = if before.is_some() {
        DayRef::Before(day)
    } else {
        DayRef::In(day)
    };
    Some((day, rest.concat()))
}

/// A day and one time: `Saturday before 11:00`.
pub(super) fn day_at(value: &Value<'_>) -> Option<(DayRef, Time)> {
    let text = value.text()?;
    let parsed = day_and_rest(text).and_then(|(day, rest)| Some((day, parse_clock(&rest)?)));
    if parsed.is_none() {
        value.problem(format!("`{text}` is no day with a time"), WHEN_HELP);
    }
    parsed
}

/// A day and a stretch of time: `Wednesday 18:30-20:00`.
pub(super) fn day_from_to(value: &Value<'_>) -> Option<(DayRef, Time, Time)> {
    let text = value.text()?;
    let parsed = day_and_rest(text).and_then(|(day, rest)| {
        let rest = rest.replace('\u{2013}', "-");
        let (from, to) = rest.split_once('-')?;
        Some((day, parse_clock(from)?, parse_clock(to)?))
    });
    match parsed {
        None => value.problem(format!("`{text}` is no day with a stretch of time"), WHEN_HELP),
        Some((_, from, to)) if from >= to => {
            value.problem(
                format!("`{text}` ends before it starts"),
                "Write the earlier time first.",
            );
        }
        Some(_) => {}
    }
    parsed
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clock_is_read_in_either_habit() {
        let noon = Time::new(12, 0, 0, 0).expect("a time");
        for text in ["12:00", "12 pm", "12:00PM", "12:00:00"] {
            assert_eq!(parse_clock(text), Some(noon), "{text}");
        }
        assert_eq!(parse_clock("6:30 pm"), parse_clock("18:30"));
        assert_eq!(parse_clock("12:15 am"), parse_clock("00:15"));
    }

    #[test]
    fn what_is_no_clock_is_refused() {
        for text in [
            "", "24:00", "18:60", "18", "18:30:15", "13 pm", "half six", "-1:00", "018:30",
        ] {
            assert_eq!(parse_clock(text), None, "{text}");
        }
    }

    #[test]
    fn the_day_before_the_week_is_said_with_a_word() {
        let (day, rest) = day_and_rest("Sunday before 13:00 - 17:30").expect("a day");
        assert_eq!(
            (day, rest.as_str()),
            (DayRef::Before(Weekday::Sunday), "13:00-17:30")
        );
        assert_eq!(
            day_and_rest("before sun 9:00").map(|(day, _)| day),
            Some(DayRef::Before(Weekday::Sunday))
        );
        assert_eq!(
            day_and_rest("sun 9:00").map(|(day, _)| day),
            Some(DayRef::In(Weekday::Sunday))
        );
        assert_eq!(day_and_rest("9:00 sun"), None);
    }
}
