//! Lead work: what has to start before the day of the session, as dated reminders.

use jiff::Span;
use jiff::civil::DateTime;
use larderwright_model::{Batch, Lead, Session, Snapshot};
use larderwright_quantity::Seconds;

/// Reminders are set to a round quarter of an hour.
const ROUND_MIN: i64 = 15;

/// The lead work of a batch, whose first step in the session starts at `start`.
pub(super) fn leads(snapshot: &Snapshot, session: &Session, batch: &Batch, start: DateTime) -> Vec<Lead> {
    let component = &snapshot.components[&batch.component];
    let way = component
        .way(&batch.way)
        .expect("a batch is made in a way of its component");
    let mut due = start.max(session.from);
    let mut leads = Vec::new();
    for step in way.steps.iter().rev().filter(|step| step.lead) {
        let wanted = step.law.likely(batch.x);
        let least = step.lead_min.unwrap_or(wanted).min(wanted);
        let at = waking(quarter(back(due, wanted)));
        leads.push(Lead {
            batch: batch.id.clone(),
            step: step.id.clone(),
            title: step.title.clone(),
            text: step.text.clone(),
            at,
            latest: back(due, least),
        });
        due = at;
    }
    leads.reverse();
    leads
}

fn back(from: DateTime, by: Seconds) -> DateTime {
    from.saturating_sub(Span::new().seconds(by.secs()))
}

/// Nobody gets up at night to soak beans: what falls between ten and seven starts at nine the evening before.
fn waking(at: DateTime) -> DateTime {
    let evening = match at.hour() {
        22.. => at.date(),
        ..7 => at.date().yesterday().unwrap_or(at.date()),
        _ => return at,
    };
    evening.at(21, 0, 0, 0)
}

fn quarter(at: DateTime) -> DateTime {
    let past = i64::from(at.minute()) % ROUND_MIN;
    at.saturating_sub(Span::new().minutes(past).seconds(i64::from(at.second())))
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn nobody_soaks_beans_at_night() {
        let evening = date(2026, 11, 28).at(21, 0, 0, 0);
        assert_eq!(waking(date(2026, 11, 29).at(1, 0, 0, 0)), evening);
        assert_eq!(waking(date(2026, 11, 28).at(23, 30, 0, 0)), evening);
        let noon = date(2026, 11, 28).at(12, 0, 0, 0);
        assert_eq!(waking(noon), noon);
    }

    #[test]
    fn reminders_come_at_quarter_hours_never_later_than_computed() {
        for minute in 0..60 {
            let at = date(2026, 11, 28).at(18, minute, 30, 0);
            let told = quarter(at);
            assert!(
                told <= at && told.minute() % 15 == 0 && told.second() == 0,
                "{told}"
            );
        }
    }
}
