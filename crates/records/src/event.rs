//! Events as they are written: one line of JSON each, versioned, without loss. A line carries no hash: an event is
//! named by its id, and what has been changed shows when it meets the same id elsewhere.

mod account;
mod fact;
mod lot;

use jiff::civil::{Date, DateTime};
use larderwright_model::{
    Account, BoxId, Clock, ComponentId, DeviceId, Event, EventId, Fact, FoodId, Goods, Keep, LotCard, LotId,
    MealId, Moment, Move,
};
use larderwright_quantity::Mass;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::error::RecordError;
use crate::wire::{Upgrade, Wire, record, upgraded, variants, version};

pub use fact::{KINDS, kind_word};
pub use lot::{lot_state_from_json, lot_state_to_json, tick_from_word, tick_word};

/// The steps from version to version, from the first one on.
const UPGRADES: &[Upgrade] = &[];

/// The version that this program writes; earlier ones are read too.
pub const EVENT_VERSION: u32 = version(UPGRADES);

/// Something that happened, as it was reported. Masses are milligrams, temperatures tenths of a degree Celsius, worth
/// thousandths of the smallest unit of money.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct EventRecord {
    /// Version of this format.
    v: u32,
    /// Made on the device, final.
    id: String,
    /// Its place in the order of all events.
    clock: ClockRecord,
    /// When it happened.
    moment: MomentRecord,
    /// Who reported it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    by: String,
    /// Hash of the plan that was current then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    plan: Option<String>,
    /// The event that this one takes the place of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    corrects: Option<String>,
    /// What happened.
    fact: <Fact as Wire>::Record,
    /// Lots made or labelled anew.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    cards: Vec<LotCardRecord>,
    /// Masses that moved.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    moves: Vec<MoveRecord>,
}

record! {
    /// A hybrid logical clock: milliseconds since 1970 in UTC, a count within one of them, the device.
    ClockRecord = Clock { wall_ms: i64, count: u32, device: DeviceId }
}

record! {
    /// Local date and time, the seconds it was ahead of UTC, the IANA zone.
    MomentRecord = Moment { at: DateTime, offset_s: i32, zone: String }
}

variants! {
    /// What a lot consists of.
    GoodsRecord = Goods { Food(food: FoodId), Component(component: ComponentId), Dish(meal: MealId) }
}

record! {
    /// What is written on a lot's label.
    LotCardRecord = LotCard {
        lot: LotId,
        goods: Goods,
        made: DateTime,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        keep: Option<Keep>,
        /// The date printed on the pack.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        printed: Option<Date>,
        #[serde(default, skip_serializing_if = "String::is_empty")]
        pack: String,
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        boxes: Vec<(BoxId, u32)>,
    }
}

record! {
    /// A mass of one lot that goes from one account to another.
    MoveRecord = Move {
        lot: LotId,
        from: Account,
        to: Account,
        #[serde(rename = "mg")]
        mass: Mass,
        /// Thousandths of the smallest unit of money.
        #[serde(default, skip_serializing_if = "is_nothing")]
        worth: i64,
    }
}

#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "the derive hands over a reference"
)]
fn is_nothing(worth: &i64) -> bool {
    *worth == 0
}

fn to_record(event: &Event) -> EventRecord {
    let Event {
        id,
        clock,
        moment,
        by,
        plan,
        corrects,
        cards,
        moves,
        fact,
    } = event;
    EventRecord {
        v: EVENT_VERSION,
        id: id.to_record(),
        clock: clock.to_record(),
        moment: moment.to_record(),
        by: by.clone(),
        plan: plan.clone(),
        corrects: corrects.to_record(),
        fact: fact.to_record(),
        cards: cards.to_record(),
        moves: moves.to_record(),
    }
}

fn from_record(record: EventRecord) -> Event {
    let EventRecord {
        v: _,
        id,
        clock,
        moment,
        by,
        plan,
        corrects,
        fact,
        cards,
        moves,
    } = record;
    Event {
        id: EventId::from_record(id),
        clock: Clock::from_record(clock),
        moment: Moment::from_record(moment),
        by,
        plan,
        corrects: Option::from_record(corrects),
        cards: Vec::from_record(cards),
        moves: Vec::from_record(moves),
        fact: Fact::from_record(fact),
    }
}

/// The canonical line of an event, without a line break.
#[must_use]
pub fn event_to_json(event: &Event) -> String {
    line(&to_record(event))
}

/// Reads an event.
///
/// # Errors
/// When the text is no event, or of a later version.
pub fn event_from_json(text: &str) -> Result<Event, RecordError> {
    const WHAT: &str = "event";
    let malformed = |cause| RecordError::Malformed { what: WHAT, cause };
    let found = head_version(text).map_err(malformed)?;
    if found == EVENT_VERSION {
        return serde_json::from_str(text).map(from_record).map_err(malformed);
    }
    if found == 0 || found > EVENT_VERSION {
        return Err(RecordError::Version {
            what: WHAT,
            found,
            known: EVENT_VERSION,
        });
    }
    let older: Value = serde_json::from_str(text).map_err(malformed)?;
    serde_json::from_value(upgraded(older, found, UPGRADES))
        .map(from_record)
        .map_err(malformed)
}

fn head_version(text: &str) -> Result<u32, serde_json::Error> {
    #[derive(Deserialize)]
    struct Head {
        v: u32,
    }
    serde_json::from_str(text).map(|Head { v }| v)
}

fn line(record: &impl Serialize) -> String {
    serde_json::to_string(record).expect("records hold text keys and whole numbers only")
}
