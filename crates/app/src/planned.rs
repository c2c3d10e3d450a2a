//! Planning, then the audit: no plan leaves here unjudged.

use std::fmt;

use larderwright_model::{Conflict, Finding, Severity, Snapshot, WeekPlan};
use larderwright_planning::{Threads, plan_week};
use larderwright_records::plan::plan_to_json;
use larderwright_records::snapshot::snapshot_hash;

/// A plan that the audit has let pass.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Planned {
    /// The plan, with its findings and the hash of its snapshot.
    pub plan: WeekPlan,
    /// The plan as it is stored.
    pub json: String,
}

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// Wishes collide.
    Conflict(Conflict),
    /// The audit found a plan that may not be used: all its findings, gravest first.
    Fatal(Vec<Finding>),
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Conflict(conflict) => write!(f, "{conflict}"),
            Self::Fatal(findings) => {
                writeln!(
                    f,
                    "the plan that was found may not be used, so nothing was written"
                )?;
                for finding in findings
                    .iter()
                    .filter(|finding| finding.severity == Severity::Fatal)
                {
                    writeln!(
                        f,
                        "  {} ({}): {}; {}",
                        finding.subject, finding.rule, finding.message, finding.evidence
                    )?;
                }
                Ok(())
            }
        }
    }
}

/// Plans the week and has it judged.
///
/// # Errors
/// The wishes that collide, or the findings that forbid the plan.
pub fn plan(snapshot: &Snapshot, threads: Threads) -> Result<Planned, Refusal> {
    let made = plan_week(snapshot, threads).map_err(Refusal::Conflict)?;
    judged(snapshot, made)
}

/// Judges a finished plan.
///
/// # Errors
/// The findings, when one of them is fatal.
pub fn judged(snapshot: &Snapshot, mut plan: WeekPlan) -> Result<Planned, Refusal> {
    plan.snapshot_hash = snapshot_hash(snapshot);
    let findings = larderwright_audit::judge(snapshot, &plan);
    if findings.iter().any(|finding| finding.severity == Severity::Fatal) {
        return Err(Refusal::Fatal(findings));
    }
    plan.findings = findings;
    let json = plan_to_json(&plan);
    Ok(Planned { plan, json })
}
