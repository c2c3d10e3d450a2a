//! What can go wrong, its exit status, and how it is said.

use std::error::Error;
use std::process::ExitCode;

use larderwright_app::{FolderError, Refusal};
use larderwright_model::Severity;
use larderwright_records::Problem;
use serde_json::{Value, json};

/// Why a command did not do what was asked.
#[derive(Debug)]
pub(crate) enum Failure {
    /// A file has mistakes: its name and all of them.
    Input {
        /// The file's name.
        file: String,
        /// Every mistake.
        problems: Vec<Problem>,
    },
    /// Something on the command line is wrong.
    Usage {
        /// What is wrong.
        message: String,
        /// What to do.
        help: String,
    },
    /// There is no plan, for a reason of the kitchen.
    Refused(Refusal),
    /// The answer is no, or a fact that it needs is missing.
    Negative {
        /// What is missing.
        message: String,
        /// What to do.
        help: String,
        /// The same for programs.
        value: Value,
    },
    /// The machine failed.
    Fault(String),
}

impl Failure {
    pub(crate) fn usage(message: impl Into<String>, help: impl Into<String>) -> Self {
        Self::Usage {
            message: message.into(),
            help: help.into(),
        }
    }

    /// The answer is no.
    pub(crate) fn no(message: impl Into<String>, help: impl Into<String>) -> Self {
        let message = message.into();
        let value = json!({ "status": "no", "message": message });
        Self::Negative {
            message,
            help: help.into(),
            value,
        }
    }

    /// A fault with everything that caused it.
    pub(crate) fn fault(error: &dyn Error) -> Self {
        let mut message = error.to_string();
        let mut cause = error.source();
        while let Some(error) = cause {
            message = format!("{message}: {error}");
            cause = error.source();
        }
        Self::Fault(message)
    }

    pub(crate) fn exit_code(&self) -> ExitCode {
        ExitCode::from(match self {
            Self::Refused(_) | Self::Negative { .. } => 1,
            Self::Input { .. } | Self::Usage { .. } => 2,
            Self::Fault(_) => 3,
        })
    }

    /// The words for people.
    pub(crate) fn text(&self) -> String {
        match self {
            Self::Input { file, problems } => {
                let lines: Vec<String> = problems
                    .iter()
                    .map(|problem| problem_text(file, problem))
                    .collect();
                let count = match problems.len() {
                    1 => "one mistake".to_owned(),
                    count => format!("{count} mistakes"),
                };
                format!("{}\n{count} in `{file}`; nothing was written", lines.join("\n"))
            }
            Self::Usage { message, help } | Self::Negative { message, help, .. } => {
                format!("{message}\n  {help}")
            }
            Self::Refused(refusal) => refusal.to_string().trim_end().to_owned(),
            Self::Fault(message) => message.clone(),
        }
    }

    /// The same for programs.
    pub(crate) fn json(&self) -> Value {
        match self {
            Self::Input { file, problems } => {
                let problem = |problem: &Problem| json!({ "line": problem.line, "field": problem.field, "message": problem.message, "help": problem.help });
                json!({ "status": "bad-input", "file": file, "problems": problems.iter().map(problem).collect::<Vec<_>>() })
            }
            Self::Usage { message, help } => {
                json!({ "status": "wrong-use", "message": message, "help": help })
            }
            Self::Refused(Refusal::Conflict(conflict)) => json!({
                "status": "conflict",
                "stage": conflict.stage.word(),
                "message": conflict.message,
                "wishes": conflict.wishes,
                "mends": conflict.mends,
            }),
            Self::Refused(Refusal::Fatal(findings)) => {
                json!({ "status": "refused", "findings": findings.iter().map(finding_json).collect::<Vec<_>>() })
            }
            Self::Negative { value, .. } => value.clone(),
            Self::Fault(message) => json!({ "status": "fault", "message": message }),
        }
    }
}

impl From<FolderError> for Failure {
    fn from(error: FolderError) -> Self {
        match &error {
            FolderError::Empty { .. } => Self::usage(
                error.to_string(),
                "Plan a week first, or name its folder with `--data`.",
            ),
            _ => Self::fault(&error),
        }
    }
}

/// A problem that is on no line is told without one.
fn problem_text(file: &str, problem: &Problem) -> String {
    if problem.line > 0 {
        return format!("{file}, {problem}");
    }
    let mut text = if problem.field.is_empty() {
        format!("{file}: {}", problem.message)
    } else {
        format!("{file}, {}: {}", problem.field, problem.message)
    };
    if !problem.help.is_empty() {
        text.push_str(&format!("\n  {}", problem.help));
    }
    text
}

/// A finding for programs.
pub(crate) fn finding_json(finding: &larderwright_model::Finding) -> Value {
    let severity = match finding.severity {
        Severity::Advice => "advice",
        Severity::Warning => "warning",
        Severity::Fatal => "fatal",
    };
    json!({
        "rule": finding.rule.as_str(),
        "severity": severity,
        "subject": finding.subject,
        "message": finding.message,
        "evidence": finding.evidence,
        "source": finding.source,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn problem(line: u32) -> Problem {
        Problem {
            line,
            field: "stock".into(),
            message: "there is no food `carot`".into(),
            help: "Did you mean `carrot`?".into(),
        }
    }

    #[test]
    fn all_mistakes_of_a_file_are_told_at_once() {
        let failure = Failure::Input {
            file: "home.toml".into(),
            problems: vec![problem(3), problem(0)],
        };
        let text = failure.text();
        assert!(
            text.contains("home.toml, line 3, stock: there is no food `carot`\n  Did you mean"),
            "{text}"
        );
        assert!(text.contains("home.toml, stock: there is no food"), "{text}");
        assert!(
            text.ends_with("2 mistakes in `home.toml`; nothing was written"),
            "{text}"
        );
    }

    #[test]
    fn a_fault_names_its_causes() {
        let cause = std::io::Error::other("no room");
        let error = FolderError::Io {
            verb: "written",
            path: "there".into(),
            cause,
        };
        assert!(
            Failure::from(error)
                .text()
                .contains("`there` cannot be written: no room")
        );
    }
}
