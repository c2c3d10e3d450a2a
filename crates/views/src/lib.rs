//! Sheets: what a household reads of its week. Pure functions from a snapshot and its plan to ready
//! text; no sheet decides anything, and none is drawn here.
//!
//! Amounts are rounded here and nowhere earlier: to counts, whole cans, spoons, or the steps of a
//! kitchen scale.

mod amount;
mod book;
pub mod labels;
pub mod menu;
pub mod order;
pub mod page;
pub mod plates;
pub mod prep;
pub mod production;
pub mod pull;
pub mod run;
pub mod sheet;
pub mod summary;
pub mod text;
mod words;
mod work;

use larderwright_model::{Snapshot, WeekPlan};

pub use sheet::{Align, Column, Row, RowKind, Section, Sheet, SheetKind};
pub use words::{Words, day};

/// Whose guidance a sheet repeats, and who is to be asked.
#[must_use]
pub fn guidance(snapshot: &Snapshot, plan: &WeekPlan) -> String {
    book::Book::new(snapshot, plan).guidance()
}

/// The sheet of that kind.
#[must_use]
pub fn build(kind: SheetKind, snapshot: &Snapshot, plan: &WeekPlan) -> Sheet {
    match kind {
        SheetKind::Summary => summary::summary(snapshot, plan),
        SheetKind::Production => production::production(snapshot, plan),
        SheetKind::Prep => prep::prep(snapshot, plan),
        SheetKind::Run => run::run(snapshot, plan),
        SheetKind::Order => order::order(snapshot, plan),
        SheetKind::Pull => pull::pull(snapshot, plan),
        SheetKind::Labels => labels::labels(snapshot, plan),
        SheetKind::Menu => menu::menu(snapshot, plan),
        SheetKind::Plates => plates::plates(snapshot, plan),
    }
}
