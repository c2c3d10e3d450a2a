//! The week page: components down, days across, amounts in the cells, each batch's line to its last day; then the
//! sittings.

use std::collections::BTreeMap;

use jiff::civil::{Date, DateTime};
use larderwright_model::{
    ActKind, Answer, Cover, Fate, Lot, Occasion, PortionSource, Sitting, Snapshot, Stage, WeekPlan, Where,
};
use larderwright_quantity::{Mass, Rounding, Seconds, duration_text};

use crate::book::{Book, counted, day, occasion};
use crate::order::total;
use crate::page::lines::{Lane, lanes};
use crate::page::{Block, Named, Todo, Told, breakable};
use crate::summary::{answer_words, plain};

/// The week page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WeekPage {
    /// Title block.
    pub block: Block,
    /// The days across.
    pub days: Vec<Day>,
    /// Components by name.
    pub rows: Vec<ComponentRow>,
    /// Sittings by occasion.
    pub meals: Vec<MealRow>,
    /// What starts before a session's day.
    pub leads: Vec<Todo>,
    /// What the audit found.
    pub findings: Vec<Told>,
    /// Why the week is as it is.
    pub why: Vec<Told>,
    /// Whose guidance it repeats.
    pub guidance: String,
}

/// A day across.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Day {
    /// `Sun`.
    pub weekday: String,
    /// `29`.
    pub number: String,
    /// `cook 1:00 pm`, `shop`, `today`.
    pub tag: String,
    /// Whether it is today.
    pub today: bool,
}

/// A component down.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ComponentRow {
    /// Its identifier.
    pub component: String,
    /// Its name.
    pub name: String,
    /// `pulse`, `sauce`.
    pub family: &'static str,
    /// What each batch is made from and makes.
    pub made: Vec<Made>,
    /// A cell for each day.
    pub cells: Vec<Cell>,
    /// The lanes of its lines, a piece for each day.
    pub lanes: Vec<Lane>,
    /// What no plate draws; `none`.
    pub left: String,
    /// The last day, in words, for narrow pages.
    pub last: String,
}

/// One batch of a component.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Made {
    /// As purchased.
    pub from: String,
    /// What comes out.
    pub makes: String,
    /// Boxes.
    pub boxes: String,
}

/// What is eaten of a component on a day.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Cell {
    /// How much; empty when none.
    pub amount: String,
    /// Plates, or boxes put away or pulled.
    pub note: String,
}

/// The sittings of one occasion.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MealRow {
    /// `Dinners`.
    pub name: &'static str,
    /// Sittings of each day.
    pub days: Vec<Vec<SittingCell>>,
}

/// A sitting in its cell.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SittingCell {
    /// Its identifier.
    pub id: String,
    /// The meal.
    pub meal: String,
    /// The table from above.
    pub plates: Vec<PlateMark>,
    /// `6 plates`, or `nobody in`.
    pub count: String,
    /// `6:30 pm · 13 min`.
    pub words: String,
    /// `Sun 29 Nov`, for narrow pages.
    pub day: String,
    /// The cook fixed this meal.
    pub fixed: bool,
}

/// One plate from above.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlateMark {
    /// One or two letters.
    pub initial: String,
    /// The name with what is special: `Ruth, own plate`.
    pub name: String,
    /// Whether the plate differs from the others, or nobody sits there.
    pub seat: Seat,
}

/// Who sits at a plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Seat {
    /// Eats what all eat.
    In,
    /// Eats a plate of their own.
    Own,
    /// Is not in.
    Out,
}

/// The week page as it stands at a moment.
#[must_use]
pub fn week(snapshot: &Snapshot, plan: &WeekPlan, now: DateTime) -> WeekPage {
    let book = Book::new(snapshot, plan);
    let days = days(book);
    WeekPage {
        block: block(book),
        rows: rows(book, &days),
        meals: meals(book, &days),
        leads: leads(book),
        findings: findings(book),
        why: why(book),
        guidance: book.guidance(),
        days: days.iter().map(|date| head(book, *date, now)).collect(),
    }
}

/// The days from the first cooking to the last meal.
pub(crate) fn days(book: Book<'_>) -> Vec<Date> {
    let made = book.plan.lots.iter().map(|lot| lot.made.date());
    let eaten = book.snapshot.sittings.iter().map(|sitting| sitting.at.date());
    let all: Vec<Date> = made.chain(eaten).collect();
    let (Some(&first), Some(&last)) = (all.iter().min(), all.iter().max()) else {
        return Vec::new();
    };
    first
        .series(jiff::Span::new().days(1))
        .take_while(|date| *date <= last)
        .take(14)
        .collect()
}

fn block(book: Book<'_>) -> Block {
    let iso = book.plan.monday.iso_week_date();
    let hands: i64 = acts(book)
        .filter(|act| !matches!(act.kind, ActKind::Preheat))
        .map(|act| act.length().secs() * i64::try_from(act.who.len()).unwrap_or(0))
        .sum();
    let oven: i64 = book
        .plan
        .runs
        .iter()
        .flat_map(|run| &run.oven)
        .map(|setting| setting.to.duration_since(setting.from).as_secs())
        .sum();
    let mut fields = vec![
        Named::new("Cost", book.money(total(&book.plan.order.lines))),
        Named::new("Hands", duration_text(Seconds::from_secs(hands))),
        Named::new("Oven", duration_text(Seconds::from_secs(oven))),
        Named::new("Plates", book.plan.plates.len().to_string()),
        Named::new("Likely thrown away", waste(book)),
    ];
    if let Some(budget) = book.snapshot.household.wishes.budget {
        fields.insert(1, Named::new("Budget", book.money(budget)));
    }
    Block {
        title: format!("Week sheet {}", iso.week()),
        sub: format!(
            "{}, {} at the table · {}",
            book.snapshot.household.name,
            book.snapshot.household.eaters.len(),
            span(book)
        ),
        fields,
    }
}

fn span(book: Book<'_>) -> String {
    let days = days(book);
    let (Some(first), Some(last)) = (days.first(), days.last()) else {
        return String::new();
    };
    format!("{} to {} {}", day(*first), day(*last), last.year())
}

fn acts(book: Book<'_>) -> impl Iterator<Item = &larderwright_model::Act> {
    book.plan.runs.iter().flat_map(|run| &run.acts)
}

/// What no plate draws and nothing keeps: fridge lots beyond their plates, and what is bought beyond use and spoils
/// within the week.
fn waste(book: Book<'_>) -> String {
    let lots = book.plan.lots.iter().filter(|lot| lot.fate == Fate::Fridge);
    let boxes: Mass = lots.map(|lot| left_of(book, lot)).sum();
    let spoils = |line: &&larderwright_model::OrderLine| {
        book.food(&line.food)
            .is_some_and(|food| !food.storage.keeps_beyond_a_week())
    };
    let bought: Mass = book
        .plan
        .order
        .lines
        .iter()
        .filter(spoils)
        .map(|line| line.bought() - line.used)
        .sum();
    let all = boxes + bought;
    if all < Mass::from_g(10) {
        return "next to nothing".into();
    }
    book.mass(all)
}

pub(crate) fn left_of(book: Book<'_>, lot: &Lot) -> Mass {
    let portions = book.plan.plates.iter().flat_map(|plate| &plate.portions);
    let drawn: Mass = portions
        .filter(|portion| matches!(&portion.source, PortionSource::Lot(id) if *id == lot.id))
        .map(|portion| portion.mass)
        .sum();
    (lot.mass - drawn).max(Mass::ZERO)
}

fn head(book: Book<'_>, date: Date, now: DateTime) -> Day {
    let name = day(date);
    let mut words = name.split('\u{a0}');
    let (weekday, number) = (words.next().unwrap_or(""), words.next().unwrap_or(""));
    let cook = book
        .plan
        .runs
        .iter()
        .filter_map(|run| run.acts.iter().map(|act| act.start).min())
        .find(|start| start.date() == date);
    let shop = book.snapshot.shops.iter().any(|shop| shop.at.date() == date);
    let today = now.date() == date;
    let mut tags = Vec::new();
    if today {
        tags.push("today".to_owned());
    }
    if shop {
        tags.push("shop".to_owned());
    }
    if let Some(start) = cook {
        tags.push(format!("cook {}", book.clock(start)));
    }
    Day {
        weekday: weekday.into(),
        number: number.into(),
        tag: tags.join(" · "),
        today,
    }
}

fn rows(book: Book<'_>, days: &[Date]) -> Vec<ComponentRow> {
    let mut by_component: BTreeMap<String, Vec<&Lot>> = BTreeMap::new();
    for lot in &book.plan.lots {
        if let Some(batch) = book.batch(&lot.origin) {
            by_component
                .entry(batch.component.to_string())
                .or_default()
                .push(lot);
        }
    }
    by_component
        .into_iter()
        .map(|(component, lots)| row(book, component, &lots, days))
        .collect()
}

fn row(book: Book<'_>, component: String, lots: &[&Lot], days: &[Date]) -> ComponentRow {
    let id = component.as_str().into();
    let known = book.snapshot.components.get(&id);
    let left: Mass = lots.iter().map(|lot| left_of(book, lot)).sum();
    let last = lots
        .iter()
        .filter(|lot| lot.fate != Fate::Freezer)
        .map(|lot| lot.keep.use_by)
        .max();
    ComponentRow {
        name: known.map_or_else(|| component.clone(), |known| known.name.clone()),
        family: known.map_or("", |known| family_word(known.family)),
        made: book
            .plan
            .batches
            .iter()
            .filter(|batch| batch.component == id)
            .map(|batch| made(book, batch))
            .collect(),
        cells: days.iter().map(|date| cell(book, lots, *date)).collect(),
        lanes: lanes(book, lots, days),
        left: if left < Mass::from_g(10) {
            "none".into()
        } else {
            breakable(&book.mass(left))
        },
        last: last.map_or_else(String::new, |last| format!("use by {}", day(last.date()))),
        component,
    }
}

fn made(book: Book<'_>, batch: &larderwright_model::Batch) -> Made {
    let way = book.way(batch).map(|(_, way)| way);
    let driver = way.and_then(|way| batch.inputs.iter().find(|input| input.food == way.driver));
    let boxes: u32 = book
        .lots(&batch.id)
        .flat_map(|lot| &lot.boxes)
        .map(|(_, count)| count)
        .sum();
    Made {
        from: driver.map_or_else(String::new, |input| book.purchased(&input.food, input.ap)),
        makes: book.mass(batch.yields[1]),
        boxes: counted(boxes as usize, "box", "boxes"),
    }
}

/// What a family of components is called.
pub(crate) fn family_word(family: larderwright_model::Family) -> &'static str {
    use larderwright_model::Family as F;
    match family {
        F::Pulse => "pulse",
        F::Grain => "grain",
        F::Protein => "protein",
        F::Vegetable => "vegetable",
        F::Egg => "egg",
        F::Sauce => "sauce",
        F::Pickle => "pickle",
        F::Salad => "salad",
        F::Dough => "dough",
        F::Breakfast => "breakfast",
        F::Stock => "stock",
    }
}

fn cell(book: Book<'_>, lots: &[&Lot], date: Date) -> Cell {
    let sittings: Vec<&Sitting> = book
        .snapshot
        .sittings
        .iter()
        .filter(|sitting| sitting.at.date() == date)
        .collect();
    let drawn = |lot: &Lot| -> Mass {
        sittings
            .iter()
            .map(|sitting| book.drawn(&lot.id, &sitting.id))
            .sum()
    };
    let eaten: Mass = lots.iter().map(|lot| drawn(lot)).sum();
    let plates = sittings
        .iter()
        .flat_map(|sitting| book.plates(&sitting.id))
        .filter(|plate| {
            plate.portions.iter().any(
                |portion| matches!(&portion.source, PortionSource::Lot(id) if lots.iter().any(|lot| lot.id == *id)),
            )
        })
        .count();
    let boxes = |wanted: &dyn Fn(&Lot) -> bool| -> u32 {
        let lots = lots.iter().filter(|lot| wanted(lot));
        lots.flat_map(|lot| &lot.boxes).map(|(_, count)| count).sum()
    };
    let made = boxes(&|lot| lot.made.date() == date);
    let note = if plates > 0 {
        counted(plates, "plate", "plates")
    } else if made > 0 {
        counted(made as usize, "box", "boxes")
    } else {
        String::new()
    };
    Cell {
        amount: if eaten.is_positive() {
            breakable(&book.mass(eaten))
        } else {
            String::new()
        },
        note,
    }
}

/// Whether a sitting belongs to a row.
type Belongs = fn(&Sitting) -> bool;

const ROWS: [(&str, Belongs); 6] = [
    ("Breakfasts", |sitting| sitting.occasion == Occasion::Breakfast),
    ("Packed meals", |sitting| {
        sitting.occasion != Occasion::Breakfast && matches!(sitting.place, Where::Packed(_))
    }),
    ("Lunches", |sitting| {
        sitting.occasion == Occasion::Lunch && sitting.place == Where::Home
    }),
    ("Snacks", |sitting| {
        sitting.occasion == Occasion::Snack && sitting.place == Where::Home
    }),
    ("Dinners", |sitting| {
        sitting.occasion == Occasion::Dinner && sitting.place == Where::Home
    }),
    ("Other sittings", |sitting| {
        matches!(sitting.occasion, Occasion::PackedCold | Occasion::PackedHot) && sitting.place == Where::Home
    }),
];

fn meals(book: Book<'_>, days: &[Date]) -> Vec<MealRow> {
    let row = |&(name, belongs): &(&'static str, Belongs)| {
        let on = |date: &Date| {
            let sittings = book.snapshot.sittings.iter();
            sittings
                .filter(|sitting| sitting.at.date() == *date && belongs(sitting))
                .map(|sitting| sitting_cell(book, sitting))
                .collect::<Vec<_>>()
        };
        let days: Vec<Vec<SittingCell>> = days.iter().map(on).collect();
        days.iter()
            .any(|cells| !cells.is_empty())
            .then_some(MealRow { name, days })
    };
    ROWS.iter().filter_map(row).collect()
}

fn sitting_cell(book: Book<'_>, sitting: &Sitting) -> SittingCell {
    let plates = plate_marks(book, sitting);
    let there = plates.iter().filter(|plate| plate.seat != Seat::Out).count();
    let minutes = book
        .plan
        .services
        .iter()
        .find(|service| service.sitting == sitting.id)
        .map(|service| service.length.mins(Rounding::Up));
    let time = match sitting.place {
        Where::Home => book.clock(sitting.at),
        Where::Packed(_) => format!("pack by {}", book.clock(sitting.leaves_fridge())),
    };
    let meal = book.meal_name(&sitting.id);
    SittingCell {
        id: sitting.id.to_string(),
        count: match there {
            0 => "nobody in".into(),
            count => counted(count, "plate", "plates"),
        },
        words: match minutes {
            Some(minutes) if there > 0 => format!("{time} · {minutes}\u{a0}min"),
            _ => time,
        },
        day: day(sitting.at.date()),
        fixed: book.snapshot.household.wishes.fixed.contains_key(&sitting.id),
        meal: if meal.is_empty() {
            format!("no {}", occasion(sitting))
        } else {
            meal
        },
        plates,
    }
}

/// The table from above: whose plate differs from the commonest, who is not in.
pub(crate) fn plate_marks(book: Book<'_>, sitting: &Sitting) -> Vec<PlateMark> {
    let plates: Vec<_> = book.plates(&sitting.id).collect();
    let what = |plate: &larderwright_model::Plate| -> Vec<String> {
        plate
            .portions
            .iter()
            .map(|portion| portion.item.as_str().to_owned())
            .collect()
    };
    let mut kinds: BTreeMap<Vec<String>, usize> = BTreeMap::new();
    for plate in &plates {
        *kinds.entry(what(plate)).or_default() += 1;
    }
    let most = kinds.values().copied().max().unwrap_or(0);
    let usual = kinds
        .iter()
        .find(|(_, count)| **count == most)
        .map(|(items, _)| items.clone());
    let mut marks: Vec<PlateMark> = plates
        .iter()
        .map(|plate| {
            let own = plates.len() > 1 && Some(what(plate)) != usual;
            seat(book, &plate.cover, if own { Seat::Own } else { Seat::In })
        })
        .collect();
    if sitting.place == Where::Home {
        let away = book
            .snapshot
            .household
            .eaters
            .iter()
            .filter(|eater| !sitting.eaters.contains(&eater.id));
        marks.extend(away.map(|eater| seat(book, &Cover::Eater(eater.id.clone()), Seat::Out)));
    }
    marks
}

fn seat(book: Book<'_>, cover: &Cover, seat: Seat) -> PlateMark {
    let name = book.cover_name(cover);
    let initial = initial(book, cover, &name);
    PlateMark {
        initial,
        name: match seat {
            Seat::In => name,
            Seat::Own => format!("{name}, own plate"),
            Seat::Out => format!("{name}, not in"),
        },
        seat,
    }
}

/// One letter, or two where two people share the first; guests by number.
pub(crate) fn initial(book: Book<'_>, cover: &Cover, name: &str) -> String {
    if let Cover::Guest(number) = cover {
        return format!("g{number}");
    }
    let first = |name: &str| name.chars().next();
    let same = book
        .snapshot
        .household
        .eaters
        .iter()
        .filter(|eater| first(&eater.name) == first(name))
        .count();
    name.chars().take(if same > 1 { 2 } else { 1 }).collect()
}

fn leads(book: Book<'_>) -> Vec<Todo> {
    let leads = book.plan.runs.iter().flat_map(|run| &run.leads);
    leads
        .map(|lead| Todo {
            when: book.when(lead.at),
            title: lead.title.clone(),
            text: lead.text.clone(),
        })
        .collect()
}

fn findings(book: Book<'_>) -> Vec<Told> {
    let mut findings: Vec<_> = book.plan.findings.iter().collect();
    findings.sort_by_key(|finding| std::cmp::Reverse(finding.severity));
    findings
        .into_iter()
        .map(|finding| Told {
            what: plain(book, &format!("{}: {}", finding.subject, finding.message)),
            why: plain(book, &finding.evidence),
            source: finding.source.clone(),
        })
        .collect()
}

/// What the stages that had a choice chose, and how good that is.
fn why(book: Book<'_>) -> Vec<Told> {
    let had_a_choice = [
        Stage::Menu,
        Stage::Order,
        Stage::Packing,
        Stage::Session,
        Stage::Plates,
    ];
    let reports = book.plan.reports.iter();
    reports
        .filter(|report| had_a_choice.contains(&report.stage))
        .flat_map(|report| report.chosen.iter().map(|chosen| (report.answer, chosen)))
        .map(|(answer, chosen): (Answer, &String)| Told {
            what: chosen.clone(),
            why: answer_words(answer),
            source: String::new(),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;
    use larderwright_testkit::sample;

    use super::*;
    use crate::page::lines::Stroke;

    fn page() -> WeekPage {
        week(
            &sample::snapshot(),
            &sample::plan(),
            date(2026, 11, 30).at(9, 0, 0, 0),
        )
    }

    #[test]
    fn every_row_has_a_cell_and_a_piece_for_each_day() {
        let page = page();
        for row in &page.rows {
            assert_eq!(row.cells.len(), page.days.len(), "{}", row.name);
            assert!(
                row.lanes.iter().all(|lane| lane.len() == page.days.len()),
                "{}",
                row.name
            );
        }
        for meals in &page.meals {
            assert_eq!(meals.days.len(), page.days.len(), "{}", meals.name);
        }
    }

    #[test]
    fn exactly_one_day_is_today() {
        assert_eq!(page().days.iter().filter(|day| day.today).count(), 1);
        let other = week(
            &sample::snapshot(),
            &sample::plan(),
            date(2027, 1, 1).at(9, 0, 0, 0),
        );
        assert!(other.days.iter().all(|day| !day.today));
    }

    #[test]
    fn every_sitting_stands_in_one_cell() {
        let snapshot = sample::snapshot();
        let page = page();
        let cells = page.meals.iter().flat_map(|row| row.days.iter().flatten());
        let mut ids: Vec<&str> = cells.map(|cell| cell.id.as_str()).collect();
        ids.sort_unstable();
        let mut all: Vec<&str> = snapshot
            .sittings
            .iter()
            .map(|sitting| sitting.id.as_str())
            .collect();
        all.sort_unstable();
        assert_eq!(ids, all);
    }

    #[test]
    fn nothing_is_drawn_after_the_last_day() {
        for lane in page().rows.iter().flat_map(|row| &row.lanes) {
            let last = lane.iter().position(|piece| {
                matches!(piece.stroke, Stroke::Last | Stroke::MadeLast | Stroke::PulledLast)
            });
            if let Some(last) = last {
                let next = lane.get(last + 1).map(|piece| piece.stroke);
                assert!(
                    matches!(next, None | Some(Stroke::None | Stroke::Made)),
                    "{next:?}"
                );
            }
        }
    }

    #[test]
    fn somebody_who_is_away_is_shown_as_not_in() {
        let mut snapshot = sample::snapshot();
        let mut plan = sample::plan();
        let id = snapshot.sittings[0].id.clone();
        let away = snapshot.sittings[0].eaters.remove(0);
        plan.plates
            .retain(|plate| !(plate.sitting == id && plate.cover == Cover::Eater(away.clone())));
        let marks = plate_marks(Book::new(&snapshot, &plan), &snapshot.sittings[0]);
        assert_eq!(marks.last().map(|mark| mark.seat), Some(Seat::Out));
    }
}
