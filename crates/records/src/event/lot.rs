//! The fold of a lot, and of the tick list, as a store keeps them beside the events. They are derived: a store that
//! cannot read one folds the events again, so they carry no version of their own.

use std::collections::BTreeMap;

use jiff::civil::DateTime;
use larderwright_ledger::{Held, LotState};
use larderwright_model::{Account, LotCard, LotId, Place, StockState};
use larderwright_quantity::Mass;

use crate::error::RecordError;
use crate::wire::{Wire, record};

record! {
    /// A mass with its worth in thousandths of the smallest unit of money.
    HeldRecord = Held {
        #[serde(rename = "mg")]
        mass: Mass,
        worth: i64,
    }
}

record! {
    /// What is known of a lot.
    LotStateRecord = LotState {
        lot: LotId,
        card: Option<LotCard>,
        held: BTreeMap<Place, Held>,
        outside: BTreeMap<Account, Held>,
        #[serde(rename = "overdrawn_mg")]
        overdrawn: Mass,
        #[serde(rename = "strayed_mg")]
        strayed: Mass,
        #[serde(rename = "packed_mg")]
        packed: Mass,
        opened: Option<DateTime>,
        thawed: Option<DateTime>,
        reheats: u32,
        out_minutes: i64,
        events: u32,
    }
}

/// The line of a lot's state.
#[must_use]
pub fn lot_state_to_json(state: &LotState) -> String {
    super::line(&state.to_record())
}

/// Reads a lot's state.
///
/// # Errors
/// When the text is no such state.
pub fn lot_state_from_json(text: &str) -> Result<LotState, RecordError> {
    let record = serde_json::from_str(text);
    record
        .map(LotState::from_record)
        .map_err(|cause| RecordError::Malformed {
            what: "state of a lot",
            cause,
        })
}

/// What the tick list says of a food, as JSON; `null` when none is left.
#[must_use]
pub fn tick_word(state: Option<StockState>) -> String {
    super::line(&state.to_record())
}

/// Reads what the tick list says of a food.
///
/// # Errors
/// When the text is no such state.
pub fn tick_from_word(text: &str) -> Result<Option<StockState>, RecordError> {
    let record = serde_json::from_str(text);
    record
        .map(Option::from_record)
        .map_err(|cause| RecordError::Malformed {
            what: "state of a food",
            cause,
        })
}
