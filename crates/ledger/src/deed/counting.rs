//! Counting: what is really there. The difference is unaccounted for; nobody is asked where it went.

use larderwright_model::{Account, Fact, FoodId, LotCard, LotId, Move, Place, StockState};
use larderwright_quantity::{Mass, Rounding, mul_div};

use super::Deed;
use crate::lot::LotState;

/// What a look into a box says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Found {
    /// It is there.
    There,
    /// About half of it is there.
    Half,
    /// It is gone.
    Gone,
}

/// How far the books may be off before a look corrects them, per thousand of what was packed.
const ROUGH: i64 = 250;

/// A lot was weighed or counted.
#[must_use]
pub fn counted(lot: &LotState, found: Mass) -> Deed {
    Deed {
        moves: to_mass(lot, found),
        ..Deed::of(Fact::Counted)
    }
}

/// A lot that nobody knew of was found: it is there from now on.
#[must_use]
pub fn found_new(card: LotCard, place: Place, mass: Mass, worth: i64) -> Deed {
    let step = Move {
        lot: card.lot.clone(),
        from: Account::Unaccounted,
        to: Account::Place(place),
        mass,
        worth,
    };
    Deed {
        cards: vec![card],
        moves: vec![step],
        ..Deed::of(Fact::Counted)
    }
}

/// A look into fridge and freezer. *There* leaves the books as they are unless they say that nothing is left;
/// *half* corrects them only when they are off by more than a quarter of what was packed.
#[must_use]
pub fn checked(looks: &[(&LotState, Found)]) -> Deed {
    let moves = looks.iter().flat_map(|(lot, found)| match found {
        Found::There if lot.is_open() => Vec::new(),
        Found::There => to_mass(lot, lot.packed),
        Found::Gone => to_mass(lot, Mass::ZERO),
        Found::Half => {
            let half = mul_div(lot.packed.mg(), 1, 2, Rounding::Nearest);
            let rough = mul_div(lot.packed.mg(), ROUGH, 1000, Rounding::Up);
            if (lot.mass().mg() - half).abs() <= rough && lot.is_open() {
                Vec::new()
            } else {
                to_mass(lot, Mass::from_mg(half))
            }
        }
    });
    Deed {
        moves: moves.collect(),
        ..Deed::of(Fact::Checked)
    }
}

/// A food was ticked on the list of what is at home.
#[must_use]
pub fn ticked(food: &FoodId, state: Option<StockState>) -> Deed {
    Deed::of(Fact::Ticked {
        food: food.clone(),
        state,
    })
}

/// Moves that bring a lot to a mass: what is too much goes, last place first; what is missing comes.
fn to_mass(lot: &LotState, found: Mass) -> Vec<Move> {
    let known = lot.mass();
    let step = |lot: &LotId, from, to, mass, worth| Move {
        lot: lot.clone(),
        from,
        to,
        mass,
        worth,
    };
    if found > known {
        let place = lot.place().unwrap_or(Place::Fridge);
        let more = found - known;
        let worth = mul_div(lot.worth(), more.mg(), known.mg().max(1), Rounding::Nearest);
        let worth = if known.is_positive() { worth } else { 0 };
        return vec![step(
            &lot.lot,
            Account::Unaccounted,
            Account::Place(place),
            more,
            worth,
        )];
    }
    let mut less = known - found;
    let mut moves = Vec::new();
    for (place, held) in lot.held.iter().rev() {
        let part = less.min(held.mass);
        if part.is_positive() {
            less -= part;
            let worth = held.worth_of(part);
            moves.push(step(
                &lot.lot,
                Account::Place(*place),
                Account::Unaccounted,
                part,
                worth,
            ));
        }
    }
    moves
}
