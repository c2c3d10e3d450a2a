//! The larder: lots by place and last day, what to use first, what is to be pulled.

use std::collections::{BTreeMap, BTreeSet};

use jiff::Span;
use jiff::civil::{Date, DateTime};
use larderwright_model::{BoxId, Lot, Place, Snapshot, WeekPlan};
use larderwright_quantity::Mass;

use crate::book::{Book, counted, day};
use crate::labels::why;
use crate::page::lines::{Lane, Piece, Stroke, lanes};
use crate::page::room::{RoomDay, rooms};
use crate::page::sitting::tape_dates;
use crate::page::{Block, Named, Todo};
use crate::words::Words;

/// A lot as it stands in the house, by the books.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Standing {
    /// Its identifier.
    pub id: String,
    /// What it is, as people say it.
    pub name: String,
    /// Cooked here or left over, not as bought.
    pub cooked: bool,
    /// When it was made or bought; `None` when nobody said.
    pub made: Option<DateTime>,
    /// Where it is.
    pub place: Place,
    /// How much there is.
    pub mass: Mass,
    /// Its boxes.
    pub boxes: Vec<(BoxId, u32)>,
    /// The last moment to eat it.
    pub use_by: Option<DateTime>,
    /// The rule that says so, with its source; empty when nothing does.
    pub source: String,
    /// Opened, warmed, left out, in words.
    pub marks: Vec<String>,
}

/// The larder's page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LarderPage {
    /// Title block.
    pub block: Block,
    /// What has to be eaten first, most pressing first.
    pub use_first: Vec<Urgent>,
    /// What would keep if it were frozen today.
    pub freeze: Vec<Urgent>,
    /// What moves from freezer to fridge.
    pub pulls: Vec<Pull>,
    /// Days across the keeping lines.
    pub days: Vec<String>,
    /// Places with their lots.
    pub places: Vec<PlacePart>,
    /// Fridge and freezer by day against their room, and boxes in use, as planned.
    pub rooms: Vec<RoomDay>,
    /// Lots that the next sessions make.
    pub coming: Vec<LotLine>,
    /// What is at home without an amount: the tick list.
    pub ticks: Vec<Named>,
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
    /// Its date has passed.
    pub past: bool,
}

/// A lot to be moved from freezer to fridge.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pull {
    /// The lot's identifier.
    pub lot: String,
    /// When, what, for which sittings.
    pub todo: Todo,
    /// It is in the house, and it is time.
    pub due: bool,
}

/// A place with its lots by last day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlacePart {
    /// `Fridge`.
    pub name: String,
    /// How cold it has to be.
    pub cold: String,
    /// Where it is.
    pub place: Place,
    /// Lots that were cooked here.
    pub lots: Vec<LotLine>,
    /// Foods as bought.
    pub foods: Vec<LotLine>,
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
    /// Boxes and mass.
    pub boxes: String,
    /// What it is for.
    pub plan: String,
    /// `last day`, `opened Mon 30 Nov`; may be empty.
    pub mind: String,
    /// The rule behind its date and where that stands.
    pub source: String,
    /// Whether today is its last day.
    pub last_day: bool,
    /// Its date has passed.
    pub past: bool,
    /// Whether it is frozen now.
    pub frozen: bool,
    /// Its line, a piece for each day.
    pub lane: Lane,
}

/// Days across.
const DAYS: usize = 8;

/// Days before its last one in which a lot counts as pressing.
const PRESSING_DAYS: i64 = 2;

/// A whole larder's pressing lots would hide the most pressing ones.
const PRESSING_MAX: usize = 6;

/// The larder as it stands at a moment.
#[must_use]
pub fn larder(snapshot: &Snapshot, plan: &WeekPlan, standing: &[Standing], now: DateTime) -> LarderPage {
    let shelf = Shelf {
        book: Book::new(snapshot, plan),
        words: Words::of(&snapshot.household),
        now,
    };
    let book = shelf.book;
    let cooked: Vec<&Standing> = standing.iter().filter(|lot| lot.cooked).collect();
    let boxes: u32 = cooked
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
    let all: Mass = cooked.iter().map(|lot| lot.mass).sum();
    let known: BTreeSet<&str> = standing.iter().map(|lot| lot.id.as_str()).collect();
    let ahead = |lot: &&Lot| lot.made > now && !known.contains(lot.id.as_str());
    let coming: Vec<&Lot> = plan.lots.iter().filter(ahead).collect();
    let days = shelf.days(&coming, !cooked.is_empty());
    LarderPage {
        block: Block {
            title: "Larder".into(),
            sub: shelf.state(cooked.len(), coming.len()),
            fields: vec![
                Named::new("Lots", cooked.len().to_string()),
                Named::new("In boxes", book.mass(all)),
                Named::new("Boxes in use", format!("{boxes} of {owned}")),
            ],
        },
        use_first: shelf.use_first(standing),
        freeze: shelf.freeze(&cooked),
        pulls: shelf.pulls(standing),
        days: days.iter().map(|date| short(*date)).collect(),
        places: shelf.places(standing, &days),
        rooms: rooms(snapshot, plan),
        coming: coming.iter().map(|lot| shelf.coming(lot, &days)).collect(),
        ticks: ticks(book),
        guidance: book.guidance(),
    }
}

/// What every line of the page looks at.
struct Shelf<'a> {
    book: Book<'a>,
    words: Words,
    now: DateTime,
}

impl Shelf<'_> {
    fn state(&self, made: usize, coming: usize) -> String {
        let when = self.book.when(self.now);
        match (made, coming) {
            (0, 0) => format!("{when}. Nothing is in boxes."),
            (0, _) => format!("{when}. Nothing is cooked yet: the lots as planned."),
            (_, 0) => format!("{when}. As reported, and as planned where nobody said otherwise."),
            (_, coming) => format!("{when}. {} still to be cooked.", counted(coming, "lot", "lots")),
        }
    }

    /// Eight days from today; before anything is cooked, from the first that matters.
    fn days(&self, coming: &[&Lot], made: bool) -> Vec<Date> {
        let today = self.now.date();
        let first = coming.iter().map(|lot| lot.made.date()).min();
        let start = if made {
            today
        } else {
            first.map_or(today, |first| first.max(today))
        };
        start.series(Span::new().days(1)).take(DAYS).collect()
    }

    /// The sittings that are still to come and take from a lot.
    fn eaters(&self, lot: &str) -> Vec<String> {
        let draws = |sitting: &&larderwright_model::Sitting| {
            sitting.leaves_fridge() >= self.now && self.book.drawn(&lot.into(), &sitting.id).is_positive()
        };
        let sittings = self.book.snapshot.sittings.iter().filter(draws);
        sittings
            .map(|sitting| self.book.sitting_name(&sitting.id))
            .collect()
    }

    fn plan_words(&self, lot: &str, frozen: bool) -> String {
        let names = self.eaters(lot);
        match names.len() {
            0 if frozen => "stock in the freezer".into(),
            0 => "nothing planned".into(),
            1..=3 => names.join(", "),
            more => format!("{}, {} and {} more", names[0], names[1], more - 2),
        }
    }

    fn urgent(&self, lot: &Standing) -> Urgent {
        let past = lot.use_by.is_some_and(|at| at < self.now);
        let until = lot.use_by.map_or_else(String::new, |at| self.words.until(at));
        Urgent {
            lot: lot.id.clone(),
            what: format!("{}, {}", lot.name, self.book.mass(lot.mass)),
            until: if past {
                format!("was to be used by {until}")
            } else {
                format!("use by {until}")
            },
            plan: self.plan_words(&lot.id, false),
            past,
        }
    }

    /// What is past its date or near it, outside the freezer.
    fn use_first(&self, standing: &[Standing]) -> Vec<Urgent> {
        let near = self.now.saturating_add(Span::new().days(PRESSING_DAYS));
        let pressing =
            |lot: &&Standing| lot.place != Place::Freezer && lot.use_by.is_some_and(|at| at <= near);
        let mut lots: Vec<&Standing> = standing.iter().filter(pressing).collect();
        lots.sort_by_key(|lot| (lot.use_by, std::cmp::Reverse(lot.mass)));
        lots.into_iter()
            .take(PRESSING_MAX)
            .map(|lot| self.urgent(lot))
            .collect()
    }

    /// Cooked lots near their last day of which nobody plans to eat: frozen today, they keep.
    fn freeze(&self, cooked: &[&Standing]) -> Vec<Urgent> {
        let near = self.now.saturating_add(Span::new().days(PRESSING_DAYS));
        let wanted = |lot: &&&Standing| {
            lot.place == Place::Fridge
                && lot.use_by.is_some_and(|at| (self.now..=near).contains(&at))
                && self.eaters(&lot.id).is_empty()
                && lot.marks.is_empty()
        };
        cooked.iter().filter(wanted).map(|lot| self.urgent(lot)).collect()
    }

    /// Lots that the plan moves from freezer to fridge, as long as they are frozen.
    fn pulls(&self, standing: &[Standing]) -> Vec<Pull> {
        let plan = self.book.plan;
        let own = plan.lots.iter().filter_map(|lot| Some((lot.pull?, &lot.id)));
        let carried = plan.carried.iter().filter_map(|lot| Some((lot.pull?, &lot.lot)));
        let mut pulls: Vec<(DateTime, &larderwright_model::LotId)> = own.chain(carried).collect();
        pulls.sort();
        let frozen = |id: &str| {
            standing
                .iter()
                .find(|lot| lot.id == id && lot.place == Place::Freezer)
        };
        let line = |(pull, id): (DateTime, &larderwright_model::LotId)| {
            let there = frozen(id.as_str());
            let planned = self.book.lot(id).filter(|lot| lot.made > self.now);
            if there.is_none() && planned.is_none() {
                return None;
            }
            let mass = there.map_or_else(|| planned.map_or(Mass::ZERO, |lot| lot.mass), |lot| lot.mass);
            let name = there.map_or_else(|| self.book.lot_name(id), |lot| lot.name.clone());
            Some(Pull {
                lot: id.to_string(),
                due: there.is_some() && pull.date() <= self.now.date(),
                todo: Todo {
                    when: self.book.when(pull),
                    title: name,
                    text: format!(
                        "{}, for {}",
                        self.book.mass(mass),
                        self.plan_words(id.as_str(), true)
                    ),
                },
            })
        };
        pulls.into_iter().filter_map(line).collect()
    }

    fn places(&self, standing: &[Standing], days: &[Date]) -> Vec<PlacePart> {
        let mut by_place: BTreeMap<Place, Vec<&Standing>> = BTreeMap::new();
        for lot in standing {
            by_place.entry(lot.place).or_default().push(lot);
        }
        let limits = larderwright_safety::limits(self.book.plan.profile);
        let part = |(place, mut lots): (Place, Vec<&Standing>)| {
            lots.sort_by_key(|lot| (lot.use_by.is_none(), lot.use_by, lot.name.clone()));
            let cold = match place {
                Place::Fridge => format!("at most {}", self.book.temperature(limits.fridge_max)),
                Place::Freezer => format!("at most {}", self.book.temperature(limits.freezer_max)),
                Place::Cupboard => String::new(),
            };
            let (cooked, foods): (Vec<&Standing>, Vec<&Standing>) =
                lots.into_iter().partition(|lot| lot.cooked);
            let lines = |lots: Vec<&Standing>| lots.into_iter().map(|lot| self.line(lot, days)).collect();
            PlacePart {
                name: crate::book::capital(place.word()),
                cold,
                place,
                lots: lines(cooked),
                foods: lines(foods),
            }
        };
        by_place.into_iter().map(part).collect()
    }

    fn line(&self, lot: &Standing, days: &[Date]) -> LotLine {
        let frozen = lot.place == Place::Freezer;
        let past = lot.use_by.is_some_and(|at| at < self.now);
        let last_day = !past && lot.use_by.is_some_and(|at| at.date() == self.now.date());
        let made = lot.made.map(|at| bare(at.date()));
        let until = lot.use_by.map(|at| format!("use by {}", self.words.until(at)));
        let dates: Vec<String> = made.into_iter().chain(until).collect();
        let mut mind = lot.marks.clone();
        if past {
            mind.insert(0, "past its date".into());
        } else if last_day {
            mind.insert(0, "last day".into());
        }
        let boxes = self.book.box_words(&lot.boxes);
        let mass = self.book.mass(lot.mass);
        LotLine {
            id: lot.id.clone(),
            name: lot.name.clone(),
            dates: dates.join(" · "),
            boxes: if boxes.is_empty() {
                mass
            } else {
                format!("{boxes} · {mass}")
            },
            plan: if lot.cooked {
                self.plan_words(&lot.id, frozen)
            } else {
                String::new()
            },
            mind: mind.join(", "),
            source: lot.source.clone(),
            last_day: last_day || past,
            past,
            frozen,
            lane: lane(lot, frozen, days),
        }
    }

    fn coming(&self, lot: &Lot, days: &[Date]) -> LotLine {
        let frozen = lot.place == Place::Freezer;
        LotLine {
            id: lot.id.to_string(),
            name: self.book.component_name(&lot.origin),
            dates: match lot.pull {
                Some(pull) if frozen => format!("frozen · pull {}", day(pull.date())),
                _ => tape_dates(lot),
            },
            boxes: format!("{} · {}", self.book.boxes(lot), self.book.mass(lot.mass)),
            plan: self.plan_words(lot.id.as_str(), frozen),
            mind: lot
                .pull
                .filter(|_| frozen)
                .map_or_else(String::new, |at| format!("pull {}", self.book.when(at))),
            source: why(self.book, &lot.keep),
            last_day: false,
            past: false,
            frozen,
            lane: lanes(self.book, &[lot], days).pop().unwrap_or_default(),
        }
    }
}

/// From today, or the day it was made, to its last day.
fn lane(lot: &Standing, frozen: bool, days: &[Date]) -> Lane {
    let end = lot.use_by.map(DateTime::date);
    let made = lot.made.map(DateTime::date);
    let stroke = |date: &Date| match end {
        _ if frozen => Stroke::Freezer,
        None => Stroke::None,
        Some(end) if *date > end => Stroke::None,
        Some(end) if *date == end && made == Some(*date) => Stroke::MadeLast,
        Some(end) if *date == end => Stroke::Last,
        Some(_) if made == Some(*date) => Stroke::Made,
        Some(_) => Stroke::Fridge,
    };
    let piece = |date: &Date| Piece {
        stroke: stroke(date),
        words: String::new(),
    };
    days.iter().map(piece).collect()
}

/// `29 Nov`.
fn bare(date: Date) -> String {
    let name = day(date);
    name.split_once('\u{a0}')
        .map_or(name.clone(), |(_, rest)| rest.to_owned())
}

/// `Sun 29`.
fn short(date: Date) -> String {
    let name = day(date);
    name.rsplit_once('\u{a0}')
        .map_or(name.clone(), |(short, _)| short.to_owned())
}

/// What the household said is at home without an amount.
fn ticks(book: Book<'_>) -> Vec<Named> {
    use larderwright_model::StockState;
    let word = |state: StockState| match state {
        StockState::Have => Some("have"),
        StockState::Low => Some("low"),
        StockState::Amount(_) => None,
    };
    let stock = book.snapshot.household.stock.iter();
    let mut ticks: Vec<Named> = stock
        .filter_map(|item| Some(Named::new(book.food_name(&item.food), word(item.state)?)))
        .collect();
    ticks.sort_by(|one, other| one.name.cmp(&other.name));
    ticks
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;
    use larderwright_testkit::sample;

    use super::*;

    const BEFORE: DateTime = DateTime::constant(2026, 11, 27, 9, 0, 0, 0);

    fn check(standing: &[Standing], now: DateTime) -> LarderPage {
        larder(&sample::snapshot(), &sample::plan(), standing, now)
    }

    fn box_of(id: &str, place: Place, use_by: DateTime) -> Standing {
        Standing {
            id: id.into(),
            name: "Beans".into(),
            cooked: true,
            made: Some(date(2026, 11, 29).at(16, 0, 0, 0)),
            place,
            mass: Mass::from_g(500),
            boxes: Vec::new(),
            use_by: Some(use_by),
            source: "beans: a source".into(),
            marks: Vec::new(),
        }
    }

    #[test]
    fn before_the_session_every_lot_is_still_to_come() {
        let page = check(&[], BEFORE);
        assert_eq!(page.coming.len(), sample::plan().lots.len());
        assert!(page.places.is_empty() && page.use_first.is_empty());
    }

    #[test]
    fn what_is_in_the_house_is_not_to_come_again() {
        let plan = sample::plan();
        let lot = &plan.lots[0];
        let page = check(&[box_of(lot.id.as_str(), Place::Fridge, lot.keep.use_by)], BEFORE);
        assert_eq!(page.coming.len(), plan.lots.len() - 1);
        assert_eq!(page.places[0].lots.len(), 1);
    }

    #[test]
    fn a_lot_near_its_date_that_nobody_eats_can_be_frozen_and_a_past_one_cannot() {
        let now = date(2026, 12, 2).at(9, 0, 0, 0);
        let end = |day| date(2026, 12, day).at(23, 59, 0, 0);
        let page = check(
            &[
                box_of("near", Place::Fridge, end(3)),
                box_of("past", Place::Fridge, end(1)),
                box_of("later", Place::Fridge, end(6)),
                box_of("frozen", Place::Freezer, end(3)),
            ],
            now,
        );
        let ids = |lots: &[Urgent]| lots.iter().map(|lot| lot.lot.clone()).collect::<Vec<_>>();
        assert_eq!(ids(&page.freeze), ["near"]);
        assert_eq!(ids(&page.use_first), ["past", "near"]);
        let lots: Vec<&LotLine> = page.places.iter().flat_map(|place| &place.lots).collect();
        assert_eq!(lots.iter().filter(|lot| lot.past).count(), 1);
    }

    #[test]
    fn lots_stand_by_their_last_day() {
        let end = |day| date(2026, 12, day).at(23, 59, 0, 0);
        let lots = [
            box_of("b", Place::Fridge, end(4)),
            box_of("a", Place::Fridge, end(2)),
        ];
        let page = check(&lots, date(2026, 12, 1).at(9, 0, 0, 0));
        let ids: Vec<&str> = page.places[0].lots.iter().map(|lot| lot.id.as_str()).collect();
        assert_eq!(ids, ["a", "b"]);
    }

    #[test]
    fn a_lot_in_the_freezer_is_pulled_when_its_time_comes() {
        let plan = sample::plan();
        let (lot, pull) = plan
            .lots
            .iter()
            .find_map(|lot| Some((lot, lot.pull?)))
            .expect("one is frozen");
        let standing = [box_of(lot.id.as_str(), Place::Freezer, lot.keep.use_by)];
        let page = check(&standing, pull);
        assert!(
            page.pulls
                .iter()
                .any(|line| line.lot == lot.id.as_str() && line.due)
        );
        let thawed = [box_of(lot.id.as_str(), Place::Fridge, lot.keep.use_by)];
        assert!(
            check(&thawed, pull)
                .pulls
                .iter()
                .all(|line| line.lot != lot.id.as_str())
        );
    }
}
