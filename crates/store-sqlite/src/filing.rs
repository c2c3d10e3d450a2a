//! Documents: named texts, every version of them.

use larderwright_store::{Document, Doing, Put, StoreError};
use sqlx::sqlite::SqliteRow;
use sqlx::{Row, SqliteConnection};

use crate::SqliteStore;
use crate::fault::{broken, fault};
use crate::rows::document_sum;

const DOING: Doing = Doing::Filing;

pub(crate) async fn put_document(
    store: &SqliteStore,
    name: &str,
    text: &str,
    expected_version: u32,
) -> Result<Put, StoreError> {
    let mut transaction = store.begin_write(DOING).await?;
    let last = last_version(&mut transaction, name).await?;
    if last != expected_version {
        return Ok(Put::Overtaken(last));
    }
    sqlx::query("INSERT INTO document (name, version, record, sum) VALUES (?1, ?2, ?3, ?4)")
        .bind(name)
        .bind(last + 1)
        .bind(text)
        .bind(document_sum(name, last + 1, text))
        .execute(&mut *transaction)
        .await
        .map_err(fault(DOING))?;
    transaction.commit().await.map_err(fault(DOING))?;
    Ok(Put::Saved(last + 1))
}

async fn last_version(connection: &mut SqliteConnection, name: &str) -> Result<u32, StoreError> {
    sqlx::query_scalar("SELECT coalesce(max(version), 0) FROM document WHERE name = ?1")
        .bind(name)
        .fetch_one(connection)
        .await
        .map_err(fault(DOING))
}

pub(crate) async fn document(store: &SqliteStore, name: &str) -> Result<Option<Document>, StoreError> {
    let sql = "SELECT name, version, record, sum FROM document WHERE name = ?1 ORDER BY version DESC LIMIT 1";
    let row = sqlx::query(sql)
        .bind(name)
        .fetch_optional(&store.readers)
        .await
        .map_err(fault(DOING))?;
    row.as_ref().map(read).transpose()
}

pub(crate) async fn document_history(store: &SqliteStore, name: &str) -> Result<Vec<Document>, StoreError> {
    let rows =
        sqlx::query("SELECT name, version, record, sum FROM document WHERE name = ?1 ORDER BY version")
            .bind(name)
            .fetch_all(&store.readers)
            .await
            .map_err(fault(DOING))?;
    rows.iter().map(read).collect()
}

pub(crate) async fn document_names(store: &SqliteStore) -> Result<Vec<String>, StoreError> {
    sqlx::query_scalar("SELECT DISTINCT name FROM document ORDER BY name")
        .fetch_all(&store.readers)
        .await
        .map_err(fault(DOING))
}

pub(crate) fn read(row: &SqliteRow) -> Result<Document, StoreError> {
    let document = Document {
        name: row.try_get("name").map_err(fault(DOING))?,
        version: row.try_get("version").map_err(fault(DOING))?,
        text: row.try_get("record").map_err(fault(DOING))?,
    };
    let written: i64 = row.try_get("sum").map_err(fault(DOING))?;
    if written == document_sum(&document.name, document.version, &document.text) {
        Ok(document)
    } else {
        Err(broken(DOING, "a document is not as it was written"))
    }
}
