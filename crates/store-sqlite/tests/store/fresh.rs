//! Folders of their own for tests, taken away afterwards.

use std::cell::RefCell;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};

use larderwright_store::{Gravity, Store};
use larderwright_store_sqlite::SqliteStore;
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{AssertSqlSafe, ConnectOptions, Connection};

thread_local! {
    static KEPT: RefCell<Vec<Folder>> = const { RefCell::new(Vec::new()) };
}

/// A folder that is taken away with everything in it.
pub(crate) struct Folder(PathBuf);

impl Folder {
    pub(crate) fn new() -> Self {
        static NUMBER: AtomicU64 = AtomicU64::new(0);
        let number = NUMBER.fetch_add(1, Ordering::Relaxed);
        let name = format!("larderwright-store-{}-{number}", std::process::id());
        let path = std::env::temp_dir().join(name);
        fs::create_dir_all(&path).expect("the folder for temporary files can be written to");
        Self(path)
    }

    pub(crate) fn path(&self) -> &Path {
        &self.0
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        // What is left over does not make a test fail.
        let _ = fs::remove_dir_all(&self.0);
    }
}

/// Runs a case to its end and takes its folders away.
pub(crate) fn run<T>(case: impl Future<Output = T>) -> T {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .expect("a runtime can be made");
    let result = runtime.block_on(case);
    drop(runtime);
    KEPT.with_borrow_mut(Vec::clear);
    result
}

/// Says something to a file directly, past the store; nothing needs to be valid, and triggers can be taken away.
pub(crate) async fn raw(file: &Path, sql: &str) {
    tried(file, sql).await.expect("the file does what it is told");
}

/// The same; what the file answers when it does not.
pub(crate) async fn tried(file: &Path, sql: &str) -> Result<(), String> {
    let options = SqliteConnectOptions::new()
        .filename(file)
        .create_if_missing(true)
        .foreign_keys(false);
    let mut connection = options.connect().await.expect("the file can be opened");
    let done = sqlx::raw_sql(AssertSqlSafe(sql.to_owned()))
        .execute(&mut connection)
        .await;
    connection.close().await.expect("the file can be closed");
    done.map(|_| ()).map_err(|error| error.to_string())
}

/// A store in a folder of its own that lives until the end of the case.
pub(crate) async fn make() -> SqliteStore {
    let folder = Folder::new();
    let store = SqliteStore::open(folder.path())
        .await
        .expect("a fresh store can be made");
    KEPT.with_borrow_mut(|kept| kept.push(folder));
    store
}

/// A check finds nothing wrong with the store itself; then it is closed.
pub(crate) async fn close_sound(store: SqliteStore) {
    let defects = store.check().await.expect("it can be checked");
    assert!(
        defects.iter().all(|defect| defect.gravity == Gravity::Notice),
        "{defects:?}"
    );
    store.close().await;
}
