//! Labels: one for each box.

use std::collections::BTreeMap;

use larderwright_model::{Fate, Keep, Lot, Presence, Serving, Snapshot, WeekPlan};
use larderwright_quantity::{Mass, Rounding};

use crate::book::{Allergens, Book, day, listed};
use crate::sheet::{RowKind, Section, Sheet, SheetKind};

/// The labels of a week.
#[must_use]
pub fn labels(snapshot: &Snapshot, plan: &WeekPlan) -> Sheet {
    let book = Book::new(snapshot, plan);
    let sections: Vec<Section> = plan.lots.iter().flat_map(|lot| lot_labels(book, lot)).collect();
    let mut fields = book.fields();
    fields.push(("Labels".into(), sections.len().to_string()));
    Sheet {
        kind: SheetKind::Labels,
        title: "Labels".into(),
        fields,
        sections,
        notes: documents(book).into_iter().chain([book.guidance()]).collect(),
    }
}

fn lot_labels(book: Book<'_>, lot: &Lot) -> Vec<Section> {
    let masses = box_masses(book, lot);
    let count = masses.len();
    let of = |(at, mass): (usize, &Mass)| label(book, lot, *mass, &format!("{} of {count}", at + 1));
    masses.iter().enumerate().map(of).collect()
}

/// What each box of a lot holds, shared out by volume; what rounding leaves goes into the last.
pub(crate) fn box_masses(book: Book<'_>, lot: &Lot) -> Vec<Mass> {
    let volume = |id: &larderwright_model::BoxId| {
        let kinds = &book.snapshot.household.kitchen.boxes;
        kinds
            .iter()
            .find(|kind| kind.id == *id)
            .map_or(1, |kind| kind.volume.ul())
    };
    let volumes: Vec<i64> = lot
        .boxes
        .iter()
        .flat_map(|(id, count)| vec![volume(id); *count as usize])
        .collect();
    let all: i64 = volumes.iter().sum();
    let mut left = lot.mass;
    let mut masses: Vec<Mass> = Vec::new();
    for (at, volume) in volumes.iter().enumerate() {
        let mass = if at + 1 == volumes.len() {
            left
        } else {
            lot.mass.scale(*volume, all, Rounding::Down)
        };
        left -= mass;
        masses.push(mass);
    }
    masses
}

fn label(book: Book<'_>, lot: &Lot, mass: Mass, number: &str) -> Section {
    let name = book.component_name(&lot.origin);
    let mut section = Section::new(format!("{name}, {number}"), &["", ""]);
    let mut line = |name: &str, value: String| section.row([name.into(), value]);
    line("holds", book.mass(mass));
    line("made", book.when(lot.made));
    line("keep in", lot.place.word().into());
    if let Some(pull) = lot.pull {
        line("pull", format!("{}, into the fridge", book.when(pull)));
    }
    line("use by", use_by(book, lot));
    line("for", uses(book, lot));
    line("serve", serve_words(book, lot));
    let allergens = book.batch_allergens(&lot.origin);
    for (name, words) in allergen_lines(&allergens) {
        section.add(RowKind::Mind, [name.into(), words]);
    }
    section
}

/// The last day, with the words of the rule it rests on.
fn use_by(book: Book<'_>, lot: &Lot) -> String {
    let last = book.when(lot.keep.use_by);
    let best = if lot.keep.best_by < lot.keep.use_by {
        format!(", best by {}", day(lot.keep.best_by.date()))
    } else {
        String::new()
    };
    format!("{last}{best} (guidance says: {})", rule_words(&lot.keep.source))
}

/// The last day of a lot with its rule and the documents behind it, for whoever asks.
pub(crate) fn why(book: Book<'_>, keep: &Keep) -> String {
    let best = if keep.best_by < keep.use_by {
        format!(", best by {}", day(keep.best_by.date()))
    } else {
        String::new()
    };
    format!(
        "Use by {}{best}. Rule {}: {}.",
        book.when(keep.use_by),
        keep.rule,
        keep.source
    )
}

/// What stands before a rule that nobody could read again: it stays on the label.
const FROM_MEMORY: &str = "from memory";

/// What the rule says, without the documents that say it: tape is short.
fn rule_words(source: &str) -> &str {
    let first = source.split(';').next().unwrap_or(source);
    match first.split_once(':') {
        Some((words, _)) if words != FROM_MEMORY => words,
        _ => first,
    }
}

/// The documents behind the rules on the labels, each once.
fn documents(book: Book<'_>) -> Vec<String> {
    let rules: BTreeMap<&str, &str> = book
        .plan
        .lots
        .iter()
        .map(|lot| (lot.keep.rule.as_str(), lot.keep.source.as_str()))
        .collect();
    rules
        .into_iter()
        .map(|(rule, source)| format!("{rule}: {source}."))
        .collect()
}

fn uses(book: Book<'_>, lot: &Lot) -> String {
    if lot.sittings.is_empty() {
        return if lot.fate == Fate::Freezer {
            "stock in the freezer".into()
        } else {
            "spare".into()
        };
    }
    let names = book.sitting_names(&lot.sittings);
    names.join(", ")
}

fn serve_words(book: Book<'_>, lot: &Lot) -> String {
    let batch = book.batch(&lot.origin);
    let component = batch.and_then(|batch| book.snapshot.components.get(&batch.component));
    match component.map(|component| component.serve) {
        Some(Serving::Cold) => "cold".into(),
        Some(Serving::Hot) => format!("hot: {}", reheat_words(book)),
        Some(Serving::Either) | None => format!("cold, or hot: {}", reheat_words(book)),
    }
}

/// How hot, in the words of the guidance in force.
pub(crate) fn reheat_words(book: Book<'_>) -> String {
    let core = larderwright_safety::limits(book.plan.profile).reheat_core;
    format!(
        "stir once, steaming all through; guidance says {} in the middle",
        book.temperature(core)
    )
}

/// What has to stand on a label about allergens.
pub(crate) fn allergen_lines(allergens: &Allergens) -> Vec<(&'static str, String)> {
    let mut lines = Vec::new();
    let mut line = |name, words: Vec<String>| {
        if !words.is_empty() {
            lines.push((name, words.join(", ")));
        }
    };
    let upper = |presence| {
        allergens
            .words(presence)
            .iter()
            .map(|word| word.to_uppercase())
            .collect()
    };
    line("contains", upper(Presence::Contains));
    line("may contain", upper(Presence::MayContain));
    let unknown: Vec<String> = allergens.unknown.iter().cloned().collect();
    if !unknown.is_empty() {
        line("allergens", vec![format!("not known for {}", listed(&unknown))]);
    }
    line("differs by brand", allergens.labels.iter().cloned().collect());
    lines
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;
    use crate::text;

    #[test]
    fn every_box_has_a_label() {
        let plan = sample::plan();
        let boxes: u32 = plan
            .lots
            .iter()
            .flat_map(|lot| &lot.boxes)
            .map(|(_, count)| count)
            .sum();
        let sheet = labels(&sample::snapshot(), &plan);
        assert_eq!(sheet.sections.len(), boxes as usize);
    }

    #[test]
    fn boxes_together_hold_the_lot() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        for lot in &plan.lots {
            let masses = box_masses(Book::new(&snapshot, &plan), lot);
            assert_eq!(masses.into_iter().sum::<Mass>(), lot.mass, "{}", lot.id);
        }
    }

    #[test]
    fn a_label_names_what_it_contains_and_who_says_until_when() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let text = text::render(&labels(&snapshot, &plan), 100);
        let sauce = text
            .split("TAHINI SAUCE, 1 OF 1")
            .nth(1)
            .expect("the sauce has a label");
        let sauce = sauce.split("\n\n").next().expect("a label has lines");
        assert!(sauce.contains("SESAME"), "{sauce}");
        assert!(sauce.contains("guidance says"), "{sauce}");
        assert!(!text.to_lowercase().contains("safe "), "{text}");
    }
}
