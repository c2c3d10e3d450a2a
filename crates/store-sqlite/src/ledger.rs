//! Appending: an event is kept once, decides anew what counts of the events it is tied to, and every lot and tick
//! that may have changed is folded anew, all in one transaction.

mod fold;
mod settle;

use std::collections::BTreeSet;

use larderwright_ledger::subjects;
use larderwright_model::{Event, EventId};
use larderwright_records::event::{event_to_json, kind_word};
use larderwright_store::clock::Hybrid;
use larderwright_store::rules::{arrived, meeting};
use larderwright_store::{Appended, Doing, Kept, Receipt, StoreError};
use sqlx::SqliteConnection;

use crate::SqliteStore;
use crate::fault::{broken, fault};
use crate::reading::{all_kept, day_number, kept};
use crate::rows::arrival_sum_of;
use crate::stamping::{save_seen, seen};
use crate::sum::sum;

pub(crate) use fold::fold_all;

const DOING: Doing = Doing::Appending;

pub(crate) async fn append(
    store: &SqliteStore,
    events: &[Event],
    now_ms: i64,
) -> Result<Receipt, StoreError> {
    let mut transaction = store.begin_write(DOING).await?;
    let mut arrivals = Arrivals::begin(&mut transaction).await?;
    for event in events {
        let arrived = arrived(arrivals.seen, event, now_ms);
        arrivals.take(&mut transaction, &arrived).await?;
    }
    let receipt = arrivals.end(&mut transaction).await?;
    transaction.commit().await.map_err(fault(DOING))?;
    Ok(receipt)
}

pub(crate) async fn adopt(store: &SqliteStore, kept: &[Kept]) -> Result<Receipt, StoreError> {
    let mut transaction = store.begin_write(DOING).await?;
    let mut arrivals = Arrivals::begin(&mut transaction).await?;
    for arrived in kept {
        arrivals.take(&mut transaction, arrived).await?;
    }
    let receipt = arrivals.end(&mut transaction).await?;
    transaction.commit().await.map_err(fault(DOING))?;
    Ok(receipt)
}

/// What one append has taken in so far.
struct Arrivals {
    seen: Hybrid,
    appended: Vec<Appended>,
    new: BTreeSet<EventId>,
}

impl Arrivals {
    async fn begin(connection: &mut SqliteConnection) -> Result<Self, StoreError> {
        Ok(Self {
            seen: seen(connection, DOING).await?,
            appended: Vec::new(),
            new: BTreeSet::new(),
        })
    }

    async fn take(&mut self, connection: &mut SqliteConnection, arrived: &Kept) -> Result<(), StoreError> {
        let twins = with_id(connection, &arrived.event.id, DOING).await?;
        let (appended, is_kept) = meeting(&arrived.as_sent(), &twins);
        self.appended.push(appended);
        if is_kept {
            self.seen = self.seen.max(Hybrid::of(&arrived.event.clock));
            self.new.insert(arrived.event.id.clone());
            insert(connection, arrived).await?;
        }
        Ok(())
    }

    async fn end(self, connection: &mut SqliteConnection) -> Result<Receipt, StoreError> {
        if self.new.is_empty() {
            return Ok(Receipt {
                appended: self.appended,
                lots: BTreeSet::new(),
            });
        }
        save_seen(connection, self.seen, DOING).await?;
        let turned = settle::settle(connection, &self.new, DOING).await?;
        let lots = fold::fold_touched(connection, &turned, DOING).await?;
        Ok(Receipt {
            appended: self.appended,
            lots,
        })
    }
}

/// The events with this id: none, one, or twins of several devices.
pub(crate) async fn with_id(
    connection: &mut SqliteConnection,
    id: &EventId,
    doing: Doing,
) -> Result<Vec<Kept>, StoreError> {
    let rows = sqlx::query(kept!("WHERE id = ?1 ORDER BY seq"))
        .bind(id.as_str())
        .fetch_all(connection)
        .await
        .map_err(fault(doing))?;
    all_kept(&rows, doing)
}

/// Keeps an event; whether it counts is settled afterwards.
async fn insert(connection: &mut SqliteConnection, arrived: &Kept) -> Result<(), StoreError> {
    let event = &arrived.event;
    let sql = "INSERT INTO event (id, wall_ms, count, device, said_wall_ms, said_count, received_ms, day, \
               kind, corrects, counts, record, sum, arrival_sum) \
               VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, 0, ?11, ?12, ?13)";
    let record = event_to_json(&arrived.as_sent());
    let done = sqlx::query(sql)
        .bind(event.id.as_str())
        .bind(event.clock.wall_ms)
        .bind(event.clock.count)
        .bind(event.clock.device.as_str())
        .bind(arrived.said.as_ref().map(|said| said.wall_ms))
        .bind(arrived.said.as_ref().map(|said| said.count))
        .bind(arrived.received_ms)
        .bind(day_number(event.moment.at.date()))
        .bind(kind_word(&event.fact))
        .bind(event.corrects.as_ref().map(EventId::as_str))
        .bind(&record)
        .bind(sum(&record))
        .bind(arrival_sum_of(arrived))
        .execute(&mut *connection)
        .await
        .map_err(fault(DOING))?;
    if done.rows_affected() != 1 {
        return Err(broken(DOING, "an event was not kept"));
    }
    for subject in subjects(event) {
        let (kind, key) = subject.key();
        sqlx::query("INSERT INTO event_subject (kind, key, seq) VALUES (?1, ?2, ?3)")
            .bind(kind)
            .bind(key)
            .bind(done.last_insert_rowid())
            .execute(&mut *connection)
            .await
            .map_err(fault(DOING))?;
    }
    Ok(())
}
