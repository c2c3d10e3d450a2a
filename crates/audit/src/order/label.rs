//! Labels to read: whoever shops is told which allergens matter on which line.

use std::collections::BTreeSet;

use larderwright_model::{Allergen, Eater, Food, OrderLine, PortionSource, Presence};

use crate::book::Book;
use crate::notes::Notes;
use crate::rules;

pub(super) fn check(book: &Book<'_>, line: &OrderLine, notes: &mut Notes) {
    let Some(food) = book.food(&line.food) else { return };
    let due = due(book, food);
    let missing: Vec<&str> = due
        .iter()
        .filter(|allergen| !line.read_label.contains(allergen))
        .map(|allergen| allergen.word())
        .collect();
    if !missing.is_empty() {
        notes
            .say(
                &rules::ORDER_READ_LABEL,
                &line.food,
                "the shopper is not told to read the label",
            )
            .evidence = missing.join(", ");
    }
}

/// Allergens of everybody who eats the food, where the brand decides or nobody knows.
fn due(book: &Book<'_>, food: &Food) -> BTreeSet<Allergen> {
    let mut due = BTreeSet::new();
    for (plate, portion) in book.portions() {
        let Some(eater) = book.eater(&plate.cover) else {
            continue;
        };
        if open(food, eater).next().is_none() {
            continue;
        }
        // What is in a lot of an earlier week was bought, and its label read, then.
        let bought_now = !matches!(&portion.source, PortionSource::Lot(id) if book.stored(id).is_some());
        if bought_now && book.portion_foods(portion).iter().any(|own| own.id == food.id) {
            due.extend(open(food, eater));
        }
    }
    due
}

fn open<'a>(food: &'a Food, eater: &'a Eater) -> impl Iterator<Item = Allergen> + use<'a> {
    eater
        .allergies
        .keys()
        .copied()
        .filter(|allergen| match &food.allergens {
            None => true,
            Some(listed) => food.read_label || listed.get(allergen) == Some(&Presence::MayContain),
        })
}
