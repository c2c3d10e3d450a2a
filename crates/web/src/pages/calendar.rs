//! The calendar: soaking, pulling, shopping, sessions; each entry keeps its identifier when it moves.

use axum::extract::State;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use jiff::civil::DateTime;
use larderwright_views::page::calendar::{Entry, entries};

use larderwright_store::Store;

use crate::Pages;
use crate::refusal::Refusal;

/// The calendar as a file or feed.
pub(crate) async fn calendar<S: Store + 'static>(State(pages): State<Pages<S>>) -> Result<Response, Refusal> {
    let week = pages.desk.week().await?;
    // The plan's own time is the stamp of every entry: the same plan gives the same bytes.
    let text = text(&entries(&week.snapshot, &week.plan), week.snapshot.now);
    let headers = [
        (header::CONTENT_TYPE, "text/calendar; charset=utf-8"),
        (
            header::CONTENT_DISPOSITION,
            "inline; filename=\"larderwright.ics\"",
        ),
    ];
    Ok((headers, text).into_response())
}

/// RFC 5545. Times are local ("floating"): a kitchen's hours do not move with a traveller's phone.
pub(crate) fn text(entries: &[Entry], made: DateTime) -> String {
    let mut lines = vec![
        "BEGIN:VCALENDAR".to_owned(),
        "VERSION:2.0".into(),
        "PRODID:-//Larderwright//Week//EN".into(),
        "CALSCALE:GREGORIAN".into(),
        "X-WR-CALNAME:Kitchen".into(),
    ];
    for entry in entries {
        lines.push("BEGIN:VEVENT".into());
        lines.push(format!("UID:{}@larderwright.invalid", entry.uid));
        lines.push(format!("DTSTAMP:{}Z", stamp(made)));
        lines.push(format!("DTSTART:{}", stamp(entry.from)));
        lines.push(format!("DTEND:{}", stamp(entry.to)));
        lines.push(format!("SUMMARY:{}", escaped(&entry.title)));
        if !entry.text.is_empty() {
            lines.push(format!("DESCRIPTION:{}", escaped(&entry.text)));
        }
        if entry.alarm {
            lines.extend(
                [
                    "BEGIN:VALARM",
                    "ACTION:DISPLAY",
                    "TRIGGER:PT0M",
                    "DESCRIPTION:Now",
                    "END:VALARM",
                ]
                .map(String::from),
            );
        }
        lines.push("END:VEVENT".into());
    }
    lines.push("END:VCALENDAR".into());
    lines.iter().map(|line| folded(line)).collect()
}

fn stamp(at: DateTime) -> String {
    format!(
        "{:04}{:02}{:02}T{:02}{:02}{:02}",
        at.year(),
        at.month(),
        at.day(),
        at.hour(),
        at.minute(),
        at.second()
    )
}

fn escaped(text: &str) -> String {
    text.replace('\\', "\\\\")
        .replace(';', "\\;")
        .replace(',', "\\,")
        .replace('\n', "\\n")
        .replace(['\r', '\t'], " ")
        .replace('\u{a0}', " ")
}

/// At most 75 bytes to a line; what is longer goes on in the next after a blank.
fn folded(line: &str) -> String {
    let mut out = String::with_capacity(line.len() + 4);
    let mut used = 0;
    for letter in line.chars() {
        if used + letter.len_utf8() > 73 {
            out.push_str("\r\n ");
            used = 1;
        }
        out.push(letter);
        used += letter.len_utf8();
    }
    out.push_str("\r\n");
    out
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;
    use larderwright_testkit::sample;

    use super::*;

    fn check() -> String {
        let snapshot = sample::snapshot();
        text(&entries(&snapshot, &sample::plan()), snapshot.now)
    }

    #[test]
    fn lines_are_short_and_end_as_the_standard_says() {
        for line in check().split_inclusive("\r\n") {
            assert!(line.ends_with("\r\n") && line.len() <= 77, "{line:?}");
        }
    }

    #[test]
    fn every_entry_begins_and_ends() {
        let text = check();
        assert_eq!(
            text.matches("BEGIN:VEVENT").count(),
            text.matches("END:VEVENT").count()
        );
        assert!(
            text.matches("BEGIN:VEVENT").count() >= 2,
            "a session and a trip at least"
        );
    }

    #[test]
    fn the_same_plan_gives_the_same_bytes() {
        assert_eq!(check(), check());
    }

    #[test]
    fn signs_of_the_format_are_escaped() {
        assert_eq!(escaped("a,b;c\\d\ne"), "a\\,b\\;c\\\\d\\ne");
        assert_eq!(stamp(date(2026, 11, 29).at(9, 5, 0, 0)), "20261129T090500");
    }
}
