//! Which device this is, and the clock that never goes back.

use larderwright_model::{Clock, DeviceId};
use larderwright_store::clock::Hybrid;
use larderwright_store::{Doing, Fault, StoreError};
use sqlx::{Row, SqliteConnection};

use crate::SqliteStore;
use crate::fault::{broken, fault};
use crate::rows::own_sum;

const DOING: Doing = Doing::Stamping;

pub(crate) async fn device(store: &SqliteStore, fresh: &DeviceId) -> Result<DeviceId, StoreError> {
    let mut transaction = store.begin_write(DOING).await?;
    let (device, seen) = own(&mut transaction, DOING).await?;
    if let Some(device) = device {
        return Ok(DeviceId::new(&device));
    }
    save(&mut transaction, (Some(fresh.as_str()), seen), DOING).await?;
    transaction.commit().await.map_err(fault(DOING))?;
    Ok(fresh.clone())
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
    own(connection, doing).await.map(|(_, seen)| seen)
}

/// Which device this is, and the highest stamp given out or seen.
pub(crate) async fn own(
    connection: &mut SqliteConnection,
    doing: Doing,
) -> Result<(Option<String>, Hybrid), StoreError> {
    let row = sqlx::query("SELECT device, wall_ms, count, sum FROM own")
        .fetch_one(connection)
        .await
        .map_err(fault(doing))?;
    let device: Option<String> = row.try_get("device").map_err(fault(doing))?;
    let seen = Hybrid {
        wall_ms: row.try_get("wall_ms").map_err(fault(doing))?,
        count: row.try_get("count").map_err(fault(doing))?,
    };
    let written: i64 = row.try_get("sum").map_err(fault(doing))?;
    if written == own_sum(device.as_deref(), seen) {
        Ok((device, seen))
    } else {
        Err(broken(doing, "the store's own clock is not as it was written"))
    }
}

pub(crate) async fn save_seen(
    connection: &mut SqliteConnection,
    seen: Hybrid,
    doing: Doing,
) -> Result<(), StoreError> {
    let (device, _) = own(connection, doing).await?;
    save(connection, (device.as_deref(), seen), doing).await
}

/// Sets the clock to the highest stamp of all events if it is behind them, or not as it was written.
pub(crate) async fn mend_clock(connection: &mut SqliteConnection, highest: Hybrid) -> Result<(), StoreError> {
    let doing = Doing::Checking;
    let device: Option<String> = sqlx::query_scalar("SELECT device FROM own")
        .fetch_one(&mut *connection)
        .await
        .map_err(fault(doing))?;
    let seen = match seen(connection, doing).await {
        Ok(seen) => seen.max(highest),
        Err(error) if matches!(error.fault, Fault::Corrupt(_)) => highest,
        Err(error) => return Err(error),
    };
    save(connection, (device.as_deref(), seen), doing).await
}

async fn save(
    connection: &mut SqliteConnection,
    (device, seen): (Option<&str>, Hybrid),
    doing: Doing,
) -> Result<(), StoreError> {
    let done = sqlx::query("UPDATE own SET device = ?1, wall_ms = ?2, count = ?3, sum = ?4")
        .bind(device)
        .bind(seen.wall_ms)
        .bind(seen.count)
        .bind(own_sum(device, seen))
        .execute(connection)
        .await
        .map_err(fault(doing))?;
    if done.rows_affected() == 1 {
        Ok(())
    } else {
        Err(broken(doing, "the row of the store's own clock is not there"))
    }
}
