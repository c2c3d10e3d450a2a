//! The balance of the whole week, to the milligram. The cooking change comes from the yield law itself, so that
//! nothing here is a balancing item.

use larderwright_model::Batch;
use larderwright_quantity::{Mass, Rounding};

use super::batch::pair;
use super::food::{plate_ap, plate_ep, shelf};
use crate::book::Book;
use crate::notes::Notes;
use crate::rules;

pub(super) fn check(book: &Book<'_>, notes: &mut Notes) {
    let came = came_in(book);
    let went = went_out(book);
    if came != went {
        notes
            .say(
                &rules::MASS_WEEK,
                book.plan.monday,
                "the week's mass does not balance",
            )
            .evidence = pair("came in", came, "went out", went);
    }
}

fn came_in(book: &Book<'_>) -> Mass {
    let order = &book.plan.order;
    let bought: Mass = order.lines.iter().map(larderwright_model::OrderLine::bought).sum();
    let stock: Mass = order.from_stock.iter().map(|stock| stock.mass).sum();
    bought + stock + tap(book)
}

fn tap(book: &Book<'_>) -> Mass {
    let is_tap = |food| book.food(food).is_some_and(larderwright_model::Food::is_tap);
    let inputs = book.plan.batches.iter().flat_map(|batch| &batch.inputs);
    let cooked: Mass = inputs
        .filter(|input| is_tap(&input.food))
        .map(|input| input.ap)
        .sum();
    let plates = plate_ep(book).into_iter().filter(|(food, _)| is_tap(*food));
    let drunk: Mass = plates.map(|(food, ep)| plate_ap(book, food, ep)).sum();
    cooked + drunk
}

fn went_out(book: &Book<'_>) -> Mass {
    let batches = &book.plan.batches;
    let peelings: Mass = batches
        .iter()
        .flat_map(|batch| &batch.inputs)
        .map(|input| input.ap - input.ep)
        .sum();
    let plate_trim: Mass = plate_ep(book)
        .into_iter()
        .map(|(food, ep)| plate_ap(book, food, ep) - ep)
        .sum();
    let change: Mass = batches.iter().map(|batch| cooking_change(book, batch)).sum();
    let eaten: Mass = book.portions().map(|(_, portion)| portion.mass).sum();
    let left_over: Mass = book
        .plan
        .lots
        .iter()
        .map(|lot| lot.mass - book.drawn(&lot.id))
        .sum();
    let on_shelf: Mass = book
        .plan
        .order
        .lines
        .iter()
        .map(|line| line.bought() - line.used)
        .sum();
    let stocked: Mass = shelf(book).into_iter().map(|(_, mass)| mass).sum();
    peelings + plate_trim - change + eaten + left_over + on_shelf + stocked
}

/// What cooking adds or takes, by the yield law; drained water counts as taken.
fn cooking_change(book: &Book<'_>, batch: &Batch) -> Mass {
    let Some(way) = book.way(batch) else {
        return Mass::ZERO;
    };
    let inputs: Mass = batch.inputs.iter().map(|input| input.ep).sum();
    way.yields.likely.of(batch.x, Rounding::Down) - inputs
}
