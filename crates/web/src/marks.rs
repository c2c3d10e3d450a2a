//! Marks: what hands tick off in shop and kitchen beside what becomes an event. They are no stock: they say which label
//! was read, who has looked into the cupboard, how far a session has come. Each has an identifier made where it was ticked, so that sending it twice
//! changes nothing, and the time at which it came in. A line of JSON each, appended and never changed.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::DateTime;
use larderwright_model::{ActId, BatchId, CookId, SessionId};
use serde::{Deserialize, Serialize};

/// What a tick is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum TickKind {
    /// A line of the order sheet is in the cart.
    Cart,
    /// The label of a line was read and found clear.
    Label,
    /// A line was unpacked at home.
    Unpacked,
    /// Something to do before bed is done.
    Bed,
}

/// What a look says of a food.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Level {
    /// There, as planned.
    Have,
    /// About half, or running low.
    Low,
    /// None left.
    Out,
}

/// What happened in a session.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "did")]
pub enum SessionMark {
    /// It began.
    Began,
    /// It is over.
    Ended,
    /// Everything rests.
    Rested,
    /// It goes on.
    Resumed,
    /// An act was begun before its time.
    Started {
        /// Which.
        act: String,
    },
    /// Acts are done.
    Done {
        /// Which.
        acts: Vec<String>,
    },
    /// An act was not done after all.
    Reopened {
        /// Which.
        act: String,
    },
    /// An act needs longer.
    Longer {
        /// Which.
        act: String,
        /// By how many minutes.
        minutes: i64,
    },
    /// A cook is away; the rest was put in order anew.
    Away {
        /// Who.
        cook: String,
        /// For how many minutes.
        minutes: i64,
    },
    /// It has to end by a time; the rest was put in order anew.
    Stop {
        /// `2026-11-29T17:00:00`.
        by: DateTime,
    },
    /// Batches were given up; the rest was put in order anew.
    GivenUp {
        /// Which.
        batches: Vec<String>,
        /// `burnt`, `spilled`.
        why: String,
    },
}

impl SessionMark {
    /// Whether the rest of the run was put in order anew with it.
    #[must_use]
    pub fn reorders(&self) -> bool {
        matches!(self, Self::Away { .. } | Self::Stop { .. } | Self::GivenUp { .. })
    }
}

/// A mark.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "mark")]
pub enum Mark {
    /// A line is ticked or not.
    Tick {
        /// What about.
        kind: TickKind,
        /// Of which line.
        key: String,
        /// Ticked.
        on: bool,
    },
    /// What is at home of a food.
    Home {
        /// Which food.
        food: String,
        /// How much.
        level: Level,
    },
    /// Somebody eats later than the others.
    Later {
        /// At which sitting.
        sitting: String,
        /// Who.
        eater: String,
        /// When.
        at: DateTime,
    },
    /// Something happened in a session of a plan.
    Session {
        /// Hash of the snapshot of the plan.
        plan: String,
        /// Which session.
        session: String,
        /// What.
        what: SessionMark,
    },
}

/// A mark with its identifier and the time it came in.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Entry {
    /// Made where it was ticked.
    pub id: String,
    /// When it came in, as the household's clock said.
    pub at: DateTime,
    /// What.
    pub mark: Mark,
}

impl Entry {
    /// A line of the file.
    ///
    /// # Panics
    /// Never: nothing in a mark can fail to be written.
    #[must_use]
    pub fn line(&self) -> String {
        serde_json::to_string(self).expect("a mark consists of texts and numbers") + "\n"
    }

    /// Reads a line of the file.
    #[must_use]
    pub fn parse(line: &str) -> Option<Self> {
        serde_json::from_str(line).ok()
    }
}

/// Entries of one session in the order in which they came in.
pub type SessionEntries = Vec<(String, DateTime, SessionMark)>;

/// All marks, folded.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Board {
    ids: BTreeSet<String>,
    ticks: BTreeMap<(TickKind, String), bool>,
    home: BTreeMap<String, Level>,
    later: BTreeMap<(String, String), DateTime>,
    sessions: BTreeMap<(String, String), SessionEntries>,
}

impl Board {
    /// Takes an entry in; `false` when it is there already.
    pub fn take(&mut self, entry: Entry) -> bool {
        if !self.ids.insert(entry.id.clone()) {
            return false;
        }
        match entry.mark {
            Mark::Tick { kind, key, on } => drop(self.ticks.insert((kind, key), on)),
            Mark::Home { food, level } => drop(self.home.insert(food, level)),
            Mark::Later { sitting, eater, at } => drop(self.later.insert((sitting, eater), at)),
            Mark::Session { plan, session, what } => {
                let entries = self.sessions.entry((plan, session)).or_default();
                entries.push((entry.id, entry.at, what));
            }
        }
        true
    }

    /// Whether the entry is there.
    #[must_use]
    pub fn knows(&self, id: &str) -> bool {
        self.ids.contains(id)
    }

    /// Whether a line is ticked.
    #[must_use]
    pub fn ticked(&self, kind: TickKind, key: &str) -> bool {
        self.ticks.get(&(kind, key.to_owned())).copied().unwrap_or(false)
    }

    /// What somebody said of a food at home.
    #[must_use]
    pub fn home(&self, food: &str) -> Option<Level> {
        self.home.get(food).copied()
    }

    /// Who eats later at a sitting, and when.
    pub fn later(&self, sitting: &str) -> impl Iterator<Item = (&str, DateTime)> {
        let later = self.later.iter();
        later
            .filter(move |((of, _), _)| of == sitting)
            .map(|((_, eater), at)| (eater.as_str(), *at))
    }

    /// What happened in a session of a plan.
    #[must_use]
    pub fn session(&self, plan: &str, session: &SessionId) -> &[(String, DateTime, SessionMark)] {
        let key = (plan.to_owned(), session.to_string());
        self.sessions.get(&key).map_or(&[], Vec::as_slice)
    }

    /// A session that was begun, has not ended, and of which something was heard within half a day.
    #[must_use]
    pub fn running(&self, now: DateTime) -> Option<String> {
        let since = now.saturating_sub(jiff::Span::new().hours(12));
        let open = |entries: &SessionEntries| {
            let mut whats = entries.iter().map(|(_, _, what)| what);
            let began = whats.clone().any(|what| *what == SessionMark::Began);
            began && !whats.any(|what| *what == SessionMark::Ended)
        };
        let lately = |entries: &SessionEntries| entries.last().is_some_and(|(_, at, _)| *at >= since);
        let mut found = self.sessions.iter();
        let found = found.find(|(_, entries)| open(entries) && lately(entries));
        found.map(|((_, session), _)| session.clone())
    }
}

/// The identifiers of a mark as types.
pub(crate) fn acts(ids: &[String]) -> impl Iterator<Item = ActId> + '_ {
    ids.iter().map(|id| ActId::new(id))
}

/// The identifiers of a mark as types.
pub(crate) fn batches(ids: &[String]) -> impl Iterator<Item = BatchId> + '_ {
    ids.iter().map(|id| BatchId::new(id))
}

/// The identifier of a cook.
pub(crate) fn cook(id: &str) -> CookId {
    CookId::new(id)
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    fn entry(id: &str, mark: Mark) -> Entry {
        Entry {
            id: id.into(),
            at: date(2026, 11, 28).at(10, 0, 0, 0),
            mark,
        }
    }

    fn tick(on: bool) -> Mark {
        Mark::Tick {
            kind: TickKind::Cart,
            key: "x".into(),
            on,
        }
    }

    #[test]
    fn a_mark_that_comes_twice_counts_once() {
        let mut board = Board::default();
        assert!(board.take(entry("1", tick(true))));
        assert!(board.take(entry("2", tick(false))));
        assert!(!board.take(entry("1", tick(true))));
        assert!(!board.ticked(TickKind::Cart, "x"));
    }

    #[test]
    fn a_line_is_read_as_it_was_written() {
        let all = [
            tick(true),
            Mark::Home {
                food: "salt".into(),
                level: Level::Low,
            },
            Mark::Session {
                plan: "p".into(),
                session: "2026-11-29".into(),
                what: SessionMark::Stop {
                    by: date(2026, 11, 29).at(17, 0, 0, 0),
                },
            },
            Mark::Session {
                plan: "p".into(),
                session: "2026-11-29".into(),
                what: SessionMark::Done {
                    acts: vec!["1".into(), "2".into()],
                },
            },
        ];
        for mark in all {
            let entry = entry("1", mark);
            let line = entry.line();
            assert_eq!(line.matches('\n').count(), 1);
            assert_eq!(Entry::parse(&line), Some(entry));
        }
    }

    #[test]
    fn half_a_line_is_no_mark() {
        let line = entry("1", tick(true)).line();
        assert_eq!(Entry::parse(&line[..line.len() / 2]), None);
    }
}
