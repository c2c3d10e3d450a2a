//! Plans and documents under the doctor's eye: texts still have their hashes, rows their sums, each choice follows the
//! one before, no version is missing.

use larderwright_records::written_hash;
use larderwright_store::{Defect, StoreError};
use sqlx::{Row, SqliteConnection};

use super::{DOING, damage};
use crate::fault::fault;
use crate::planning::{read_choice, read_head};

/// Plans and snapshots that were changed after they were written, or are missing.
pub(super) async fn plans(connection: &mut SqliteConnection) -> Result<Vec<Defect>, StoreError> {
    let sql = "SELECT 'plan', hash, record FROM plan UNION ALL SELECT 'snapshot', hash, record FROM snapshot";
    let rows: Vec<(String, String, String)> = sqlx::query_as(sql)
        .fetch_all(&mut *connection)
        .await
        .map_err(fault(DOING))?;
    let changed = rows
        .iter()
        .filter(|(_, hash, record)| written_hash(record).ok().as_ref() != Some(hash));
    let changed =
        changed.map(|(what, hash, _)| damage(hash, &format!("the {what} was changed after it was written")));
    let mut defects: Vec<Defect> = changed.collect();
    let sql = "SELECT seq, hash, parent, snapshot_hash, monday, made_at, head_sum FROM plan ORDER BY seq";
    let rows = sqlx::query(sql)
        .fetch_all(connection)
        .await
        .map_err(fault(DOING))?;
    for (at, row) in (1..).zip(&rows) {
        let seq: i64 = row.try_get("seq").map_err(fault(DOING))?;
        let hash: String = row.try_get("hash").map_err(fault(DOING))?;
        if read_head(row).is_err() {
            defects.push(damage(
                &hash,
                "what stands beside the plan was changed after it was written",
            ));
        }
        if seq != at {
            defects.push(damage(&hash, "a plan that was kept before this one is missing"));
            break;
        }
    }
    Ok(defects)
}

/// Choices that do not follow the one before, were changed, or are missing.
pub(super) async fn choices(connection: &mut SqliteConnection) -> Result<Vec<Defect>, StoreError> {
    let sql = "SELECT choice.seq, choice.monday, choice.hash, choice.sum, plan.parent, plan.monday AS own_monday \
               FROM choice JOIN plan ON plan.hash = choice.hash ORDER BY choice.monday, choice.seq";
    let rows = sqlx::query(sql)
        .fetch_all(&mut *connection)
        .await
        .map_err(fault(DOING))?;
    let mut defects = Vec::new();
    let mut before: Option<(String, String)> = None;
    for row in &rows {
        let text = |column: &str| row.try_get::<String, _>(column).map_err(fault(DOING));
        let (monday, hash) = (text("monday")?, text("hash")?);
        let parent: Option<String> = row.try_get("parent").map_err(fault(DOING))?;
        let expected = before
            .filter(|(week, _)| *week == monday)
            .map(|(_, chosen)| chosen);
        let wrongs = [
            (
                read_choice(row).is_err(),
                "the choice was changed after it was written",
            ),
            (
                parent != expected,
                "the plan was chosen though it does not follow the one before",
            ),
            (
                text("own_monday")? != monday,
                "the plan was chosen for another week than its own",
            ),
        ];
        let wrongs = wrongs.into_iter().filter(|(is_wrong, _)| *is_wrong);
        defects.extend(wrongs.map(|(_, message)| damage(&hash, message)));
        before = Some((monday, hash));
    }
    let missing: i64 = sqlx::query_scalar("SELECT coalesce(max(seq), 0) - count(*) FROM choice")
        .fetch_one(connection)
        .await
        .map_err(fault(DOING))?;
    if missing != 0 {
        defects.push(damage("choice", "a choice is missing"));
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
        if crate::filing::read(row).is_err() {
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
