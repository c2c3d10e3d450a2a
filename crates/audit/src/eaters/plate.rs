//! The shape of plates: one for each cover, elements filled as they need, options as the meal offers them.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_model::{Cover, Meal, Need, Plate, Sitting};

use crate::book::Book;
use crate::notes::Notes;
use crate::rules;

pub(super) fn check(book: &Book<'_>, notes: &mut Notes) {
    for sitting in &book.snapshot.sittings {
        covers(book, sitting, notes);
    }
    for plate in &book.plan.plates {
        let Some(meal) = book.meal(plate) else { continue };
        elements(plate, meal, notes);
        options(plate, meal, notes);
        not_together(plate, meal, notes);
        let sitting = book.snapshot.sitting(&plate.sitting);
        if sitting.is_some_and(|sitting| sitting.serves().iter().all(|at| !meal.at.contains(at))) {
            notes.say(
                &rules::EATERS_OCCASION,
                &plate.sitting,
                format!("`{}` is not made for this occasion", meal.id),
            );
        }
    }
}

fn covers(book: &Book<'_>, sitting: &Sitting, notes: &mut Notes) {
    let mut plates: BTreeMap<Cover, usize> = BTreeMap::new();
    for eater in &sitting.eaters {
        plates.insert(Cover::Eater(eater.clone()), 0);
    }
    for guest in 1..=sitting.guests {
        plates.insert(Cover::Guest(guest), 0);
    }
    let invited: BTreeSet<Cover> = plates.keys().cloned().collect();
    for plate in book
        .plan
        .plates
        .iter()
        .filter(|plate| plate.sitting == sitting.id)
    {
        *plates.entry(plate.cover.clone()).or_default() += 1;
    }
    let wrong: Vec<String> = plates
        .iter()
        .filter(|(cover, count)| **count != usize::from(invited.contains(*cover)))
        .map(|(cover, count)| format!("{} has {count}", name(cover)))
        .collect();
    if !wrong.is_empty() {
        notes
            .say(
                &rules::EATERS_ONE_PLATE,
                &sitting.id,
                "not everyone has exactly one plate",
            )
            .evidence = wrong.join(", ");
    }
}

fn name(cover: &Cover) -> String {
    match cover {
        Cover::Eater(id) => id.to_string(),
        Cover::Guest(number) => format!("guest {number}"),
    }
}

fn subject(plate: &Plate) -> String {
    format!("{} {}", plate.sitting, name(&plate.cover))
}

fn elements(plate: &Plate, meal: &Meal, notes: &mut Notes) {
    for element in &meal.elements {
        // One item from two lots fills a place once.
        let items: BTreeSet<_> = plate
            .portions
            .iter()
            .filter(|portion| portion.element == element.id)
            .map(|portion| &portion.item)
            .collect();
        let range = match element.need {
            Need::One => 1..=1,
            Need::Optional => 0..=1,
            Need::Some => 1..=2,
        };
        if !range.contains(&items.len()) {
            notes
                .say(
                    &rules::EATERS_ELEMENTS,
                    subject(plate),
                    format!("the place `{}` is not filled as it needs", element.id),
                )
                .evidence = format!(
                "{} items, allowed {} to {}",
                items.len(),
                range.start(),
                range.end()
            );
        }
    }
}

fn options(plate: &Plate, meal: &Meal, notes: &mut Notes) {
    for portion in &plate.portions {
        let element = meal.elements.iter().find(|element| element.id == portion.element);
        let offered = element.is_some_and(|element| {
            element
                .options
                .iter()
                .any(|option| option.item == portion.item && option.finish == portion.finish)
        });
        if !offered {
            notes
                .say(
                    &rules::EATERS_OPTIONS,
                    subject(plate),
                    format!(
                        "`{}` is no option for `{}`",
                        portion.item.as_str(),
                        portion.element
                    ),
                )
                .evidence = format!("finished {:?}", portion.finish);
        }
    }
}

fn not_together(plate: &Plate, meal: &Meal, notes: &mut Notes) {
    let has = |element: &larderwright_model::ElementId, item: &str| {
        plate
            .portions
            .iter()
            .any(|portion| portion.element == *element && portion.item.as_str() == item)
    };
    for rule in &meal.rules {
        if !rule.not.is_empty() && rule.not.iter().all(|(element, item)| has(element, item)) {
            let pairs: Vec<String> = rule
                .not
                .iter()
                .map(|(element, item)| format!("{element}:{item}"))
                .collect();
            notes
                .say(
                    &rules::EATERS_NOT_TOGETHER,
                    subject(plate),
                    "the meal does not offer this combination",
                )
                .evidence = pairs.join(", ");
        }
    }
}
