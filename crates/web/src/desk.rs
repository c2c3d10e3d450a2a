//! The desk: the one place from which pages take the week and what was marked, and to which they write. Behind it lies
//! a saved folder; whoever keeps a household's memory elsewhere replaces this file and nothing else.

use std::fs;
use std::io::{self, Read as _, Seek as _, Write as _};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, RwLock};
use std::time::SystemTime;

use jiff::civil::DateTime;
use larderwright_app::{FolderError, load, save};
use larderwright_model::{Conflict, SessionId, Snapshot, WeekPlan};
use larderwright_planning::session::replan::Replanned;
use tokio::sync::broadcast;

use crate::drafts::Draft;
use crate::marks::{Board, Entry, Mark, SessionMark};
use crate::progress::{Course, Reordered, course, preview};

/// A snapshot and the plan made from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Week {
    /// What the plan depends on.
    pub snapshot: Snapshot,
    /// The plan.
    pub plan: WeekPlan,
}

impl Week {
    /// A week.
    #[must_use]
    pub fn new(snapshot: Snapshot, plan: WeekPlan) -> Self {
        Self { snapshot, plan }
    }

    /// What tells this plan from others.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.plan.snapshot_hash
    }
}

/// Why the desk cannot answer.
#[derive(Debug, thiserror::Error)]
pub enum DeskError {
    /// There is no plan yet.
    #[error("there is no plan in `{}`", folder.display())]
    Empty {
        /// Where it would be.
        folder: PathBuf,
    },
    /// The folder cannot be read.
    #[error("the week cannot be read")]
    Folder(#[source] FolderError),
    /// Marks cannot be read or written.
    #[error("marks in `{}` cannot be {verb}", path.display())]
    Marks {
        /// `read` or `written`.
        verb: &'static str,
        /// The file.
        path: PathBuf,
        /// Why.
        #[source]
        cause: io::Error,
    },
    /// Somebody else has planned anew in the meantime.
    #[error("the week was changed in the meantime")]
    Overtaken,
    /// The household's time zone is not known.
    #[error("there is no time zone `{0}`")]
    Zone(String),
}

impl DeskError {
    /// What happened, with everything that caused it.
    #[must_use]
    pub fn words(&self) -> String {
        let mut words = self.to_string();
        let mut cause = std::error::Error::source(self);
        while let Some(error) = cause {
            words = format!("{words}: {error}");
            cause = error.source();
        }
        words
    }
}

/// The local time in a zone; `None` when there is no such zone.
pub type Clock = Arc<dyn Fn(&str) -> Option<DateTime> + Send + Sync>;

const PLAN: &str = "plan.json";
const MARKS: &str = "marks.jsonl";

/// The desk over a saved folder.
pub struct Desk {
    folder: PathBuf,
    clock: Clock,
    week: RwLock<Option<(SystemTime, Arc<Week>)>>,
    board: Mutex<Board>,
    reordered: Mutex<Reordered>,
    news: broadcast::Sender<&'static str>,
}

impl std::fmt::Debug for Desk {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Desk")
            .field("folder", &self.folder)
            .finish_non_exhaustive()
    }
}

impl Desk {
    /// Opens a folder; it need not hold a plan yet.
    ///
    /// # Errors
    /// When its marks cannot be read.
    pub fn open(folder: &Path, clock: Clock) -> Result<Self, DeskError> {
        Ok(Self {
            board: Mutex::new(read_marks(&folder.join(MARKS))?),
            folder: folder.to_owned(),
            clock,
            week: RwLock::new(None),
            reordered: Mutex::new(Reordered::new()),
            news: broadcast::Sender::new(64),
        })
    }

    /// The week as it lies in the folder; read again when somebody has planned anew.
    ///
    /// # Errors
    /// When there is none, or it cannot be read.
    pub async fn week(&self) -> Result<Arc<Week>, DeskError> {
        let stamp = self.stamp()?;
        if let Some((seen, week)) = &*self.week.read().expect("nothing panics while it holds the week")
            && *seen == stamp
        {
            return Ok(Arc::clone(week));
        }
        let (snapshot, plan) = load(&self.folder).map_err(DeskError::Folder)?;
        let week = Arc::new(Week::new(snapshot, plan));
        let mut slot = self.week.write().expect("nothing panics while it holds the week");
        *slot = Some((stamp, Arc::clone(&week)));
        Ok(week)
    }

    fn stamp(&self) -> Result<SystemTime, DeskError> {
        let path = self.folder.join(PLAN);
        let read = fs::metadata(&path).and_then(|data| data.modified());
        read.map_err(|cause| match cause.kind() {
            io::ErrorKind::NotFound => DeskError::Empty {
                folder: self.folder.clone(),
            },
            _ => DeskError::Folder(FolderError::Io {
                verb: "read",
                path,
                cause,
            }),
        })
    }

    /// The time in the household's zone, to the second.
    ///
    /// # Errors
    /// When the zone is not known.
    pub fn now(&self, week: &Week) -> Result<DateTime, DeskError> {
        let zone = &week.snapshot.household.zone;
        (self.clock)(zone).ok_or_else(|| DeskError::Zone(zone.clone()))
    }

    /// Looks at what was marked.
    pub async fn board<T>(&self, look: impl FnOnce(&Board) -> T) -> T {
        look(
            &self
                .board
                .lock()
                .expect("nothing panics while it holds the board"),
        )
    }

    /// Writes a mark down, unless it is there already, and tells every device.
    ///
    /// # Errors
    /// When it cannot be written; then it is not taken.
    pub async fn mark(&self, entry: Entry) -> Result<(), DeskError> {
        let topic = topic(&entry.mark);
        {
            let mut board = self
                .board
                .lock()
                .expect("nothing panics while it holds the board");
            if board.knows(&entry.id) {
                return Ok(());
            }
            append(&self.folder.join(MARKS), &entry.line())?;
            board.take(entry);
        }
        // Nobody listening is no fault.
        let _ = self.news.send(topic);
        Ok(())
    }

    /// Puts a draft in the place of the week it was made from.
    ///
    /// # Errors
    /// When the week in the folder is another one by now, or the folder cannot be written; then it stands as it was.
    pub async fn replace(&self, parent: &Week, draft: &Draft) -> Result<(), DeskError> {
        let mut slot = self.week.write().expect("nothing panics while it holds the week");
        let (_, current) = load(&self.folder).map_err(DeskError::Folder)?;
        if current.snapshot_hash != parent.name() {
            return Err(DeskError::Overtaken);
        }
        save(&self.folder, &draft.snapshot, &draft.planned).map_err(DeskError::Folder)?;
        *slot = None;
        drop(slot);
        // Nobody listening is no fault.
        let _ = self.news.send("all");
        Ok(())
    }

    /// Every change from now on, by topic.
    pub(crate) fn news(&self) -> broadcast::Receiver<&'static str> {
        self.news.subscribe()
    }

    /// How many devices listen.
    pub(crate) fn listeners(&self) -> usize {
        self.news.receiver_count()
    }

    /// A session's course at a moment; `None` when the plan has no such session.
    pub async fn course(&self, week: &Week, session: &SessionId, now: DateTime) -> Option<Course> {
        let entries = self
            .board(|board| board.session(week.name(), session).to_vec())
            .await;
        let mut known = self
            .reordered
            .lock()
            .expect("nothing panics while it holds the runs");
        course(week, session, &entries, (now, &mut known))
    }

    /// What would follow from a mark.
    ///
    /// # Errors
    /// What is left can be put in no order.
    ///
    /// # Panics
    /// Panics when the plan has no such session.
    pub async fn preview(
        &self,
        week: &Week,
        session: &SessionId,
        (mark, now): (&SessionMark, DateTime),
    ) -> Result<Replanned, Conflict> {
        let entries = self
            .board(|board| board.session(week.name(), session).to_vec())
            .await;
        let mut known = self
            .reordered
            .lock()
            .expect("nothing panics while it holds the runs");
        preview(week, session, &entries, (mark, now), &mut known)
    }
}

/// Which pages a mark concerns.
fn topic(mark: &Mark) -> &'static str {
    match mark {
        Mark::Tick { .. } | Mark::Home { .. } => "shop",
        Mark::Lot { .. } => "larder",
        Mark::Session { .. } => "session",
    }
}

/// Reads all marks; a last line that was cut short by a fault is left out.
fn read_marks(path: &Path) -> Result<Board, DeskError> {
    let text = match fs::read_to_string(path) {
        Err(cause) if cause.kind() == io::ErrorKind::NotFound => return Ok(Board::default()),
        Err(cause) => {
            return Err(DeskError::Marks {
                verb: "read",
                path: path.to_owned(),
                cause,
            });
        }
        Ok(text) => text,
    };
    let mut board = Board::default();
    for entry in text.lines().filter_map(Entry::parse) {
        board.take(entry);
    }
    Ok(board)
}

/// A line is on the disk before anybody is told that it counts. A line that was cut short earlier is closed first.
fn append(path: &Path, line: &str) -> Result<(), DeskError> {
    let written = fs::OpenOptions::new()
        .create(true)
        .read(true)
        .append(true)
        .open(path)
        .and_then(|mut file| {
            if !ends_a_line(&mut file)? {
                file.write_all(b"\n")?;
            }
            file.write_all(line.as_bytes())?;
            file.sync_data()
        });
    written.map_err(|cause| DeskError::Marks {
        verb: "written",
        path: path.to_owned(),
        cause,
    })
}

fn ends_a_line(file: &mut fs::File) -> io::Result<bool> {
    if file.metadata()?.len() == 0 {
        return Ok(true);
    }
    file.seek(io::SeekFrom::End(-1))?;
    let mut last = [0];
    file.read_exact(&mut last)?;
    Ok(last == *b"\n")
}
