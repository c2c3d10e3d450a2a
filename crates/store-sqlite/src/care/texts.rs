//! Plans and documents under the doctor's eye: texts still have their hashes, each choice follows the one before, no
//! version is missing.

use larderwright_records::written_hash;
use larderwright_store::{Defect, StoreError};
use sqlx::{Row, SqliteConnection};

use super::{DOING, damage};
use crate::fault::fault;
use crate::sum::record;

/// Plans and snapshots that were changed after they were written.
pub(super) async fn plans(connection: &mut SqliteConnection) -> Result<Vec<Defect>, StoreError> {
    let sql = "SELECT 'plan', hash, record FROM plan UNION ALL SELECT 'snapshot', hash, record FROM snapshot";
    let rows: Vec<(String, String, String)> = sqlx::query_as(sql)
        .fetch_all(connection)
        .await
        .map_err(fault(DOING))?;
    let changed = rows
        .iter()
        .filter(|(_, hash, record)| written_hash(record).ok().as_ref() != Some(hash));
    Ok(changed
        .map(|(what, hash, _)| damage(hash, &format!("the {what} was changed after it was written")))
        .collect())
}

/// Choices that do not follow the one before.
pub(super) async fn choices(connection: &mut SqliteConnection) -> Result<Vec<Defect>, StoreError> {
    let sql = "SELECT choice.monday, choice.hash, plan.parent, plan.monday FROM choice \
               JOIN plan ON plan.hash = choice.hash ORDER BY choice.monday, choice.seq";
    let rows: Vec<(String, String, Option<String>, String)> = sqlx::query_as(sql)
        .fetch_all(connection)
        .await
        .map_err(fault(DOING))?;
    let mut defects = Vec::new();
    let mut before: Option<(&String, &String)> = None;
    for (monday, hash, parent, own_monday) in &rows {
        let expected = before
            .filter(|(week, _)| *week == monday)
            .map(|(_, chosen)| chosen);
        if parent.as_ref() != expected {
            defects.push(damage(
                hash,
                "the plan was chosen though it does not follow the one before",
            ));
        }
        if own_monday != monday {
            defects.push(damage(hash, "the plan was chosen for another week than its own"));
        }
        before = Some((monday, hash));
    }
    Ok(defects)
}

/// Documents that were changed, or of which a version is missing.
pub(super) async fn documents(connection: &mut SqliteConnection) -> Result<Vec<Defect>, StoreError> {
    let rows = sqlx::query("SELECT name, version, record, sum FROM document ORDER BY name, version")
        .fetch_all(connection)
        .await
        .map_err(fault(DOING))?;
    let (mut defects, mut before) = (Vec::new(), (String::new(), 0));
    for row in &rows {
        let name: String = row.try_get("name").map_err(fault(DOING))?;
        let version: i64 = row.try_get("version").map_err(fault(DOING))?;
        if record(row, DOING).is_err() {
            defects.push(damage(&name, "the document was changed after it was written"));
        }
        let expected = if before.0 == name { before.1 + 1 } else { 1 };
        if version != expected {
            defects.push(damage(&name, "a version of the document is missing"));
        }
        before = (name, version);
    }
    Ok(defects)
}
