//! The judge: reads a snapshot and a finished plan and says what is wrong with the plan.
//!
//! It knows nothing of how plans are made; it recomputes from laws, rules and the lot's own times. It mends
//! nothing, and its silence never means that food is safe.

mod book;
mod carried;
mod complete;
mod cooling;
mod eaters;
mod keeping;
mod mass;
mod notes;
mod order;
pub mod recipe;
pub mod rules;
mod run;
mod service;
mod storage;

#[cfg(test)]
#[path = "../tests/broken/good.rs"]
mod good;
#[cfg(test)]
#[path = "../tests/broken/week.rs"]
mod good_week;

pub use rules::Rule;

use larderwright_model::{Finding, Snapshot, WeekPlan};

use book::Book;
use notes::Notes;

/// Judges a plan against the snapshot it was made from.
///
/// Findings come gravest first, then by rule and subject; an empty list says that no rule has anything to say.
/// Names that lead nowhere are findings of their own, and what depends on them is left out.
#[must_use]
pub fn judge(snapshot: &Snapshot, plan: &WeekPlan) -> Vec<Finding> {
    let book = Book::open(snapshot, plan);
    let mut notes = Notes::default();
    complete::check(&book, &mut notes);
    mass::check(&book, &mut notes);
    eaters::check(&book, &mut notes);
    keeping::check(&book, &mut notes);
    carried::check(&book, &mut notes);
    run::check(&book, &mut notes);
    cooling::check(&book, &mut notes);
    storage::check(&book, &mut notes);
    order::check(&book, &mut notes);
    service::check(&book, &mut notes);
    notes.sorted()
}
