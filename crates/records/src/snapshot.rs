//! The snapshot as it is written: everything a planning run depends on, versioned, hashed, without loss. Units as
//! in plans.

mod food;
mod home;
mod kitchen;
mod larder;
mod week;

use std::collections::BTreeMap;

use jiff::civil::{Date, DateTime};
use larderwright_model::{
    Component, ComponentId, EaterId, Food, FoodId, Household, Meal, MealId, Session, Shop, Sitting, Snapshot,
    StoredLot,
};
use larderwright_quantity::Permille;

use crate::error::RecordError;
use crate::wire::{Document, document, from_json, to_json, version};

/// The first version knew nothing of what is in the house already.
fn without_memory(mut value: serde_json::Value) -> serde_json::Value {
    if let Some(fields) = value.as_object_mut() {
        fields.insert("lots".into(), serde_json::json!([]));
        fields.insert("habits".into(), serde_json::json!({}));
        fields.insert("learnt".into(), serde_json::json!([]));
    }
    value
}

document! {
    /// Everything a planning run depends on.
    SnapshotRecord = Snapshot "snapshot" upgrades [without_memory] {
        /// Hash of the plan that the new one would replace.
        parent: Option<String>,
        /// When the plan is made, as local time.
        now: DateTime,
        /// Monday of the week.
        monday: Date,
        /// Version of the reference tables.
        tables: String,
        /// Seed of the searches.
        seed: u64,
        /// Work budget: moves of the menu search.
        menu_work: u64,
        /// Work budget: schedules generated for each session.
        session_work: u64,
        /// The household, its kitchen and its wishes.
        household: Household,
        /// Sittings by time.
        sittings: Vec<Sitting>,
        /// Sessions by time.
        sessions: Vec<Session>,
        /// Trips to the shop by time.
        shops: Vec<Shop>,
        /// Foods by identifier.
        foods: BTreeMap<FoodId, Food>,
        /// Components by identifier.
        components: BTreeMap<ComponentId, Component>,
        /// Meals by identifier.
        meals: BTreeMap<MealId, Meal>,
        /// Lots of components in the house, by use-by.
        lots: Vec<StoredLot>,
        /// How much each eater has eaten of what was planned, per thousand.
        habits: BTreeMap<EaterId, Permille>,
        /// What the household's own weeks have taught, a sentence each.
        learnt: Vec<String>,
        /// Meals eaten lately, most recent first.
        eaten_lately: Vec<MealId>,
    }
}

/// The version that this program writes; earlier ones are read too.
pub const SNAPSHOT_VERSION: u32 = version(<SnapshotRecord as Document>::UPGRADES);

/// The canonical text of a snapshot.
#[must_use]
pub fn snapshot_to_json(snapshot: &Snapshot) -> String {
    to_json(SnapshotRecord::from(snapshot))
}

/// The hash of a snapshot, by which a plan names what it was made from.
#[must_use]
pub fn snapshot_hash(snapshot: &Snapshot) -> String {
    SnapshotRecord::from(snapshot).hash
}

/// Reads a snapshot.
///
/// # Errors
/// When the text is no snapshot, of another version, or changed after it was written.
pub fn snapshot_from_json(text: &str) -> Result<Snapshot, RecordError> {
    from_json::<SnapshotRecord>(text).map(Snapshot::from)
}
