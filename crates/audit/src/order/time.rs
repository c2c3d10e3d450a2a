//! Time: at every moment a food is needed, what was bought by then and what was at home cover it.

use std::collections::BTreeMap;

use jiff::civil::DateTime;
use larderwright_model::{Batch, FoodId, PortionSource};
use larderwright_quantity::{Mass, Rounding};

use crate::book::{Book, clock};
use crate::notes::Notes;
use crate::rules;

/// What is needed of one food at one time.
struct Need {
    at: DateTime,
    /// For batches, as purchased.
    ap: Mass,
    /// For plates, edible portion.
    ep: Mass,
}

pub(super) fn check(book: &Book<'_>, notes: &mut Notes) {
    for (id, mut needs) in needs(book) {
        let Some(food) = book.food(id).filter(|food| !food.is_tap()) else {
            continue;
        };
        needs.sort_by_key(|need| need.at);
        let (mut ap, mut ep) = (Mass::ZERO, Mass::ZERO);
        for (index, need) in needs.iter().enumerate() {
            ap += need.ap;
            ep += need.ep;
            if needs.get(index + 1).is_some_and(|next| next.at == need.at) {
                continue;
            }
            let due = ap + food.edible.value.undo(ep, Rounding::Up);
            let there = at_home(book, id, need.at);
            if there < due {
                notes
                    .say(
                        &rules::ORDER_IN_TIME,
                        id,
                        "not enough is at home when it is needed",
                    )
                    .evidence = format!("{}: {} mg of {} mg", clock(need.at), there.mg(), due.mg());
                break;
            }
        }
    }
}

fn at_home(book: &Book<'_>, food: &FoodId, at: DateTime) -> Mass {
    let order = &book.plan.order;
    let stock: Mass = order
        .from_stock
        .iter()
        .filter(|stock| stock.food == *food)
        .map(|stock| stock.mass)
        .sum();
    let shops = &book.snapshot.shops;
    let home = |line: &&larderwright_model::OrderLine| {
        line.food == *food && shops.iter().any(|shop| shop.id == line.shop && shop.at <= at)
    };
    let bought: Mass = order
        .lines
        .iter()
        .filter(home)
        .map(larderwright_model::OrderLine::bought)
        .sum();
    stock + bought
}

fn needs<'a>(book: &Book<'a>) -> BTreeMap<&'a FoodId, Vec<Need>> {
    let mut needs: BTreeMap<&FoodId, Vec<Need>> = BTreeMap::new();
    for batch in &book.plan.batches {
        for input in &batch.inputs {
            let Some(at) = starts(book, batch, &input.food) else {
                continue;
            };
            needs.entry(&input.food).or_default().push(Need {
                at,
                ap: input.ap,
                ep: Mass::ZERO,
            });
        }
    }
    for (plate, portion) in book.portions() {
        let sitting = book.snapshot.sitting(&plate.sitting);
        if let (PortionSource::Food(food), Some(sitting)) = (&portion.source, sitting) {
            needs.entry(food).or_default().push(Need {
                at: sitting.leaves_fridge(),
                ap: Mass::ZERO,
                ep: portion.mass,
            });
        }
    }
    needs
}

/// When a batch first touches a food: its session, or for the driver the lead work before it.
fn starts(book: &Book<'_>, batch: &Batch, food: &FoodId) -> Option<DateTime> {
    let session = book.snapshot.session(&batch.session)?.from;
    let is_driver = book.way(batch).is_some_and(|way| way.driver == *food);
    let leads = book
        .plan
        .runs
        .iter()
        .flat_map(|run| &run.leads)
        .filter(|lead| is_driver && lead.batch == batch.id);
    leads
        .map(|lead| lead.at)
        .min()
        .map_or(Some(session), |lead| Some(lead.min(session)))
}
