//! What is in the house right now, to take from: first expired, first out.

use std::collections::BTreeMap;

use jiff::civil::DateTime;
use larderwright_model::{Account, BatchId, FoodId, Goods, LotId, Move, Place};
use larderwright_quantity::Mass;

use crate::lot::{Held, LotState};

/// Lots with something in them. Taking from it changes it, so that one deed never takes the same gram twice.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Stock {
    lots: BTreeMap<LotId, LotState>,
}

impl Stock {
    /// The stock of these lots.
    #[must_use]
    pub fn of(lots: impl IntoIterator<Item = LotState>) -> Self {
        let open = lots.into_iter().filter(LotState::is_open);
        Self {
            lots: open.map(|lot| (lot.lot.clone(), lot)).collect(),
        }
    }

    /// Every lot, by identifier.
    pub fn lots(&self) -> impl Iterator<Item = &LotState> {
        self.lots.values()
    }

    /// A lot that is in the house.
    #[must_use]
    pub fn lot(&self, id: &LotId) -> Option<&LotState> {
        self.lots.get(id)
    }

    /// The lots of some goods, the one to be used first first.
    #[must_use]
    pub fn of_goods(&self, goods: &Goods) -> Vec<&LotState> {
        let own = self.lots.values();
        let mut own: Vec<&LotState> = own
            .filter(|lot| lot.card.as_ref().is_some_and(|card| card.goods == *goods))
            .collect();
        own.sort_by_key(|lot| first_out(lot));
        own
    }

    /// How much of some goods is in the house.
    #[must_use]
    pub fn mass_of(&self, goods: &Goods) -> Mass {
        self.of_goods(goods).iter().map(|lot| lot.mass()).sum()
    }

    /// Takes a mass out of a lot, from the fridge before the freezer: no more than is there.
    pub fn take_lot(&mut self, lot: &LotId, mass: Mass, to: &Account) -> Vec<Move> {
        let Some(state) = self.lots.get_mut(lot) else {
            return Vec::new();
        };
        let mut left = mass;
        let mut moves = Vec::new();
        for (place, held) in &mut state.held {
            let part = left.min(held.mass);
            if part.is_positive() {
                let worth = held.worth_of(part);
                *held = Held {
                    mass: held.mass - part,
                    worth: held.worth - worth,
                };
                left -= part;
                moves.push(Move {
                    lot: lot.clone(),
                    from: Account::Place(*place),
                    to: to.clone(),
                    mass: part,
                    worth,
                });
            }
        }
        state.held.retain(|_, held| held.mass.is_positive());
        if !state.is_open() {
            self.lots.remove(lot);
        }
        moves
    }

    /// Takes a mass of a food, first expired first out. What is not there comes from nobody knows where, as the
    /// lot `shelf:` and the food: salt is rarely written down, and is in the pot all the same.
    pub fn take_food(&mut self, food: &FoodId, mass: Mass, to: &Account, price: Price) -> Vec<Move> {
        let goods = Goods::Food(food.clone());
        let lots: Vec<LotId> = self.of_goods(&goods).iter().map(|lot| lot.lot.clone()).collect();
        let mut left = mass;
        let mut moves = Vec::new();
        for lot in lots {
            if !left.is_positive() {
                break;
            }
            let taken = self.take_lot(&lot, left, to);
            left -= taken.iter().map(|step| step.mass).sum();
            moves.extend(taken);
        }
        if left.is_positive() {
            moves.push(Move {
                lot: shelf_lot(food),
                from: Account::Unaccounted,
                to: to.clone(),
                mass: left,
                worth: price.worth(left),
            });
        }
        moves
    }
}

/// The lot under which unwritten food of the shelf is taken.
#[must_use]
pub fn shelf_lot(food: &FoodId) -> LotId {
    LotId::new(&format!("shelf:{food}"))
}

/// The lot under which water from the tap is taken.
#[must_use]
pub fn tap_lot(food: &FoodId) -> LotId {
    LotId::new(&format!("tap:{food}"))
}

/// The lot under which the contents of a pot are booked before they are in boxes.
#[must_use]
pub fn pot_lot(batch: &BatchId) -> LotId {
    LotId::new(&format!("pot:{batch}"))
}

/// Whether a lot stands for the shelf, the tap or a pot: nobody ever labels those.
#[must_use]
pub fn is_internal(lot: &LotId) -> bool {
    ["shelf:", "tap:", "pot:"]
        .iter()
        .any(|prefix| lot.as_str().starts_with(prefix))
}

/// Fridge lots by date come first, what is frozen last.
fn first_out(lot: &LotState) -> (bool, Option<DateTime>, Option<DateTime>, LotId) {
    let frozen = lot.place() == Some(Place::Freezer);
    let use_by = lot.use_by();
    // A lot without a date keeps longer than one with a date.
    let far = DateTime::MAX;
    let made = lot.card.as_ref().map(|card| card.made);
    (frozen, Some(use_by.unwrap_or(far)), made, lot.lot.clone())
}

/// What a kilogram of a food is thought to cost, in thousandths of the smallest unit of money.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Price {
    /// Per kilogram.
    pub per_kg: i64,
}

impl Price {
    /// The worth of a mass.
    #[must_use]
    pub fn worth(self, mass: Mass) -> i64 {
        larderwright_quantity::mul_div(
            self.per_kg,
            mass.mg(),
            1_000_000,
            larderwright_quantity::Rounding::Nearest,
        )
    }
}
