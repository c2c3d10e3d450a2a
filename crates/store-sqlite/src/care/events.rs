//! Events under the doctor's eye: readable, filed under what they say, marked as they count, listed under what they
//! are about.

use std::collections::BTreeSet;

use larderwright_ledger::subjects;
use larderwright_model::EventId;
use larderwright_records::event::kind_word;
use larderwright_store::rules::counting;
use larderwright_store::{Defect, Kept, StoreError};
use sqlx::sqlite::SqliteRow;
use sqlx::{Row, SqliteConnection};

use super::{DOING, damage, derived};
use crate::fault::{broken, fault};
use crate::reading::{day_number, read_kept};

/// Every event that can be read, and what is wrong with the others.
pub(super) async fn read_all(
    connection: &mut SqliteConnection,
) -> Result<(Vec<Kept>, Vec<Defect>), StoreError> {
    let rows = sqlx::query("SELECT * FROM event ORDER BY seq")
        .fetch_all(connection)
        .await
        .map_err(fault(DOING))?;
    let (mut all, mut defects) = (Vec::new(), Vec::new());
    let mut before: i64 = 0;
    for row in &rows {
        let id: String = row.try_get("id").map_err(fault(DOING))?;
        let number: i64 = row.try_get("seq").map_err(fault(DOING))?;
        if number != before + 1 {
            defects.push(damage(&id, "an event that arrived before this one is missing"));
        }
        before = number;
        match read_kept(row, DOING) {
            Err(error) => defects.push(damage(
                &id,
                &format!("the event cannot be read: {}", error.fault.message()),
            )),
            Ok(kept) => {
                if !is_filed_right(row, &kept)? {
                    defects.push(damage(
                        &id,
                        "the event is filed under something else than it says",
                    ));
                }
                all.push(kept);
            }
        }
    }
    Ok((all, defects))
}

fn is_filed_right(row: &SqliteRow, kept: &Kept) -> Result<bool, StoreError> {
    let text = |column: &str| row.try_get::<Option<String>, _>(column).map_err(fault(DOING));
    let day: i64 = row.try_get("day").map_err(fault(DOING))?;
    let event = &kept.event;
    let number = |column: &str| row.try_get::<Option<i64>, _>(column).map_err(fault(DOING));
    let sent = kept.said.as_ref().unwrap_or(&event.clock);
    let came_with = match kept.said {
        Some(_) => (number("said_wall_ms")?, number("said_count")?),
        None => (number("wall_ms")?, number("count")?),
    };
    Ok(came_with == (Some(sent.wall_ms), Some(i64::from(sent.count)))
        && text("id")?.as_deref() == Some(event.id.as_str())
        && text("device")?.as_deref() == Some(event.clock.device.as_str())
        && text("kind")?.as_deref() == Some(kind_word(&event.fact))
        && text("corrects")?.as_deref() == event.corrects.as_ref().map(EventId::as_str)
        && day == day_number(event.moment.at.date()))
}

/// Marks that say something else than the corrections do.
pub(super) fn marks(kept: &[Kept]) -> Vec<Defect> {
    let counting: BTreeSet<u64> = counting(kept).into_iter().map(|kept| kept.seq).collect();
    let wrong = kept
        .iter()
        .filter(|kept| kept.counts != counting.contains(&kept.seq));
    wrong
        .map(|kept| {
            derived(
                kept.event.id.as_str(),
                "whether the event counts is marked wrongly",
            )
        })
        .collect()
}

pub(super) async fn mark_anew(connection: &mut SqliteConnection, kept: &[Kept]) -> Result<(), StoreError> {
    let counting: BTreeSet<u64> = counting(kept).into_iter().map(|kept| kept.seq).collect();
    for kept in kept {
        let counts = counting.contains(&kept.seq);
        if counts != kept.counts {
            sqlx::query("UPDATE event SET counts = ?1 WHERE seq = ?2")
                .bind(counts)
                .bind(seq(kept)?)
                .execute(&mut *connection)
                .await
                .map_err(fault(DOING))?;
        }
    }
    Ok(())
}

type SubjectRow = (String, String, i64);

fn wanted(kept: &[Kept]) -> Result<BTreeSet<SubjectRow>, StoreError> {
    let mut rows = BTreeSet::new();
    for kept in kept {
        let seq = seq(kept)?;
        for subject in subjects(&kept.event) {
            let (kind, key) = subject.key();
            rows.insert((kind.to_owned(), key.to_owned(), seq));
        }
    }
    Ok(rows)
}

fn seq(kept: &Kept) -> Result<i64, StoreError> {
    i64::try_from(kept.seq).map_err(|_| broken(DOING, "an event's number is too high"))
}

/// What is listed under a subject and is not about it, or the other way round.
pub(super) async fn subject_rows(
    connection: &mut SqliteConnection,
    kept: &[Kept],
) -> Result<Vec<Defect>, StoreError> {
    let rows: Vec<SubjectRow> = sqlx::query_as("SELECT kind, key, seq FROM event_subject")
        .fetch_all(connection)
        .await
        .map_err(fault(DOING))?;
    let found: BTreeSet<SubjectRow> = rows.into_iter().collect();
    let wanted = wanted(kept)?;
    let wrong: BTreeSet<(&str, &str)> = found
        .symmetric_difference(&wanted)
        .map(|(kind, key, _)| (kind.as_str(), key.as_str()))
        .collect();
    let message = |kind: &str| format!("the list of the {kind}'s events is not right");
    Ok(wrong
        .into_iter()
        .map(|(kind, key)| derived(key, &message(kind)))
        .collect())
}

pub(super) async fn write_subjects_anew(
    connection: &mut SqliteConnection,
    kept: &[Kept],
) -> Result<(), StoreError> {
    sqlx::query("DELETE FROM event_subject")
        .execute(&mut *connection)
        .await
        .map_err(fault(DOING))?;
    for (kind, key, seq) in wanted(kept)? {
        sqlx::query("INSERT INTO event_subject (kind, key, seq) VALUES (?1, ?2, ?3)")
            .bind(kind)
            .bind(key)
            .bind(seq)
            .execute(&mut *connection)
            .await
            .map_err(fault(DOING))?;
    }
    Ok(())
}
