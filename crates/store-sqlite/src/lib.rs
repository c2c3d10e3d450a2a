//! The store in one SQLite file, `larderwright.db`: write-ahead log, full synchronisation, strict tables. Every write is
//! one transaction that holds the write lock from its beginning; what is acknowledged is on the disk.

mod care;
mod fault;
mod files;
mod filing;
mod ledger;
mod open;
mod planning;
mod reading;
mod rows;
mod stamping;
mod sum;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use jiff::civil::Date;
use larderwright_ledger::{BatchState, LotState, Subject};
use larderwright_model::{BatchId, Clock, DeviceId, Event, FoodId, LotId, StockState};
use larderwright_store::{
    Choice, Defect, Document, Doing, Kept, PlanHead, PlanRow, Put, Receipt, Store, StoreError,
};
use sqlx::SqlitePool;

pub use files::Restored;
pub use open::{FILE_NAME, SCHEMA_VERSION};

use fault::fault;

/// A household's memory in one file.
#[derive(Clone, Debug)]
pub struct SqliteStore {
    folder: PathBuf,
    /// One connection: writers of this process wait for each other in order, not by trying again.
    writer: SqlitePool,
    readers: SqlitePool,
}

type Transaction = sqlx::Transaction<'static, sqlx::Sqlite>;

impl SqliteStore {
    /// Opens the store in a folder, and makes both where they are not there yet. Before an older file is brought up to
    /// date it is copied to `backups`.
    ///
    /// # Errors
    /// When the folder or file cannot be reached or written, is damaged, is not ours, or is of a newer program.
    pub async fn open(folder: &Path) -> Result<Self, StoreError> {
        open::open(folder).await
    }

    /// Where it is.
    #[must_use]
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Writes a consistent copy of everything to a new file, while others may go on reading and writing.
    ///
    /// # Errors
    /// When the file exists or cannot be written.
    pub async fn backup(&self, file: &Path) -> Result<(), StoreError> {
        files::backup(self, file).await
    }

    /// Puts a backup in the place of the store in a folder, once it has been opened, brought up to date and checked. The
    /// file that was there is kept in `backups`, under `label`. No store may be open in the folder.
    ///
    /// # Errors
    /// When the backup is damaged, not ours, or of a newer program, when somebody has the store open, or when files
    /// cannot be written. The store is as before then.
    pub async fn restore(folder: &Path, file: &Path, label: &str) -> Result<Restored, StoreError> {
        files::restore(folder, file, label).await
    }

    /// Ends all connections and folds the log into the file.
    pub async fn close(self) {
        self.readers.close().await;
        self.writer.close().await;
    }

    /// A transaction that holds the write lock from the start: with a plain one, reading before writing fails whenever
    /// another writer was quicker.
    async fn begin_write(&self, doing: Doing) -> Result<Transaction, StoreError> {
        self.writer
            .begin_with("BEGIN IMMEDIATE")
            .await
            .map_err(fault(doing))
    }

    /// A transaction that sees one state throughout.
    async fn begin_read(&self, doing: Doing) -> Result<Transaction, StoreError> {
        self.readers.begin().await.map_err(fault(doing))
    }
}

impl Store for SqliteStore {
    async fn append(&self, events: &[Event], now_ms: i64) -> Result<Receipt, StoreError> {
        ledger::append(self, events, now_ms).await
    }

    async fn adopt(&self, kept: &[Kept]) -> Result<Receipt, StoreError> {
        ledger::adopt(self, kept).await
    }

    async fn events_about(&self, subject: &Subject) -> Result<Vec<Event>, StoreError> {
        reading::events_about(self, subject).await
    }

    async fn events_between(&self, from: Date, to: Date) -> Result<Vec<Event>, StoreError> {
        reading::events_between(self, from, to).await
    }

    async fn events_of(&self, kinds: &[&str]) -> Result<Vec<Event>, StoreError> {
        reading::events_of(self, kinds).await
    }

    async fn events_of_since(&self, kinds: &[&str], from: Date) -> Result<Vec<Event>, StoreError> {
        reading::events_of_since(self, kinds, from).await
    }

    async fn last_events(&self, count: usize) -> Result<Vec<Kept>, StoreError> {
        reading::last_events(self, count).await
    }

    async fn arrived(&self) -> Result<u64, StoreError> {
        reading::arrived(self).await
    }

    async fn all_events(&self, after: u64, limit: usize) -> Result<Vec<Kept>, StoreError> {
        reading::all_events(self, after, limit).await
    }

    async fn open_lots(&self) -> Result<Vec<LotState>, StoreError> {
        reading::open_lots(self).await
    }

    async fn lot(&self, lot: &LotId) -> Result<Option<LotState>, StoreError> {
        reading::lot(self, lot).await
    }

    async fn batch(&self, batch: &BatchId) -> Result<Option<BatchState>, StoreError> {
        reading::batch(self, batch).await
    }

    async fn ticks(&self) -> Result<BTreeMap<FoodId, Option<StockState>>, StoreError> {
        reading::ticks(self).await
    }

    async fn save_plan(&self, plan: &PlanRow) -> Result<(), StoreError> {
        planning::save_plan(self, plan).await
    }

    async fn plan(&self, hash: &str) -> Result<Option<PlanRow>, StoreError> {
        planning::plan(self, hash).await
    }

    async fn plans(&self, monday: Date) -> Result<Vec<PlanHead>, StoreError> {
        planning::plans(self, monday).await
    }

    async fn weeks(&self) -> Result<Vec<Date>, StoreError> {
        planning::weeks(self).await
    }

    async fn current(&self, monday: Date) -> Result<Option<PlanHead>, StoreError> {
        planning::current(self, monday).await
    }

    async fn choose(&self, monday: Date, hash: &str) -> Result<Choice, StoreError> {
        planning::choose(self, monday, hash).await
    }

    async fn choices(&self, monday: Date) -> Result<Vec<String>, StoreError> {
        planning::choices(self, monday).await
    }

    async fn put_document(&self, name: &str, text: &str, expected_version: u32) -> Result<Put, StoreError> {
        filing::put_document(self, name, text, expected_version).await
    }

    async fn document(&self, name: &str) -> Result<Option<Document>, StoreError> {
        filing::document(self, name).await
    }

    async fn document_history(&self, name: &str) -> Result<Vec<Document>, StoreError> {
        filing::document_history(self, name).await
    }

    async fn document_names(&self) -> Result<Vec<String>, StoreError> {
        filing::document_names(self).await
    }

    async fn device(&self, fresh: &DeviceId) -> Result<DeviceId, StoreError> {
        stamping::device(self, fresh).await
    }

    async fn next_clock(&self, device: &DeviceId, now_ms: i64) -> Result<Clock, StoreError> {
        stamping::next_clock(self, device, now_ms).await
    }

    async fn check(&self) -> Result<Vec<Defect>, StoreError> {
        care::check(self).await
    }

    async fn mend(&self) -> Result<Vec<Defect>, StoreError> {
        care::mend(self).await
    }
}
