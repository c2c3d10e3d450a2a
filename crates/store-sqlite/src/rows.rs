//! Sums over whole rows: what stands beside a record may not change unnoticed either. Each is the sum of the row's values
//! as one text.

use larderwright_model::DeviceId;
use larderwright_store::clock::Hybrid;
use larderwright_store::{Kept, PlanHead, StoreError};
use sqlx::sqlite::SqliteRow;
use sqlx::{Row, SqliteConnection};

use crate::fault::fault;
use crate::open::DOING;
use crate::planning::head_of;
use crate::sum::sum;

/// Values as one text that no other values give: each with its length before it.
fn joined(values: &[&str]) -> String {
    let parts = values.iter().map(|value| format!("{}:{value};", value.len()));
    parts.collect()
}

fn or_none(value: Option<&str>) -> String {
    value.map_or_else(|| "none".into(), |value| format!("some {value}"))
}

/// The sum over when an event happened and arrived.
pub(crate) fn arrival_sum(in_force: Hybrid, said: Option<Hybrid>, received_ms: i64) -> i64 {
    let stamp = |stamp: Hybrid| format!("{}.{}", stamp.wall_ms, stamp.count);
    let said = said.map_or_else(|| "none".into(), stamp);
    sum(&joined(&[&stamp(in_force), &said, &received_ms.to_string()]))
}

/// The same of an event as it is kept.
pub(crate) fn arrival_sum_of(kept: &Kept) -> i64 {
    let said = kept.said.as_ref().map(Hybrid::of);
    arrival_sum(Hybrid::of(&kept.event.clock), said, kept.received_ms)
}

/// The sum over what a plan is called.
pub(crate) fn head_sum(head: &PlanHead) -> i64 {
    sum(&joined(&[
        &head.hash,
        &or_none(head.parent.as_deref()),
        &head.snapshot_hash,
        &head.monday.to_string(),
        &head.made_at.to_string(),
    ]))
}

/// The sum over a choice.
pub(crate) fn choice_sum(monday: &str, hash: &str) -> i64 {
    sum(&joined(&[monday, hash]))
}

/// The sum over a version of a document.
pub(crate) fn document_sum(name: &str, version: u32, text: &str) -> i64 {
    sum(&joined(&[name, &version.to_string(), text]))
}

/// The sum over which device this is and its clock.
pub(crate) fn own_sum(device: Option<&str>, seen: Hybrid) -> i64 {
    let stamp = format!("{}.{}", seen.wall_ms, seen.count);
    sum(&joined(&[&or_none(device), &stamp]))
}

/// Fills in every sum of the second version of the tables.
pub(crate) async fn fill(connection: &mut SqliteConnection) -> Result<(), StoreError> {
    fill_events(connection).await?;
    fill_plans(connection).await?;
    fill_documents(connection).await?;
    let (device, seen) = own(connection).await?;
    sqlx::query("UPDATE own SET sum = ?1")
        .bind(own_sum(device.as_ref().map(DeviceId::as_str), seen))
        .execute(connection)
        .await
        .map(|_| ())
        .map_err(fault(DOING))
}

async fn own(connection: &mut SqliteConnection) -> Result<(Option<DeviceId>, Hybrid), StoreError> {
    let row = sqlx::query("SELECT device, wall_ms, count FROM own")
        .fetch_one(connection)
        .await
        .map_err(fault(DOING))?;
    let device: Option<String> = row.try_get("device").map_err(fault(DOING))?;
    Ok((
        device.map(|device| DeviceId::new(&device)),
        stamp(&row, "wall_ms", "count")?,
    ))
}

fn stamp(row: &SqliteRow, wall_ms: &str, count: &str) -> Result<Hybrid, StoreError> {
    Ok(Hybrid {
        wall_ms: row.try_get(wall_ms).map_err(fault(DOING))?,
        count: row.try_get(count).map_err(fault(DOING))?,
    })
}

async fn fill_events(connection: &mut SqliteConnection) -> Result<(), StoreError> {
    let sql = "SELECT seq, wall_ms, count, said_wall_ms, said_count, received_ms FROM event";
    let rows = sqlx::query(sql)
        .fetch_all(&mut *connection)
        .await
        .map_err(fault(DOING))?;
    for row in &rows {
        let said: Option<i64> = row.try_get("said_wall_ms").map_err(fault(DOING))?;
        let said = match said {
            None => None,
            Some(_) => Some(stamp(row, "said_wall_ms", "said_count")?),
        };
        let received_ms: i64 = row.try_get("received_ms").map_err(fault(DOING))?;
        let seq: i64 = row.try_get("seq").map_err(fault(DOING))?;
        sqlx::query("UPDATE event SET arrival_sum = ?1 WHERE seq = ?2")
            .bind(arrival_sum(stamp(row, "wall_ms", "count")?, said, received_ms))
            .bind(seq)
            .execute(&mut *connection)
            .await
            .map_err(fault(DOING))?;
    }
    Ok(())
}

async fn fill_plans(connection: &mut SqliteConnection) -> Result<(), StoreError> {
    let rows = sqlx::query("SELECT hash, parent, snapshot_hash, monday, made_at FROM plan")
        .fetch_all(&mut *connection)
        .await
        .map_err(fault(DOING))?;
    for row in &rows {
        let head = head_of(row)?;
        sqlx::query("UPDATE plan SET head_sum = ?1 WHERE hash = ?2")
            .bind(head_sum(&head))
            .bind(&head.hash)
            .execute(&mut *connection)
            .await
            .map_err(fault(DOING))?;
    }
    let choices: Vec<(i64, String, String)> = sqlx::query_as("SELECT seq, monday, hash FROM choice")
        .fetch_all(&mut *connection)
        .await
        .map_err(fault(DOING))?;
    for (seq, monday, hash) in choices {
        sqlx::query("UPDATE choice SET sum = ?1 WHERE seq = ?2")
            .bind(choice_sum(&monday, &hash))
            .bind(seq)
            .execute(&mut *connection)
            .await
            .map_err(fault(DOING))?;
    }
    Ok(())
}

/// A document that is damaged already keeps a sum that is not right.
async fn fill_documents(connection: &mut SqliteConnection) -> Result<(), StoreError> {
    let documents: Vec<(String, u32, String, i64)> =
        sqlx::query_as("SELECT name, version, record, sum FROM document")
            .fetch_all(&mut *connection)
            .await
            .map_err(fault(DOING))?;
    for (name, version, text, written) in documents {
        if written != sum(&text) {
            continue;
        }
        sqlx::query("UPDATE document SET sum = ?1 WHERE name = ?2 AND version = ?3")
            .bind(document_sum(&name, version, &text))
            .bind(&name)
            .bind(version)
            .execute(&mut *connection)
            .await
            .map_err(fault(DOING))?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_do_not_run_into_each_other() {
        assert_ne!(choice_sum("2026-11-30", "ab"), choice_sum("2026-11-30a", "b"));
        assert_ne!(
            own_sum(None, Hybrid::default()),
            own_sum(Some("none"), Hybrid::default())
        );
        assert_ne!(document_sum("a", 1, "1;"), document_sum("a", 11, ";"));
    }
}
