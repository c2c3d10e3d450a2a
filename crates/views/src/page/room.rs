//! Fridge and freezer by day against their room, and boxes in use against those there are.

use std::collections::BTreeMap;

use jiff::civil::{Date, DateTime};
use larderwright_model::{BoxId, Fate, Lot, Place, Snapshot, StoredLot, WeekPlan};
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
    let stays = stays(book);
    // Lots that were in the house before say nothing of days before the plan's own.
    let planned = plan.lots.iter().map(|lot| lot.stored.date()).min();
    let first = planned.or_else(|| stays.iter().map(|stay| stay.from).min());
    let last = stays.iter().map(|stay| stay.to).max();
    let (Some(first), Some(last)) = (first, last) else {
        return Vec::new();
    };
    let week_end = snapshot.monday.saturating_add(jiff::Span::new().days(6));
    let days = first
        .series(jiff::Span::new().days(1))
        .take_while(|day| *day <= last.min(week_end).max(first));
    days.map(|day| one(book, &stays, day)).collect()
}

/// Until when a lot holds its boxes: its last sitting, else its date.
fn emptied(book: Book<'_>, lot: &Lot) -> DateTime {
    let sittings = lot.sittings.iter().filter_map(|id| book.snapshot.sitting(id));
    let last = sittings.map(|sitting| sitting.at).max();
    last.unwrap_or(lot.keep.use_by).max(lot.stored)
}

/// A lot's boxes, from one day to another.
struct Stay<'a> {
    boxes: &'a [(BoxId, u32)],
    /// What it takes of the place.
    room: Volume,
    from: Date,
    to: Date,
    /// From this day on it is in the fridge; `None` when it stays in the freezer.
    fridge_from: Option<Date>,
}

/// Every lot that takes room in fridge or freezer: those of the plan, and those that were in the house before.
fn stays(book: Book<'_>) -> Vec<Stay<'_>> {
    let planned = book.plan.lots.iter().filter(|lot| lot.fate != Fate::Cupboard);
    let planned = planned.map(|lot| Stay {
        boxes: &lot.boxes,
        room: book.snapshot.household.kitchen.brim(&lot.boxes),
        from: lot.stored.date(),
        to: emptied(book, lot).date(),
        fridge_from: match lot.fate {
            Fate::Freezer => lot.pull.map(DateTime::date),
            Fate::Fridge | Fate::Cupboard => Some(lot.stored.date()),
        },
    });
    let house = book
        .snapshot
        .lots
        .iter()
        .filter(|lot| lot.place != Place::Cupboard);
    planned.chain(house.map(|lot| of_the_house(book, lot))).collect()
}

/// A lot that was in the house before: until its last sitting when the plan eats it up, else until its date.
fn of_the_house<'a>(book: Book<'a>, lot: &'a StoredLot) -> Stay<'a> {
    let eaten = book.plan.carried.iter().find(|entry| entry.lot == lot.id);
    let finished = eaten.filter(|entry| entry.mass >= lot.mass);
    let sittings = finished.into_iter().flat_map(|entry| &entry.sittings);
    let last = sittings
        .filter_map(|id| book.snapshot.sitting(id))
        .map(|sitting| sitting.at);
    let date = eaten.map_or(lot.keep.use_by, |entry| entry.keep.use_by);
    let from = book.snapshot.now.date();
    Stay {
        boxes: &lot.boxes,
        room: lot.room(book.snapshot),
        from,
        to: last.max().unwrap_or(date).date(),
        fridge_from: match lot.place {
            Place::Freezer => eaten.and_then(|entry| entry.pull).map(DateTime::date),
            Place::Fridge | Place::Cupboard => Some(from),
        },
    }
}

fn one(book: Book<'_>, stays: &[Stay<'_>], date: Date) -> RoomDay {
    let kitchen = &book.snapshot.household.kitchen;
    let (mut fridge, mut freezer) = (Volume::ZERO, Volume::ZERO);
    let mut used: BTreeMap<&str, u32> = BTreeMap::new();
    for stay in stays.iter().filter(|stay| stay.from <= date && date <= stay.to) {
        let chilled = stay.fridge_from.is_some_and(|from| from <= date);
        *if chilled { &mut fridge } else { &mut freezer } += stay.room;
        for (id, count) in stay.boxes {
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
    fn a_lot_of_the_house_takes_room_until_it_is_eaten_up_else_until_its_date() {
        let (mut snapshot, mut plan) = (sample::snapshot(), sample::plan());
        let there = |snapshot: &Snapshot, plan: &WeekPlan| -> Vec<i64> {
            rooms(snapshot, plan)
                .iter()
                .map(|day| day.fridge_permille)
                .collect()
        };
        let before = there(&snapshot, &plan);
        let (lot, batch) = (&plan.lots[0], &plan.batches[0]);
        let last = snapshot.sittings.last().expect("there are sittings").clone();
        let eaten = snapshot
            .sittings
            .iter()
            .find(|sitting| sitting.at.date() > lot.stored.date() && sitting.at.date() < last.at.date())
            .expect("a sitting amid the week")
            .clone();
        let mut keep = lot.keep.clone();
        keep.use_by = last.at;
        snapshot.lots.push(StoredLot {
            id: "before".into(),
            component: batch.component.clone(),
            foods: std::collections::BTreeSet::new(),
            mass: lot.mass,
            place: Place::Fridge,
            made: snapshot.now,
            stored: snapshot.now,
            keep: keep.clone(),
            boxes: plan.lots[0].boxes.clone(),
            reheated: false,
        });
        let until_its_date = there(&snapshot, &plan);
        assert!(until_its_date.iter().zip(&before).all(|(now, then)| now > then));
        plan.carried.push(larderwright_model::Carried {
            lot: "before".into(),
            component: plan.batches[0].component.clone(),
            mass: plan.lots[0].mass,
            pull: None,
            keep,
            sittings: vec![eaten.id.clone()],
        });
        let first = plan.lots.iter().map(|lot| lot.stored.date()).min().expect("lots");
        for (ix, (now, then)) in there(&snapshot, &plan).iter().zip(&before).enumerate() {
            let day = first.saturating_add(jiff::Span::new().days(i64::try_from(ix).expect("few")));
            assert_eq!(now > then, day <= eaten.at.date(), "{day}");
        }
    }

    #[test]
    fn a_week_without_lots_has_no_days() {
        let mut plan = sample::plan();
        plan.lots.clear();
        assert!(rooms(&sample::snapshot(), &plan).is_empty());
    }
}
