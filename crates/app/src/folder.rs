//! A week in a folder: the plan, the snapshot it was made from, and every sheet as text. Written whole or not at
//! all; files that are not ours are left alone.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use larderwright_model::{Snapshot, WeekPlan};
use larderwright_records::RecordError;
use larderwright_records::plan::plan_from_json;
use larderwright_records::snapshot::{snapshot_from_json, snapshot_hash, snapshot_to_json};
use larderwright_views::{SheetKind, build, text};

use crate::planned::Planned;

const PLAN: &str = "plan.json";
const SNAPSHOT: &str = "snapshot.json";
const SHEETS: &str = "sheets";
/// Where a week is written before it takes the place of the old one.
const NEW: &str = ".larderwright-new";
/// Where the old week stands while the new one moves in.
const OLD: &str = ".larderwright-old";

/// What was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Saved {
    /// The folder.
    pub folder: PathBuf,
    /// Every sheet's file, in the order in which a cook needs them.
    pub sheets: Vec<PathBuf>,
}

/// Why a folder could not be read or written.
#[derive(Debug, thiserror::Error)]
pub enum FolderError {
    /// The machine refused.
    #[error("`{}` cannot be {verb}", path.display())]
    Io {
        /// `read` or `written`.
        verb: &'static str,
        /// Which file or folder.
        path: PathBuf,
        /// Why.
        #[source]
        cause: io::Error,
    },
    /// A file is not what we wrote.
    #[error("`{}` is not what was written there", path.display())]
    Record {
        /// Which file.
        path: PathBuf,
        /// Why.
        #[source]
        cause: RecordError,
    },
    /// There is no plan in the folder.
    #[error("there is no plan in `{}`", folder.display())]
    Empty {
        /// Which folder.
        folder: PathBuf,
    },
    /// Plan and snapshot do not belong together.
    #[error("the plan in `{}` was made from another snapshot", folder.display())]
    Mismatch {
        /// Which folder.
        folder: PathBuf,
    },
}

fn fault(verb: &'static str, path: &Path) -> impl FnOnce(io::Error) -> FolderError {
    let path = path.to_owned();
    move |cause| FolderError::Io { verb, path, cause }
}

/// Writes a planned week into a folder, which is made when it is missing. An earlier week of ours there is
/// replaced.
///
/// # Errors
/// When a file cannot be written; then the earlier week stands as it was.
pub fn save(folder: &Path, snapshot: &Snapshot, planned: &Planned) -> Result<Saved, FolderError> {
    fs::create_dir_all(folder).map_err(fault("written", folder))?;
    let new = folder.join(NEW);
    clear(&new)?;
    write_week(&new, snapshot, planned).inspect_err(|_| drop(clear(&new)))?;
    move_in(folder, &new)?;
    let sheets = SheetKind::ALL
        .iter()
        .map(|kind| folder.join(SHEETS).join(file_name(*kind)))
        .collect();
    Ok(Saved {
        folder: folder.to_owned(),
        sheets,
    })
}

fn clear(path: &Path) -> Result<(), FolderError> {
    match fs::remove_dir_all(path) {
        Err(cause) if cause.kind() != io::ErrorKind::NotFound => Err(fault("written", path)(cause)),
        _ => Ok(()),
    }
}

fn file_name(kind: SheetKind) -> String {
    format!("{}.txt", kind.word())
}

fn write_week(new: &Path, snapshot: &Snapshot, planned: &Planned) -> Result<(), FolderError> {
    let sheets = new.join(SHEETS);
    fs::create_dir_all(&sheets).map_err(fault("written", &sheets))?;
    for kind in SheetKind::ALL {
        let sheet = build(kind, snapshot, &planned.plan);
        write(&sheets.join(file_name(kind)), &text::render(&sheet, text::WIDTH))?;
    }
    write(&new.join(SNAPSHOT), &snapshot_to_json(snapshot))?;
    write(&new.join(PLAN), &planned.json)
}

/// Writes a file and waits until it lies on the disk.
fn write(path: &Path, text: &str) -> Result<(), FolderError> {
    let written = fs::File::create(path).and_then(|mut file| {
        io::Write::write_all(&mut file, text.as_bytes())?;
        file.sync_all()
    });
    written.map_err(fault("written", path))
}

/// Puts the new week in the place of the old one; the plan moves last, so that a plan that stands there has its
/// snapshot and sheets. When a move fails, what had moved goes back.
fn move_in(folder: &Path, new: &Path) -> Result<(), FolderError> {
    let old = folder.join(OLD);
    clear(&old)?;
    fs::create_dir_all(&old).map_err(fault("written", &old))?;
    let mut moved = Vec::new();
    for name in [SHEETS, SNAPSHOT, PLAN] {
        if let Err(error) = swap(folder, (new, &old), name) {
            for name in moved.into_iter().rev().chain([name]) {
                put_back(folder, &old, name);
            }
            return Err(error);
        }
        moved.push(name);
    }
    clear(&old)?;
    clear(new)
}

fn swap(folder: &Path, (new, old): (&Path, &Path), name: &str) -> Result<(), FolderError> {
    let place = folder.join(name);
    if place.exists() {
        fs::rename(&place, old.join(name)).map_err(fault("written", &place))?;
    }
    fs::rename(new.join(name), &place).map_err(fault("written", &place))
}

/// Best effort: the first fault is the one that is told.
fn put_back(folder: &Path, old: &Path, name: &str) {
    let (place, kept) = (folder.join(name), old.join(name));
    if kept.exists() {
        drop(fs::remove_dir_all(&place).or_else(|_| fs::remove_file(&place)));
        drop(fs::rename(kept, place));
    }
}

/// Reads the week in a folder.
///
/// # Errors
/// When there is none, when a file cannot be read, or when plan and snapshot are not what was written together.
pub fn load(folder: &Path) -> Result<(Snapshot, WeekPlan), FolderError> {
    let (plan_path, snapshot_path) = (folder.join(PLAN), folder.join(SNAPSHOT));
    if !plan_path.exists() {
        return Err(FolderError::Empty {
            folder: folder.to_owned(),
        });
    }
    let read = |path: &Path| fs::read_to_string(path).map_err(fault("read", path));
    let broken = |path: &Path| {
        let path = path.to_owned();
        move |cause| FolderError::Record { path, cause }
    };
    let plan = plan_from_json(&read(&plan_path)?).map_err(broken(&plan_path))?;
    let snapshot = snapshot_from_json(&read(&snapshot_path)?).map_err(broken(&snapshot_path))?;
    if plan.snapshot_hash != snapshot_hash(&snapshot) {
        return Err(FolderError::Mismatch {
            folder: folder.to_owned(),
        });
    }
    Ok((snapshot, plan))
}
