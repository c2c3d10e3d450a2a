//! The doctor: every invariant looked at, and what is derived made anew. Nothing is ever mended by changing what was
//! reported.

mod events;
mod folds;
mod texts;

use larderwright_ledger::Books;
use larderwright_store::clock::Hybrid;
use larderwright_store::rules::{counting, law_of_mass, oddities, stamped_twice};
use larderwright_store::{Defect, Doing, Fault, Gravity, Kept, StoreError};
use sqlx::{Row, SqliteConnection};

use crate::SqliteStore;
use crate::fault::fault;
use crate::ledger::fold_all;
use crate::stamping::{mend_clock, seen};

const DOING: Doing = Doing::Checking;

pub(crate) async fn check(store: &SqliteStore) -> Result<Vec<Defect>, StoreError> {
    let mut transaction = store.begin_read(DOING).await?;
    let (mut defects, kept) = look(&mut transaction).await?;
    let books = books(&kept);
    defects.extend(stamped_twice(&kept));
    defects.extend(law_of_mass(&books));
    defects.extend(oddities(&books));
    Ok(defects)
}

/// What is wrong with the store itself, and every event that can be read.
async fn look(connection: &mut SqliteConnection) -> Result<(Vec<Defect>, Vec<Kept>), StoreError> {
    let mut defects = file(connection).await?;
    let (kept, wrong) = events::read_all(connection).await?;
    defects.extend(wrong);
    defects.extend(events::marks(&kept));
    defects.extend(events::subject_rows(connection, &kept).await?);
    defects.extend(folds::differing(connection, &books(&kept)).await?);
    defects.extend(clock(connection, &kept).await?);
    defects.extend(texts::plans(connection).await?);
    defects.extend(texts::choices(connection).await?);
    defects.extend(texts::documents(connection).await?);
    Ok((defects, kept))
}

fn books(kept: &[Kept]) -> Books {
    Books::of(counting(kept).into_iter().map(|kept| &kept.event))
}

pub(crate) async fn mend(store: &SqliteStore) -> Result<Vec<Defect>, StoreError> {
    let mut transaction = store.begin_write(DOING).await?;
    let (defects, kept) = look(&mut transaction).await?;
    if let Some(damage) = defects.iter().find(|defect| defect.gravity == Gravity::Damage) {
        let message = format!("{}: {}", damage.subject, damage.message);
        return Err(StoreError::new(DOING, Fault::Corrupt(message)));
    }
    events::mark_anew(&mut transaction, &kept).await?;
    events::write_subjects_anew(&mut transaction, &kept).await?;
    fold_all(&mut transaction, DOING).await?;
    mend_clock(&mut transaction, highest(&kept)).await?;
    transaction.commit().await.map_err(fault(DOING))?;
    Ok(defects)
}

fn highest(kept: &[Kept]) -> Hybrid {
    let stamps = kept.iter().map(|kept| Hybrid::of(&kept.event.clock));
    stamps.max().unwrap_or_default()
}

async fn clock(connection: &mut SqliteConnection, kept: &[Kept]) -> Result<Option<Defect>, StoreError> {
    match seen(connection, DOING).await {
        Ok(seen) if seen < highest(kept) => Ok(Some(derived("clock", "it is behind an event that is kept"))),
        Ok(_) => Ok(None),
        Err(error) if matches!(error.fault, Fault::Corrupt(_)) => {
            Ok(Some(derived("clock", "it is not as it was written")))
        }
        Err(error) => Err(error),
    }
}

async fn file(connection: &mut SqliteConnection) -> Result<Vec<Defect>, StoreError> {
    let lines: Vec<String> = sqlx::query_scalar("PRAGMA integrity_check")
        .fetch_all(&mut *connection)
        .await
        .map_err(fault(DOING))?;
    let mut defects: Vec<Defect> = lines
        .iter()
        .filter(|line| *line != "ok")
        .map(|line| damage("file", line))
        .collect();
    let rows = sqlx::query("PRAGMA foreign_key_check")
        .fetch_all(connection)
        .await
        .map_err(fault(DOING))?;
    for row in rows {
        let table: String = row.try_get("table").map_err(fault(DOING))?;
        defects.push(damage(&table, "a row names another one that is not there"));
    }
    Ok(defects)
}

fn damage(subject: &str, message: &str) -> Defect {
    defect(Gravity::Damage, subject, message)
}

fn derived(subject: &str, message: &str) -> Defect {
    defect(Gravity::Derived, subject, message)
}

fn defect(gravity: Gravity, subject: &str, message: &str) -> Defect {
    Defect {
        gravity,
        subject: subject.to_owned(),
        message: message.to_owned(),
    }
}
