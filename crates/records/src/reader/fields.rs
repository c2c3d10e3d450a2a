//! The fields of one table: reading them by name, noting the missing and the unknown ones.

use std::ops::RangeInclusive;

use toml::de::DeTable;

use super::log::Log;
use super::{Value, list_of, nearest};
use crate::words::Word;

/// The fields of one table.
#[derive(Clone)]
pub(crate) struct Fields<'a> {
    log: &'a Log,
    table: &'a DeTable<'a>,
    path: String,
    line: u32,
}

impl<'a> Fields<'a> {
    pub(super) fn root(log: &'a Log, table: &'a DeTable<'a>) -> Self {
        Self::new(log, table, String::new(), 1)
    }

    pub(super) fn new(log: &'a Log, table: &'a DeTable<'a>, path: String, line: u32) -> Self {
        Self {
            log,
            table,
            path,
            line,
        }
    }

    fn path_of(&self, key: &str) -> String {
        if self.path.is_empty() {
            key.into()
        } else {
            format!("{}.{key}", self.path)
        }
    }

    /// Notes a problem with the group as a whole.
    pub(crate) fn problem(&self, message: impl Into<String>, help: impl Into<String>) {
        self.log.add(self.line, &self.path, message, help);
    }

    /// Notes a problem with one field, at its line when it is there.
    pub(crate) fn problem_at(&self, key: &str, message: impl Into<String>, help: impl Into<String>) {
        let line = self.get(key).map_or(self.line, |value| value.line);
        self.log.add(line, &self.path_of(key), message, help);
    }

    /// Refuses every field that is not in the list.
    pub(crate) fn only(&self, known: &[&str]) {
        for key in self.table.keys() {
            let name: &str = key.get_ref();
            if known.contains(&name) {
                continue;
            }
            let help = match nearest(name, known.iter().copied()) {
                Some(word) => format!("Did you mean `{word}`?"),
                None => format!("The fields here are {}.", list_of(known.iter().copied())),
            };
            let line = self.log.line_of(key.span().start);
            self.log
                .add(line, &self.path_of(name), "is no field that is known here", help);
        }
    }

    /// The value of a field, if it is there.
    pub(crate) fn get(&self, key: &str) -> Option<Value<'a>> {
        let (_, value) = self.table.get_key_value(key)?;
        Some(Value::new(self.log, value, self.path_of(key)))
    }

    /// All fields, for groups whose names are free.
    pub(crate) fn pairs(&self) -> Vec<(String, Value<'a>)> {
        let pair = |key: &str, value| (key.to_owned(), Value::new(self.log, value, self.path_of(key)));
        self.table
            .iter()
            .map(|(key, value)| pair(key.get_ref(), value))
            .collect()
    }

    /// Whether the field is there.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    /// The value of a field that has to be there.
    pub(crate) fn need(&self, key: &str) -> Option<Value<'a>> {
        let value = self.get(key);
        if value.is_none() {
            self.missing(key, format!("Add a line `{key} = ...`."));
        }
        value
    }

    fn missing(&self, key: &str, help: String) {
        if !self.log.is_broken() {
            self.log.add(self.line, &self.path_of(key), "is missing", help);
        }
    }

    /// A text that has to be there and not be blank.
    pub(crate) fn text(&self, key: &str) -> String {
        let text = self.need(key).and_then(|value| value.text());
        if text.is_some_and(|text| text.trim().is_empty()) {
            self.problem_at(key, "is empty", "Write something between the quotes.");
        }
        text.unwrap_or_default().to_owned()
    }

    /// A text that may be absent; then it is empty.
    pub(crate) fn text_or_empty(&self, key: &str) -> String {
        self.get(key)
            .and_then(|value| value.text())
            .unwrap_or_default()
            .to_owned()
    }

    /// An identifier that has to be there.
    pub(crate) fn id(&self, key: &str) -> String {
        self.need(key).and_then(|value| value.id()).unwrap_or_default()
    }

    /// A whole number that has to be there.
    pub(crate) fn whole(&self, key: &str, range: RangeInclusive<i64>) -> i64 {
        self.need(key)
            .and_then(|value| value.whole(&range))
            .unwrap_or(*range.start())
    }

    /// A whole number that may be absent.
    pub(crate) fn whole_if(&self, key: &str, range: RangeInclusive<i64>) -> Option<i64> {
        self.get(key).and_then(|value| value.whole(&range))
    }

    /// A count, or its default when absent.
    pub(crate) fn count_or(&self, key: &str, default: u32) -> u32 {
        let count = self.whole_if(key, 0..=10_000);
        count
            .and_then(|count| u32::try_from(count).ok())
            .unwrap_or(default)
    }

    /// Yes or no; no when absent.
    pub(crate) fn flag(&self, key: &str) -> bool {
        self.get(key).and_then(|value| value.flag()).unwrap_or(false)
    }

    /// A word of a list that has to be there.
    pub(crate) fn word<T: Word>(&self, key: &str) -> T {
        self.need(key)
            .and_then(|value| value.word())
            .unwrap_or(T::WORDS[0].1)
    }

    /// A word of a list, or its default when absent.
    pub(crate) fn word_or<T: Word>(&self, key: &str, default: T) -> T {
        self.get(key).and_then(|value| value.word()).unwrap_or(default)
    }

    /// Words of a list; none when absent.
    pub(crate) fn words<T: Word>(&self, key: &str) -> Vec<T> {
        self.list(key).iter().filter_map(Value::word).collect()
    }

    /// The parts of a list; none when absent.
    pub(crate) fn list(&self, key: &str) -> Vec<Value<'a>> {
        self.get(key).map(|value| value.list()).unwrap_or_default()
    }

    /// The groups of a repeated table, `[[key]]`; none when absent.
    pub(crate) fn tables(&self, key: &str) -> Vec<Fields<'a>> {
        self.list(key).iter().filter_map(Value::table).collect()
    }

    /// The groups of a repeated table of which there has to be at least one.
    pub(crate) fn need_tables(&self, key: &str) -> Vec<Fields<'a>> {
        let parts = self.list(key);
        if !self.has(key) {
            self.missing(
                key,
                format!("Add at least one group that opens with `[[{key}]]`."),
            );
        } else if parts.is_empty() {
            self.problem_at(key, "is empty", format!("Add at least one group `[[{key}]]`."));
        }
        parts.iter().filter_map(Value::table).collect()
    }

    /// The fields of a group that may be absent.
    pub(crate) fn table(&self, key: &str) -> Option<Fields<'a>> {
        self.get(key).and_then(|value| value.table())
    }

    /// The fields of a group that has to be there.
    pub(crate) fn need_table(&self, key: &str) -> Option<Fields<'a>> {
        self.need(key).and_then(|value| value.table())
    }
}
