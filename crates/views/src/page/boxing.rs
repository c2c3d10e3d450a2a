//! The end of a session: batches whose cooking is over go into their boxes, with the words for the tape.

use larderwright_model::{Act, ActKind, BatchId, Lot, Run};

use crate::book::{Book, listed};
use crate::page::live::{Progress, Stage};
use crate::page::sitting::tape_dates;

/// A batch ready for its boxes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PackOut {
    /// The batch's identifier.
    pub batch: String,
    /// What.
    pub name: String,
    /// Its lots: which boxes, how much, where to, and the words for the tape.
    pub lots: Vec<PackLot>,
    /// Put away already.
    pub done: bool,
    /// Until when it has to be in the cold.
    pub by: String,
}

/// A lot to be put away.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PackLot {
    /// The lot's identifier.
    pub lot: String,
    /// Boxes, mass and place.
    pub words: String,
    /// What to write on the tape, first line.
    pub tape: String,
    /// Second line.
    pub dates: String,
    /// For which sittings.
    pub sittings: String,
}

/// Batches whose cooking is over, in the order in which they are boxed.
pub(crate) fn pack_out(book: Book<'_>, run: &Run, progress: &Progress) -> Vec<PackOut> {
    let box_acts = run.acts.iter().filter(|act| act.kind == ActKind::PackOut);
    let mut all = Vec::new();
    for act in box_acts {
        let pace = progress.pace(act);
        if pace.stage == Stage::Dropped || !cooked(run, act, progress) {
            continue;
        }
        for batch in &act.batches {
            all.push(PackOut {
                batch: batch.to_string(),
                name: book.component_name(batch),
                lots: book.lots(batch).map(|lot| pack_lot(book, lot)).collect(),
                done: pace.stage == Stage::Done,
                by: cold_by(book, batch),
            });
        }
    }
    all
}

/// Nothing of the batch is left to do but boxing.
fn cooked(run: &Run, boxing: &Act, progress: &Progress) -> bool {
    let same = run.acts.iter().filter(|act| {
        act.kind == ActKind::Step && act.batches.iter().any(|batch| boxing.batches.contains(batch))
    });
    let mut same = same.map(|act| progress.pace(act).stage);
    same.all(|stage| matches!(stage, Stage::Done | Stage::Dropped))
}

/// The latest time for the cold, from the first lot's rule.
fn cold_by(book: Book<'_>, batch: &BatchId) -> String {
    let made = book.lots(batch).map(|lot| lot.stored).min();
    made.map_or_else(String::new, |at| {
        format!("planned into the cold by {}", book.clock(at))
    })
}

fn pack_lot(book: Book<'_>, lot: &Lot) -> PackLot {
    let names = book.sitting_names(&lot.sittings);
    PackLot {
        lot: lot.id.to_string(),
        words: format!(
            "{}, {}, {}",
            book.boxes(lot),
            book.mass(lot.mass),
            lot.place.word()
        ),
        tape: book.component_name(&lot.origin),
        dates: match lot.pull {
            Some(pull) => format!("frozen · pull {}", crate::book::day(pull.date())),
            None => tape_dates(lot),
        },
        sittings: if names.is_empty() {
            "spare".into()
        } else {
            listed(&names)
        },
    }
}
