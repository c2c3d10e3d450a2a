//! Which device this is, and the clock that never goes back.

use larderwright_model::{Clock, DeviceId};
use larderwright_store::clock::Hybrid;
use larderwright_store::{Doing, StoreError};
use sqlx::{Row, SqliteConnection};

use crate::SqliteStore;
use crate::fault::{broken, fault};

const DOING: Doing = Doing::Stamping;

pub(crate) async fn device(store: &SqliteStore, fresh: &DeviceId) -> Result<DeviceId, StoreError> {
    let mut transaction = store.begin_write(DOING).await?;
    sqlx::query("UPDATE own SET device = ?1 WHERE device IS NULL")
        .bind(fresh.as_str())
        .execute(&mut *transaction)
        .await
        .map_err(fault(DOING))?;
    let device: String = sqlx::query_scalar("SELECT device FROM own")
        .fetch_one(&mut *transaction)
        .await
        .map_err(fault(DOING))?;
    transaction.commit().await.map_err(fault(DOING))?;
    Ok(DeviceId::new(&device))
}

pub(crate) async fn next_clock(
    store: &SqliteStore,
    device: &DeviceId,
    now_ms: i64,
) -> Result<Clock, StoreError> {
    let mut transaction = store.begin_write(DOING).await?;
    let next = seen(&mut transaction, DOING).await?.next(now_ms);
    save_seen(&mut transaction, next, DOING).await?;
    transaction.commit().await.map_err(fault(DOING))?;
    Ok(next.stamp(device))
}

/// The highest stamp given out or seen.
pub(crate) async fn seen(connection: &mut SqliteConnection, doing: Doing) -> Result<Hybrid, StoreError> {
    let row = sqlx::query("SELECT wall_ms, count FROM own")
        .fetch_one(connection)
        .await
        .map_err(fault(doing))?;
    Ok(Hybrid {
        wall_ms: row.try_get("wall_ms").map_err(fault(doing))?,
        count: row.try_get("count").map_err(fault(doing))?,
    })
}

pub(crate) async fn save_seen(
    connection: &mut SqliteConnection,
    seen: Hybrid,
    doing: Doing,
) -> Result<(), StoreError> {
    let done = sqlx::query("UPDATE own SET wall_ms = ?1, count = ?2")
        .bind(seen.wall_ms)
        .bind(seen.count)
        .execute(connection)
        .await
        .map_err(fault(doing))?;
    if done.rows_affected() == 1 {
        Ok(())
    } else {
        Err(broken(doing, "the row of the store's own clock is not there"))
    }
}
