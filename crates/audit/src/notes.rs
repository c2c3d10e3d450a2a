//! The judge's notepad: findings as they are made, sorted once at the end.

use std::fmt::Display;

use larderwright_model::{Finding, RuleId};

use crate::rules::Rule;

/// Findings so far.
#[derive(Default)]
pub(crate) struct Notes {
    findings: Vec<Finding>,
}

impl Notes {
    /// Notes a finding; evidence and a nearer source can be set on what is returned.
    pub(crate) fn say(
        &mut self,
        rule: &Rule,
        subject: impl Display,
        message: impl Into<String>,
    ) -> &mut Finding {
        self.findings.push(Finding {
            rule: RuleId::new(rule.id),
            severity: rule.severity,
            subject: subject.to_string(),
            message: message.into(),
            evidence: String::new(),
            source: rule.source.to_owned(),
        });
        self.findings.last_mut().expect("a finding was just noted")
    }

    /// Whether a rule of this family has spoken.
    pub(crate) fn has_family(&self, family: &str) -> bool {
        self.findings
            .iter()
            .any(|finding| finding.rule.as_str().split('.').next() == Some(family))
    }

    /// All findings, gravest first, then by rule and subject; twins are dropped.
    pub(crate) fn sorted(mut self) -> Vec<Finding> {
        let key = |finding: &Finding| {
            (
                std::cmp::Reverse(finding.severity),
                finding.rule.clone(),
                finding.subject.clone(),
                finding.message.clone(),
                finding.evidence.clone(),
            )
        };
        self.findings.sort_by_key(key);
        self.findings.dedup();
        self.findings
    }
}
