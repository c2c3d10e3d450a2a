//! The week sheet: components down, days across, then the sittings with their meals.

use std::collections::BTreeMap;

use jiff::civil::Date;
use larderwright_model::{Fate, Item, Lot, PortionSource, Sitting, Snapshot, WeekPlan};
use larderwright_quantity::Mass;

use crate::book::{Book, counted, day, listed, occasion};
use crate::sheet::{RowKind, Section, Sheet, SheetKind};

/// The week sheet.
#[must_use]
pub fn menu(snapshot: &Snapshot, plan: &WeekPlan) -> Sheet {
    let book = Book::new(snapshot, plan);
    let mut fields = book.fields();
    fields.push(("Sittings".into(), plan.menu.choices.len().to_string()));
    Sheet {
        kind: SheetKind::Menu,
        title: "Week sheet".into(),
        fields,
        sections: vec![components(book), sittings(book)],
        notes: vec![book.guidance()],
    }
}

/// The days from the first cooking to the last meal.
fn days(book: Book<'_>) -> Vec<Date> {
    let made = book.plan.lots.iter().map(|lot| lot.made.date());
    let eaten = book.snapshot.sittings.iter().map(|sitting| sitting.at.date());
    let all: Vec<Date> = made.chain(eaten).collect();
    let (Some(&first), Some(&last)) = (all.iter().min(), all.iter().max()) else {
        return Vec::new();
    };
    first
        .series(jiff::Span::new().days(1))
        .take_while(|date| *date <= last)
        .collect()
}

fn components(book: Book<'_>) -> Section {
    let days = days(book);
    let mut section = Section::new("Components by day", &["component"]);
    let heads = days.iter().map(|date| {
        let name = day(*date);
        name.rsplit_once('\u{a0}')
            .map_or(name.clone(), |(short, _)| short.to_owned())
    });
    section.columns.extend(heads.map(|name| crate::sheet::Column {
        name,
        align: crate::sheet::Align::Left,
    }));
    let mut last = None;
    for lot in &book.plan.lots {
        let name = book.component_name(&lot.origin);
        let again = last.as_ref() == Some(&name);
        let place = if lot.fate == Fate::Freezer {
            "freezer"
        } else {
            "more"
        };
        let mut cells = vec![if again { place.into() } else { name.clone() }];
        cells.extend(days.iter().map(|date| cell(book, lot, *date)));
        let kind = if again { RowKind::Sub } else { RowKind::Plain };
        section.rows.push(crate::sheet::Row { cells, kind });
        last = Some(name);
    }
    section.notes.push(
        "o made, with what goes into boxes | grams: eaten that day | - kept in the fridge | ~ frozen | pull: into \
         the fridge | ] last day, as guidance says"
            .into(),
    );
    section
}

/// What a lot does on a day.
fn cell(book: Book<'_>, lot: &Lot, date: Date) -> String {
    let made = lot.made.date();
    let end = lot.keep.use_by.date();
    if date < made || date > end {
        return String::new();
    }
    let mut words = Vec::new();
    if date == made {
        let count: u32 = lot.boxes.iter().map(|(_, count)| count).sum();
        words.push(format!("o\u{a0}{}", book.mass(lot.mass)));
        words.push(counted(count as usize, "box", "boxes"));
        if lot.fate == Fate::Freezer {
            words.push("freeze".into());
        }
    }
    if lot.pull.is_some_and(|pull| pull.date() == date) {
        words.push("pull".into());
    }
    let eaten = eaten_on(book, lot, date);
    if eaten.is_positive() {
        words.push(book.mass(eaten));
    }
    if words.is_empty() {
        words.push(if frozen_on(lot, date) {
            "~".into()
        } else {
            "-".into()
        });
    }
    let text = words.join(" ");
    if date == end { text + "\u{a0}]" } else { text }
}

fn frozen_on(lot: &Lot, date: Date) -> bool {
    lot.fate == Fate::Freezer && lot.pull.is_none_or(|pull| date < pull.date())
}

fn eaten_on(book: Book<'_>, lot: &Lot, date: Date) -> Mass {
    let sittings = book
        .snapshot
        .sittings
        .iter()
        .filter(|sitting| sitting.at.date() == date);
    sittings.map(|sitting| book.drawn(&lot.id, &sitting.id)).sum()
}

fn sittings(book: Book<'_>) -> Section {
    let mut section = Section::new("Sittings", &["day", "when", "meal", "who", "on the plates"]);
    for sitting in &book.snapshot.sittings {
        let covers: Vec<String> = book
            .plates(&sitting.id)
            .map(|plate| book.cover_name(&plate.cover))
            .collect();
        section.row([
            day(sitting.at.date()),
            format!("{} {}", book.clock(sitting.at), occasion(sitting)),
            book.meal_name(&sitting.id),
            listed(&covers),
            on_plates(book, sitting),
        ]);
    }
    section
}

/// Items by place on the plate; where plates differ, each item with its eaters.
pub(crate) fn on_plates(book: Book<'_>, sitting: &Sitting) -> String {
    let mut items: Vec<(Item, Vec<String>)> = Vec::new();
    let mut covers = 0;
    for plate in book.plates(&sitting.id) {
        covers += 1;
        let name = book.cover_name(&plate.cover);
        for portion in &plate.portions {
            match items.iter_mut().find(|(item, _)| *item == portion.item) {
                Some((_, names)) if names.last() == Some(&name) => {}
                Some((_, names)) => names.push(name.clone()),
                None => items.push((portion.item.clone(), vec![name.clone()])),
            }
        }
    }
    let word = |(item, names): &(Item, Vec<String>)| {
        let name = book.item_name(item);
        if names.len() == covers {
            name
        } else {
            format!("{name} ({})", listed(names))
        }
    };
    items.iter().map(word).collect::<Vec<_>>().join(", ")
}

/// Grams of every lot and food that a sitting takes, in the order of the plates.
pub(crate) fn taken(book: Book<'_>, sitting: &Sitting) -> BTreeMap<PortionSource, Mass> {
    let mut taken = BTreeMap::new();
    for portion in book.plates(&sitting.id).flat_map(|plate| &plate.portions) {
        let slot = taken.entry(portion.source.clone()).or_insert(Mass::ZERO);
        *slot += portion.mass;
    }
    taken
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;
    use crate::text;

    #[test]
    fn grams_in_the_cells_add_up_to_what_plates_draw() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let book = Book::new(&snapshot, &plan);
        for lot in &plan.lots {
            let by_day: Mass = days(book).into_iter().map(|date| eaten_on(book, lot, date)).sum();
            let portions = plan.plates.iter().flat_map(|plate| &plate.portions);
            let drawn = portions.filter(|portion| portion.source == PortionSource::Lot(lot.id.clone()));
            assert_eq!(by_day, drawn.map(|portion| portion.mass).sum(), "{}", lot.id);
        }
    }

    #[test]
    fn a_frozen_lot_is_a_fork_below_its_component() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let sheet = menu(&snapshot, &plan);
        let fork = sheet.sections[0]
            .rows
            .iter()
            .find(|row| row.kind == RowKind::Sub)
            .expect("a lot is frozen");
        assert_eq!(fork.cells[0], "freezer");
        assert!(fork.cells.iter().any(|cell| cell.contains("freeze")));
        assert!(fork.cells.iter().any(|cell| cell.contains("pull")));
        assert!(fork.cells.iter().any(|cell| cell == "~"));
    }

    #[test]
    fn a_lot_ends_on_its_last_day_and_nothing_follows() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let book = Book::new(&snapshot, &plan);
        for lot in &plan.lots {
            let cells: Vec<String> = days(book).into_iter().map(|date| cell(book, lot, date)).collect();
            if let Some(end) = cells.iter().position(|cell| cell.ends_with(']')) {
                assert!(cells[end + 1..].iter().all(String::is_empty), "{cells:?}");
            }
        }
    }

    #[test]
    fn the_week_fits_on_a_page() {
        let text = text::render(&menu(&sample::snapshot(), &sample::plan()), 100);
        assert!(text.lines().all(|line| line.chars().count() <= 100), "{text}");
    }
}
