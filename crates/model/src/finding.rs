//! Findings: what a judge has to say about a plan.

use crate::id::RuleId;

/// How grave a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Worth knowing.
    Advice,
    /// Somebody has to look.
    Warning,
    /// The plan may not be used.
    Fatal,
}

/// A fact about a plan that a rule speaks to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The rule's stable identifier.
    pub rule: RuleId,
    /// How grave.
    pub severity: Severity,
    /// Which batch, lot, sitting, act or line.
    pub subject: String,
    /// What is so: lower case, no final stop.
    pub message: String,
    /// What was measured and what is allowed.
    pub evidence: String,
    /// Document and section the rule rests on; may be empty for arithmetic.
    pub source: String,
}
