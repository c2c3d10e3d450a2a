//! From the model's nouns to what is written, and back without loss. A record mirrors a noun field by field; the
//! macros take every field by name, so that a field added to the model does not compile until it is written too.
//! Whatever can be wrong in a text is refused while it is read, so that the way back to the model cannot fail.

mod document;
mod leaf;

use std::collections::{BTreeMap, BTreeSet};

use schemars::JsonSchema;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

use larderwright_model::Sourced;

pub use document::written_hash;
pub(crate) use document::{Document, Upgrade, document, from_json, hash, text, to_json, upgraded, version};
pub(crate) use leaf::Coded;

/// A noun with its record.
pub(crate) trait Wire: Sized {
    /// What is written.
    type Record: Serialize + DeserializeOwned + JsonSchema;

    /// The record of a noun.
    fn to_record(&self) -> Self::Record;

    /// The noun of a record.
    fn from_record(record: Self::Record) -> Self;
}

/// A record with the fields of a noun.
macro_rules! record {
    ($(#[$meta:meta])* $record:ident = $model:ident {
        $($(#[$field_meta:meta])* $field:ident: $kind:ty),* $(,)?
    }) => {
        $(#[$meta])*
        #[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
        #[serde(deny_unknown_fields)]
        pub(crate) struct $record {
            $($(#[$field_meta])* $field: <$kind as $crate::wire::Wire>::Record),*
        }

        impl $crate::wire::Wire for $model {
            type Record = $record;

            fn to_record(&self) -> $record {
                let Self { $($field),* } = self;
                $record { $($field: $crate::wire::Wire::to_record($field)),* }
            }

            fn from_record(record: $record) -> Self {
                let $record { $($field),* } = record;
                Self { $($field: <$kind as $crate::wire::Wire>::from_record($field)),* }
            }
        }
    };
}

/// A record with the variants of a noun; fields without a name in the model are named here.
macro_rules! variants {
    ($(#[$meta:meta])* $record:ident = $model:ident {
        $($variant:ident $(($($part:ident: $part_kind:ty),*))?
            $({$($(#[$field_meta:meta])* $field:ident: $kind:ty),* $(,)?})?),* $(,)?
    }) => {
        $(#[$meta])*
        #[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
        #[serde(rename_all = "kebab-case", deny_unknown_fields)]
        pub(crate) enum $record {
            $($variant
                $(($(<$part_kind as $crate::wire::Wire>::Record),*))?
                $({$($(#[$field_meta])* $field: <$kind as $crate::wire::Wire>::Record),*})?
            ),*
        }

        impl $crate::wire::Wire for $model {
            type Record = $record;

            fn to_record(&self) -> $record {
                match self {
                    $(Self::$variant $(($($part),*))? $({$($field),*})? =>
                        $record::$variant
                            $(($($crate::wire::Wire::to_record($part)),*))?
                            $({$($field: $crate::wire::Wire::to_record($field)),*})?
                    ),*
                }
            }

            fn from_record(record: $record) -> Self {
                match record {
                    $($record::$variant $(($($part),*))? $({$($field),*})? =>
                        Self::$variant
                            $(($(<$part_kind as $crate::wire::Wire>::from_record($part)),*))?
                            $({$($field: <$kind as $crate::wire::Wire>::from_record($field)),*})?
                    ),*
                }
            }
        }
    };
}

pub(crate) use {record, variants};

impl<T: Wire> Wire for Vec<T> {
    type Record = Vec<T::Record>;

    fn to_record(&self) -> Self::Record {
        self.iter().map(Wire::to_record).collect()
    }

    fn from_record(record: Self::Record) -> Self {
        record.into_iter().map(T::from_record).collect()
    }
}

impl<T: Wire + Ord> Wire for BTreeSet<T> {
    type Record = Vec<T::Record>;

    fn to_record(&self) -> Self::Record {
        self.iter().map(Wire::to_record).collect()
    }

    fn from_record(record: Self::Record) -> Self {
        record.into_iter().map(T::from_record).collect()
    }
}

impl<T: Wire> Wire for Option<T> {
    type Record = Option<T::Record>;

    fn to_record(&self) -> Self::Record {
        self.as_ref().map(Wire::to_record)
    }

    fn from_record(record: Self::Record) -> Self {
        record.map(T::from_record)
    }
}

impl<K: Wire + Ord, V: Wire> Wire for BTreeMap<K, V>
where
    K::Record: Ord,
{
    type Record = BTreeMap<K::Record, V::Record>;

    fn to_record(&self) -> Self::Record {
        self.iter()
            .map(|(key, value)| (key.to_record(), value.to_record()))
            .collect()
    }

    fn from_record(record: Self::Record) -> Self {
        record
            .into_iter()
            .map(|(key, value)| (K::from_record(key), V::from_record(value)))
            .collect()
    }
}

impl<T: Wire> Wire for [T; 3] {
    type Record = [T::Record; 3];

    fn to_record(&self) -> Self::Record {
        self.each_ref().map(Wire::to_record)
    }

    fn from_record(record: Self::Record) -> Self {
        record.map(T::from_record)
    }
}

/// A fact with its source.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct SourcedRecord<R> {
    value: R,
    source: String,
}

impl<T: Wire> Wire for Sourced<T> {
    type Record = SourcedRecord<T::Record>;

    fn to_record(&self) -> Self::Record {
        SourcedRecord {
            value: self.value.to_record(),
            source: self.source.clone(),
        }
    }

    fn from_record(record: Self::Record) -> Self {
        Self {
            value: T::from_record(record.value),
            source: record.source,
        }
    }
}
