//! The balance of the whole week, to the milligram. The cooking change comes from the yield law itself, so that
//! nothing here is a balancing item.

use larderwright_model::{Batch, PortionSource};
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
    let bought: Mass = order
        .lines
        .iter()
        .map(larderwright_model::OrderLine::bought)
        .sum();
    let stock: Mass = order.from_stock.iter().map(|stock| stock.mass).sum();
    let before = book.portions().filter(
        |(_, portion)| matches!(&portion.source, PortionSource::Lot(id) if book.stored(id).is_some()),
    );
    let before: Mass = before.map(|(_, portion)| portion.mass).sum();
    bought + stock + tap(book) + before
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

#[cfg(test)]
mod tests {
    use larderwright_model::WeekPlan;

    use super::*;
    use crate::{good, good_week};

    /// What the week's balance says on its own, without the finer rules before it.
    fn spoken(mend: impl FnOnce(&mut WeekPlan)) -> Vec<String> {
        let snapshot = good::snapshot();
        let mut plan = good_week::plan();
        mend(&mut plan);
        let mut notes = Notes::default();
        check(&Book::open(&snapshot, &plan), &mut notes);
        notes
            .sorted()
            .into_iter()
            .map(|finding| finding.rule.to_string())
            .collect()
    }

    #[test]
    fn a_good_week_balances_to_the_milligram() {
        assert_eq!(spoken(|_| {}), Vec::<String>::new());
    }

    #[test]
    fn a_milligram_that_vanishes_anywhere_is_found() {
        let one = Mass::from_mg(1);
        let breaks: [&dyn Fn(&mut WeekPlan); 5] = [
            &|plan| plan.lots[0].mass -= one,
            &|plan| plan.order.lines[0].used -= one,
            &|plan| plan.order.from_stock[0].mass += one,
            &|plan| plan.batches[0].inputs[0].ap += one,
            &|plan| plan.plates[0].portions[2].mass += one,
        ];
        for mend in breaks {
            assert_eq!(spoken(mend), ["mass.week"]);
        }
    }

    #[test]
    fn a_yield_beyond_its_law_does_not_balance_the_week() {
        // Lots that follow an invented yield weigh more than the law lets the pot give.
        let said = spoken(|plan| {
            plan.batches[0].yields[1] += Mass::from_g(10);
            plan.lots[0].mass += Mass::from_g(10);
        });
        assert_eq!(said, ["mass.week"]);
    }
}
