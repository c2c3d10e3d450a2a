//! Fridge and freezer by day against their room, and boxes in use against those there are.

use std::collections::BTreeMap;

use jiff::civil::{Date, DateTime};
use larderwright_model::{Fate, Lot, Snapshot, WeekPlan};
use larderwright_quantity::{Rounding, Volume, mul_div, volume_text};

use crate::book::{Book, day};
use crate::page::Named;

/// One day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RoomDay {
    /// `Sun 29 Nov`.
    pub day: String,
    /// `3.2 l of 45 l`.
    pub fridge: String,
    /// How full the fridge is, per thousand.
    pub fridge_permille: i64,
    /// The same of the freezer; empty without one.
    pub freezer: String,
    /// How full the freezer is, per thousand.
    pub freezer_permille: i64,
    /// Boxes in use of each kind: `large glass box`, `3 of 10`.
    pub boxes: Vec<Named>,
}

/// Every day from the first box to the last, boxes counted by their brim.
#[must_use]
pub fn rooms(snapshot: &Snapshot, plan: &WeekPlan) -> Vec<RoomDay> {
    let book = Book::new(snapshot, plan);
    let first = plan.lots.iter().map(|lot| lot.stored.date()).min();
    let last = plan.lots.iter().map(|lot| emptied(book, lot).date()).max();
    let (Some(first), Some(last)) = (first, last) else {
        return Vec::new();
    };
    let week_end = snapshot.monday.saturating_add(jiff::Span::new().days(6));
    let days = first
        .series(jiff::Span::new().days(1))
        .take_while(|day| *day <= last.min(week_end).max(first));
    days.map(|day| one(book, day)).collect()
}

/// Until when a lot holds its boxes: its last sitting, else its date.
fn emptied(book: Book<'_>, lot: &Lot) -> DateTime {
    let sittings = lot.sittings.iter().filter_map(|id| book.snapshot.sitting(id));
    let last = sittings.map(|sitting| sitting.at).max();
    last.unwrap_or(lot.keep.use_by).max(lot.stored)
}

fn one(book: Book<'_>, date: Date) -> RoomDay {
    let kitchen = &book.snapshot.household.kitchen;
    let there = |lot: &&Lot| lot.stored.date() <= date && date <= emptied(book, lot).date();
    let (mut fridge, mut freezer) = (Volume::ZERO, Volume::ZERO);
    let mut used: BTreeMap<&str, u32> = BTreeMap::new();
    for lot in book
        .plan
        .lots
        .iter()
        .filter(there)
        .filter(|lot| lot.fate != Fate::Cupboard)
    {
        let frozen = lot.fate == Fate::Freezer && lot.pull.is_none_or(|pull| date < pull.date());
        for (id, count) in &lot.boxes {
            let kind = kitchen.boxes.iter().find(|kind| kind.id == *id);
            let brim = kind.map_or(Volume::ZERO, |kind| kind.volume.times(i64::from(*count)));
            *if frozen { &mut freezer } else { &mut fridge } += brim;
            *used.entry(id.as_str()).or_default() += count;
        }
    }
    let share =
        |volume: Volume, room: Volume| mul_div(volume.ul(), 1000, room.ul().max(1), Rounding::Up).min(1000);
    let words = |volume: Volume, room: Volume| {
        let text = |volume| volume_text(volume, book.system());
        format!("{} of {}", text(volume), text(room))
    };
    RoomDay {
        day: day(date),
        fridge: words(fridge, kitchen.fridge),
        fridge_permille: share(fridge, kitchen.fridge),
        freezer: if kitchen.freezer.is_positive() {
            words(freezer, kitchen.freezer)
        } else {
            String::new()
        },
        freezer_permille: share(freezer, kitchen.freezer),
        boxes: kitchen
            .boxes
            .iter()
            .filter_map(|kind| {
                let used = used.get(kind.id.as_str())?;
                Some(Named::new(kind.name.clone(), format!("{used} of {}", kind.count)))
            })
            .collect(),
    }
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;

    #[test]
    fn no_day_is_fuller_than_its_room_and_boxes_are_never_more_than_there_are() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let days = rooms(&snapshot, &plan);
        assert!(days.len() > 1);
        for day in days {
            assert!(day.fridge_permille <= 1000 && day.freezer_permille <= 1000);
            for kind in day.boxes {
                let (used, there) = kind.value.split_once(" of ").expect("so many of so many");
                let number = |text: &str| text.parse::<u32>().expect("a number");
                assert!(number(used) <= number(there), "{kind:?}");
            }
        }
    }

    #[test]
    fn a_week_without_lots_has_no_days() {
        let mut plan = sample::plan();
        plan.lots.clear();
        assert!(rooms(&sample::snapshot(), &plan).is_empty());
    }
}
