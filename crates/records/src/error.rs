//! Errors of records: texts that are not, or no longer, what we wrote.

/// Why a record cannot be read.
#[derive(Debug, thiserror::Error)]
pub enum RecordError {
    /// The text is no such record.
    #[error("the {what} cannot be read")]
    Malformed {
        /// `plan` or `snapshot`.
        what: &'static str,
        /// What the reader stumbled over, with line and column.
        #[source]
        cause: serde_json::Error,
    },
    /// The record was written by a program that is newer, or older, than this one can read.
    #[error("the {what} has version `{found}`, and this program reads version `{known}`")]
    Version {
        /// `plan` or `snapshot`.
        what: &'static str,
        /// The version in the text.
        found: u32,
        /// The version this program writes.
        known: u32,
    },
    /// The text was changed after it was written.
    #[error(
        "the {what} was changed after it was written: its hash is `{written}`, its content gives `{computed}`"
    )]
    Hash {
        /// `plan` or `snapshot`.
        what: &'static str,
        /// The hash in the text.
        written: String,
        /// The hash of what the text says.
        computed: String,
    },
}
