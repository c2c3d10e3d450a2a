//! Whole files: backups, and putting one in the place of the store.

use std::fs;
use std::path::{Path, PathBuf};

use larderwright_store::{Defect, Doing, Fault, Gravity, Store, StoreError};
use sqlx::{ConnectOptions, Connection, SqliteConnection};

use crate::SqliteStore;
use crate::fault::{fault, io_fault};
use crate::open::{BACKUPS, FILE_NAME, check_header, options};

/// What the database keeps beside its file while it is open.
const BESIDE: [&str; 2] = ["-wal", "-shm"];

/// What a restore did.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Restored {
    /// Where the file is kept that was there before, if there was one.
    pub replaced: Option<PathBuf>,
    /// What was mended in the restored file, and what does not add up in its books.
    pub defects: Vec<Defect>,
}

pub(crate) async fn backup(store: &SqliteStore, file: &Path) -> Result<(), StoreError> {
    let doing = Doing::BackingUp;
    if file.exists() {
        let message = format!("`{}` exists already", file.display());
        return Err(StoreError::new(doing, Fault::BadInput(message)));
    }
    let mut connection = store.readers.acquire().await.map_err(fault(doing))?;
    write_copy(&mut connection, file, doing).await
}

/// Writes a copy beside its final name first, so that there is never half a backup.
pub(crate) async fn write_copy(
    connection: &mut SqliteConnection,
    file: &Path,
    doing: Doing,
) -> Result<(), StoreError> {
    if let Some(parent) = file.parent() {
        fs::create_dir_all(parent).map_err(io_fault(doing, parent))?;
    }
    let partial = with_suffix(file, ".partial");
    remove(&partial, doing)?;
    let Some(text) = partial.to_str() else {
        let message = format!("`{}` is no name that can be written as text", file.display());
        return Err(StoreError::new(doing, Fault::BadInput(message)));
    };
    let copied = sqlx::query("VACUUM INTO ?1").bind(text).execute(connection).await;
    if let Err(error) = copied {
        remove(&partial, doing)?;
        return Err(fault(doing)(error));
    }
    put_in_place(&partial, file, doing)
}

pub(crate) async fn restore(folder: &Path, file: &Path, label: &str) -> Result<Restored, StoreError> {
    let doing = Doing::Restoring;
    fs::metadata(file).map_err(io_fault(doing, file))?;
    check_header(file).map_err(|error| error.while_doing(doing))?;
    let workshop = folder.join("restoring");
    if workshop.exists() {
        fs::remove_dir_all(&workshop).map_err(io_fault(doing, &workshop))?;
    }
    let restored = prepare_and_replace(folder, file, (&workshop, label)).await;
    let cleared = fs::remove_dir_all(&workshop).map_err(io_fault(doing, &workshop));
    let restored = restored?;
    cleared.map(|()| restored)
}

async fn prepare_and_replace(
    folder: &Path,
    file: &Path,
    (workshop, label): (&Path, &str),
) -> Result<Restored, StoreError> {
    let doing = Doing::Restoring;
    let defects = prepare(file, workshop).await?;
    let target = folder.join(FILE_NAME);
    let replaced = if target.exists() {
        let kept = keep_replaced(folder, &target, label).await?;
        Some(kept)
    } else {
        None
    };
    put_in_place(&workshop.join(FILE_NAME), &target, doing)?;
    Ok(Restored { replaced, defects })
}

/// Copies a backup aside, opens it there as any store, and looks at everything in it.
async fn prepare(file: &Path, workshop: &Path) -> Result<Vec<Defect>, StoreError> {
    let doing = Doing::Restoring;
    fs::create_dir_all(workshop).map_err(io_fault(doing, workshop))?;
    let copy = workshop.join(FILE_NAME);
    copy_with_log(file, &copy)?;
    let in_restoring = |error: StoreError| error.while_doing(doing);
    let store = SqliteStore::open(workshop).await.map_err(in_restoring)?;
    let mut defects = store.check().await.map_err(in_restoring)?;
    if let Some(damage) = defects.iter().find(|defect| defect.gravity == Gravity::Damage) {
        let message = format!("the backup is damaged: {}: {}", damage.subject, damage.message);
        store.close().await;
        return Err(StoreError::new(doing, Fault::Corrupt(message)));
    }
    if defects.iter().any(|defect| defect.gravity == Gravity::Derived) {
        defects = store.mend().await.map_err(in_restoring)?;
    }
    store.close().await;
    Ok(defects)
}

/// Keeps the file that is to be replaced. It stays where it is too, so that there is a whole store at every moment.
async fn keep_replaced(folder: &Path, target: &Path, label: &str) -> Result<PathBuf, StoreError> {
    let doing = Doing::Restoring;
    if let Err(error) = take_alone(target).await
        && matches!(error.fault, Fault::Locked | Fault::ReadOnly | Fault::Full)
    {
        return Err(error);
    }
    let backups = folder.join(BACKUPS);
    fs::create_dir_all(&backups).map_err(io_fault(doing, &backups))?;
    let names = (1..).map(|at| match at {
        1 => backups.join(format!("replaced-{label}.db")),
        _ => backups.join(format!("replaced-{label}-{at}.db")),
    });
    let kept = { names }
        .find(|name| !name.exists())
        .expect("there are more numbers than files");
    copy_with_log(target, &kept)?;
    for suffix in BESIDE {
        remove(&with_suffix(target, suffix), doing)?;
    }
    Ok(kept)
}

/// Nobody else may have the file open: leaving the log behind asks the database for that, and folds the log into the
/// file.
async fn take_alone(target: &Path) -> Result<(), StoreError> {
    let doing = Doing::Restoring;
    let options = options(target).busy_timeout(std::time::Duration::from_secs(1));
    let mut connection = options.connect().await.map_err(fault(doing))?;
    sqlx::query("PRAGMA journal_mode = DELETE")
        .fetch_all(&mut connection)
        .await
        .map_err(fault(doing))?;
    connection.close().await.map_err(fault(doing))
}

fn copy_with_log(from: &Path, to: &Path) -> Result<(), StoreError> {
    let doing = Doing::Restoring;
    copy(from, to)?;
    let (log, log_copy) = (with_suffix(from, BESIDE[0]), with_suffix(to, BESIDE[0]));
    if log.exists() {
        copy(&log, &log_copy)?;
    }
    let parent = to.parent().unwrap_or(Path::new("."));
    sync(parent, doing)
}

fn copy(from: &Path, to: &Path) -> Result<(), StoreError> {
    let doing = Doing::Restoring;
    fs::copy(from, to).map_err(io_fault(doing, to))?;
    sync(to, doing)
}

fn put_in_place(from: &Path, to: &Path, doing: Doing) -> Result<(), StoreError> {
    sync(from, doing)?;
    fs::rename(from, to).map_err(io_fault(doing, to))?;
    let parent = to.parent().filter(|parent| !parent.as_os_str().is_empty());
    sync(parent.unwrap_or(Path::new(".")), doing)
}

/// Gives a file its name, unless there is one of that name by now.
pub(crate) fn name_once(from: &Path, to: &Path, doing: Doing) -> Result<(), StoreError> {
    sync(from, doing)?;
    match fs::hard_link(from, to) {
        Ok(()) => {}
        Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => {}
        // Not every disk can give a file two names.
        Err(_) if !to.exists() => fs::rename(from, to).map_err(io_fault(doing, to))?,
        Err(_) => {}
    }
    let parent = to.parent().filter(|parent| !parent.as_os_str().is_empty());
    sync(parent.unwrap_or(Path::new(".")), doing)
}

/// Waits until the disk holds a file, or the names in a folder. Where a folder cannot be opened like a file, its names
/// are the system's affair.
fn sync(path: &Path, doing: Doing) -> Result<(), StoreError> {
    match fs::File::open(path) {
        Err(_) if path.is_dir() => Ok(()),
        opened => opened
            .and_then(|file| file.sync_all())
            .map_err(io_fault(doing, path)),
    }
}

pub(crate) fn remove(path: &Path, doing: Doing) -> Result<(), StoreError> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => Err(io_fault(doing, path)(error)),
        _ => Ok(()),
    }
}

pub(crate) fn with_suffix(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(suffix);
    name.into()
}
