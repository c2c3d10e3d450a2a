//! Eaters: who gets which plate, and that nothing is on it that they must not or would rather not have.

mod allergy;
mod care;
mod diet;
mod plate;
mod wish;

use crate::book::Book;
use crate::notes::Notes;

pub(crate) fn check(book: &Book<'_>, notes: &mut Notes) {
    plate::check(book, notes);
    wish::check(book, notes);
    for (plate, portion) in book.portions() {
        if let Some(eater) = book.eater(&plate.cover) {
            let served = Served {
                eater,
                plate,
                portion,
            };
            diet::check(book, &served, notes);
            allergy::check(book, &served, notes);
            care::check(book, &served, notes);
            wish::dislikes(book, &served, notes);
        }
    }
    allergy::guests(book, notes);
}

/// One portion in front of one eater of the household.
struct Served<'a> {
    eater: &'a larderwright_model::Eater,
    plate: &'a larderwright_model::Plate,
    portion: &'a larderwright_model::Portion,
}

impl Served<'_> {
    fn subject(&self) -> String {
        format!("{} {}", self.plate.sitting, self.eater.id)
    }

    /// `chickpeas`, or `dip with peanut` when a component hides the food.
    fn dish(&self, food: &larderwright_model::Food) -> String {
        let item = self.portion.item.as_str();
        if item == food.id.as_str() {
            format!("`{item}`")
        } else {
            format!("`{item}` with `{}`", food.id)
        }
    }
}
