//! Opening: is the file there, is it ours, is it whole, is it of our time; and bringing it up to date.

use std::fs;
use std::io::Read;
use std::path::Path;
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::Duration;

use larderwright_store::{Doing, Fault, StoreError};
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqlitePoolOptions, SqliteSynchronous};
use sqlx::{ConnectOptions, Connection, SqliteConnection, SqlitePool};

use crate::fault::{fault, io_fault};
use crate::files::{name_once, remove, with_suffix, write_copy};
use crate::{SqliteStore, rows};

/// The file's name in its folder.
pub const FILE_NAME: &str = "larderwright.db";

/// Where copies are kept that the store makes itself.
pub(crate) const BACKUPS: &str = "backups";

/// By this number in its header a file is known as ours: the letters LARW.
const APPLICATION_ID: u32 = 0x4C41_5257;

/// A step from one version of the tables to the next.
#[derive(Clone, Copy)]
struct Step {
    sql: &'static str,
    /// What is filled in afterwards, in the same transaction.
    fills: Fills,
}

#[derive(Clone, Copy)]
enum Fills {
    Nothing,
    SumsOfRows,
}

/// The steps from version to version, from an empty file on. Steps are added, never changed.
const MIGRATIONS: &[Step] = &[
    Step {
        sql: include_str!("migrations/0001-events-plans-documents.sql"),
        fills: Fills::Nothing,
    },
    Step {
        sql: include_str!("migrations/0002-sums-of-rows.sql"),
        fills: Fills::SumsOfRows,
    },
];

/// The version of the tables that this program writes.
pub const SCHEMA_VERSION: i64 = MIGRATIONS.len() as i64;

/// How long to wait for another process that writes.
const PATIENCE: Duration = Duration::from_secs(10);

pub(crate) const DOING: Doing = Doing::Opening;

pub(crate) async fn open(folder: &Path) -> Result<SqliteStore, StoreError> {
    fs::create_dir_all(folder).map_err(io_fault(DOING, folder))?;
    let path = folder.join(FILE_NAME);
    open_file(folder, &path)
        .await
        .map_err(|error| explained(error, folder))
}

async fn open_file(folder: &Path, path: &Path) -> Result<SqliteStore, StoreError> {
    if !path.exists() {
        make(folder, path).await?;
    }
    check_header(path)?;
    migrate(folder, path, MIGRATIONS).await?;
    let options = options(path);
    let writer = pool(1)
        .connect_with(options.clone())
        .await
        .map_err(fault(DOING))?;
    check_whole(&writer).await?;
    Ok(SqliteStore {
        folder: folder.to_owned(),
        readers: pool(3).connect_lazy_with(options),
        writer,
    })
}

/// A new file gets its tables under another name and its own name last, so that an empty file is never one of ours: it is
/// one that was lost. Of two processes that make the first file the slower one takes the other's.
async fn make(folder: &Path, path: &Path) -> Result<(), StoreError> {
    static NUMBER: AtomicU32 = AtomicU32::new(0);
    let number = NUMBER.fetch_add(1, Ordering::Relaxed);
    let fresh = folder.join(format!("{FILE_NAME}.new-{}-{number}", std::process::id()));
    let made = async {
        migrate(folder, &fresh, MIGRATIONS).await?;
        name_once(&fresh, path, DOING)
    };
    let made = made.await;
    let removed = remove(&fresh, DOING);
    made.and(removed)
}

/// The database says no more than that it cannot open or write a file; whether the folder can be written to at all is
/// tried out.
fn explained(error: StoreError, folder: &Path) -> StoreError {
    if !matches!(error.fault, Fault::Unreachable(_)) {
        return error;
    }
    let probe = folder.join(format!("{FILE_NAME}.probe-{}", std::process::id()));
    let tried = fs::write(&probe, "can this folder be written to?").map_err(io_fault(DOING, folder));
    let removed = remove(&probe, DOING);
    match tried.and(removed) {
        Err(why) if matches!(why.fault, Fault::ReadOnly | Fault::Full) => {
            StoreError::caused(DOING, why.fault, error)
        }
        _ => error,
    }
}

fn pool(connections: u32) -> SqlitePoolOptions {
    SqlitePoolOptions::new()
        .max_connections(connections)
        .acquire_timeout(PATIENCE * 2)
        .test_before_acquire(false)
}

/// As the file is always opened: foreign keys on, the log synchronised on every commit.
pub(crate) fn options(path: &Path) -> SqliteConnectOptions {
    plain_options(path)
        .journal_mode(SqliteJournalMode::Wal)
        .synchronous(SqliteSynchronous::Full)
}

/// Without touching how the file keeps its journal.
fn plain_options(path: &Path) -> SqliteConnectOptions {
    SqliteConnectOptions::new()
        .filename(path)
        .create_if_missing(true)
        .foreign_keys(true)
        .busy_timeout(PATIENCE)
        .disable_statement_logging()
}

/// Looks at the first bytes before the database does: opening a foreign file would already change it. The layout is
/// published: <https://www.sqlite.org/fileformat2.html>, section 1.3.
pub(crate) fn check_header(path: &Path) -> Result<(), StoreError> {
    let mut head = Vec::new();
    match fs::File::open(path) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(()),
        Err(error) => return Err(io_fault(DOING, path)(error)),
        Ok(file) => file
            .take(100)
            .read_to_end(&mut head)
            .map_err(io_fault(DOING, path))?,
    };
    let wrong = |why: &str| {
        let message = format!("`{}` {why}", path.display());
        Err(StoreError::new(DOING, Fault::WrongFile(message)))
    };
    if head.is_empty() {
        let message = format!("`{}` is empty: what was in it is lost", path.display());
        return Err(StoreError::new(DOING, Fault::Corrupt(message)));
    }
    if head.len() < 100 || !head.starts_with(b"SQLite format 3\0") {
        return wrong("is not a household's data, or its beginning is damaged");
    }
    let number = |at: usize| u32::from_be_bytes([head[at], head[at + 1], head[at + 2], head[at + 3]]);
    // Nought: a file that was made and not filled yet; whether it holds somebody else's tables is seen later.
    if ![0, APPLICATION_ID].contains(&number(68)) {
        return wrong("belongs to another program");
    }
    check_version(i64::from(number(60)), SCHEMA_VERSION)?;
    let page = match number(16) >> 16 {
        // So large that two bytes do not hold it.
        1 => 65_536,
        size => u64::from(size),
    };
    check_length(path, page * u64::from(number(28)))
}

/// Whether the end of the file is there. While there is a log, what is not in the file may be in the log.
fn check_length(path: &Path, expected: u64) -> Result<(), StoreError> {
    let length = |path: &Path| fs::metadata(path).map(|about| about.len());
    let has_log = length(&with_suffix(path, "-wal")).is_ok_and(|length| length > 0);
    if has_log || length(path).map_err(io_fault(DOING, path))? >= expected {
        return Ok(());
    }
    let message = format!("the end of `{}` is missing", path.display());
    Err(StoreError::new(DOING, Fault::Corrupt(message)))
}

fn check_version(found: i64, known: i64) -> Result<(), StoreError> {
    if found <= known {
        return Ok(());
    }
    Err(StoreError::new(DOING, Fault::NewerSchema { found, known }))
}

/// Brings the tables up to date, each step in a transaction of its own that asks anew how far the file is: another
/// process may have been quicker.
async fn migrate(folder: &Path, path: &Path, steps: &[Step]) -> Result<(), StoreError> {
    let last = steps.len() as i64;
    let mut connection = plain_options(path).connect().await.map_err(fault(DOING))?;
    let found = version(&mut connection).await?;
    check_version(found, last)?;
    if found == 0 {
        check_empty(&mut connection, path).await?;
    } else if found < last {
        let copy = folder
            .join(BACKUPS)
            .join(format!("before-version-{last}-from-{found}.db"));
        if !copy.exists() {
            write_copy(&mut connection, &copy, DOING).await?;
        }
    }
    for (at, step) in (1..).zip(steps) {
        if at > found {
            take_step(&mut connection, at, step).await?;
        }
    }
    connection.close().await.map_err(fault(DOING))
}

async fn take_step(connection: &mut SqliteConnection, at: i64, step: &Step) -> Result<(), StoreError> {
    let mut transaction = connection
        .begin_with("BEGIN IMMEDIATE")
        .await
        .map_err(fault(DOING))?;
    if version(&mut transaction).await? < at {
        sqlx::raw_sql(step.sql)
            .execute(&mut *transaction)
            .await
            .map_err(fault(DOING))?;
        match step.fills {
            Fills::Nothing => {}
            Fills::SumsOfRows => rows::fill(&mut transaction).await?,
        }
    }
    transaction.commit().await.map_err(fault(DOING))
}

async fn version(connection: &mut SqliteConnection) -> Result<i64, StoreError> {
    sqlx::query_scalar("PRAGMA user_version")
        .fetch_one(connection)
        .await
        .map_err(fault(DOING))
}

async fn check_empty(connection: &mut SqliteConnection, path: &Path) -> Result<(), StoreError> {
    let tables: i64 = sqlx::query_scalar("SELECT count(*) FROM sqlite_schema")
        .fetch_one(&mut *connection)
        .await
        .map_err(fault(DOING))?;
    // Another process may be making the tables just now.
    if tables == 0 || version(connection).await? > 0 {
        return Ok(());
    }
    let message = format!("`{}` belongs to another program", path.display());
    Err(StoreError::new(DOING, Fault::WrongFile(message)))
}

async fn check_whole(pool: &SqlitePool) -> Result<(), StoreError> {
    let found: Vec<String> = sqlx::query_scalar("PRAGMA quick_check(3)")
        .fetch_all(pool)
        .await
        .map_err(fault(DOING))?;
    if found == ["ok"] {
        return Ok(());
    }
    let message = format!("the file is damaged: {}", found.join("; "));
    Err(StoreError::new(DOING, Fault::Corrupt(message)))
}

#[cfg(test)]
mod tests {
    use std::path::PathBuf;

    use larderwright_store::Store;

    use super::*;

    /// A folder of its own for a test, taken away afterwards.
    struct Place(PathBuf);

    impl Place {
        fn new(name: &str) -> Self {
            let name = format!("larderwright-steps-{}-{name}", std::process::id());
            Self(std::env::temp_dir().join(name))
        }
    }

    impl Drop for Place {
        fn drop(&mut self) {
            // What is left over does not make a test fail.
            let _ = fs::remove_dir_all(&self.0);
        }
    }

    fn run(case: impl Future<Output = ()>) {
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build();
        runtime.expect("a runtime can be made").block_on(case);
    }

    async fn in_use(folder: &Path) {
        let store = open(folder).await.expect("it opens");
        let put = store.put_document("household", "text", 0).await;
        put.expect("the document is kept");
        store.close().await;
    }

    fn with(sql: &'static str) -> Vec<Step> {
        let later = Step {
            sql,
            fills: Fills::Nothing,
        };
        MIGRATIONS.iter().copied().chain([later]).collect()
    }

    async fn has_text(folder: &Path) -> bool {
        let store = open(folder).await.expect("it opens");
        let document = store.document("household").await.expect("documents are read");
        store.close().await;
        document.is_some_and(|document| document.text == "text")
    }

    #[test]
    fn before_a_step_the_file_is_copied_and_the_copy_is_a_backup() {
        let place = Place::new("copied");
        let folder = &place.0;
        run(async {
            in_use(folder).await;
            let path = folder.join(FILE_NAME);
            let later = SCHEMA_VERSION + 1;
            let steps = with("ALTER TABLE document ADD COLUMN made_up TEXT; PRAGMA user_version = 3;");
            migrate(folder, &path, &steps).await.expect("the step is taken");
            migrate(folder, &path, &steps).await.expect("and only once");
            let error = open(folder).await.expect_err("it is of a later program now");
            let newer = Fault::NewerSchema {
                found: later,
                known: SCHEMA_VERSION,
            };
            assert_eq!(error.fault, newer);
            let copy = folder.join(format!("backups/before-version-{later}-from-{SCHEMA_VERSION}.db"));
            let restored = SqliteStore::restore(folder, &copy, "test").await;
            restored.expect("the copy is a backup");
            assert!(has_text(folder).await);
        });
    }

    #[test]
    fn a_step_that_fails_changes_nothing() {
        let place = Place::new("failed");
        let folder = &place.0;
        run(async {
            in_use(folder).await;
            let steps = with("DROP TABLE document; PRAGMA user_version = 3; INSERT INTO nowhere VALUES (1);");
            let failed = migrate(folder, &folder.join(FILE_NAME), &steps).await;
            assert!(failed.is_err());
            assert!(has_text(folder).await);
        });
    }
}
