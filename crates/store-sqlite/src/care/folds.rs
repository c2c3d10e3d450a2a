//! Folds under the doctor's eye: each is compared with the fold of the events.

use std::collections::BTreeMap;

use larderwright_ledger::Books;
use larderwright_records::event::{lot_state_to_json, tick_word};
use larderwright_store::{Defect, StoreError};
use sqlx::SqliteConnection;

use super::{DOING, derived};
use crate::fault::fault;
use crate::sum::sum;

type Fold = BTreeMap<String, String>;

/// Folds that differ from what the events give.
pub(super) async fn differing(
    connection: &mut SqliteConnection,
    books: &Books,
) -> Result<Vec<Defect>, StoreError> {
    let lots = books.lots.values().map(|state| {
        let open = i64::from(state.is_open());
        let record = lot_state_to_json(state);
        let sum = sum(&record);
        (state.lot.to_string(), format!("{open} {sum} {record}"))
    });
    let ticks = books.ticks.iter();
    let ticks = ticks.map(|(food, state)| {
        let record = tick_word(*state);
        (food.to_string(), format!("{} {record}", sum(&record)))
    });
    let kept_lots = sqlx::query_as("SELECT lot, open || ' ' || sum || ' ' || record FROM fold_lot")
        .fetch_all(&mut *connection)
        .await
        .map_err(fault(DOING))?;
    let kept_ticks = sqlx::query_as("SELECT food, sum || ' ' || record FROM fold_tick")
        .fetch_all(connection)
        .await
        .map_err(fault(DOING))?;
    let mut defects = compare(&lots.collect(), &kept_lots.into_iter().collect(), "lot");
    let ticks = compare(&ticks.collect(), &kept_ticks.into_iter().collect(), "tick");
    defects.extend(ticks);
    Ok(defects)
}

fn compare(wanted: &Fold, found: &Fold, what: &str) -> Vec<Defect> {
    let message = format!("the state of the {what} is not what its events give");
    let missing = wanted.iter().filter(|(key, fold)| found.get(*key) != Some(fold));
    let needless = found.keys().filter(|key| !wanted.contains_key(*key));
    missing
        .map(|(key, _)| key)
        .chain(needless)
        .map(|key| derived(key, &message))
        .collect()
}
