//! Allergies by the strictness each eater states. What nobody knows counts as not cleared.

use larderwright_model::{Allergen, Contact, Cover, Food, Presence};

use super::Served;
use crate::book::Book;
use crate::notes::Notes;
use crate::rules;

pub(super) fn check(book: &Book<'_>, served: &Served<'_>, notes: &mut Notes) {
    for food in book.portion_foods(served.portion) {
        for (allergen, contact) in &served.eater.allergies {
            judge(served, food, (*allergen, *contact), notes);
        }
    }
}

fn judge(served: &Served<'_>, food: &Food, allergy: (Allergen, Contact), notes: &mut Notes) {
    let (allergen, contact) = allergy;
    let strict = contact >= Contact::Traces;
    let (rule, says) = match presence(food, allergen) {
        Found::Contains => (&rules::EATERS_ALLERGEN, "contains"),
        Found::May if strict => (&rules::EATERS_TRACES, "may contain"),
        Found::Unknown if strict => (&rules::EATERS_UNKNOWN, "is not cleared of"),
        Found::Unknown => (&rules::EATERS_UNKNOWN_PLATE, "is not cleared of"),
        Found::May | Found::Free => return,
    };
    notes
        .say(
            rule,
            served.subject(),
            format!("{} {says} {}", served.dish(food), allergen.word()),
        )
        .evidence = format!("stated strictness: {contact:?}");
}

/// What is known of one allergen in one food.
enum Found {
    Contains,
    May,
    Free,
    Unknown,
}

/// Wheat counts as gluten; gluten of other cereals does not count as wheat.
fn presence(food: &Food, allergen: Allergen) -> Found {
    let Some(listed) = &food.allergens else {
        return Found::Unknown;
    };
    let own = listed.get(&allergen);
    let wheat = listed
        .get(&Allergen::Wheat)
        .filter(|_| allergen == Allergen::Gluten);
    match own.max(wheat) {
        Some(Presence::Contains) => Found::Contains,
        Some(Presence::MayContain) => Found::May,
        None => Found::Free,
    }
}

/// Guests have stated nothing: what they are served is named so that somebody asks.
pub(super) fn guests(book: &Book<'_>, notes: &mut Notes) {
    for sitting in book.snapshot.sittings.iter().filter(|sitting| sitting.guests > 0) {
        let mut words: Vec<&str> = Vec::new();
        for (_, portion) in book
            .portions()
            .filter(|(plate, _)| plate.sitting == sitting.id && matches!(plate.cover, Cover::Guest(_)))
        {
            for food in book.portion_foods(portion) {
                match &food.allergens {
                    Some(listed) => words.extend(listed.keys().map(|allergen| allergen.word())),
                    None => words.push("unknown"),
                }
            }
        }
        words.sort_unstable();
        words.dedup();
        if !words.is_empty() {
            notes
                .say(
                    &rules::EATERS_GUESTS,
                    &sitting.id,
                    "nobody has asked the guests about allergies",
                )
                .evidence = format!("on their plates: {}", words.join(", "));
        }
    }
}
