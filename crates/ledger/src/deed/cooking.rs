//! Cooking: foods go into a pot, something else comes out, and goes into boxes.

use std::collections::BTreeMap;

use larderwright_model::{
    Account, Batch, BatchId, CookedFact, Fact, FoodId, Goods, Keep, LotCard, LotId, Move, Place, Reading,
    Reported,
};
use larderwright_quantity::{Mass, Rounding, mul_div};

use super::Deed;
use crate::lot::Held;
use crate::stock::{Price, Stock, pot_lot, tap_lot};

/// What goes into a pot and what it is thought to cost.
pub struct BatchInputs<'a> {
    /// The batch as planned.
    pub batch: &'a Batch,
    /// Prices of foods that nobody wrote down.
    pub price: &'a dyn Fn(&FoodId) -> Price,
    /// Whether a food comes from the tap.
    pub is_tap: &'a dyn Fn(&FoodId) -> bool,
}

/// A batch was cooked: its inputs leave the shelves, trim is thrown away, and what cooking adds or takes is booked
/// so that the pot holds the output.
///
/// The output is weighed, read from the boxes, or expected; the change is what is missing from the inputs to it.
#[must_use]
pub fn cooked(stock: &mut Stock, inputs: &BatchInputs<'_>, fact: CookedFact) -> Deed {
    let pot = Account::Batch(fact.batch.clone());
    let (mut moves, went_in) = into_pot(stock, inputs, &pot);
    moves.extend(change(&fact, went_in, &pot));
    moves.retain(|step| step.mass.is_positive());
    Deed {
        moves,
        ..Deed::of(Fact::Cooked(fact))
    }
}

/// A batch was burnt or spilled: its inputs left the shelves and were thrown away with the pot's contents.
#[must_use]
pub fn lost(stock: &mut Stock, inputs: &BatchInputs<'_>, fact: CookedFact) -> Deed {
    let pot = Account::Batch(fact.batch.clone());
    let (mut moves, _) = into_pot(stock, inputs, &pot);
    let mut inside: BTreeMap<LotId, Held> = BTreeMap::new();
    for step in &moves {
        let sign = if step.to == pot { 1 } else { -1 };
        let held = inside.entry(step.lot.clone()).or_default();
        held.mass += Mass::from_mg(sign * step.mass.mg());
        held.worth += sign * step.worth;
    }
    moves.extend(inside.into_iter().map(|(lot, held)| Move {
        lot,
        from: pot.clone(),
        to: Account::Bin,
        mass: held.mass,
        worth: held.worth,
    }));
    moves.retain(|step| step.mass.is_positive());
    Deed {
        moves,
        ..Deed::of(Fact::Cooked(fact))
    }
}

/// A batch was not cooked after all: what it wanted stays on the shelves.
#[must_use]
pub fn not_cooked(fact: CookedFact) -> Deed {
    Deed::of(Fact::Cooked(CookedFact {
        output: Mass::ZERO,
        reported: Reported::Skipped,
        ..fact
    }))
}

/// What a batch takes from the shelves, less what is trimmed off, and the mass that is in the pot then.
fn into_pot(stock: &mut Stock, inputs: &BatchInputs<'_>, pot: &Account) -> (Vec<Move>, Mass) {
    let mut moves = Vec::new();
    let mut went_in = Mass::ZERO;
    for input in &inputs.batch.inputs {
        let taken = if (inputs.is_tap)(&input.food) {
            vec![Move {
                lot: tap_lot(&input.food),
                from: Account::Shop,
                to: pot.clone(),
                mass: input.ap,
                worth: 0,
            }]
        } else {
            stock.take_food(&input.food, input.ap, pot, (inputs.price)(&input.food))
        };
        moves.extend(trimmed(&taken, input.ap - input.ep, pot));
        moves.extend(taken);
        went_in += input.ep;
    }
    (moves, went_in)
}

/// Peel and bones, out of the last lots taken. They carry no worth: what they cost is in the pot.
fn trimmed(taken: &[Move], trim: Mass, pot: &Account) -> Vec<Move> {
    let mut left = trim;
    let mut moves = Vec::new();
    for step in taken.iter().rev() {
        let part = left.min(step.mass);
        if part.is_positive() {
            left -= part;
            moves.push(Move {
                lot: step.lot.clone(),
                from: pot.clone(),
                to: Account::Trim,
                mass: part,
                worth: 0,
            });
        }
    }
    moves
}

fn change(fact: &CookedFact, went_in: Mass, pot: &Account) -> Option<Move> {
    let lot = pot_lot(&fact.batch);
    let (from, to, mass) = if fact.output > went_in {
        (Account::CookingChange, pot.clone(), fact.output - went_in)
    } else {
        (pot.clone(), Account::CookingChange, went_in - fact.output)
    };
    mass.is_positive().then_some(Move {
        lot,
        from,
        to,
        mass,
        worth: 0,
    })
}

/// A batch was cooled.
#[must_use]
pub fn cooled(batch: &BatchId, readings: Vec<Reading>) -> Deed {
    Deed::of(Fact::Cooled {
        batch: batch.clone(),
        readings,
    })
}

/// One lot of a batch, as it goes into boxes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Boxed {
    /// The lot.
    pub lot: LotId,
    /// Where it goes.
    pub place: Place,
    /// Its share of the batch: the mass that was planned.
    pub planned: Mass,
    /// What the scale said, where somebody weighed this lot.
    pub weighed: Option<Mass>,
    /// Boxes by kind and count.
    pub boxes: Vec<(larderwright_model::BoxId, u32)>,
    /// When cooking ended.
    pub made: jiff::civil::DateTime,
    /// Until when guidance lets it be eaten there.
    pub keep: Option<Keep>,
}

/// What is in a pot goes into boxes: weighed lots as weighed, the rest in the proportion that was planned, to the
/// last milligram. When the yield is short the later lots are short.
#[must_use]
pub fn stored(batch: &larderwright_model::Batch, in_pot: Held, lots: Vec<Boxed>) -> Deed {
    let masses = shares(in_pot.mass, &lots);
    let mut left = in_pot;
    let mut deed = Deed::of(Fact::Stored {
        batch: batch.id.clone(),
    });
    for (boxed, mass) in lots.into_iter().zip(masses) {
        let worth = left.worth_of(mass);
        left = Held {
            mass: left.mass - mass,
            worth: left.worth - worth,
        };
        if mass.is_positive() {
            deed.moves.push(Move {
                lot: boxed.lot.clone(),
                from: Account::Batch(batch.id.clone()),
                to: Account::Place(boxed.place),
                mass,
                worth,
            });
        }
        deed.cards.push(LotCard {
            lot: boxed.lot,
            goods: Goods::Component(batch.component.clone()),
            made: boxed.made,
            keep: boxed.keep,
            printed: None,
            pack: String::new(),
            boxes: boxed.boxes,
        });
    }
    deed
}

/// Divides what is there. Weighed lots come first; of the others each gets its planned mass until nothing is left
/// when there is too little, and its proportion when there is more.
fn shares(there: Mass, lots: &[Boxed]) -> Vec<Mass> {
    let weighed: Mass = lots.iter().filter_map(|boxed| boxed.weighed).sum();
    let open: Mass = lots
        .iter()
        .filter(|boxed| boxed.weighed.is_none())
        .map(|boxed| boxed.planned)
        .sum();
    let mut rest = there.saturating_sub(weighed);
    let mut planned_left = open;
    lots.iter()
        .map(|boxed| match boxed.weighed {
            Some(mass) => mass,
            None => {
                let fair = mul_div(
                    rest.mg(),
                    boxed.planned.mg(),
                    planned_left.mg().max(1),
                    Rounding::Nearest,
                );
                let mass = if rest < planned_left {
                    boxed.planned.min(rest)
                } else {
                    Mass::from_mg(fair).min(rest)
                };
                rest -= mass;
                planned_left -= boxed.planned;
                mass
            }
        })
        .collect()
}
