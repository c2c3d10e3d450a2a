//! Shopping: packs become lots.

use jiff::civil::{Date, DateTime};
use larderwright_model::{
    Account, EventId, Fact, FoodId, Goods, Keep, LotCard, LotId, Move, Place, Reported, ShopId,
};
use larderwright_quantity::{Mass, Money};

use super::Deed;

/// Packs of one food, bought together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Purchase {
    /// The lot they become.
    pub lot: LotId,
    /// What.
    pub food: FoodId,
    /// The pack's label.
    pub pack: String,
    /// Mass of one pack.
    pub pack_mass: Mass,
    /// How many.
    pub count: i64,
    /// What they cost together, where somebody said so.
    pub price: Option<Money>,
    /// What they probably cost together.
    pub estimate: Money,
    /// On which trip of the plan.
    pub trip: Option<ShopId>,
    /// The date printed on the pack.
    pub printed: Option<Date>,
    /// When.
    pub at: DateTime,
    /// Where they are put.
    pub place: Place,
    /// Until when guidance lets it be eaten unopened.
    pub keep: Option<Keep>,
    /// Whether somebody reported it.
    pub reported: Reported,
}

/// The identifier of buying one line of an order, which is bought once however many people tick it.
#[must_use]
pub fn bought_id(trip: &ShopId, food: &FoodId, pack: &str) -> EventId {
    EventId::new(&format!("bought:{trip}:{food}:{pack}"))
}

/// Packs were bought.
#[must_use]
pub fn bought(purchase: Purchase) -> Deed {
    let price = purchase.price.unwrap_or(purchase.estimate);
    let card = LotCard {
        lot: purchase.lot.clone(),
        goods: Goods::Food(purchase.food),
        made: purchase.at,
        keep: purchase.keep,
        printed: purchase.printed,
        pack: format!("{} × {}", purchase.count, purchase.pack),
        boxes: Vec::new(),
    };
    let step = Move {
        lot: purchase.lot,
        from: Account::Shop,
        to: Account::Place(purchase.place),
        mass: purchase.pack_mass.times(purchase.count),
        worth: price.minor() * 1000,
    };
    Deed {
        cards: vec![card],
        moves: vec![step],
        ..Deed::of(Fact::Bought {
            trip: purchase.trip,
            count: purchase.count,
            price: purchase.price,
            reported: purchase.reported,
        })
    }
}

/// The total of a receipt.
#[must_use]
pub fn receipt(trip: Option<ShopId>, total: Money) -> Deed {
    Deed::of(Fact::Receipt { trip, total })
}
