//! Reading events and what they add up to.

use std::collections::BTreeMap;

use jiff::civil::Date;
use larderwright_ledger::{BatchState, LotState, Subject, batch_state};
use larderwright_model::{BatchId, Clock, Event, FoodId, LotId, StockState};
use larderwright_records::event::{event_from_json, lot_state_from_json, tick_from_word};
use larderwright_store::rules::check_kinds;
use larderwright_store::{Doing, Kept, StoreError};
use sqlx::sqlite::SqliteRow;
use sqlx::{Row, SqliteConnection};

use crate::SqliteStore;
use crate::fault::{broken, damaged, fault};
use crate::rows::arrival_sum_of;
use crate::sum::record;

const DOING: Doing = Doing::Reading;

/// A question for kept events: the columns that [`read_kept`] wants.
macro_rules! kept {
    ($rest:literal) => {
        concat!(
            "SELECT event.seq, event.wall_ms, event.count, event.device, event.said_wall_ms, event.said_count, \
             event.received_ms, event.counts, event.record, event.sum, event.arrival_sum FROM event ",
            $rest
        )
    };
}

pub(crate) use kept;

pub(crate) async fn events_about(store: &SqliteStore, subject: &Subject) -> Result<Vec<Event>, StoreError> {
    let mut transaction = store.begin_read(DOING).await?;
    counting_about(&mut transaction, subject, DOING).await
}

/// What counts about something, in the order of the clocks.
pub(crate) async fn counting_about(
    connection: &mut SqliteConnection,
    subject: &Subject,
    doing: Doing,
) -> Result<Vec<Event>, StoreError> {
    let (kind, key) = subject.key();
    let sql = kept!(
        "JOIN event_subject AS about ON about.seq = event.seq \
         WHERE about.kind = ?1 AND about.key = ?2 AND event.counts = 1 \
         ORDER BY event.wall_ms, event.count, event.device, event.id"
    );
    let rows = sqlx::query(sql)
        .bind(kind)
        .bind(key)
        .fetch_all(connection)
        .await
        .map_err(fault(doing))?;
    events(&rows, doing)
}

// The sign before the clock keeps SQLite from walking through every event in the order of the clocks to spare itself a sort.
pub(crate) async fn events_between(
    store: &SqliteStore,
    from: Date,
    to: Date,
) -> Result<Vec<Event>, StoreError> {
    let sql = kept!("WHERE day BETWEEN ?1 AND ?2 AND counts = 1 ORDER BY +wall_ms, count, device, id");
    let rows = sqlx::query(sql)
        .bind(day_number(from))
        .bind(day_number(to))
        .fetch_all(&store.readers)
        .await
        .map_err(fault(DOING))?;
    events(&rows, DOING)
}

pub(crate) async fn events_of(store: &SqliteStore, kinds: &[&str]) -> Result<Vec<Event>, StoreError> {
    check_kinds(kinds)?;
    let sql = kept!(
        "WHERE kind IN (SELECT value FROM json_each(?1)) AND counts = 1 \
         ORDER BY +wall_ms, count, device, id"
    );
    let rows = sqlx::query(sql)
        .bind(json_list(kinds))
        .fetch_all(&store.readers)
        .await
        .map_err(fault(DOING))?;
    events(&rows, DOING)
}

pub(crate) async fn events_of_since(
    store: &SqliteStore,
    kinds: &[&str],
    from: Date,
) -> Result<Vec<Event>, StoreError> {
    check_kinds(kinds)?;
    let sql = kept!(
        "WHERE kind IN (SELECT value FROM json_each(?1)) AND day >= ?2 AND counts = 1 \
         ORDER BY +wall_ms, count, device, id"
    );
    let rows = sqlx::query(sql)
        .bind(json_list(kinds))
        .bind(day_number(from))
        .fetch_all(&store.readers)
        .await
        .map_err(fault(DOING))?;
    events(&rows, DOING)
}

/// Known kinds are plain words, so that a list of them is JSON once they stand in quotation marks.
fn json_list(kinds: &[&str]) -> String {
    let list: Vec<String> = kinds.iter().map(|kind| format!("\"{kind}\"")).collect();
    format!("[{}]", list.join(","))
}

pub(crate) async fn last_events(store: &SqliteStore, count: usize) -> Result<Vec<Kept>, StoreError> {
    let sql = kept!("ORDER BY wall_ms DESC, count DESC, device DESC, id DESC LIMIT ?1");
    let rows = sqlx::query(sql)
        .bind(limit(count))
        .fetch_all(&store.readers)
        .await
        .map_err(fault(DOING))?;
    all_kept(&rows, DOING)
}

pub(crate) async fn arrived(store: &SqliteStore) -> Result<u64, StoreError> {
    let last: i64 = sqlx::query_scalar("SELECT coalesce(max(seq), 0) FROM event")
        .fetch_one(&store.readers)
        .await
        .map_err(fault(DOING))?;
    Ok(u64::try_from(last).unwrap_or(0))
}

pub(crate) async fn all_events(
    store: &SqliteStore,
    after: u64,
    count: usize,
) -> Result<Vec<Kept>, StoreError> {
    let rows = sqlx::query(kept!("WHERE seq > ?1 ORDER BY seq LIMIT ?2"))
        .bind(i64::try_from(after).unwrap_or(i64::MAX))
        .bind(limit(count))
        .fetch_all(&store.readers)
        .await
        .map_err(fault(DOING))?;
    all_kept(&rows, DOING)
}

fn limit(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}

pub(crate) async fn open_lots(store: &SqliteStore) -> Result<Vec<LotState>, StoreError> {
    let rows = sqlx::query("SELECT record, sum FROM fold_lot WHERE open = 1 ORDER BY lot")
        .fetch_all(&store.readers)
        .await
        .map_err(fault(DOING))?;
    rows.iter().map(read_lot).collect()
}

pub(crate) async fn lot(store: &SqliteStore, lot: &LotId) -> Result<Option<LotState>, StoreError> {
    let row = sqlx::query("SELECT record, sum FROM fold_lot WHERE lot = ?1")
        .bind(lot.as_str())
        .fetch_optional(&store.readers)
        .await
        .map_err(fault(DOING))?;
    row.as_ref().map(read_lot).transpose()
}

fn read_lot(row: &SqliteRow) -> Result<LotState, StoreError> {
    lot_state_from_json(record(row, DOING)?).map_err(damaged(DOING))
}

/// A batch has few events: it is folded when it is asked for.
pub(crate) async fn batch(store: &SqliteStore, batch: &BatchId) -> Result<Option<BatchState>, StoreError> {
    let events = events_about(store, &Subject::Batch(batch.clone())).await?;
    Ok((!events.is_empty()).then(|| batch_state(batch, &events)))
}

pub(crate) async fn ticks(store: &SqliteStore) -> Result<BTreeMap<FoodId, Option<StockState>>, StoreError> {
    let rows = sqlx::query("SELECT food, record, sum FROM fold_tick")
        .fetch_all(&store.readers)
        .await
        .map_err(fault(DOING))?;
    let pairs = rows.iter().map(|row| {
        let food: String = row.try_get("food").map_err(fault(DOING))?;
        let state = tick_from_word(record(row, DOING)?).map_err(damaged(DOING))?;
        Ok((FoodId::new(&food), state))
    });
    pairs.collect()
}

/// A local date as a number that sorts like the date.
pub(crate) fn day_number(date: Date) -> i64 {
    i64::from(date.year()) * 10_000 + i64::from(date.month()) * 100 + i64::from(date.day())
}

pub(crate) fn all_kept(rows: &[SqliteRow], doing: Doing) -> Result<Vec<Kept>, StoreError> {
    rows.iter().map(|row| read_kept(row, doing)).collect()
}

fn events(rows: &[SqliteRow], doing: Doing) -> Result<Vec<Event>, StoreError> {
    let kept = rows.iter().map(|row| read_kept(row, doing));
    kept.map(|kept| kept.map(|kept| kept.event)).collect()
}

/// An event as it is kept: the record holds it as it was sent, the columns the clock in force.
pub(crate) fn read_kept(row: &SqliteRow, doing: Doing) -> Result<Kept, StoreError> {
    let number = |column: &str| row.try_get::<i64, _>(column).map_err(fault(doing));
    let sent = event_from_json(record(row, doing)?).map_err(damaged(doing))?;
    let clock = Clock {
        wall_ms: number("wall_ms")?,
        count: row.try_get("count").map_err(fault(doing))?,
        device: sent.clock.device.clone(),
    };
    let was_replaced = row
        .try_get::<Option<i64>, _>("said_wall_ms")
        .map_err(fault(doing))?
        .is_some();
    let seq = u64::try_from(number("seq")?).map_err(|_| broken(doing, "an event has a negative number"))?;
    let kept = Kept {
        seq,
        said: was_replaced.then(|| sent.clock.clone()),
        event: Event { clock, ..sent },
        received_ms: number("received_ms")?,
        counts: number("counts")? == 1,
    };
    if number("arrival_sum")? == arrival_sum_of(&kept) {
        Ok(kept)
    } else {
        Err(broken(doing, "the time of an event is not as it was written"))
    }
}
