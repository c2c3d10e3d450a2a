//! Everything in a store as a folder of open texts, and back into an empty store without loss.
//!
//! The folder holds `manifest.json` with the counts; `events.jsonl`, one event a line as it was sent, with its number,
//! the time of its arrival, and the clock in force where its own was replaced; `plans.jsonl` and `choices.jsonl`; the
//! texts of plans and snapshots under `plans/` and `snapshots/`, named by their hashes; `documents.jsonl` and every
//! version of every document under `documents/`. What is derived is not written, nor which device the store is.

mod read;
mod write;

use serde::{Deserialize, Serialize};

pub use read::import;
pub use write::export;

const MANIFEST: &str = "manifest.json";
const EVENTS: &str = "events.jsonl";
const PLANS: &str = "plans.jsonl";
const CHOICES: &str = "choices.jsonl";
const DOCUMENTS: &str = "documents.jsonl";

/// What the folder says it is.
const WHAT: &str = "everything a Larderwright household keeps";

/// The version of the folder's form.
const VERSION: u32 = 1;

/// How many of each there are: an export from which something is missing is not read in.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Manifest {
    /// Version of the folder's form.
    pub v: u32,
    /// What this is.
    pub what: String,
    /// Lines in `events.jsonl`.
    pub events: u64,
    /// Lines in `plans.jsonl`.
    pub plans: u64,
    /// Lines in `choices.jsonl`.
    pub choices: u64,
    /// Lines in `documents.jsonl`.
    pub documents: u64,
}

/// The time in force where an event's own was replaced.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StampLine {
    wall_ms: i64,
    count: u32,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct EventLine {
    seq: u64,
    received_ms: i64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    in_force: Option<StampLine>,
    event: serde_json::Value,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PlanLine {
    hash: String,
    parent: Option<String>,
    snapshot_hash: String,
    monday: String,
    made_at: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ChoiceLine {
    monday: String,
    hash: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct DocumentLine {
    name: String,
    version: u32,
    /// Below `documents/`.
    file: String,
}
