//! A sitting, and so tonight: what to take out, warm and put together, and what is on every plate with its marks.

use std::collections::BTreeMap;

use jiff::civil::DateTime;
use larderwright_model::{
    Component, Contact, Cover, Eater, Family, Finish, Item, Lot, LotId, Plate, Portion, PortionSource,
    Presence, ServiceStep, ServiceVerb, Sitting, SittingId, Snapshot, WeekPlan, Where,
};
use larderwright_quantity::{Rounding, System, Unit, cups_text, spoon_text};

use crate::book::{Allergens, Book, allergen_word, day, listed, occasion};
use crate::labels::{reheat_words, why};
use crate::page::week::{Seat, initial, plate_marks};
use crate::page::{Block, Named, Todo};
use crate::plates::{before, for_whom, meal_text, packed_words, ready, step_words};

/// A sitting's page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SittingPage {
    /// Its identifier.
    pub id: String,
    /// Title block.
    pub block: Block,
    /// The sitting before and after it, with their names.
    pub before: Option<(String, String)>,
    /// The sitting after it.
    pub after: Option<(String, String)>,
    /// When to begin, and what comes out of fridge and cupboard.
    pub take_out: TakeOut,
    /// What is warmed and cooked, by time.
    pub steps: Vec<Step>,
    /// How it goes together.
    pub how: Vec<String>,
    /// When plates are put together.
    pub assemble_at: String,
    /// The plates.
    pub plates: Vec<PlateCard>,
    /// What moves or starts before the next morning.
    pub before_bed: Vec<Todo>,
    /// Whose guidance it repeats.
    pub guidance: String,
}

/// What comes out of fridge and cupboard.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct TakeOut {
    /// When.
    pub at: String,
    /// Lots.
    pub tapes: Vec<Tape>,
    /// Foods as bought, with amounts.
    pub fresh: Vec<String>,
}

/// A lot as its tape says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tape {
    /// The lot's identifier.
    pub lot: String,
    /// What.
    pub name: String,
    /// `29 Nov · use by Thu 3 Dec`.
    pub dates: String,
    /// How much of it, and where it stands.
    pub words: String,
    /// Its last day with the rule and its source.
    pub why: String,
}

/// Something done before the table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// When.
    pub at: String,
    /// What.
    pub what: String,
    /// How much.
    pub amount: String,
    /// How long.
    pub minutes: String,
    /// For whom, when not for all.
    pub who: String,
    /// On the heat.
    pub hot: bool,
}

/// One plate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlateCard {
    /// Who.
    pub name: String,
    /// One or two letters.
    pub initial: String,
    /// A plate of its own.
    pub own: bool,
    /// What its reader has to know about allergens.
    pub marks: Vec<Mark>,
    /// What is on it.
    pub rows: Vec<PlateRow>,
    /// `as planned`, or what is special.
    pub note: String,
}

/// A line of a plate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlateRow {
    /// What.
    pub what: String,
    /// How much.
    pub amount: String,
    /// The same in cups, spoons or pieces; may be empty.
    pub spoons: String,
}

/// What a mark says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum MarkKind {
    /// None of it is in what is on the plate, and nothing is left to read.
    Cleared,
    /// A label has to be read, or somebody has to be asked.
    Ask,
    /// It may have got in.
    May,
    /// It is on the plate.
    Has,
}

/// An allergen mark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// What it says.
    pub kind: MarkKind,
    /// `NO NUT`, `READ THE LABEL: NUT`.
    pub words: String,
    /// The foods it is about; may be empty.
    pub of: String,
}

/// The sitting that is next at a moment: not over for longer than an hour.
#[must_use]
pub fn next(snapshot: &Snapshot, now: DateTime) -> Option<SittingId> {
    let hour_ago = now.checked_sub(jiff::Span::new().hours(1)).unwrap_or(now);
    let served = |sitting: &&Sitting| sitting.at >= hour_ago;
    let next = snapshot.sittings.iter().find(served);
    next.or(snapshot.sittings.last())
        .map(|sitting| sitting.id.clone())
}

/// The page of a sitting; `None` when there is no such sitting.
#[must_use]
pub fn sitting(snapshot: &Snapshot, plan: &WeekPlan, id: &SittingId) -> Option<SittingPage> {
    let book = Book::new(snapshot, plan);
    let at = snapshot.sittings.iter().position(|sitting| sitting.id == *id)?;
    let sitting = &snapshot.sittings[at];
    let neighbour = |sitting: &Sitting| (sitting.id.to_string(), book.sitting_name(&sitting.id));
    Some(SittingPage {
        id: id.to_string(),
        block: block(book, sitting),
        before: at
            .checked_sub(1)
            .and_then(|at| snapshot.sittings.get(at))
            .map(neighbour),
        after: snapshot.sittings.get(at + 1).map(neighbour),
        take_out: take_out(book, sitting),
        steps: steps(book, sitting),
        how: how(book, sitting),
        assemble_at: assemble_at(book, sitting),
        plates: plates(book, sitting),
        before_bed: before_bed(book, sitting),
        guidance: book.guidance(),
    })
}

fn block(book: Book<'_>, sitting: &Sitting) -> Block {
    let meal = book.meal_name(&sitting.id);
    let start = service(book, sitting).map(|service| before(ready(sitting), service.length));
    let mut fields = vec![match sitting.place {
        Where::Home => Named::new("On the table", book.clock(sitting.at)),
        Where::Packed(_) => Named::new("Packed by", book.clock(ready(sitting))),
    }];
    if let Some(start) = start {
        fields.push(Named::new("Start", book.clock(start)));
    }
    if matches!(sitting.place, Where::Packed(_)) {
        fields.push(Named::new("Eaten", book.clock(sitting.at)));
    }
    fields.push(Named::new("Plates", book.plates(&sitting.id).count().to_string()));
    Block {
        title: if meal.is_empty() {
            "Nothing planned".into()
        } else {
            meal
        },
        sub: format!("{}, {}", day(sitting.at.date()), occasion(sitting)),
        fields,
    }
}

fn service<'a>(book: Book<'a>, sitting: &Sitting) -> Option<&'a larderwright_model::Service> {
    book.plan
        .services
        .iter()
        .find(|service| service.sitting == sitting.id)
}

fn step_time(book: Book<'_>, sitting: &Sitting, step: &ServiceStep) -> Option<DateTime> {
    let service = service(book, sitting)?;
    let begin = before(ready(sitting), service.length);
    begin
        .checked_add(jiff::Span::new().seconds(step.start.secs()))
        .ok()
}

fn take_out(book: Book<'_>, sitting: &Sitting) -> TakeOut {
    let Some(service) = service(book, sitting) else {
        return TakeOut::default();
    };
    let outs = || {
        service.steps.iter().filter_map(|step| match &step.verb {
            ServiceVerb::TakeOut(lot) => Some((step, lot)),
            _ => None,
        })
    };
    let first = outs().next().map(|(step, _)| step).or(service.steps.first());
    let fresh = crate::menu::taken(book, sitting);
    let fresh = fresh.into_iter().filter_map(|(source, mass)| match source {
        PortionSource::Food(food) => Some(format!("{}, {}", book.food_name(&food), book.edible(&food, mass))),
        PortionSource::Lot(_) => None,
    });
    TakeOut {
        at: first
            .and_then(|step| step_time(book, sitting, step))
            .map_or_else(String::new, |at| book.clock(at)),
        tapes: outs()
            .filter_map(|(_, lot)| {
                let own = book.lot(lot).map(|lot| tape(book, lot, sitting));
                own.or_else(|| carried_tape(book, lot, sitting))
            })
            .collect(),
        fresh: fresh.collect(),
    }
}

fn tape(book: Book<'_>, lot: &Lot, sitting: &Sitting) -> Tape {
    let drawn = book.drawn(&lot.id, &sitting.id);
    let last = lot.sittings.last() == Some(&sitting.id);
    let what = if last {
        format!("all that is left, {}", book.mass(drawn))
    } else {
        book.mass(drawn)
    };
    let place = if lot.pull.is_some() {
        "fridge, pulled from the freezer"
    } else {
        lot.place.word()
    };
    Tape {
        lot: lot.id.to_string(),
        name: book.component_name(&lot.origin),
        dates: tape_dates(lot),
        words: format!("{what} · {} · {place}", book.boxes(lot)),
        why: why(book, &lot.keep),
    }
}

/// The tape of a lot that was in the house before the week was planned.
fn carried_tape(book: Book<'_>, id: &LotId, sitting: &Sitting) -> Option<Tape> {
    let stored = book.snapshot.lot(id)?;
    let carried = book.plan.carried.iter().find(|carried| carried.lot == *id)?;
    let mass = book.mass(book.drawn(id, &sitting.id));
    let place = if carried.pull.is_some() {
        "fridge, pulled from the freezer"
    } else {
        stored.place.word()
    };
    let boxes = book.box_words(&stored.boxes);
    let parts = [mass.as_str(), boxes.as_str(), place];
    let parts: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    Some(Tape {
        lot: id.to_string(),
        name: book.lot_name(id),
        dates: dated(stored.made, carried.keep.use_by),
        words: parts.join(" · "),
        why: why(book, &carried.keep),
    })
}

/// `29 Nov · use by Thu 3 Dec`.
pub(crate) fn tape_dates(lot: &Lot) -> String {
    dated(lot.made, lot.keep.use_by)
}

fn dated(made: DateTime, use_by: DateTime) -> String {
    let made = day(made.date());
    let made = made.split_once('\u{a0}').map_or(made.as_str(), |(_, rest)| rest);
    format!("{made} · use by {}", day(use_by.date()))
}

fn steps(book: Book<'_>, sitting: &Sitting) -> Vec<Step> {
    let Some(service) = service(book, sitting) else {
        return Vec::new();
    };
    let warm = |step: &&ServiceStep| !matches!(step.verb, ServiceVerb::TakeOut(_) | ServiceVerb::Assemble);
    let line = |step: &ServiceStep| {
        let (what, amount) = step_words(book, service, step);
        let who = for_whom(book, sitting, step);
        Step {
            at: step_time(book, sitting, step).map_or_else(String::new, |at| book.clock(at)),
            what,
            amount,
            minutes: format!("{}\u{a0}min", step.length.mins(Rounding::Up)),
            who: if who == "all" { String::new() } else { who },
            hot: step.appliance.is_some(),
        }
    };
    service.steps.iter().filter(warm).map(line).collect()
}

fn assemble_at(book: Book<'_>, sitting: &Sitting) -> String {
    let assemble = service(book, sitting).and_then(|service| {
        service
            .steps
            .iter()
            .find(|step| step.verb == ServiceVerb::Assemble)
    });
    assemble
        .and_then(|step| step_time(book, sitting, step))
        .map_or_else(String::new, |at| book.clock(at))
}

fn how(book: Book<'_>, sitting: &Sitting) -> Vec<String> {
    let mut words: Vec<String> = meal_text(book, sitting).into_iter().collect();
    if let Where::Packed(packed) = sitting.place {
        words.push(packed_words(packed));
    }
    let warm = steps(book, sitting).iter().any(|step| step.hot);
    if warm {
        words.push(format!("Warm: {}.", reheat_words(book)));
    }
    words
}

fn plates(book: Book<'_>, sitting: &Sitting) -> Vec<PlateCard> {
    let marks = plate_marks(book, sitting);
    let card = |(plate, seat): (&Plate, Seat)| {
        let name = book.cover_name(&plate.cover);
        let own = seat == Seat::Own;
        PlateCard {
            initial: initial(book, &plate.cover, &name),
            name,
            own,
            marks: plate_allergens(book, plate),
            rows: plate.portions.iter().map(|portion| row(book, portion)).collect(),
            note: if own {
                "a plate of its own".into()
            } else {
                "as planned".into()
            },
        }
    };
    let seats = marks.iter().map(|mark| mark.seat);
    book.plates(&sitting.id).zip(seats).map(card).collect()
}

fn row(book: Book<'_>, portion: &Portion) -> PlateRow {
    let cold = if portion.finish == Finish::Cold {
        ", cold"
    } else {
        ""
    };
    PlateRow {
        what: format!("{}{cold}", book.item_name(&portion.item)),
        amount: book.portion(portion.mass),
        spoons: spoons(book, portion),
    }
}

/// Cups or spoons of a component by its bulk, pieces of a food that is counted.
fn spoons(book: Book<'_>, portion: &Portion) -> String {
    match &portion.item {
        Item::Food(food) => {
            let words = book.edible(food, portion.mass);
            let plain = book.mass(portion.mass);
            let rest = words.split_once(" (").map_or(words.as_str(), |(count, _)| count);
            if words == plain || rest == plain {
                String::new()
            } else {
                rest.to_owned()
            }
        }
        Item::Component(id) => {
            // Patties, thighs and eggs are counted or weighed, never filled into a cup.
            let poured = |component: &&Component| !matches!(component.family, Family::Protein | Family::Egg);
            let Some(component) = book.snapshot.components.get(id).filter(poured) else {
                return String::new();
            };
            let volume = component.bulk.value.volume_of(portion.mass, Rounding::Nearest);
            let quarter = Unit::CupUs.to_volume(1, 4);
            match book.system() {
                System::UsCustomary if quarter.is_some_and(|least| volume >= least) => cups_text(volume),
                System::UsCustomary => spoon_text(volume, System::UsCustomary),
                System::Metric if volume.ul() < 45_000 => spoon_text(volume, System::Metric),
                System::Metric => String::new(),
            }
        }
    }
}

/// The marks of one plate.
fn plate_allergens(book: Book<'_>, plate: &Plate) -> Vec<Mark> {
    let mut all = Allergens::default();
    for portion in &plate.portions {
        all.merge(book.portion_allergens(portion));
    }
    match &plate.cover {
        Cover::Guest(_) => {
            let words = all.words(Presence::Contains);
            let of = if words.is_empty() {
                String::new()
            } else {
                format!("contains {}", words.join(", "))
            };
            vec![Mark {
                kind: MarkKind::Ask,
                words: "ASK THE GUEST".into(),
                of,
            }]
        }
        Cover::Eater(id) => book
            .snapshot
            .household
            .eater(id)
            .map_or_else(Vec::new, |eater| eater_marks(eater, &all)),
    }
}

/// One mark for each state, with the allergens that are in it.
fn eater_marks(eater: &Eater, all: &Allergens) -> Vec<Mark> {
    let to_read: Vec<String> = all.unknown.iter().chain(&all.labels).cloned().collect();
    let mut by_kind: BTreeMap<MarkKind, Vec<String>> = BTreeMap::new();
    for (allergen, contact) in &eater.allergies {
        let kind = match all.known.get(allergen) {
            Some(Presence::Contains) => MarkKind::Has,
            Some(Presence::MayContain) if *contact != Contact::Plate => MarkKind::May,
            _ if !to_read.is_empty() => MarkKind::Ask,
            _ => MarkKind::Cleared,
        };
        by_kind
            .entry(kind)
            .or_default()
            .push(allergen_word(*allergen).to_uppercase());
    }
    let mark = |(kind, words): (MarkKind, Vec<String>)| Mark {
        kind,
        of: if kind == MarkKind::Ask {
            listed(&to_read)
        } else {
            String::new()
        },
        words: match kind {
            MarkKind::Cleared => format!("NO {}", words.join(", NO ")),
            MarkKind::Ask => format!("READ THE LABEL: {}", words.join(", ")),
            MarkKind::May => format!("MAY CONTAIN {}", words.join(", ")),
            MarkKind::Has => format!("HAS {}", words.join(", ")),
        },
    };
    by_kind.into_iter().map(mark).collect()
}

/// What moves from the freezer or starts to soak between this sitting and the end of its day.
fn before_bed(book: Book<'_>, sitting: &Sitting) -> Vec<Todo> {
    let today = sitting.at.date();
    let pulls = book.plan.lots.iter().filter_map(|lot| {
        let pull = lot.pull.filter(|pull| pull.date() == today)?;
        Some((
            pull,
            Todo {
                when: book.clock(pull),
                title: format!("Pull {}", book.component_name(&lot.origin).to_lowercase()),
                text: format!(
                    "{}, {}, from the freezer into the fridge, for {}",
                    book.mass(lot.mass),
                    book.boxes(lot),
                    listed(&book.sitting_names(&lot.sittings))
                ),
            },
        ))
    });
    let carried = book.plan.carried.iter().filter_map(|carried| {
        let pull = carried.pull.filter(|pull| pull.date() == today)?;
        Some((
            pull,
            Todo {
                when: book.clock(pull),
                title: format!("Pull {}", book.lot_name(&carried.lot).to_lowercase()),
                text: format!(
                    "{}, from the freezer into the fridge, for {}",
                    book.mass(carried.mass),
                    listed(&book.sitting_names(&carried.sittings))
                ),
            },
        ))
    });
    let leads = book
        .plan
        .runs
        .iter()
        .flat_map(|run| &run.leads)
        .filter(|lead| lead.at.date() == today)
        .map(|lead| {
            (
                lead.at,
                Todo {
                    when: book.clock(lead.at),
                    title: lead.title.clone(),
                    text: lead.text.clone(),
                },
            )
        });
    let mut all: Vec<(DateTime, Todo)> = pulls.chain(carried).chain(leads).collect();
    all.sort_by_key(|(at, _)| *at);
    all.into_iter().map(|(_, todo)| todo).collect()
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;
    use larderwright_model::Allergen;
    use larderwright_testkit::sample;

    use super::*;

    fn page(at: usize) -> SittingPage {
        let snapshot = sample::snapshot();
        let id = snapshot.sittings[at].id.clone();
        sitting(&snapshot, &sample::plan(), &id).expect("the sitting is in the sample")
    }

    #[test]
    fn every_cover_has_a_plate_with_something_on_it() {
        let snapshot = sample::snapshot();
        for (at, sitting) in snapshot.sittings.iter().enumerate() {
            let page = page(at);
            assert_eq!(page.plates.len(), sitting.covers(), "{}", sitting.id);
            assert!(
                page.plates.iter().all(|plate| !plate.rows.is_empty()),
                "{}",
                sitting.id
            );
        }
    }

    #[test]
    fn an_allergic_eater_has_a_mark_on_every_plate() {
        let snapshot = sample::snapshot();
        let allergic = snapshot
            .household
            .eaters
            .iter()
            .find(|eater| !eater.allergies.is_empty())
            .expect("one has");
        for at in 0..snapshot.sittings.len() {
            let page = page(at);
            let plate = page
                .plates
                .iter()
                .find(|plate| plate.name == allergic.name)
                .expect("they eat");
            assert!(!plate.marks.is_empty());
            assert!(plate.marks.iter().all(|mark| mark.kind != MarkKind::Has));
        }
    }

    fn eater(contact: Contact) -> Eater {
        let mut eater = sample::snapshot().household.eaters[0].clone();
        eater.allergies = BTreeMap::from([(Allergen::Milk, contact)]);
        eater
    }

    #[test]
    fn a_plate_is_cleared_only_when_nothing_is_left_to_read() {
        let mut all = Allergens::default();
        let kind = |all: &Allergens| eater_marks(&eater(Contact::Traces), all)[0].kind;
        assert_eq!(kind(&all), MarkKind::Cleared);
        all.labels.insert("stock cube".into());
        assert_eq!(kind(&all), MarkKind::Ask);
        all.known.insert(Allergen::Milk, Presence::MayContain);
        assert_eq!(kind(&all), MarkKind::May);
        all.known.insert(Allergen::Milk, Presence::Contains);
        assert_eq!(kind(&all), MarkKind::Has);
    }

    #[test]
    fn tonight_is_the_sitting_that_is_not_over_for_an_hour() {
        let snapshot = sample::snapshot();
        let at = |hour| next(&snapshot, date(2026, 11, 30).at(hour, 0, 0, 0));
        assert_eq!(at(19), Some("2026-11-30-dinner".into()));
        assert_eq!(at(20), Some("2026-12-01-dinner".into()));
        assert_eq!(
            next(&snapshot, date(2027, 1, 1).at(8, 0, 0, 0)),
            Some(snapshot.sittings[snapshot.sittings.len() - 1].id.clone())
        );
    }

    #[test]
    fn an_unknown_sitting_has_no_page() {
        assert_eq!(
            sitting(&sample::snapshot(), &sample::plan(), &"nothing".into()),
            None
        );
    }
}
