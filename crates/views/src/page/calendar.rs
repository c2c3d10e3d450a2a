//! Calendar entries of a week: soaking, pulling, shopping, sessions. Their identifiers say what they are about and not
//! when, so that an entry that moves is the same entry.

use jiff::civil::DateTime;
use larderwright_model::{Snapshot, WeekPlan};

use crate::book::{Book, counted, listed};
use crate::page::session::session_title;
use crate::run::finish_words;

/// One entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Stays when the entry moves.
    pub uid: String,
    /// Start.
    pub from: DateTime,
    /// End.
    pub to: DateTime,
    /// What.
    pub title: String,
    /// More about it.
    pub text: String,
    /// Whether a bell rings at its start.
    pub alarm: bool,
}

/// The entries of a week, by time.
#[must_use]
pub fn entries(snapshot: &Snapshot, plan: &WeekPlan) -> Vec<Entry> {
    let book = Book::new(snapshot, plan);
    let mut all = leads(book);
    all.extend(pulls(book));
    all.extend(shops(book));
    all.extend(sessions(book));
    all.sort_by(|one, other| (one.from, &one.uid).cmp(&(other.from, &other.uid)));
    all
}

fn later(at: DateTime, minutes: i64) -> DateTime {
    at.checked_add(jiff::Span::new().minutes(minutes)).unwrap_or(at)
}

fn leads(book: Book<'_>) -> Vec<Entry> {
    let runs = book.plan.runs.iter();
    let leads = runs.flat_map(|run| &run.leads);
    leads
        .map(|lead| Entry {
            uid: format!("lead-{}-{}", lead.batch, lead.step),
            from: lead.at,
            to: later(lead.at, 10),
            title: lead.title.clone(),
            text: format!("{} At the latest {}.", lead.text, book.when(lead.latest)),
            alarm: true,
        })
        .collect()
}

fn pulls(book: Book<'_>) -> Vec<Entry> {
    let lots = book.plan.lots.iter();
    let pulled = lots.filter_map(|lot| Some((lot, lot.pull?)));
    pulled
        .map(|(lot, pull)| {
            let sittings = book.sitting_names(&lot.sittings);
            Entry {
                uid: format!("pull-{}", lot.id),
                from: pull,
                to: later(pull, 5),
                title: format!("Pull {}", book.component_name(&lot.origin).to_lowercase()),
                text: format!(
                    "{}, {}, from the freezer into the fridge, for {}",
                    book.mass(lot.mass),
                    book.boxes(lot),
                    listed(&sittings)
                ),
                alarm: true,
            }
        })
        .collect()
}

fn shops(book: Book<'_>) -> Vec<Entry> {
    let trips = crate::order::trips(book.plan).into_iter();
    let entry = |(id, lines): (larderwright_model::ShopId, Vec<&larderwright_model::OrderLine>)| {
        let shop = book.snapshot.shops.iter().find(|shop| shop.id == id)?;
        let from = later(shop.at, -60);
        Some(Entry {
            uid: format!("shop-{id}"),
            from,
            to: shop.at,
            title: format!("Shop, {}", counted(lines.len(), "line", "lines")),
            text: format!("Expected {}", book.money(crate::order::total(lines))),
            alarm: false,
        })
    };
    trips.filter_map(entry).collect()
}

fn sessions(book: Book<'_>) -> Vec<Entry> {
    let runs = book.plan.runs.iter().filter(|run| !run.acts.is_empty());
    let entry = |run: &larderwright_model::Run| {
        let session = book.snapshot.session(&run.session)?;
        let from = run.acts.iter().map(|act| act.start).min()?;
        Some(Entry {
            uid: format!("session-{}", session.id),
            from,
            to: run.finish,
            title: session_title(session),
            text: format!("{}. {}", book.cooks(&session.cooks), finish_words(book, run)),
            alarm: false,
        })
    };
    runs.filter_map(entry).collect()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use larderwright_testkit::sample;

    use super::*;

    #[test]
    fn identifiers_are_unique_and_stay_when_a_session_moves() {
        let (snapshot, mut plan) = (sample::snapshot(), sample::plan());
        let uids = |plan: &WeekPlan| -> BTreeSet<String> {
            entries(&snapshot, plan)
                .into_iter()
                .map(|entry| entry.uid)
                .collect()
        };
        let before = uids(&plan);
        assert_eq!(before.len(), entries(&snapshot, &plan).len());
        for act in &mut plan.runs[0].acts {
            act.start = later(act.start, 30);
            act.end = later(act.end, 30);
        }
        assert_eq!(uids(&plan), before);
    }

    #[test]
    fn every_pull_and_every_soak_has_an_entry() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let alarms = entries(&snapshot, &plan)
            .iter()
            .filter(|entry| entry.alarm)
            .count();
        let pulls = plan.lots.iter().filter(|lot| lot.pull.is_some()).count();
        let leads: usize = plan.runs.iter().map(|run| run.leads.len()).sum();
        assert_eq!(alarms, pulls + leads);
    }
}
