//! The review: what the week was meant to cost in money, hours and waste, to be set against what it did.

use larderwright_model::{Fate, Snapshot, WeekPlan};
use larderwright_quantity::{Mass, Seconds, duration_text};

use crate::book::Book;
use crate::order::total;
use crate::page::week::left_of;
use crate::page::{Block, Named};

/// The review page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReviewPage {
    /// Title block.
    pub block: Block,
    /// Planned figures with what was reported, where anything was.
    pub rows: Vec<ReviewRow>,
    /// What the figures rest on.
    pub words: String,
}

/// A figure of the review.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReviewRow {
    /// What.
    pub name: String,
    /// As planned.
    pub planned: String,
    /// As reported; empty when nobody said.
    pub happened: String,
}

/// The review before anything is reported: what was planned.
#[must_use]
pub fn review(snapshot: &Snapshot, plan: &WeekPlan) -> ReviewPage {
    let book = Book::new(snapshot, plan);
    let cost = total(&plan.order.lines);
    let plates = i64::try_from(plan.plates.len()).unwrap_or(i64::MAX).max(1);
    let per_plate = larderwright_quantity::Money::from_minor((cost.minor() + plates / 2) / plates);
    let hands: i64 = plan
        .runs
        .iter()
        .flat_map(|run| &run.acts)
        .map(|act| act.length().secs() * i64::try_from(act.who.len()).unwrap_or(0))
        .sum();
    let spare: Mass = plan
        .lots
        .iter()
        .filter(|lot| lot.fate == Fate::Fridge)
        .map(|lot| left_of(book, lot))
        .sum();
    let row = |name: &str, planned: String| ReviewRow {
        name: name.into(),
        planned,
        happened: String::new(),
    };
    ReviewPage {
        block: Block {
            title: "Review".into(),
            sub: crate::book::week(plan.monday),
            fields: vec![
                Named::new("Plates", plan.plates.len().to_string()),
                Named::new("Cost of a plate", book.money(per_plate)),
            ],
        },
        rows: vec![
            row("Cost", book.money(cost)),
            row("Cost of a plate", book.money(per_plate)),
            row("Hands in sessions", duration_text(Seconds::from_secs(hands))),
            row("Left in boxes beyond the plates", book.mass(spare)),
        ],
        words: "Planned figures; cost includes what goes back on the shelf. What was reported stands beside them once \
                the week is closed."
            .into(),
    }
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;

    #[test]
    fn a_review_without_reports_shows_only_what_was_planned() {
        let page = review(&sample::snapshot(), &sample::plan());
        assert!(
            page.rows
                .iter()
                .all(|row| !row.planned.is_empty() && row.happened.is_empty())
        );
    }
}
