//! Records that stand alone in a file: they open with a version and the hash of what follows.
//!
//! A text of an older version is checked against its own hash as it stands, then brought up to date one version at a
//! time. Its hash stays that of the text: whoever names an older record names what was written, so the hash is to be
//! taken from the text ([`written_hash`]) and never computed anew.

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use sha2::{Digest, Sha256};

use crate::error::RecordError;

/// Turns a record of one version into one of the next; `v` and `hash` are taken care of by the caller.
pub(crate) type Upgrade = fn(Value) -> Value;

/// A record that stands alone.
pub(crate) trait Document: Serialize + DeserializeOwned {
    /// What it is called in a message.
    const WHAT: &'static str;
    /// The steps from version to version, from the first one on.
    const UPGRADES: &'static [Upgrade];

    /// Where its hash stands.
    fn hash_mut(&mut self) -> &mut String;
}

/// The version that this program writes: one more than there are steps.
pub(crate) const fn version(upgrades: &[Upgrade]) -> u32 {
    upgrades.len() as u32 + 1
}

/// Only the head: it is read first, because the rest may look different in another version.
#[derive(Deserialize)]
struct Head {
    v: u32,
    #[serde(default)]
    hash: String,
}

/// The hash of a record: SHA-256, in hexadecimal, of its text with an empty hash.
pub(crate) fn hash<D: Document>(document: &mut D) -> String {
    document.hash_mut().clear();
    digest(&text(document))
}

fn digest(text: &str) -> String {
    let digest = Sha256::digest(text);
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
    let known = version(D::UPGRADES);
    if head.v == 0 || head.v > known {
        return Err(RecordError::Version {
            what: D::WHAT,
            found: head.v,
            known,
        });
    }
    if head.v < known {
        check_hash(D::WHAT, &head, text)?;
        let older = serde_json::from_str(text).map_err(malformed)?;
        return serde_json::from_value(upgraded(older, head.v, D::UPGRADES)).map_err(malformed);
    }
    let mut document: D = serde_json::from_str(text).map_err(malformed)?;
    let computed = hash(&mut document);
    if head.hash != computed {
        return Err(changed(D::WHAT, head.hash, computed));
    }
    *document.hash_mut() = computed;
    Ok(document)
}

/// Takes a value of version `from` through every later step.
pub(crate) fn upgraded(value: Value, from: u32, upgrades: &[Upgrade]) -> Value {
    let done = from.saturating_sub(1) as usize;
    let mut value = upgrades[done..].iter().fold(value, |value, step| step(value));
    if let Some(version_now) = value.get_mut("v") {
        *version_now = version(upgrades).into();
    }
    value
}

/// The hash that stands in a text that stands alone, of whatever kind and version, if the text still has it.
///
/// # Errors
/// When the text has no version and hash, or was changed after it was written.
pub fn written_hash(text: &str) -> Result<String, RecordError> {
    const WHAT: &str = "record";
    let head: Head =
        serde_json::from_str(text).map_err(|cause| RecordError::Malformed { what: WHAT, cause })?;
    check_hash(WHAT, &head, text)?;
    Ok(head.hash)
}

/// The version comes first and the hash second, so that the first such field in the text is the record's own.
fn check_hash(what: &'static str, head: &Head, text: &str) -> Result<(), RecordError> {
    let field = format!("\"hash\": \"{}\"", head.hash);
    let computed = digest(&text.replacen(&field, "\"hash\": \"\"", 1));
    if head.hash == computed {
        Ok(())
    } else {
        Err(changed(what, head.hash.clone(), computed))
    }
}

fn changed(what: &'static str, written: String, computed: String) -> RecordError {
    RecordError::Hash {
        what,
        written,
        computed,
    }
}

/// Pretty, with a final line break: records are read by people too.
pub(crate) fn text(document: &impl Serialize) -> String {
    let mut text =
        serde_json::to_string_pretty(document).expect("records hold text keys and whole numbers only");
    text.push('\n');
    text
}

/// A record that stands alone, with the fields of a noun. The version is one more than there are upgrades.
macro_rules! document {
    ($(#[$meta:meta])* $record:ident = $model:ident $what:literal upgrades [$($upgrade:path),* $(,)?] {
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
            const UPGRADES: &'static [$crate::wire::Upgrade] = &[$($upgrade),*];

            fn hash_mut(&mut self) -> &mut String {
                &mut self.hash
            }
        }

        impl From<&$model> for $record {
            fn from(noun: &$model) -> Self {
                let $model { $($field),* } = noun;
                let mut record = Self {
                    v: $crate::wire::version(<Self as $crate::wire::Document>::UPGRADES),
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

#[cfg(test)]
mod tests {
    use super::*;

    /// The third version of a note: the first had `jars`, the second `count`, this one has a `unit` too.
    #[derive(Debug, PartialEq, Serialize, Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Note {
        v: u32,
        hash: String,
        count: i64,
        unit: String,
    }

    impl Document for Note {
        const WHAT: &'static str = "note";
        const UPGRADES: &'static [Upgrade] = &[name_the_count, name_the_unit];

        fn hash_mut(&mut self) -> &mut String {
            &mut self.hash
        }
    }

    fn name_the_count(mut note: Value) -> Value {
        if let Some(fields) = note.as_object_mut()
            && let Some(jars) = fields.remove("jars")
        {
            fields.insert("count".into(), jars);
        }
        note
    }

    fn name_the_unit(mut note: Value) -> Value {
        note["unit"] = "jar".into();
        note
    }

    /// A text of an older version with its hash.
    fn older(version: u32, field: &str) -> String {
        let open = format!("{{\n  \"v\": {version},\n  \"hash\": \"\",\n  \"{field}\": 4\n}}\n");
        let hash = digest(&open);
        open.replacen("\"hash\": \"\"", &format!("\"hash\": \"{hash}\""), 1)
    }

    fn check(text: &str) {
        let note: Note = from_json(text).expect("it was written by an earlier version");
        assert_eq!((note.v, note.count, note.unit.as_str()), (3, 4, "jar"));
    }

    #[test]
    fn a_text_of_any_earlier_version_is_brought_up_to_date() {
        check(&older(1, "jars"));
        check(&older(2, "count"));
    }

    #[test]
    fn an_older_text_that_was_changed_is_refused() {
        let changed = older(1, "jars").replace(": 4", ": 5");
        assert!(matches!(
            from_json::<Note>(&changed),
            Err(RecordError::Hash { .. })
        ));
        assert!(matches!(written_hash(&changed), Err(RecordError::Hash { .. })));
    }

    #[test]
    fn an_older_text_keeps_the_hash_it_was_written_with() {
        let text = older(1, "jars");
        let note: Note = from_json(&text).expect("it was written by an earlier version");
        assert_eq!(written_hash(&text).expect("it has its hash"), note.hash);
        assert!(text.contains(&note.hash));
    }

    #[test]
    fn a_later_version_and_version_nought_are_refused() {
        for version in [0, 4] {
            let result = from_json::<Note>(&older(version, "count"));
            assert!(matches!(result, Err(RecordError::Version { found, known: 3, .. }) if found == version));
        }
    }

    #[test]
    fn the_hash_of_a_current_text_is_the_one_in_it() {
        let unit = "jar".to_owned();
        let text = to_json(Note {
            v: 3,
            hash: String::new(),
            count: 4,
            unit,
        });
        let note: Note = from_json(&text).expect("it was written just now");
        assert_eq!(written_hash(&text).expect("it has its hash"), note.hash);
    }
}
