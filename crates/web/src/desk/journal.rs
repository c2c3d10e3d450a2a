//! The journal of marks, kept in the household's memory with everything else: documents of a few lines each, because
//! every version of a document is kept.

use std::sync::MutexGuard;

use jiff::Span;
use jiff::civil::Date;
use larderwright_app::HomeError;
use larderwright_store::{Put, Store, StoreError};

use super::{Desk, DeskError};
use crate::marks::{Board, Entry, Mark};

/// Documents of the journal: `marks/2026-11-29/003`.
const PREFIX: &str = "marks/";
/// Lines of a document: a new one begins when it is full, so that a mark costs little however long a session is.
const LINES: usize = 8;
/// Days of marks that are read when pages are opened: a week, its shopping before and its last box after.
const DAYS: i64 = 28;

/// Where the next mark is written.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Journal {
    day: Option<Date>,
    number: u32,
    version: u32,
    lines: Vec<String>,
}

impl Journal {
    /// Reads what was marked lately.
    pub(super) async fn read<S: Store>(store: &S) -> Result<(Self, Board), DeskError> {
        let mut names = store.document_names().await?;
        names.retain(|name| day_of(name).is_some());
        names.sort();
        let last = names.last().and_then(|name| day_of(name));
        let since = last.map(|day| day.saturating_sub(Span::new().days(DAYS)));
        let mut board = Board::default();
        let mut journal = Self::default();
        for name in names.iter().filter(|name| day_of(name) >= since) {
            if let Some(document) = store.document(name).await? {
                for entry in document.text.lines().filter_map(Entry::parse) {
                    board.take(entry);
                }
                journal = Self {
                    day: day_of(name),
                    number: number_of(name),
                    version: document.version,
                    lines: document.text.lines().map(str::to_owned).collect(),
                };
            }
        }
        Ok((journal, board))
    }

    /// Opens the document for a line of this day.
    fn turn(&mut self, day: Date) {
        let same = self.day.is_some_and(|known| known >= day);
        if !same {
            *self = Self {
                day: Some(day),
                ..Self::default()
            };
        } else if self.lines.len() >= LINES {
            self.next();
        }
    }

    fn next(&mut self) {
        self.number += 1;
        self.version = 0;
        self.lines.clear();
    }

    /// Writes an entry down; not when somebody else was quicker, then the next document is its turn.
    async fn write<S: Store>(&mut self, store: &S, entry: &Entry) -> Result<bool, StoreError> {
        self.turn(entry.at.date());
        let line = entry.line();
        let text = self
            .lines
            .iter()
            .fold(String::new(), |text, line| text + line + "\n")
            + &line;
        match store.put_document(&self.name(), &text, self.version).await? {
            Put::Saved(version) => {
                self.version = version;
                self.lines.push(line.trim_end().to_owned());
                Ok(true)
            }
            Put::Overtaken(_) => {
                self.next();
                Ok(false)
            }
        }
    }

    fn name(&self) -> String {
        let day = self.day.unwrap_or_default();
        format!("{PREFIX}{day}/{:03}", self.number)
    }
}

fn day_of(name: &str) -> Option<Date> {
    let (day, _) = name.strip_prefix(PREFIX)?.split_once('/')?;
    day.parse().ok()
}

fn number_of(name: &str) -> u32 {
    let number = name.rsplit_once('/').map_or("", |(_, number)| number);
    number.parse().unwrap_or(0)
}

/// How often a document that another program wrote at the same time is left to it.
const TRIES: usize = 1_000;

impl<S: Store> Desk<S> {
    /// Looks at what was marked.
    pub async fn board<T>(&self, look: impl FnOnce(&Board) -> T) -> T {
        look(&self.marked())
    }

    pub(super) fn marked(&self) -> MutexGuard<'_, Board> {
        self.board
            .lock()
            .expect("nothing panics while it holds the board")
    }

    /// Whether a mark is there already.
    pub fn knows(&self, id: &str) -> bool {
        self.marked().knows(id)
    }

    /// Writes a mark down, unless it is there already, and tells every device.
    ///
    /// # Errors
    /// When it cannot be written; then it is not taken.
    pub async fn mark(&self, entry: Entry) -> Result<(), DeskError> {
        let topic = topic(&entry.mark);
        let mut journal = self.journal.lock().await;
        if self.knows(&entry.id) {
            return Ok(());
        }
        for _ in 0..TRIES {
            if journal.write(self.home.store(), &entry).await? {
                self.marked().take(entry);
                self.tell(topic);
                return Ok(());
            }
        }
        Err(DeskError::Home(HomeError::Overtaken))
    }
}

/// Which pages a mark concerns.
fn topic(mark: &Mark) -> &'static str {
    match mark {
        Mark::Tick { .. } | Mark::Home { .. } | Mark::Later { .. } => "shop",
        Mark::Session { .. } => "session",
    }
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;
    use larderwright_store::MemoryStore;

    use super::*;
    use crate::marks::TickKind;

    fn entry(number: u32, day: i8) -> Entry {
        Entry {
            id: format!("entry-{number}"),
            at: date(2026, 11, day).at(10, 0, 0, 0),
            mark: Mark::Tick {
                kind: TickKind::Label,
                key: format!("line-{number}"),
                on: true,
            },
        }
    }

    #[tokio::test]
    async fn what_was_written_is_read_again_and_written_on() {
        let store = MemoryStore::new();
        let mut journal = Journal::default();
        for number in 0..20 {
            let entry = entry(number, if number < 12 { 28 } else { 29 });
            let written = journal.write(&store, &entry).await;
            assert!(
                written.expect("a store in memory does not fail"),
                "nobody else writes"
            );
        }
        let (read, board) = Journal::read(&store)
            .await
            .expect("a store in memory does not fail");
        assert_eq!(read, journal);
        for number in 0..20 {
            assert!(board.ticked(TickKind::Label, &format!("line-{number}")));
        }
        let names = store.document_names().await.expect("it does not fail");
        assert_eq!(
            names,
            [
                "marks/2026-11-28/000",
                "marks/2026-11-28/001",
                "marks/2026-11-29/000"
            ]
        );
    }
}
