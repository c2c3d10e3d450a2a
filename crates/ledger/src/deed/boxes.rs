//! What happens to lots between cooking and eating.

use larderwright_model::{Account, Fact, Keep, LotCard, LotId, Move, Place, WasteReason};
use larderwright_quantity::Mass;

use super::Deed;
use crate::lot::LotState;
use crate::stock::Stock;

/// A lot with the dates that hold from now on; `None` leaves its label as it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Labelled<'a> {
    /// The lot as it is.
    pub lot: &'a LotState,
    /// Until when guidance lets it be eaten now.
    pub keep: Option<Keep>,
}

impl Labelled<'_> {
    /// The new label, where there is a new date.
    fn card(&self) -> Vec<LotCard> {
        let known = self.lot.card.iter().cloned();
        let keep = self.keep.clone();
        known
            .filter_map(|card| {
                keep.clone().map(|keep| LotCard {
                    keep: Some(keep),
                    ..card
                })
            })
            .collect()
    }
}

/// A lot changed its place.
#[must_use]
pub fn moved(labelled: &Labelled<'_>, to: Place) -> Deed {
    shifted(labelled, to, Fact::Moved)
}

/// A lot came out of the freezer.
#[must_use]
pub fn thawed(labelled: &Labelled<'_>) -> Deed {
    shifted(labelled, Place::Fridge, Fact::Thawed)
}

fn shifted(labelled: &Labelled<'_>, to: Place, fact: Fact) -> Deed {
    let moves = labelled.lot.held.iter().filter(|(place, _)| **place != to);
    let moves = moves.map(|(place, held)| Move {
        lot: labelled.lot.lot.clone(),
        from: Account::Place(*place),
        to: Account::Place(to),
        mass: held.mass,
        worth: held.worth,
    });
    Deed {
        moves: moves.collect(),
        cards: labelled.card(),
        ..Deed::of(fact)
    }
}

/// A lot stays where it is, with what happened to it and its new date.
fn noted(labelled: &Labelled<'_>, fact: Fact) -> Deed {
    Deed {
        cards: labelled.card(),
        ..Deed::of(fact)
    }
}

/// A pack was opened.
#[must_use]
pub fn opened(labelled: &Labelled<'_>) -> Deed {
    noted(
        labelled,
        Fact::Opened {
            lot: labelled.lot.lot.clone(),
        },
    )
}

/// A lot was warmed and put back.
#[must_use]
pub fn reheated(labelled: &Labelled<'_>) -> Deed {
    noted(
        labelled,
        Fact::Reheated {
            lot: labelled.lot.lot.clone(),
        },
    )
}

/// A lot stood out of the cold.
#[must_use]
pub fn left_out(labelled: &Labelled<'_>, minutes: i64) -> Deed {
    noted(
        labelled,
        Fact::LeftOut {
            lot: labelled.lot.lot.clone(),
            minutes,
        },
    )
}

/// Food was thrown away; what is beyond the lot's content comes from nobody knows where.
#[must_use]
pub fn discarded(stock: &mut Stock, lot: &LotId, mass: Mass, reason: WasteReason) -> Deed {
    Deed {
        moves: all_of(stock, lot, mass, &Account::Bin),
        ..Deed::of(Fact::Discarded { reason })
    }
}

/// Food was given away.
#[must_use]
pub fn given_away(stock: &mut Stock, lot: &LotId, mass: Mass, to: &str) -> Deed {
    Deed {
        moves: all_of(stock, lot, mass, &Account::Given),
        ..Deed::of(Fact::GivenAway { to: to.to_owned() })
    }
}

/// Takes what was said to be taken, even when the books say that there is less: a fact is never refused.
fn all_of(stock: &mut Stock, lot: &LotId, mass: Mass, to: &Account) -> Vec<Move> {
    let place = stock.lot(lot).and_then(LotState::place).unwrap_or(Place::Fridge);
    let mut moves = stock.take_lot(lot, mass, to);
    let taken: Mass = moves.iter().map(|step| step.mass).sum();
    let beyond = mass.saturating_sub(taken);
    if beyond.is_positive() {
        moves.push(Move {
            lot: lot.clone(),
            from: Account::Place(place),
            to: to.clone(),
            mass: beyond,
            worth: 0,
        });
    }
    moves
}
