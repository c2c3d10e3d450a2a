//! From the driver's errors to the kinds of fault a store has.

use std::io;

use larderwright_records::RecordError;
use larderwright_store::{Doing, Fault, StoreError};

/// Result codes of SQLite: <https://www.sqlite.org/rescode.html>. An extended code carries them in its lowest byte.
mod code {
    pub(super) const BUSY: u32 = 5;
    pub(super) const LOCKED: u32 = 6;
    pub(super) const READONLY: u32 = 8;
    pub(super) const IOERR: u32 = 10;
    /// What a quota looks like.
    pub(super) const IOERR_WRITE: u32 = 778;
    pub(super) const FULL: u32 = 13;
    pub(super) const CANTOPEN: u32 = 14;
}

/// Names what was being done when the driver failed.
pub(crate) fn fault(doing: Doing) -> impl Fn(sqlx::Error) -> StoreError {
    move |error| StoreError::caused(doing, kind(&error), error)
}

fn kind(error: &sqlx::Error) -> Fault {
    match error {
        sqlx::Error::Database(cause) => {
            let code = cause.code().and_then(|code| code.parse::<u32>().ok());
            if code == Some(code::IOERR_WRITE) {
                let message = "the disk does not take what is written; there may be no room left for you";
                return Fault::Unreachable(message.into());
            }
            match code.map(|code| code & 0xff) {
                Some(code::BUSY | code::LOCKED) => Fault::Locked,
                Some(code::READONLY) => Fault::ReadOnly,
                Some(code::FULL) => Fault::Full,
                Some(code::IOERR) => Fault::Unreachable("the disk does not do what it is asked to".into()),
                Some(code::CANTOPEN) => Fault::Unreachable("the file cannot be opened".into()),
                _ => Fault::Corrupt(format!("the file is damaged: {}", cause.message())),
            }
        }
        sqlx::Error::PoolTimedOut => Fault::Locked,
        sqlx::Error::Io(cause) => io_kind(cause),
        sqlx::Error::PoolClosed | sqlx::Error::WorkerCrashed => {
            Fault::Unreachable("the store was closed".into())
        }
        other => Fault::Corrupt(format!("a row is not as it was written: {other}")),
    }
}

/// Names what was being done, and with which file, when the machine failed.
pub(crate) fn io_fault(doing: Doing, path: &std::path::Path) -> impl Fn(io::Error) -> StoreError {
    move |error| {
        let kind = match io_kind(&error) {
            Fault::Unreachable(what) => Fault::Unreachable(format!("{}: {what}", path.display())),
            other => other,
        };
        StoreError::caused(doing, kind, error)
    }
}

fn io_kind(error: &io::Error) -> Fault {
    match error.kind() {
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded | io::ErrorKind::FileTooLarge => {
            Fault::Full
        }
        io::ErrorKind::ReadOnlyFilesystem | io::ErrorKind::PermissionDenied => Fault::ReadOnly,
        _ => Fault::Unreachable(error.to_string()),
    }
}

/// A record that was kept and cannot be read.
pub(crate) fn damaged(doing: Doing) -> impl Fn(RecordError) -> StoreError {
    move |error| StoreError::caused(doing, Fault::Corrupt(error.to_string()), error)
}

/// Something that was kept and breaks our own rules.
pub(crate) fn broken(doing: Doing, what: &str) -> StoreError {
    StoreError::new(doing, Fault::Corrupt(what.to_owned()))
}
