//! The books: the whole ledger folded at once, and what does not add up in it.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_model::{Account, BatchId, Event, Fact, FoodId, LotId, StockState};
use larderwright_quantity::Mass;

use crate::batch::{BatchState, batch_state};
use crate::effective::effective;
use crate::lot::{Held, LotState, lot_state};
use crate::stock::is_internal;
use crate::subject::{Subject, subjects};

/// Every lot, batch and tick.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Books {
    /// Lots, those used up too.
    pub lots: BTreeMap<LotId, LotState>,
    /// Batches.
    pub batches: BTreeMap<BatchId, BatchState>,
    /// What the tick list says of foods without an amount; `None`: none left.
    pub ticks: BTreeMap<FoodId, Option<StockState>>,
}

impl Books {
    /// Folds events, in any order and with repetitions.
    #[must_use]
    pub fn of<'a>(events: impl IntoIterator<Item = &'a Event>) -> Self {
        let counting = effective(events);
        let mut about: BTreeMap<Subject, Vec<&Event>> = BTreeMap::new();
        for event in &counting {
            for subject in subjects(event) {
                about.entry(subject).or_default().push(event);
            }
        }
        let mut books = Self::default();
        for (subject, events) in about {
            match subject {
                Subject::Lot(lot) => {
                    let state = lot_state(&lot, events);
                    books.lots.insert(lot, state);
                }
                Subject::Batch(batch) => {
                    let state = batch_state(&batch, events);
                    books.batches.insert(batch, state);
                }
                Subject::Tick(food) => {
                    if let Some(state) = tick_of(&food, events) {
                        books.ticks.insert(food, state);
                    }
                }
                Subject::Sitting(_) | Subject::Trip(_) | Subject::Session(_) => {}
            }
        }
        books
    }

    /// Everything that ever went to an account, less what came from it.
    #[must_use]
    pub fn balance(&self, account: &Account) -> Held {
        let all = self.lots.values().filter_map(|lot| lot.outside.get(account));
        all.fold(Held::default(), |sum, held| Held {
            mass: sum.mass + held.mass,
            worth: sum.worth + held.worth,
        })
    }

    /// What is in the house.
    #[must_use]
    pub fn in_house(&self) -> Mass {
        self.lots.values().map(LotState::mass).sum()
    }

    /// What does not add up.
    #[must_use]
    pub fn oddities(&self) -> Vec<Oddity> {
        let lots = self.lots.values().flat_map(|lot| {
            let overdrawn = lot.overdrawn.is_positive().then(|| Oddity::Overdrawn {
                lot: lot.lot.clone(),
                mass: lot.overdrawn,
            });
            let strayed = lot.strayed.is_positive().then(|| Oddity::Strayed {
                lot: lot.lot.clone(),
                mass: lot.strayed,
            });
            let unlabelled = (lot.card.is_none() && !is_internal(&lot.lot))
                .then(|| Oddity::Unlabelled { lot: lot.lot.clone() });
            [overdrawn, strayed, unlabelled].into_iter().flatten()
        });
        let batches = self
            .batches
            .values()
            .filter(|batch| batch.in_pot.mass < Mass::ZERO);
        let pots = batches.map(|batch| Oddity::PotOverdrawn {
            batch: batch.batch.clone(),
            mass: Mass::ZERO - batch.in_pot.mass,
        });
        lots.chain(pots).collect()
    }
}

/// What the tick list says last.
#[must_use]
pub fn tick_of<'a>(food: &FoodId, events: impl IntoIterator<Item = &'a Event>) -> Option<Option<StockState>> {
    let told = events.into_iter().filter_map(|event| match &event.fact {
        Fact::Ticked { food: other, state } if other == food => Some(*state),
        _ => None,
    });
    told.last()
}

/// Something that does not add up: a finding, never a refusal.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Oddity {
    /// More was taken from a lot than ever came in.
    Overdrawn {
        /// Which lot.
        lot: LotId,
        /// How much too much.
        mass: Mass,
    },
    /// Some was taken from where it was not; it was in another place.
    Strayed {
        /// Which lot.
        lot: LotId,
        /// How much.
        mass: Mass,
    },
    /// Nobody has said what the lot is.
    Unlabelled {
        /// Which lot.
        lot: LotId,
    },
    /// More came out of a pot than went in.
    PotOverdrawn {
        /// Which batch.
        batch: BatchId,
        /// How much too much.
        mass: Mass,
    },
}

impl Oddity {
    /// In the words of the kitchen.
    #[must_use]
    pub fn message(&self) -> String {
        let grams = |mass: &Mass| mass.g(larderwright_quantity::Rounding::Nearest);
        match self {
            Self::Overdrawn { lot, mass } => {
                format!("{} g more of `{lot}` was taken than was ever there", grams(mass))
            }
            Self::Strayed { lot, mass } => {
                format!(
                    "{} g of `{lot}` was taken from where it was not; it must have been moved",
                    grams(mass)
                )
            }
            Self::Unlabelled { lot } => format!("nobody has said what `{lot}` is"),
            Self::PotOverdrawn { batch, mass } => {
                format!("{} g more came out of `{batch}` than went in", grams(mass))
            }
        }
    }
}

/// The lots that a set of events touches.
#[must_use]
pub fn lots_of<'a>(events: impl IntoIterator<Item = &'a Event>) -> BTreeSet<LotId> {
    let all = events.into_iter().flat_map(subjects);
    all.filter_map(|subject| match subject {
        Subject::Lot(lot) => Some(lot),
        _ => None,
    })
    .collect()
}
