//! The order: packs that exist at their price, home in time, for a purpose, with labels to read.

mod label;
mod time;

use larderwright_model::{FoodId, OrderLine, PortionSource, Purpose, StockState};
use larderwright_quantity::{Mass, Money};

use crate::book::Book;
use crate::notes::Notes;
use crate::rules;

pub(crate) fn check(book: &Book<'_>, notes: &mut Notes) {
    for line in &book.plan.order.lines {
        pack(book, line, notes);
        for purpose in &line.purposes {
            if !needs(book, purpose, &line.food) {
                notes
                    .say(
                        &rules::ORDER_PURPOSE,
                        &line.food,
                        "the line is for something that does not need it",
                    )
                    .evidence = format!("{purpose:?}");
            }
        }
        if line.purposes.is_empty() {
            notes.say(
                &rules::ORDER_PURPOSE,
                &line.food,
                "the line does not say what it is for",
            );
        }
        label::check(book, line, notes);
    }
    time::check(book, notes);
    stock(book, notes);
    budget(book, notes);
}

fn pack(book: &Book<'_>, line: &OrderLine, notes: &mut Notes) {
    let Some(food) = book.food(&line.food) else { return };
    let pack = food
        .packs
        .iter()
        .find(|pack| pack.size.label == line.pack && pack.size.mass == line.pack_mass);
    let Some(pack) = pack.filter(|_| line.count > 0 && line.department == food.department) else {
        notes
            .say(
                &rules::ORDER_PACK,
                &line.food,
                format!("no shop sells `{}` like this", line.pack),
            )
            .evidence = format!("{} packs of {} mg", line.count, line.pack_mass.mg());
        return;
    };
    let due = pack.price.times(line.count);
    if line.price != due || line.basis != pack.basis {
        notes
            .say(
                &rules::ORDER_PRICE,
                &line.food,
                "the price is not that of the packs",
            )
            .evidence = format!("stated {}, by pack {}", line.price.minor(), due.minor());
    }
}

fn needs(book: &Book<'_>, purpose: &Purpose, food: &FoodId) -> bool {
    let household = &book.snapshot.household;
    match purpose {
        Purpose::Batch(id) => book.batch(id).is_none_or(|batch| {
            batch
                .inputs
                .iter()
                .any(|input| input.food == *food && input.ap.is_positive())
        }),
        Purpose::Sitting(id) => book.portions().any(|(plate, portion)| {
            plate.sitting == *id && portion.source == PortionSource::Food(food.clone())
        }),
        Purpose::Par => household.pars.iter().any(|par| par.food == *food),
        Purpose::Standing => household.standing.iter().any(|item| item.food == *food),
    }
}

/// An amount vouches for itself; `have` for a pack of the largest size; `low` for nothing.
fn stock(book: &Book<'_>, notes: &mut Notes) {
    let mut foods: Vec<&FoodId> = book
        .plan
        .order
        .from_stock
        .iter()
        .map(|stock| &stock.food)
        .collect();
    foods.sort_unstable();
    foods.dedup();
    foods.retain(|id| book.food(id).is_some());
    for id in foods {
        let taken: Mass = book
            .plan
            .order
            .from_stock
            .iter()
            .filter(|stock| stock.food == *id)
            .map(|stock| stock.mass)
            .sum();
        let listed = book.snapshot.household.stock.iter().find(|item| item.food == *id);
        let most = match listed.map(|item| item.state) {
            Some(StockState::Amount(mass)) => mass,
            Some(StockState::Have) => usual_pack(book, id).unwrap_or(taken),
            Some(StockState::Low) | None => Mass::ZERO,
        };
        if taken > most || taken < Mass::ZERO {
            notes
                .say(
                    &rules::ORDER_STOCK,
                    id,
                    "more is taken from home than the list vouches for",
                )
                .evidence = format!("{} mg of {} mg", taken.mg(), most.mg());
        }
    }
}

fn usual_pack(book: &Book<'_>, food: &FoodId) -> Option<Mass> {
    book.food(food)?.packs.iter().map(|pack| pack.size.mass).max()
}

fn budget(book: &Book<'_>, notes: &mut Notes) {
    let Some(budget) = book.snapshot.household.wishes.budget else {
        return;
    };
    let total: Money = book.plan.order.lines.iter().map(|line| line.price).sum();
    if total > budget {
        notes
            .say(
                &rules::ORDER_BUDGET,
                book.plan.monday,
                "the order costs more than the budget",
            )
            .evidence = format!("{} of {}", total.minor(), budget.minor());
    }
}
