//! One value of a file: its kind, its line and its path.

use std::ops::RangeInclusive;

use toml::Spanned;
use toml::de::DeValue;

use super::log::Log;
use super::{Fields, list_of, nearest};
use crate::words::Word;

/// One value with the place where it stands.
#[derive(Clone)]
pub(crate) struct Value<'a> {
    pub(super) log: &'a Log,
    pub(super) value: &'a DeValue<'a>,
    pub(super) path: String,
    pub(super) line: u32,
}

impl<'a> Value<'a> {
    pub(super) fn new(log: &'a Log, value: &'a Spanned<DeValue<'a>>, path: String) -> Self {
        let line = log.line_of(value.span().start);
        Self {
            log,
            value: value.get_ref(),
            path,
            line,
        }
    }

    /// Notes a problem with this value.
    pub(crate) fn problem(&self, message: impl Into<String>, help: impl Into<String>) {
        self.log.add(self.line, &self.path, message, help);
    }

    fn wrong_kind(&self, wanted: &str, help: &str) {
        self.problem(format!("{} stands where {wanted} is wanted", self.shown()), help);
    }

    /// The value as the writer sees it.
    fn shown(&self) -> String {
        match self.value {
            DeValue::String(text) => format!("the text `{}`", shortened(text)),
            DeValue::Integer(number) => format!("the number `{number}`"),
            DeValue::Float(number) => format!("the number `{}`", number.as_str()),
            DeValue::Boolean(flag) => format!("`{flag}`"),
            DeValue::Datetime(when) => format!("the time `{when}`"),
            DeValue::Array(_) => "a list".into(),
            DeValue::Table(_) => "a group of fields".into(),
        }
    }

    /// The text, however empty.
    pub(crate) fn text(&self) -> Option<&'a str> {
        if let DeValue::String(text) = self.value {
            return Some(text);
        }
        self.wrong_kind("text", "Put it in quotes.");
        None
    }

    /// A clock time as text, `18:30`, whether quoted or not.
    pub(crate) fn clock_text(&self) -> Option<String> {
        if let DeValue::Datetime(when) = self.value {
            return Some(when.to_string());
        }
        self.text().map(str::to_owned)
    }

    /// A number as written, quoted or not.
    pub(crate) fn number_text(&self) -> Option<String> {
        match self.value {
            DeValue::Integer(number) => Some(number.to_string()),
            DeValue::Float(number) => Some(number.as_str().to_owned()),
            _ => self.text().map(str::to_owned),
        }
    }

    /// A whole number within a range.
    pub(crate) fn whole(&self, range: &RangeInclusive<i64>) -> Option<i64> {
        let DeValue::Integer(written) = self.value else {
            self.wrong_kind(
                "a whole number",
                "Write it without quotes and without a decimal point.",
            );
            return None;
        };
        let number = i64::from_str_radix(written.as_str(), written.radix()).ok();
        let number = number.filter(|number| range.contains(number));
        if number.is_none() {
            let help = format!("Write a whole number from {} to {}.", range.start(), range.end());
            self.problem(format!("`{written}` is out of range"), help);
        }
        number
    }

    /// Yes or no.
    pub(crate) fn flag(&self) -> Option<bool> {
        if let DeValue::Boolean(flag) = self.value {
            return Some(*flag);
        }
        self.wrong_kind("`true` or `false`", "Write true or false, without quotes.");
        None
    }

    /// The parts of a list.
    pub(crate) fn list(&self) -> Vec<Value<'a>> {
        if let DeValue::Array(parts) = self.value {
            let path = |at: usize| format!("{}[{}]", self.path, at + 1);
            return parts
                .iter()
                .enumerate()
                .map(|(at, part)| Value::new(self.log, part, path(at)))
                .collect();
        }
        self.wrong_kind("a list", "Write it in square brackets: [ ... ].");
        Vec::new()
    }

    /// The fields of a group.
    pub(crate) fn table(&self) -> Option<Fields<'a>> {
        if let DeValue::Table(table) = self.value {
            return Some(Fields::new(self.log, table, self.path.clone(), self.line));
        }
        self.wrong_kind("a group of fields", "Write it in braces: { field = value, ... }.");
        None
    }

    /// Whether it is a text.
    pub(crate) fn is_text(&self) -> bool {
        matches!(self.value, DeValue::String(_))
    }

    /// Whether it is a group of fields.
    pub(crate) fn is_table(&self) -> bool {
        matches!(self.value, DeValue::Table(_))
    }

    /// An identifier: lower-case letters, digits and hyphens.
    pub(crate) fn id(&self) -> Option<String> {
        let typed = self.text()?;
        let good = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        if !typed.is_empty() && typed.chars().all(good) {
            return Some(typed.to_owned());
        }
        let help = "Use lower-case letters, digits and hyphens, as in `brown-rice`.";
        self.problem(format!("`{}` is no identifier", shortened(typed)), help);
        None
    }

    /// One of the known words.
    pub(crate) fn word<T: Word>(&self) -> Option<T> {
        let typed = self.text()?;
        let found = T::parse(typed);
        if found.is_none() {
            self.unknown(T::NAME, typed, T::WORDS.iter().map(|(word, _)| *word));
        }
        found
    }

    /// Notes that a word is none of the known ones.
    pub(crate) fn unknown<'w>(&self, what: &str, typed: &str, known: impl Iterator<Item = &'w str> + Clone) {
        let guess = nearest(typed, known.clone());
        let lead = guess
            .map(|word| format!("Did you mean `{word}`? "))
            .unwrap_or_default();
        let help = format!("{lead}Valid here: {}.", list_of(known));
        self.problem(format!("`{}` is no known {what}", shortened(typed)), help);
    }
}

/// A text as far as a message has room for it.
pub(crate) fn shortened(text: &str) -> String {
    let line: String = text
        .chars()
        .take(40)
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    if line.len() < text.len() {
        format!("{line}...")
    } else {
        line
    }
}
