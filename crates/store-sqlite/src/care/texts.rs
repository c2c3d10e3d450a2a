//! Plans and documents under the doctor's eye: texts still have their hashes, each choice follows the one before, no
//! version is missing.

use larderwright_records::written_hash;
use larderwright_store::{Defect, StoreError};
use sqlx::SqliteConnection;

use super::{DOING, damage};
use crate::fault::fault;

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

/// Documents of which a version is missing.
pub(super) async fn documents(connection: &mut SqliteConnection) -> Result<Vec<Defect>, StoreError> {
    let sql = "SELECT name FROM document GROUP BY name HAVING min(version) <> 1 OR max(version) <> count(*)";
    let names: Vec<String> = sqlx::query_scalar(sql)
        .fetch_all(connection)
        .await
        .map_err(fault(DOING))?;
    Ok(names
        .iter()
        .map(|name| damage(name, "a version of the document is missing"))
        .collect())
}
