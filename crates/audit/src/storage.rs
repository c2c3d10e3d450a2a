//! Storage: boxes the household owns, never too many at once, never too full or too deep, and room for them.
//!
//! A lot holds all its boxes from when it is stored until its last sitting; a lot that nobody eats from holds
//! them until its use-by. Lots that were in the house before hold theirs from now on: until their last sitting when plates
//! eat them up, else until their date. What the house holds by itself is nobody's fault; what the plan adds to it is judged.

use std::collections::BTreeMap;

use jiff::civil::DateTime;
use larderwright_model::{
    ActKind, BoxId, BoxKind, Component, CoolingMethod, Fate, Lot, Place, PortionSource, StoredLot,
};
use larderwright_quantity::{Length, Mass, Rounding, Volume, mul_div};
use larderwright_safety::limits;

use crate::book::{Book, clock};
use crate::notes::Notes;
use crate::rules::{self, Rule};

/// Boxes are filled to nine tenths: food swells when it freezes and lids must close.
const FILL_PERCENT: i64 = 90;
/// Half an inch.
const HEADSPACE: Length = Length::from_um(12_700);
/// Depths are stated in whole millimetres.
const DEPTH_SLACK: Length = Length::from_um(1000);

pub(crate) fn check(book: &Book<'_>, notes: &mut Notes) {
    for lot in &book.plan.lots {
        boxes(book, lot, notes);
        if let Some(component) = book.lot_component(lot) {
            fill(book, lot, component, notes);
        }
        depth_limit(book, lot, notes);
    }
    counts(book, notes);
    rooms(book, notes);
}

fn kind<'a>(book: &Book<'a>, id: &BoxId) -> Option<&'a BoxKind> {
    book.snapshot
        .household
        .kitchen
        .boxes
        .iter()
        .find(|kind| kind.id == *id)
}

/// The lot's boxes with their kinds.
fn kinds<'a>(book: &Book<'a>, lot: &'a Lot) -> impl Iterator<Item = (&'a BoxKind, i64)> {
    let known = lot
        .boxes
        .iter()
        .map(|(id, count)| (kind(book, id), i64::from(*count)));
    let known: Vec<_> = known.collect();
    known.into_iter().filter_map(|(kind, count)| Some((kind?, count)))
}

fn volume(book: &Book<'_>, lot: &Lot) -> Volume {
    kinds(book, lot)
        .map(|(kind, count)| kind.volume.times(count))
        .sum()
}

fn boxes(book: &Book<'_>, lot: &Lot, notes: &mut Notes) {
    let known = lot
        .boxes
        .iter()
        .all(|(id, count)| *count > 0 && kind(book, id).is_some());
    let missing = lot.boxes.is_empty() && lot.fate != Fate::Cupboard;
    if !known || missing {
        let named: Vec<String> = lot
            .boxes
            .iter()
            .map(|(id, count)| format!("{count} x {id}"))
            .collect();
        notes
            .say(
                &rules::STORAGE_BOXES,
                &lot.id,
                "the lot lies in no box of the household",
            )
            .evidence = named.join(", ");
    }
    if lot.fate == Fate::Freezer && kinds(book, lot).any(|(kind, _)| !kind.freezes) {
        notes.say(
            &rules::STORAGE_FREEZER_BOX,
            &lot.id,
            "the lot freezes in a box that may not",
        );
    }
}

fn fill(book: &Book<'_>, lot: &Lot, component: &Component, notes: &mut Notes) {
    let room = volume(book, lot);
    if !room.is_positive() {
        return;
    }
    let food = component.bulk.value.volume_of(lot.mass, Rounding::Up);
    if food > room.scale(FILL_PERCENT, 100, Rounding::Down) {
        notes
            .say(&rules::STORAGE_FILL, &lot.id, "the boxes are too full")
            .evidence = format!(
            "{} ml in boxes of {} ml, filled to {FILL_PERCENT} % at most",
            food.ml(Rounding::Up),
            room.ml(Rounding::Down)
        );
    }
    if lot.fate == Fate::Freezer && food > with_headspace(book, lot) {
        notes
            .say(
                &rules::STORAGE_HEADSPACE,
                &lot.id,
                "food that freezes has no room to grow",
            )
            .evidence = format!(
            "{} ml in boxes that hold {} ml with their headspace",
            food.ml(Rounding::Up),
            with_headspace(book, lot).ml(Rounding::Down)
        );
    }
    let least = least_depth(book, lot, food);
    if lot.depth + DEPTH_SLACK < least {
        notes
            .say(
                &rules::STORAGE_DEPTH_TRUE,
                &lot.id,
                "the lot lies deeper than is stated",
            )
            .evidence = format!(
            "stated {} mm, by volume {} mm",
            lot.depth.mm(Rounding::Up),
            least.mm(Rounding::Up)
        );
    }
}

/// What a lot's boxes hold below half an inch of room.
fn with_headspace(book: &Book<'_>, lot: &Lot) -> Volume {
    let below = |kind: &BoxKind| {
        let deep = kind.depth.um().saturating_sub(HEADSPACE.um()).max(0);
        mul_div(kind.volume.ul(), deep, kind.depth.um().max(1), Rounding::Up)
    };
    kinds(book, lot)
        .map(|(kind, count)| Volume::from_ul(below(kind)).times(count))
        .sum()
}

/// How deep the food lies when all boxes are filled to one depth.
fn least_depth(book: &Book<'_>, lot: &Lot, food: Volume) -> Length {
    // A microlitre is a cubic millimetre, so volume by depth in millimetres is an area in square millimetres.
    let area: i64 = kinds(book, lot)
        .filter(|(kind, _)| kind.depth.is_positive())
        .map(|(kind, count)| count * mul_div(kind.volume.ul(), 1000, kind.depth.um(), Rounding::Up))
        .sum();
    if area > 0 {
        Length::from_um(mul_div(food.ul(), 1000, area, Rounding::Down))
    } else {
        Length::ZERO
    }
}

fn depth_limit(book: &Book<'_>, lot: &Lot, notes: &mut Notes) {
    let limits = limits(book.snapshot.household.profile);
    let still = matches!(
        lot.cooling,
        CoolingMethod::Shallow | CoolingMethod::Trays | CoolingMethod::FreezerFirst
    );
    if still && lot.depth > limits.depth_max {
        notes
            .say(
                &rules::STORAGE_DEPTH,
                &lot.id,
                "the lot lies too deep to cool in time",
            )
            .evidence = format!(
            "{} mm, allowed {} mm",
            lot.depth.mm(Rounding::Up),
            limits.depth_max.mm(Rounding::Down)
        );
    }
}

/// Until when a lot holds its boxes.
fn emptied(book: &Book<'_>, lot: &Lot) -> DateTime {
    let sittings = lot.sittings.iter().filter_map(|id| book.snapshot.sitting(id));
    let last = sittings.map(|sitting| sitting.at).max();
    last.unwrap_or(lot.keep.use_by).max(lot.stored)
}

/// Something that takes up room for a while.
struct Hold {
    from: DateTime,
    to: DateTime,
    amount: i64,
    /// Whether the plan puts it there, or the house had it before.
    planned: bool,
}

/// The first moment at which the plan puts something where more is held than there is, with how much.
fn overflow(holds: &[Hold], most: i64) -> Option<(DateTime, i64)> {
    let planned = holds.iter().filter(|hold| hold.planned);
    let mut starts: Vec<DateTime> = planned.map(|hold| hold.from).collect();
    starts.sort_unstable();
    starts.into_iter().find_map(|at| {
        let now: i64 = holds
            .iter()
            .filter(|hold| hold.from <= at && at < hold.to)
            .map(|hold| hold.amount)
            .sum();
        (now > most).then_some((at, now))
    })
}

fn counts(book: &Book<'_>, notes: &mut Notes) {
    let mut holds: BTreeMap<&BoxId, Vec<Hold>> = BTreeMap::new();
    let planned = book.plan.lots.iter();
    let planned = planned.map(|lot| (&lot.boxes, lot.stored, emptied(book, lot), true));
    let house = book.snapshot.lots.iter();
    let house = house.map(|lot| (&lot.boxes, book.snapshot.now, eaten_up(book, lot), false));
    for (boxes, from, to, planned) in planned.chain(house) {
        for (id, count) in boxes {
            holds.entry(id).or_default().push(Hold {
                from,
                to,
                amount: i64::from(*count),
                planned,
            });
        }
    }
    for (id, holds) in holds {
        // Boxes of an unknown kind are a finding of their own.
        let Some(own) = kind(book, id).map(|kind| i64::from(kind.count)) else {
            continue;
        };
        if let Some((at, now)) = overflow(&holds, own) {
            notes
                .say(
                    &rules::STORAGE_BOX_COUNT,
                    id,
                    "more boxes are in use than there are",
                )
                .evidence = format!("{now} at {}, owned {own}", clock(at));
        }
    }
}

fn rooms(book: &Book<'_>, notes: &mut Notes) {
    let kitchen = &book.snapshot.household.kitchen;
    room(
        book,
        (Place::Fridge, kitchen.fridge),
        &rules::STORAGE_FRIDGE_ROOM,
        notes,
    );
    room(
        book,
        (Place::Freezer, kitchen.freezer),
        &rules::STORAGE_FREEZER_ROOM,
        notes,
    );
}

fn room(book: &Book<'_>, place: (Place, Volume), rule: &Rule, notes: &mut Notes) {
    let (place, most) = place;
    let planned = book.plan.lots.iter().filter_map(|lot| hold(book, lot, place));
    let house = book.snapshot.lots.iter();
    let house = house.filter_map(|lot| house_hold(book, lot, place));
    let first = book
        .plan
        .lots
        .iter()
        .filter_map(|lot| first_hour(book, lot, place));
    let holds: Vec<Hold> = planned.chain(house).chain(first).collect();
    if let Some((at, now)) = overflow(&holds, most.ul()) {
        notes
            .say(
                rule,
                book.plan.monday,
                format!("the boxes do not fit the {place:?}").to_lowercase(),
            )
            .evidence = format!(
            "{} ml at {}, room {} ml",
            Volume::from_ul(now).ml(Rounding::Up),
            clock(at),
            most.ml(Rounding::Down)
        );
    }
}

/// When a lot is in a place: a pulled lot moves from the freezer to the fridge.
fn hold(book: &Book<'_>, lot: &Lot, place: Place) -> Option<Hold> {
    let span = (lot.stored, lot.pull, emptied(book, lot));
    let (from, to) = in_place(lot.place, place, span)?;
    Some(Hold {
        from,
        to,
        amount: volume(book, lot).ul(),
        planned: true,
    })
}

/// The hour that a lot stands in the freezer before it goes into the fridge.
fn first_hour(book: &Book<'_>, lot: &Lot, place: Place) -> Option<Hold> {
    let waits = lot.cooling == CoolingMethod::FreezerFirst && lot.place == Place::Fridge;
    let mut acts = book.plan.runs.iter().flat_map(|run| &run.acts);
    let act = acts.find(|act| act.kind == ActKind::Cool && act.batches.contains(&lot.origin))?;
    (waits && place == Place::Freezer).then(|| Hold {
        from: act.start,
        to: act.end,
        amount: volume(book, lot).ul(),
        planned: true,
    })
}

/// The same of a lot that was in the house before.
fn house_hold(book: &Book<'_>, lot: &StoredLot, place: Place) -> Option<Hold> {
    let carried = book.plan.carried.iter().find(|entry| entry.lot == lot.id);
    let pull = carried.and_then(|entry| entry.pull);
    let span = (book.snapshot.now, pull, eaten_up(book, lot));
    let (from, to) = in_place(lot.place, place, span)?;
    Some(Hold {
        from,
        to,
        amount: house_volume(book, lot).ul(),
        planned: false,
    })
}

fn in_place(
    lies: Place,
    place: Place,
    (from, pull, end): (DateTime, Option<DateTime>, DateTime),
) -> Option<(DateTime, DateTime)> {
    match (lies, place) {
        (Place::Fridge, Place::Fridge) => Some((from, end)),
        (Place::Freezer, Place::Freezer) => Some((from, pull.unwrap_or(end))),
        (Place::Freezer, Place::Fridge) => Some((pull?, end)),
        _ => None,
    }
}

/// Until when a lot of the house takes room: its last sitting when plates eat it up, else its date.
fn eaten_up(book: &Book<'_>, lot: &StoredLot) -> DateTime {
    let carried = book.plan.carried.iter().find(|entry| entry.lot == lot.id);
    let date = carried.map_or(lot.keep.use_by, |entry| entry.keep.use_by);
    let sittings = book
        .portions()
        .filter(|(_, portion)| matches!(&portion.source, PortionSource::Lot(id) if *id == lot.id));
    let drawn: Vec<_> = sittings.collect();
    let all: Mass = drawn.iter().map(|(_, portion)| portion.mass).sum();
    let ends = drawn
        .iter()
        .filter_map(|(plate, _)| book.snapshot.sitting(&plate.sitting));
    match ends.map(|sitting| sitting.at).max() {
        Some(last) if all >= lot.mass => last,
        _ => date,
    }
}

/// What a lot of the house takes: its boxes to the brim, or its food where nobody said in which boxes it lies.
fn house_volume(book: &Book<'_>, lot: &StoredLot) -> Volume {
    let brim = |(id, count): &(BoxId, u32)| Some(kind(book, id)?.volume.times(i64::from(*count)));
    let boxes: Volume = lot.boxes.iter().filter_map(brim).sum();
    let component = book.snapshot.components.get(&lot.component);
    match component {
        Some(component) if !boxes.is_positive() => component.bulk.value.volume_of(lot.mass, Rounding::Up),
        _ => boxes,
    }
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    fn hold(from: i8, to: i8, amount: i64) -> Hold {
        let at = |hour| date(2026, 11, 29).at(hour, 0, 0, 0);
        Hold {
            from: at(from),
            to: at(to),
            amount,
            planned: true,
        }
    }

    #[test]
    fn a_box_emptied_at_noon_can_be_filled_at_noon() {
        assert!(overflow(&[hold(8, 12, 2), hold(12, 14, 2)], 2).is_none());
        assert!(overflow(&[hold(8, 13, 2), hold(12, 14, 1)], 2).is_some_and(|(_, now)| now == 3));
    }

    #[test]
    fn what_the_house_holds_by_itself_is_not_the_plans_fault() {
        let house = |from, to, amount| Hold {
            planned: false,
            ..hold(from, to, amount)
        };
        assert!(overflow(&[house(6, 20, 5)], 2).is_none());
        assert!(overflow(&[house(6, 20, 5), hold(8, 9, 1)], 2).is_some_and(|(_, now)| now == 6));
        assert!(overflow(&[house(6, 8, 5), hold(8, 9, 1)], 2).is_none());
    }
}
