//! Stricter care for eaters whom food can hurt more easily; the rows are in `safety`.

use larderwright_model::{Finish, PortionSource};
use larderwright_safety::{Applies, CautionRow, cautions};

use super::Served;
use crate::book::Book;
use crate::notes::Notes;
use crate::rules;

pub(super) fn check(book: &Book<'_>, served: &Served<'_>, notes: &mut Notes) {
    for caution in &served.eater.cautions {
        for row in cautions(*caution) {
            judge(book, served, row, notes);
        }
    }
}

fn judge(book: &Book<'_>, served: &Served<'_>, row: &CautionRow, notes: &mut Notes) {
    let hot = matches!(served.portion.finish, Finish::Reheat | Finish::Fry);
    match row.applies {
        Applies::Told => {}
        Applies::Kind(kind) => {
            for food in book
                .portion_foods(served.portion)
                .into_iter()
                .filter(|food| food.kinds.contains(&kind))
            {
                let message = format!("{} is not for this eater", served.dish(food));
                let finding = notes.say(&rules::EATERS_FORBIDDEN, served.subject(), message);
                row.text.clone_into(&mut finding.evidence);
                row.source.clone_into(&mut finding.source);
            }
        }
        Applies::ColdAfterDays(days) if !hot => kept(book, served, (row, days), notes),
        Applies::AfterDays(days) => kept(book, served, (row, days), notes),
        Applies::ColdAfterDays(_) => {}
    }
}

fn kept(book: &Book<'_>, served: &Served<'_>, rule: (&CautionRow, i64), notes: &mut Notes) {
    let (row, days) = rule;
    let PortionSource::Lot(id) = &served.portion.source else {
        return;
    };
    // A frozen lot does not age while it is frozen.
    let made = book.lot(id).map(|lot| lot.pull.unwrap_or(lot.made));
    let before = book.stored(id).map(|lot| {
        let entry = book.plan.carried.iter().find(|entry| entry.lot == lot.id);
        entry.and_then(|entry| entry.pull).unwrap_or(lot.made)
    });
    let sitting = book.snapshot.sitting(&served.plate.sitting);
    let (Some(from), Some(sitting)) = (made.or(before), sitting) else {
        return;
    };
    let from = from.date();
    let age = sitting.at.date().duration_since(from).as_hours() / 24;
    if age > days {
        let message = format!("`{}` was made some days before", served.portion.item.as_str());
        let finding = notes.say(&rules::EATERS_CAUTION, served.subject(), message);
        finding.evidence = format!("{age} days in the fridge, advised {days}: {}", row.text);
        row.source.clone_into(&mut finding.source);
    }
}
