//! The week plan as it is written: versioned, hashed, without loss. Masses are milligrams, volumes microlitres,
//! lengths micrometres, temperatures tenths of a degree Celsius, times local.

mod menu;
mod order;
mod production;
mod run;
mod service;

use jiff::civil::Date;
use larderwright_model::{
    Answer, Batch, Carried, Finding, Lot, Menu, Order, Plate, Profile, Report, RuleId, Run, Service,
    Severity, Stage, WeekPlan, Work,
};

use crate::error::RecordError;
use crate::wire::{Document, document, from_json, record, to_json, variants, version};

/// The first version knew nothing of what is in the house already.
fn without_memory(mut value: serde_json::Value) -> serde_json::Value {
    if let Some(fields) = value.as_object_mut() {
        fields.insert("carried".into(), serde_json::json!([]));
    }
    value
}

document! {
    /// One week, decided.
    PlanRecord = WeekPlan "plan" upgrades [without_memory] {
        /// Hash of the plan it replaces, if any.
        parent: Option<String>,
        /// Hash of the snapshot it was made from.
        snapshot_hash: String,
        /// Version of the reference tables.
        tables: String,
        /// Guidance profile in force.
        profile: Profile,
        /// Monday of the week.
        monday: Date,
        /// Work done, so that a replay does the same.
        work: Work,
        /// Meals and options.
        menu: Menu,
        /// Batches by session and component.
        batches: Vec<Batch>,
        /// Lots by batch.
        lots: Vec<Lot>,
        /// What is taken from lots that were in the house before, by lot.
        carried: Vec<Carried>,
        /// What to buy.
        order: Order,
        /// Runs by session.
        runs: Vec<Run>,
        /// Every plate.
        plates: Vec<Plate>,
        /// The minutes before each sitting.
        services: Vec<Service>,
        /// One report for each stage.
        reports: Vec<Report>,
        /// What the audit found.
        findings: Vec<Finding>,
    }
}

record! {
    /// Work done by the searches.
    WorkRecord = Work { menu: u64, session: u64, rounds: u64 }
}

variants! {
    /// How good an answer is; `within` in thousandths.
    AnswerRecord = Answer { Proven, Within(permille: i64), Found, Computed }
}

record! {
    /// Why a stage decided as it did.
    ReportRecord = Report { stage: Stage, answer: Answer, chosen: Vec<String>, rejected: Vec<String> }
}

record! {
    /// What the audit found.
    FindingRecord = Finding {
        rule: RuleId,
        severity: Severity,
        subject: String,
        message: String,
        evidence: String,
        source: String,
    }
}

/// The version that this program writes; earlier ones are read too.
pub const PLAN_VERSION: u32 = version(<PlanRecord as Document>::UPGRADES);

/// The canonical text of a plan.
#[must_use]
pub fn plan_to_json(plan: &WeekPlan) -> String {
    to_json(PlanRecord::from(plan))
}

/// The hash of a plan, by which a later one names its parent.
#[must_use]
pub fn plan_hash(plan: &WeekPlan) -> String {
    PlanRecord::from(plan).hash
}

/// Reads a plan.
///
/// # Errors
/// When the text is no plan, of another version, or changed after it was written.
pub fn plan_from_json(text: &str) -> Result<WeekPlan, RecordError> {
    from_json::<PlanRecord>(text).map(WeekPlan::from)
}
