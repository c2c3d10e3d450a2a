//! Keeping lines: what becomes of a component from the day it is made to its last day, a piece for each day, so that
//! a line can be drawn cell by cell. Lines that do not meet share a lane.

use jiff::civil::{Date, DateTime};
use larderwright_model::{Fate, Lot};

use crate::book::{Book, day};

/// What a line does on one day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Stroke {
    /// Nothing.
    #[default]
    None,
    /// Made that day, stays in the fridge.
    Made,
    /// Made that day, which is also its last.
    MadeLast,
    /// In the fridge all day.
    Fridge,
    /// The last day in the fridge.
    Last,
    /// Made and frozen that day.
    Frozen,
    /// In the freezer all day.
    Freezer,
    /// Moved from freezer to fridge.
    Pulled,
    /// Moved from freezer to fridge, and eaten the same day at the latest.
    PulledLast,
}

/// A piece of a line.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Piece {
    /// What it does.
    pub stroke: Stroke,
    /// Words beside it; may be empty.
    pub words: String,
}

/// A lane: a piece for each day.
pub type Lane = Vec<Piece>;

/// Lots that go the same way.
struct Line {
    made: Date,
    pull: Option<Date>,
    end: Date,
    frozen: bool,
    mass: larderwright_quantity::Mass,
}

/// The lanes of some lots over these days.
pub(crate) fn lanes(book: Book<'_>, lots: &[&Lot], days: &[Date]) -> Vec<Lane> {
    let mut lanes: Vec<Lane> = Vec::new();
    for line in grouped(lots) {
        let pieces: Lane = days.iter().map(|date| piece(book, &line, *date, days)).collect();
        let fits = |lane: &&mut Lane| {
            !line.frozen
                && lane
                    .iter()
                    .zip(&pieces)
                    .all(|(there, new)| there.stroke == Stroke::None || new.stroke == Stroke::None)
        };
        match lanes.iter_mut().find(fits) {
            None => lanes.push(pieces),
            Some(lane) => {
                for (there, new) in lane.iter_mut().zip(pieces) {
                    if new.stroke != Stroke::None {
                        *there = new;
                    }
                }
            }
        }
    }
    lanes
}

/// Fridge before freezer, earlier before later.
fn grouped(lots: &[&Lot]) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    for lot in lots {
        let pull = lot.pull.map(DateTime::date);
        let (made, end, frozen) = (lot.made.date(), lot.keep.use_by.date(), lot.fate == Fate::Freezer);
        let same = |line: &&mut Line| {
            line.made == made && line.pull == pull && line.end == end && line.frozen == frozen
        };
        match lines.iter_mut().find(same) {
            Some(line) => line.mass += lot.mass,
            None => lines.push(Line {
                made,
                pull,
                end,
                frozen,
                mass: lot.mass,
            }),
        }
    }
    lines.sort_by_key(|line| (line.frozen, line.made, line.pull, line.end));
    lines
}

fn piece(book: Book<'_>, line: &Line, date: Date, days: &[Date]) -> Piece {
    let stroke = stroke(line, date);
    let last_shown = days.last() == Some(&date);
    let words = match stroke {
        Stroke::Last | Stroke::MadeLast | Stroke::PulledLast => "use by".into(),
        Stroke::Frozen => format!("freezer {}", book.mass(line.mass)),
        Stroke::Pulled => "pull".into(),
        Stroke::Fridge | Stroke::Freezer | Stroke::Made if last_shown && line.end > date => {
            format!("to {}", day(line.end))
        }
        _ => String::new(),
    };
    Piece { stroke, words }
}

fn stroke(line: &Line, date: Date) -> Stroke {
    if date < line.made || date > line.end {
        return Stroke::None;
    }
    let last = date == line.end;
    if line.frozen && line.pull.is_none_or(|pull| date < pull) {
        return if date == line.made {
            Stroke::Frozen
        } else {
            Stroke::Freezer
        };
    }
    let starts = if line.frozen {
        line.pull == Some(date)
    } else {
        date == line.made
    };
    match (starts, line.frozen, last) {
        (true, true, true) => Stroke::PulledLast,
        (true, true, false) => Stroke::Pulled,
        (true, false, true) => Stroke::MadeLast,
        (true, false, false) => Stroke::Made,
        (false, _, true) => Stroke::Last,
        (false, _, false) => Stroke::Fridge,
    }
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;
    use larderwright_testkit::sample;

    use super::*;

    fn week() -> Vec<Date> {
        (29..=30)
            .map(|day| date(2026, 11, day))
            .chain((1..=6).map(|day| date(2026, 12, day)))
            .collect()
    }

    #[test]
    fn a_line_goes_without_a_gap_from_its_making_to_its_end() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let book = Book::new(&snapshot, &plan);
        for lot in &plan.lots {
            let lanes = lanes(book, &[lot], &week());
            let drawn: Vec<usize> = (0..week().len())
                .filter(|at| lanes[0][*at].stroke != Stroke::None)
                .collect();
            assert!(
                drawn.windows(2).all(|pair| pair[1] == pair[0] + 1),
                "{}: {drawn:?}",
                lot.id
            );
            assert_eq!(week()[drawn[0]], lot.made.date());
        }
    }

    #[test]
    fn a_frozen_lot_is_hatched_until_it_is_pulled() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let book = Book::new(&snapshot, &plan);
        let lot = plan
            .lots
            .iter()
            .find(|lot| lot.pull.is_some())
            .expect("a lot is frozen and pulled");
        let pull = lot.pull.map(DateTime::date);
        for (piece, date) in lanes(book, &[lot], &week())[0].iter().zip(week()) {
            let hatched = matches!(piece.stroke, Stroke::Frozen | Stroke::Freezer);
            assert_eq!(hatched, date >= lot.made.date() && Some(date) < pull, "{date}");
        }
    }

    #[test]
    fn lines_that_meet_have_lanes_of_their_own() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let book = Book::new(&snapshot, &plan);
        let mut later = plan.lots[0].clone();
        later.fate = Fate::Fridge;
        later.pull = None;
        let mut first = later.clone();
        first.keep.use_by = later.made;
        later.made = later
            .made
            .checked_add(jiff::Span::new().days(1))
            .expect("the calendar goes on");
        assert_eq!(lanes(book, &[&first, &later], &week()).len(), 1);
        first.keep.use_by = later.made;
        assert_eq!(lanes(book, &[&first, &later], &week()).len(), 2);
    }
}
