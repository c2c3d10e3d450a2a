//! What counts: corrections tie events together, in both directions and through events that have not arrived. An
//! arriving event can only change what counts among the events it is tied to.

use std::collections::BTreeSet;

use larderwright_model::EventId;
use larderwright_store::rules::counting;
use larderwright_store::{Doing, Kept, StoreError};
use sqlx::SqliteConnection;

use crate::fault::{broken, fault};
use crate::ledger::with_id;
use crate::reading::{all_kept, kept};

/// Decides anew what counts among everything tied to these events, and returns the events of which that changed.
pub(super) async fn settle(
    connection: &mut SqliteConnection,
    new: &BTreeSet<EventId>,
    doing: Doing,
) -> Result<Vec<Kept>, StoreError> {
    let mut settled = BTreeSet::new();
    let mut turned = Vec::new();
    for id in new {
        if settled.contains(id) {
            continue;
        }
        let (ids, tied) = with_ties(connection, id, doing).await?;
        let counting: BTreeSet<u64> = counting(&tied).into_iter().map(|kept| kept.seq).collect();
        for kept in tied {
            let counts = counting.contains(&kept.seq);
            if counts != kept.counts {
                mark(connection, kept.seq, counts).await?;
                turned.push(Kept { counts, ..kept });
            }
        }
        settled.extend(ids);
    }
    Ok(turned)
}

async fn mark(connection: &mut SqliteConnection, seq: u64, counts: bool) -> Result<(), StoreError> {
    let doing = Doing::Appending;
    let done = sqlx::query("UPDATE event SET counts = ?1 WHERE seq = ?2")
        .bind(counts)
        .bind(i64::try_from(seq).map_err(|_| broken(doing, "an event's number is too high"))?)
        .execute(connection)
        .await
        .map_err(fault(doing))?;
    if done.rows_affected() == 1 {
        Ok(())
    } else {
        Err(broken(doing, "an event that was read is not there"))
    }
}

/// Everything that hangs together with an id through corrections: the ids, those that have not arrived too, and the
/// events.
async fn with_ties(
    connection: &mut SqliteConnection,
    id: &EventId,
    doing: Doing,
) -> Result<(BTreeSet<EventId>, Vec<Kept>), StoreError> {
    let mut ids = BTreeSet::from([id.clone()]);
    let mut open = vec![id.clone()];
    let mut tied = Vec::new();
    while let Some(id) = open.pop() {
        let own = with_id(connection, &id, doing).await?;
        let named = own.iter().filter_map(|kept| kept.event.corrects.clone());
        let correcting = correcting(connection, &id, doing).await?;
        let naming = correcting.into_iter().map(|kept| kept.event.id);
        for other in named.chain(naming).collect::<Vec<_>>() {
            if ids.insert(other.clone()) {
                open.push(other);
            }
        }
        tied.extend(own);
    }
    Ok((ids, tied))
}

async fn correcting(
    connection: &mut SqliteConnection,
    id: &EventId,
    doing: Doing,
) -> Result<Vec<Kept>, StoreError> {
    let rows = sqlx::query(kept!("WHERE corrects = ?1"))
        .bind(id.as_str())
        .fetch_all(connection)
        .await
        .map_err(fault(doing))?;
    all_kept(&rows, doing)
}
