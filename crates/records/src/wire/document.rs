//! Records that stand alone in a file: they open with a version and the hash of what follows.

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use crate::error::RecordError;

/// A record that stands alone.
pub(crate) trait Document: Serialize + DeserializeOwned {
    /// What it is called in a message.
    const WHAT: &'static str;
    /// The version that this program writes and reads.
    const VERSION: u32;

    /// Where its hash stands.
    fn hash_mut(&mut self) -> &mut String;
}

/// Only the version: it is read first, because the rest may look different in another one.
#[derive(Deserialize)]
struct Head {
    v: u32,
}

/// The hash of a record: SHA-256, in hexadecimal, of its text with an empty hash.
pub(crate) fn hash<D: Document>(document: &mut D) -> String {
    document.hash_mut().clear();
    let digest = Sha256::digest(text(document));
    digest.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The canonical text of a record, hash included.
pub(crate) fn to_json<D: Document>(mut document: D) -> String {
    let hash = hash(&mut document);
    *document.hash_mut() = hash;
    text(&document)
}

/// The record of a text.
pub(crate) fn from_json<D: Document>(text: &str) -> Result<D, RecordError> {
    let malformed = |cause| RecordError::Malformed { what: D::WHAT, cause };
    let head: Head = serde_json::from_str(text).map_err(malformed)?;
    if head.v != D::VERSION {
        return Err(RecordError::Version {
            what: D::WHAT,
            found: head.v,
            known: D::VERSION,
        });
    }
    let mut document: D = serde_json::from_str(text).map_err(malformed)?;
    let written = document.hash_mut().clone();
    let computed = hash(&mut document);
    if written != computed {
        return Err(RecordError::Hash {
            what: D::WHAT,
            written,
            computed,
        });
    }
    Ok(document)
}

/// Pretty, with a final line break: records are read by people too.
pub(crate) fn text(document: &impl Serialize) -> String {
    let mut text =
        serde_json::to_string_pretty(document).expect("records hold text keys and whole numbers only");
    text.push('\n');
    text
}

/// A record that stands alone, with the fields of a noun.
macro_rules! document {
    ($(#[$meta:meta])* $record:ident = $model:ident $what:literal $version:literal {
        $($(#[$field_meta:meta])* $field:ident: $kind:ty),* $(,)?
    }) => {
        $(#[$meta])*
        #[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
        #[serde(deny_unknown_fields)]
        pub struct $record {
            /// Version of this format.
            v: u32,
            /// SHA-256, in hexadecimal, of this text with an empty hash.
            hash: String,
            $($(#[$field_meta])* $field: <$kind as $crate::wire::Wire>::Record),*
        }

        impl $crate::wire::Document for $record {
            const WHAT: &'static str = $what;
            const VERSION: u32 = $version;

            fn hash_mut(&mut self) -> &mut String {
                &mut self.hash
            }
        }

        impl From<&$model> for $record {
            fn from(noun: &$model) -> Self {
                let $model { $($field),* } = noun;
                let mut record = Self {
                    v: $version,
                    hash: String::new(),
                    $($field: $crate::wire::Wire::to_record($field)),*
                };
                record.hash = $crate::wire::hash(&mut record);
                record
            }
        }

        impl From<$record> for $model {
            fn from(record: $record) -> Self {
                let $record { v: _, hash: _, $($field),* } = record;
                Self { $($field: <$kind as $crate::wire::Wire>::from_record($field)),* }
            }
        }
    };
}

pub(crate) use document;
