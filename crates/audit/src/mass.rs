//! Mass: every milligram bought is accounted for, by laws that the judge evaluates itself.

mod batch;
mod food;
mod week;

use crate::book::Book;
use crate::notes::Notes;

pub(crate) fn check(book: &Book<'_>, notes: &mut Notes) {
    batch::check(book, notes);
    food::check(book, notes);
    // The week's balance follows from the finer ones; it speaks when they have missed something.
    if !notes.has_family("mass") && !notes.has_family("complete") {
        week::check(book, notes);
    }
}
