//! The price book: what the household last paid.

use std::collections::BTreeMap;

use jiff::civil::Date;
use larderwright_model::{Event, Fact, FoodId, Goods};
use larderwright_quantity::{Mass, Money, Rounding};

/// What was paid for a pack of a food.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Paid {
    /// The food.
    pub food: FoodId,
    /// The pack's label.
    pub pack: String,
    /// Mass of one pack.
    pub pack_mass: Mass,
    /// Price of one pack.
    pub price: Money,
    /// When.
    pub on: Date,
}

/// Every price that somebody wrote down, by food and date; of one food, pack and date the last.
///
/// The events have to be those that count, in the order of their clocks.
#[must_use]
pub fn paid<'a>(events: impl IntoIterator<Item = &'a Event>) -> Vec<Paid> {
    let mut book: BTreeMap<(FoodId, Date, String), Paid> = BTreeMap::new();
    for paid in events.into_iter().filter_map(of_event) {
        book.insert((paid.food.clone(), paid.on, paid.pack.clone()), paid);
    }
    book.into_values().collect()
}

/// The latest price of each food and pack.
#[must_use]
pub fn latest(book: &[Paid]) -> Vec<&Paid> {
    let mut last: BTreeMap<(&FoodId, &str), &Paid> = BTreeMap::new();
    for paid in book {
        let slot = last.entry((&paid.food, &paid.pack)).or_insert(paid);
        if paid.on >= slot.on {
            *slot = paid;
        }
    }
    last.into_values().collect()
}

fn of_event(event: &Event) -> Option<Paid> {
    let Fact::Bought {
        count,
        price: Some(price),
        ..
    } = &event.fact
    else {
        return None;
    };
    let card = event.cards.first()?;
    let Goods::Food(food) = &card.goods else {
        return None;
    };
    let total: Mass = event.moves.iter().map(|step| step.mass).sum();
    let count = (*count).max(1);
    let pack = card
        .pack
        .split_once(" × ")
        .map_or(card.pack.as_str(), |(_, pack)| pack);
    Some(Paid {
        food: food.clone(),
        pack: pack.to_owned(),
        pack_mass: total.scale(1, count, Rounding::Nearest),
        price: price.scale(1, count, Rounding::Nearest),
        on: event.moment.at.date(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample::{card, event, moved};
    use larderwright_model::{Account, Place, Reported};

    fn bought(id: &str, at: i64, count: i64, price: i64) -> Event {
        Event {
            cards: vec![larderwright_model::LotCard {
                pack: format!("{count} × 500 g"),
                ..card(id)
            }],
            moves: vec![moved(
                id,
                Account::Shop,
                Account::Place(Place::Cupboard),
                500 * count,
            )],
            fact: Fact::Bought {
                trip: None,
                count,
                price: Some(Money::from_minor(price)),
                reported: Reported::Told,
            },
            ..event(id, at, None)
        }
    }

    #[test]
    fn the_last_price_of_a_pack_counts() {
        let events = [bought("a", 1, 2, 400), bought("b", 2, 1, 250)];
        let book = paid(&events);
        let last = latest(&book);
        assert_eq!(last.len(), 1);
        assert_eq!(
            (last[0].price, last[0].pack_mass),
            (Money::from_minor(250), Mass::from_g(500))
        );
    }
}
