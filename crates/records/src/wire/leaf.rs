//! The smallest parts of records: whole numbers of a small unit, identifiers, words, dates.

use std::borrow::Cow;
use std::fmt;
use std::marker::PhantomData;
use std::str::FromStr;

use jiff::civil::{Date, DateTime, Time};
use larderwright_model::{
    ActId, BatchId, BoxId, ComponentId, CookId, DeviceId, EaterId, ElementId, EventId, FoodId, LotId, MealId,
    RuleId, SessionId, ShopId, SittingId, StepId, WayId,
};
use larderwright_quantity::{Currency, Density, Length, Mass, Money, Permille, Seconds, Temperature, Volume};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{Error, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::Wire;
use crate::words::Word;

macro_rules! plain {
    ($($kind:ty),*) => {$(
        impl Wire for $kind {
            type Record = $kind;

            fn to_record(&self) -> $kind {
                self.clone()
            }

            fn from_record(record: $kind) -> Self {
                record
            }
        }
    )*};
}

plain!(bool, i8, i32, i64, u8, u32, u64, usize, String);

macro_rules! wholes {
    ($($kind:ident: $from:ident, $get:ident);* $(;)?) => {$(
        impl Wire for $kind {
            type Record = i64;

            fn to_record(&self) -> i64 {
                self.$get()
            }

            fn from_record(record: i64) -> Self {
                Self::$from(record)
            }
        }
    )*};
}

wholes! {
    Density: from_g_per_l, g_per_l;
    Length: from_um, um;
    Mass: from_mg, mg;
    Money: from_minor, minor;
    Permille: from_permille, permille;
    Seconds: from_secs, secs;
    Temperature: from_deci_c, deci_c;
    Volume: from_ul, ul;
}

macro_rules! ids {
    ($($kind:ident),* $(,)?) => {$(
        impl Wire for $kind {
            type Record = String;

            fn to_record(&self) -> String {
                self.as_str().to_owned()
            }

            fn from_record(record: String) -> Self {
                Self::new(&record)
            }
        }
    )*};
}

ids!(
    ActId,
    BatchId,
    BoxId,
    ComponentId,
    CookId,
    DeviceId,
    EaterId,
    ElementId,
    EventId,
    FoodId,
    LotId,
    MealId,
    RuleId,
    SessionId,
    ShopId,
    SittingId,
    StepId,
    WayId,
);

/// A member of a kind, written as its word.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Coded<T>(T);

impl<T: Word> Wire for T {
    type Record = Coded<T>;

    fn to_record(&self) -> Coded<T> {
        Coded(*self)
    }

    fn from_record(record: Coded<T>) -> Self {
        record.0
    }
}

impl<T: Word> Serialize for Coded<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.0.word())
    }
}

impl<'de, T: Word> Deserialize<'de> for Coded<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let parse = |text: &str| T::parse(text).map(Coded);
        deserializer.deserialize_str(Text {
            wanted: T::NAME,
            parse,
            kind: PhantomData,
        })
    }
}

impl<T: Word> JsonSchema for Coded<T> {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        T::NAME.into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let words: Vec<&str> = T::WORDS.iter().map(|(word, _)| *word).collect();
        json_schema!({ "type": "string", "enum": words })
    }
}

/// Reads a text that has to have a certain form.
struct Text<F, T> {
    wanted: &'static str,
    parse: F,
    kind: PhantomData<T>,
}

impl<T, F: FnOnce(&str) -> Option<T>> Visitor<'_> for Text<F, T> {
    type Value = T;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "a known {}", self.wanted)
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<T, E> {
        let wanted = self.wanted;
        (self.parse)(text).ok_or_else(|| E::custom(format!("`{text}` is no known {wanted}")))
    }
}

/// A text of a form of its own: dates, times, currencies.
pub(crate) trait Formed: Clone + fmt::Display {
    /// What it is called.
    const NAME: &'static str;
    /// Its form as a regular expression, for schemas.
    const PATTERN: &'static str;

    /// Reads it.
    fn parse(text: &str) -> Option<Self>;
}

macro_rules! formed {
    ($($kind:ident $name:literal $pattern:literal $parse:expr;)*) => {$(
        impl Formed for $kind {
            const NAME: &'static str = $name;
            const PATTERN: &'static str = $pattern;

            fn parse(text: &str) -> Option<Self> {
                $parse(text)
            }
        }

        impl Wire for $kind {
            type Record = Form<$kind>;

            fn to_record(&self) -> Form<$kind> {
                Form(self.clone())
            }

            fn from_record(record: Form<$kind>) -> Self {
                record.0
            }
        }
    )*};
}

formed! {
    DateTime "local date and time" "^\\d{4}-\\d{2}-\\d{2}T\\d{2}:\\d{2}:\\d{2}" |text| DateTime::from_str(text).ok();
    Date "date" "^\\d{4}-\\d{2}-\\d{2}$" |text| Date::from_str(text).ok();
    Time "time of the day" "^\\d{2}:\\d{2}:\\d{2}" |text| Time::from_str(text).ok();
    Currency "currency" "^[A-Z]{3}$" Currency::parse;
}

/// A text of a form of its own, as written.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Form<T>(T);

impl<T: Formed> Serialize for Form<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&self.0)
    }
}

impl<'de, T: Formed> Deserialize<'de> for Form<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let parse = |text: &str| T::parse(text).map(Form);
        deserializer.deserialize_str(Text {
            wanted: T::NAME,
            parse,
            kind: PhantomData,
        })
    }
}

impl<T: Formed> JsonSchema for Form<T> {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        T::NAME.into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string", "pattern": T::PATTERN })
    }
}
