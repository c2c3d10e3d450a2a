//! Folds kept beside the events: lots and ticks. They are only ever made from the events that count.

use std::collections::BTreeSet;

use larderwright_ledger::{Subject, lot_state, subjects, tick_of};
use larderwright_model::{FoodId, LotId};
use larderwright_records::event::{lot_state_to_json, tick_word};
use larderwright_store::{Doing, Kept, StoreError};
use sqlx::SqliteConnection;

use crate::fault::fault;
use crate::reading::counting_about;
use crate::sum::sum;

/// Folds anew whatever these events are about; returns the lots among it.
pub(super) async fn fold_touched(
    connection: &mut SqliteConnection,
    turned: &[Kept],
    doing: Doing,
) -> Result<BTreeSet<LotId>, StoreError> {
    let touched: BTreeSet<Subject> = turned.iter().flat_map(|kept| subjects(&kept.event)).collect();
    let mut lots = BTreeSet::new();
    for subject in touched {
        match subject {
            Subject::Lot(lot) => {
                fold_lot(connection, &lot, doing).await?;
                lots.insert(lot);
            }
            Subject::Tick(food) => fold_tick(connection, &food, doing).await?,
            _ => {}
        }
    }
    Ok(lots)
}

/// Makes every fold anew.
pub(crate) async fn fold_all(connection: &mut SqliteConnection, doing: Doing) -> Result<(), StoreError> {
    for sql in ["DELETE FROM fold_lot", "DELETE FROM fold_tick"] {
        sqlx::query(sql)
            .execute(&mut *connection)
            .await
            .map_err(fault(doing))?;
    }
    for lot in keys(connection, "lot", doing).await? {
        fold_lot(connection, &LotId::new(&lot), doing).await?;
    }
    for food in keys(connection, "tick", doing).await? {
        fold_tick(connection, &FoodId::new(&food), doing).await?;
    }
    Ok(())
}

async fn keys(
    connection: &mut SqliteConnection,
    kind: &str,
    doing: Doing,
) -> Result<Vec<String>, StoreError> {
    sqlx::query_scalar("SELECT DISTINCT key FROM event_subject WHERE kind = ?1")
        .bind(kind)
        .fetch_all(connection)
        .await
        .map_err(fault(doing))
}

/// Folds a lot anew; one of which nothing counts any more is not there.
async fn fold_lot(connection: &mut SqliteConnection, lot: &LotId, doing: Doing) -> Result<(), StoreError> {
    let events = counting_about(connection, &Subject::Lot(lot.clone()), doing).await?;
    let query = if events.is_empty() {
        sqlx::query("DELETE FROM fold_lot WHERE lot = ?1").bind(lot.as_str())
    } else {
        let state = lot_state(lot, &events);
        let record = lot_state_to_json(&state);
        let sql = "INSERT INTO fold_lot (lot, open, record, sum) VALUES (?1, ?2, ?3, ?4) ON CONFLICT (lot) \
                   DO UPDATE SET open = excluded.open, record = excluded.record, sum = excluded.sum";
        let sum = sum(&record);
        sqlx::query(sql)
            .bind(lot.as_str())
            .bind(state.is_open())
            .bind(record)
            .bind(sum)
    };
    query.execute(connection).await.map(|_| ()).map_err(fault(doing))
}

/// Folds what the tick list says of a food anew.
async fn fold_tick(connection: &mut SqliteConnection, food: &FoodId, doing: Doing) -> Result<(), StoreError> {
    let events = counting_about(connection, &Subject::Tick(food.clone()), doing).await?;
    let query = match tick_of(food, &events) {
        None => sqlx::query("DELETE FROM fold_tick WHERE food = ?1").bind(food.as_str()),
        Some(state) => {
            let record = tick_word(state);
            let sql = "INSERT INTO fold_tick (food, record, sum) VALUES (?1, ?2, ?3) \
                       ON CONFLICT (food) DO UPDATE SET record = excluded.record, sum = excluded.sum";
            let sum = sum(&record);
            sqlx::query(sql).bind(food.as_str()).bind(record).bind(sum)
        }
    };
    query.execute(connection).await.map(|_| ()).map_err(fault(doing))
}
