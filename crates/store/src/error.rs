//! Faults of a store: what was being done, what kind of fault it is, what caused it. Negative answers (a plan
//! overtaken, a document changed meanwhile) are ordinary values and not here.

use std::error::Error;
use std::fmt;

/// What was being done: one for each family of operations.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doing {
    /// Opening the store and bringing it up to date.
    Opening,
    /// Appending events.
    Appending,
    /// Reading events and what they add up to.
    Reading,
    /// Keeping and choosing plans.
    Planning,
    /// Keeping documents.
    Filing,
    /// Stamping.
    Stamping,
    /// Checking and mending.
    Checking,
    /// Writing a backup.
    BackingUp,
    /// Putting a backup in the place of the store.
    Restoring,
    /// Writing everything out.
    Exporting,
    /// Reading everything in.
    Importing,
}

impl Doing {
    fn words(self) -> &'static str {
        match self {
            Self::Opening => "the household's data cannot be opened",
            Self::Appending => "what happened cannot be written down",
            Self::Reading => "what happened cannot be read",
            Self::Planning => "the plan cannot be kept",
            Self::Filing => "the document cannot be kept",
            Self::Stamping => "the next event cannot be stamped",
            Self::Checking => "the household's data cannot be checked",
            Self::BackingUp => "the backup cannot be written",
            Self::Restoring => "the backup cannot be restored",
            Self::Exporting => "the export cannot be written",
            Self::Importing => "the export cannot be read in",
        }
    }
}

/// What kind of fault it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// What the caller handed over cannot be.
    BadInput(String),
    /// The file or folder cannot be reached.
    Unreachable(String),
    /// What is stored is damaged, or breaks our own rules.
    Corrupt(String),
    /// The file is no household's data of ours.
    WrongFile(String),
    /// A later program wrote it.
    NewerSchema {
        /// The version of the file.
        found: i64,
        /// The last version this program knows.
        known: i64,
    },
    /// Somebody else holds it.
    Locked,
    /// There is no room left.
    Full,
    /// It cannot be written to.
    ReadOnly,
}

impl Fault {
    /// In words.
    #[must_use]
    pub fn message(&self) -> String {
        match self {
            Self::BadInput(what) | Self::Unreachable(what) | Self::Corrupt(what) | Self::WrongFile(what) => {
                what.clone()
            }
            Self::NewerSchema { found, known } => {
                format!("they have version `{found}`, and this program knows versions up to `{known}`")
            }
            Self::Locked => "another program holds them".into(),
            Self::Full => "there is no room left on the disk".into(),
            Self::ReadOnly => "the file or its folder cannot be written to".into(),
        }
    }

    fn help(&self) -> &'static str {
        match self {
            Self::BadInput(_) => "Nothing was written.",
            Self::Unreachable(_) => "Check that the folder exists and may be read.",
            Self::Corrupt(_) => {
                "Nothing was changed. Run `larderwright doctor`; a backup can be put back with `larderwright restore`."
            }
            Self::WrongFile(_) => "Name the folder or file that Larderwright wrote.",
            Self::NewerSchema { .. } => "Use the newer program, or restore a backup from before.",
            Self::Locked => "Close the other program, or wait until it has finished, and try again.",
            Self::Full => "What was acknowledged before is kept. Make room and try again.",
            Self::ReadOnly => "Check whose the folder is and that the disk is not write-protected.",
        }
    }
}

/// A fault of the store.
#[derive(Debug)]
pub struct StoreError {
    /// What was being done.
    pub doing: Doing,
    /// What kind of fault it is.
    pub fault: Fault,
    cause: Option<Box<dyn Error + Send + Sync>>,
}

impl StoreError {
    /// A fault that needs no further cause.
    #[must_use]
    pub fn new(doing: Doing, fault: Fault) -> Self {
        Self {
            doing,
            fault,
            cause: None,
        }
    }

    /// A fault with what caused it.
    #[must_use]
    pub fn caused(doing: Doing, fault: Fault, cause: impl Into<Box<dyn Error + Send + Sync>>) -> Self {
        Self {
            doing,
            fault,
            cause: Some(cause.into()),
        }
    }

    /// The same fault, as part of something larger that was being done.
    #[must_use]
    pub fn while_doing(self, doing: Doing) -> Self {
        Self { doing, ..self }
    }

    /// What to do next, as a sentence or two.
    #[must_use]
    pub fn help(&self) -> &'static str {
        self.fault.help()
    }
}

impl fmt::Display for StoreError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.doing.words(), self.fault.message())
    }
}

impl Error for StoreError {
    fn source(&self) -> Option<&(dyn Error + 'static)> {
        let cause = self.cause.as_deref()?;
        Some(cause)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fault_says_what_was_being_done_and_why_it_failed() {
        let error = StoreError::new(Doing::Opening, Fault::NewerSchema { found: 9, known: 2 });
        assert_eq!(
            error.to_string(),
            "the household's data cannot be opened: they have version `9`, and this program knows versions up to `2`"
        );
        assert!(error.help().starts_with("Use the newer program"));
    }

    #[test]
    fn the_cause_is_kept() {
        let error = StoreError::caused(Doing::Appending, Fault::Full, "disk I/O error");
        assert_eq!(
            error.source().map(ToString::to_string).as_deref(),
            Some("disk I/O error")
        );
    }
}
