//! The balance of every food that is bought or taken from home.

use std::collections::BTreeMap;

use larderwright_model::{FoodId, PortionSource};
use larderwright_quantity::{Mass, Rounding};

use super::batch::pair;
use crate::book::Book;
use crate::notes::Notes;
use crate::rules;

/// Where one food comes from and where it goes, as purchased.
#[derive(Default)]
struct Account {
    used: Mass,
    needed: Mass,
}

pub(super) fn check(book: &Book<'_>, notes: &mut Notes) {
    for line in &book.plan.order.lines {
        if line.used < Mass::ZERO || line.used > line.bought() {
            notes
                .say(&rules::MASS_USED, &line.food, "the line uses more than it buys")
                .evidence = pair("used", line.used, "bought", line.bought());
        }
    }
    for (food, account) in accounts(book) {
        if account.used != account.needed {
            notes
                .say(
                    &rules::MASS_FOOD_BALANCE,
                    food,
                    "what is used is not what is needed",
                )
                .evidence = pair("used", account.used, "needed", account.needed);
        }
    }
}

fn accounts<'a>(book: &Book<'a>) -> BTreeMap<&'a FoodId, Account> {
    let mut accounts: BTreeMap<&FoodId, Account> = BTreeMap::new();
    for line in &book.plan.order.lines {
        accounts.entry(&line.food).or_default().used += line.used;
    }
    for stock in &book.plan.order.from_stock {
        accounts.entry(&stock.food).or_default().used += stock.mass;
    }
    for input in book.plan.batches.iter().flat_map(|batch| &batch.inputs) {
        accounts.entry(&input.food).or_default().needed += input.ap;
    }
    for (food, ep) in plate_ep(book) {
        accounts.entry(food).or_default().needed += plate_ap(book, food, ep);
    }
    for (food, mass) in shelf(book) {
        accounts.entry(food).or_default().needed += mass;
    }
    accounts.retain(|food, _| book.food(food).is_some_and(|food| !food.is_tap()));
    accounts
}

/// Edible portion of foods that plates take as they are.
pub(super) fn plate_ep<'a>(book: &Book<'a>) -> BTreeMap<&'a FoodId, Mass> {
    let mut sums: BTreeMap<&FoodId, Mass> = BTreeMap::new();
    for (_, portion) in book.portions() {
        if let PortionSource::Food(food) = &portion.source {
            *sums.entry(food).or_default() += portion.mass;
        }
    }
    sums
}

/// As purchased for an edible portion on plates.
pub(super) fn plate_ap(book: &Book<'_>, food: &FoodId, ep: Mass) -> Mass {
    book.food(food)
        .map_or(ep, |food| food.edible.value.undo(ep, Rounding::Up))
}

/// What par and standing items put on the shelf.
pub(super) fn shelf<'a>(book: &Book<'a>) -> Vec<(&'a FoodId, Mass)> {
    let household = &book.snapshot.household;
    let pars = household
        .pars
        .iter()
        .map(|par| (&par.food, par.level.saturating_sub(par.on_hand)));
    let standing = household.standing.iter().map(|item| (&item.food, item.mass));
    pars.chain(standing).collect()
}
