//! The larder: lots by place and last day, what to use first, what is to be pulled.

use std::collections::BTreeMap;

use jiff::civil::{Date, DateTime};
use larderwright_model::{Fate, Lot, Place, Snapshot, WeekPlan};
use larderwright_quantity::Mass;

use crate::book::{Book, counted, day};
use crate::labels::{place_words, why};
use crate::page::lines::{Lane, lanes};
use crate::page::room::{RoomDay, rooms};
use crate::page::sitting::tape_dates;
use crate::page::week::left_of;
use crate::page::{Block, Named, Todo};

/// The larder's page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LarderPage {
    /// Title block.
    pub block: Block,
    /// What has to be eaten first, most pressing first.
    pub use_first: Vec<Urgent>,
    /// What moves from freezer to fridge.
    pub pulls: Vec<Todo>,
    /// Days across the keeping lines.
    pub days: Vec<String>,
    /// Places with their lots.
    pub places: Vec<PlacePart>,
    /// Fridge and freezer by day against their room, and boxes in use.
    pub rooms: Vec<RoomDay>,
    /// What is at home beside cooked food: the tick list.
    pub stock: Vec<Named>,
    /// Whose guidance it repeats.
    pub guidance: String,
}

/// A lot that has to be eaten soon.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Urgent {
    /// The lot's identifier.
    pub lot: String,
    /// What and how much.
    pub what: String,
    /// Until when.
    pub until: String,
    /// What is planned with it.
    pub plan: String,
}

/// A place with its lots by last day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlacePart {
    /// `Fridge`.
    pub name: String,
    /// How cold it has to be, with the source of that.
    pub cold: String,
    /// Lots.
    pub lots: Vec<LotLine>,
}

/// A lot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LotLine {
    /// Its identifier.
    pub id: String,
    /// What, as on its tape.
    pub name: String,
    /// `29 Nov · use by Thu 3 Dec`.
    pub dates: String,
    /// Its last day with the rule and its source.
    pub why: String,
    /// Boxes and mass.
    pub boxes: String,
    /// What it is for.
    pub plan: String,
    /// `last day`, `pull Thu 3 Dec, 7:00 pm`; may be empty.
    pub mind: String,
    /// Whether today is its last day.
    pub last_day: bool,
    /// Whether it is frozen now.
    pub frozen: bool,
    /// Its line, a piece for each day.
    pub lane: Lane,
    /// Not made yet: as planned.
    pub planned: bool,
}

/// The larder as it stands at a moment.
#[must_use]
pub fn larder(snapshot: &Snapshot, plan: &WeekPlan, now: DateTime) -> LarderPage {
    let book = Book::new(snapshot, plan);
    let days = days(book, now);
    let lots: Vec<&Lot> = plan
        .lots
        .iter()
        .filter(|lot| lot.keep.use_by >= now && open(book, lot, now))
        .collect();
    let boxes: u32 = lots
        .iter()
        .flat_map(|lot| &lot.boxes)
        .map(|(_, count)| count)
        .sum();
    let owned: u32 = snapshot
        .household
        .kitchen
        .boxes
        .iter()
        .map(|kind| kind.count)
        .sum();
    let all: Mass = lots.iter().map(|lot| lot.mass).sum();
    LarderPage {
        block: Block {
            title: "Larder".into(),
            sub: state_words(book, &lots, now),
            fields: vec![
                Named::new("Lots", lots.len().to_string()),
                Named::new("In boxes", book.mass(all)),
                Named::new("Boxes in use", format!("{boxes} of {owned}")),
            ],
        },
        use_first: use_first(book, &lots),
        pulls: pulls(book, &lots, now),
        rooms: rooms(snapshot, plan),
        places: places(book, &lots, &days, now),
        days: days.iter().map(|date| short(*date)).collect(),
        stock: stock(book),
        guidance: book.guidance(),
    }
}

/// Whether somebody has still to eat from it, or it is stock.
fn open(book: Book<'_>, lot: &Lot, now: DateTime) -> bool {
    let last = lot
        .sittings
        .iter()
        .filter_map(|id| book.snapshot.sitting(id))
        .map(larderwright_model::Sitting::leaves_fridge)
        .max();
    last.is_none_or(|last| last >= now) || left_of(book, lot) >= Mass::from_g(10)
}

fn state_words(book: Book<'_>, lots: &[&Lot], now: DateTime) -> String {
    let made = lots.iter().filter(|lot| lot.made <= now).count();
    let when = book.when(now);
    match (lots.len(), made) {
        (0, _) => format!("{when}. Nothing is in boxes."),
        (_, 0) => format!("{when}. Nothing is cooked yet: the lots as planned."),
        (all, made) if all == made => format!("{when}. As planned and as reported."),
        (all, made) => format!(
            "{when}. {} in the house, {} still to be cooked.",
            counted(made, "lot", "lots"),
            all - made
        ),
    }
}

/// Eight days from the first that matters.
fn days(book: Book<'_>, now: DateTime) -> Vec<Date> {
    let first = book.plan.lots.iter().map(|lot| lot.made.date()).min();
    let start = first.map_or(now.date(), |first| first.max(now.date()));
    start.series(jiff::Span::new().days(1)).take(8).collect()
}

fn short(date: Date) -> String {
    let name = day(date);
    name.rsplit_once('\u{a0}')
        .map_or(name.clone(), |(short, _)| short.to_owned())
}

fn plan_words(book: Book<'_>, lot: &Lot) -> String {
    let names = book.sitting_names(&lot.sittings);
    match names.len() {
        0 if lot.fate == Fate::Freezer => "stock in the freezer".into(),
        0 => "nothing planned".into(),
        1..=3 => names.join(", "),
        more => format!("{}, {} and {} more", names[0], names[1], more - 2),
    }
}

/// Fridge lots with something beyond their plates, soonest first.
fn use_first(book: Book<'_>, lots: &[&Lot]) -> Vec<Urgent> {
    let mut spare: Vec<(&&Lot, Mass)> = lots
        .iter()
        .filter(|lot| lot.fate == Fate::Fridge)
        .map(|lot| (lot, left_of(book, lot)))
        .filter(|(_, left)| *left >= Mass::from_g(50))
        .collect();
    spare.sort_by_key(|(lot, left)| (lot.keep.use_by, std::cmp::Reverse(*left)));
    let line = |(lot, left): (&&Lot, Mass)| Urgent {
        lot: lot.id.to_string(),
        what: format!("{}, {}", book.component_name(&lot.origin), book.mass(left)),
        until: format!("use by {}", day(lot.keep.use_by.date())),
        plan: "beyond what the plates take".into(),
    };
    spare.into_iter().take(3).map(line).collect()
}

fn pulls(book: Book<'_>, lots: &[&Lot], now: DateTime) -> Vec<Todo> {
    let mut pulls: Vec<(DateTime, &&Lot)> = lots
        .iter()
        .filter_map(|lot| Some((lot.pull.filter(|pull| *pull >= now)?, lot)))
        .collect();
    pulls.sort_by_key(|(pull, _)| *pull);
    let line = |(pull, lot): (DateTime, &&Lot)| Todo {
        when: book.when(pull),
        title: book.component_name(&lot.origin),
        text: format!(
            "{}, {}, for {}",
            book.mass(lot.mass),
            book.boxes(lot),
            plan_words(book, lot)
        ),
    };
    pulls.into_iter().map(line).collect()
}

fn places(book: Book<'_>, lots: &[&Lot], days: &[Date], now: DateTime) -> Vec<PlacePart> {
    let mut by_place: BTreeMap<Place, Vec<&Lot>> = BTreeMap::new();
    for lot in lots {
        let place = match (lot.place, lot.pull) {
            (Place::Freezer, Some(pull)) if pull <= now => Place::Fridge,
            (place, _) => place,
        };
        by_place.entry(place).or_default().push(lot);
    }
    let limits = larderwright_safety::limits(book.plan.profile);
    let part = |(place, mut lots): (Place, Vec<&Lot>)| {
        lots.sort_by_key(|lot| lot.keep.use_by);
        let cold = match place {
            Place::Fridge => format!("at most {}", book.temperature(limits.fridge_max)),
            Place::Freezer => format!("at most {}", book.temperature(limits.freezer_max)),
            Place::Cupboard => String::new(),
        };
        PlacePart {
            name: crate::book::capital(place_words(place)),
            cold,
            lots: lots
                .into_iter()
                .map(|lot| line(book, lot, place, (days, now)))
                .collect(),
        }
    };
    by_place.into_iter().map(part).collect()
}

fn line(book: Book<'_>, lot: &Lot, place: Place, (days, now): (&[Date], DateTime)) -> LotLine {
    let last_day = lot.keep.use_by.date() == now.date() && lot.made <= now;
    let frozen = place == Place::Freezer;
    LotLine {
        id: lot.id.to_string(),
        name: book.component_name(&lot.origin),
        dates: match lot.pull {
            Some(pull) if frozen => format!("frozen · pull {}", day(pull.date())),
            _ => tape_dates(lot),
        },
        why: why(book, &lot.keep),
        boxes: format!("{} · {}", book.boxes(lot), book.mass(lot.mass)),
        plan: plan_words(book, lot),
        mind: match lot.pull {
            _ if last_day => "last day".into(),
            Some(pull) if frozen => format!("pull {}", book.when(pull)),
            _ => String::new(),
        },
        last_day,
        frozen,
        lane: lanes(book, &[lot], days).pop().unwrap_or_default(),
        planned: lot.made > now,
    }
}

/// What the household said is at home.
fn stock(book: Book<'_>) -> Vec<Named> {
    use larderwright_model::StockState;
    let word = |state: StockState| match state {
        StockState::Have => "have".to_owned(),
        StockState::Low => "low".to_owned(),
        StockState::Amount(mass) => book.mass(mass),
    };
    let mut stock: Vec<Named> = book
        .snapshot
        .household
        .stock
        .iter()
        .map(|item| Named::new(book.food_name(&item.food), word(item.state)))
        .collect();
    stock.sort_by(|one, other| one.name.cmp(&other.name));
    stock
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;
    use larderwright_testkit::sample;

    use super::*;

    fn check(now: DateTime) -> LarderPage {
        larder(&sample::snapshot(), &sample::plan(), now)
    }

    #[test]
    fn before_the_session_every_lot_is_only_planned() {
        let page = check(date(2026, 11, 27).at(9, 0, 0, 0));
        let lots: Vec<&LotLine> = page.places.iter().flat_map(|place| &place.lots).collect();
        assert_eq!(lots.len(), sample::plan().lots.len());
        assert!(lots.iter().all(|lot| lot.planned && !lot.last_day));
    }

    #[test]
    fn nothing_is_shown_after_its_last_day() {
        let page = check(date(2027, 6, 1).at(9, 0, 0, 0));
        assert!(page.places.is_empty());
        assert!(
            page.block.sub.contains("Nothing is in boxes"),
            "{}",
            page.block.sub
        );
    }

    #[test]
    fn a_pulled_lot_stands_in_the_fridge() {
        let plan = sample::plan();
        let (lot, pull) = plan
            .lots
            .iter()
            .find_map(|lot| Some((lot, lot.pull?)))
            .expect("one is frozen");
        let place_at = |now: DateTime| {
            let page = check(now);
            page.places
                .iter()
                .find(|place| place.lots.iter().any(|line| line.id == lot.id.as_str()))
                .map(|place| place.name.clone())
        };
        let before = pull.checked_sub(jiff::Span::new().minutes(1)).expect("earlier");
        assert_eq!(place_at(before).as_deref(), Some("Freezer"));
        assert_eq!(place_at(pull).as_deref(), Some("Fridge"));
    }

    #[test]
    fn lots_stand_by_their_last_day() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let page = larder(&snapshot, &plan, date(2026, 11, 27).at(9, 0, 0, 0));
        for place in &page.places {
            let ends: Vec<DateTime> = place
                .lots
                .iter()
                .filter_map(|line| plan.lots.iter().find(|lot| lot.id.as_str() == line.id))
                .map(|lot| lot.keep.use_by)
                .collect();
            assert!(ends.is_sorted(), "{}", place.name);
        }
    }
}
