//! The household's wishes: what is fixed, what is switched off, what is not liked.

use super::Served;
use crate::book::Book;
use crate::notes::Notes;
use crate::rules;

pub(super) fn check(book: &Book<'_>, notes: &mut Notes) {
    let wishes = &book.snapshot.household.wishes;
    for (sitting, meal) in &wishes.fixed {
        let plates = book.plan.plates.iter().filter(|plate| plate.sitting == *sitting);
        for other in plates.filter(|plate| plate.meal != *meal) {
            notes.say(
                &rules::EATERS_FIXED,
                sitting,
                format!("`{meal}` is fixed here, `{}` is planned", other.meal),
            );
        }
    }
    for plate in book
        .plan
        .plates
        .iter()
        .filter(|plate| wishes.off_meals.contains(&plate.meal))
    {
        notes.say(
            &rules::EATERS_OFF,
            &plate.sitting,
            format!("`{}` is switched off", plate.meal),
        );
    }
    for batch in book
        .plan
        .batches
        .iter()
        .filter(|batch| wishes.off_components.contains(&batch.component))
    {
        notes.say(
            &rules::EATERS_OFF,
            &batch.id,
            format!("`{}` is switched off", batch.component),
        );
    }
}

pub(super) fn dislikes(book: &Book<'_>, served: &Served<'_>, notes: &mut Notes) {
    let dislikes = &served.eater.dislikes;
    let item = served.portion.item.as_str();
    if dislikes.contains(item) {
        notes.say(
            &rules::EATERS_DISLIKE,
            served.subject(),
            format!("`{item}` is not liked"),
        );
        return;
    }
    for food in book.portion_foods(served.portion) {
        if dislikes.contains(food.id.as_str()) {
            notes.say(
                &rules::EATERS_DISLIKE,
                served.subject(),
                format!("{} is not liked", served.dish(food)),
            );
        }
    }
}
