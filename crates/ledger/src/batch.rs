//! A batch's state: what went into the pot, what came out, how it was cooled.

use larderwright_model::{Account, BatchId, CookedFact, Event, Fact, Reading};
use larderwright_quantity::Mass;

use crate::lot::Held;

/// What is known of a batch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BatchState {
    /// Which batch.
    pub batch: BatchId,
    /// How it was cooked, as last told; `None` while nobody has said.
    pub cooked: Option<CookedFact>,
    /// What is still in the pot: nothing once everything is stored. Negative when more came out than went in.
    pub in_pot: Held,
    /// The worth of everything that went in.
    pub cost: i64,
    /// Every look at the thermometer, in the order of time.
    pub readings: Vec<Reading>,
}

/// Folds the events that touch a batch; they have to be those that count, in the order of their clocks.
#[must_use]
pub fn batch_state<'a>(batch: &BatchId, events: impl IntoIterator<Item = &'a Event>) -> BatchState {
    let mut state = BatchState {
        batch: batch.clone(),
        cooked: None,
        in_pot: Held::default(),
        cost: 0,
        readings: Vec::new(),
    };
    let own = Account::Batch(batch.clone());
    for event in events {
        for step in &event.moves {
            for (account, sign) in [(&step.from, -1), (&step.to, 1)] {
                if *account == own {
                    state.in_pot.mass += Mass::from_mg(sign * step.mass.mg());
                    state.in_pot.worth += sign * step.worth;
                }
            }
            if step.to == own {
                state.cost += step.worth;
            }
        }
        match &event.fact {
            Fact::Cooked(cooked) if cooked.batch == *batch => state.cooked = Some(cooked.clone()),
            Fact::Cooled {
                batch: other,
                readings,
            } if other == batch => {
                state.readings.extend(readings.iter().cloned());
            }
            _ => {}
        }
    }
    state.readings.sort_by_key(|reading| reading.at);
    state
}
