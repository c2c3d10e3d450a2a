//! The stock as it was before something was said, so that it can be said otherwise.

use std::collections::BTreeMap;

use larderwright_ledger::{LotState, Stock, Subject, lot_state, lots_of};
use larderwright_model::{Fact, LotId};
use larderwright_store::Store;

use super::{Home, HomeError};

impl<S: Store> Home<S> {
    /// The stock as if nothing of a kind had been told or presumed of a subject yet.
    pub(crate) async fn stock_without(
        &self,
        subject: &Subject,
        said: &(dyn Fn(&Fact) -> bool + Sync),
    ) -> Result<Stock, HomeError> {
        let events = self.store.events_about(subject).await?;
        let mut lots: BTreeMap<LotId, LotState> = BTreeMap::new();
        for lot in self.store.open_lots().await? {
            lots.insert(lot.lot.clone(), lot);
        }
        for lot in lots_of(events.iter().filter(|event| said(&event.fact))) {
            let all = self.store.events_about(&Subject::Lot(lot.clone())).await?;
            let others = all.iter().filter(|event| !said(&event.fact));
            let state = lot_state(&lot, others);
            lots.insert(lot, state);
        }
        Ok(Stock::of(lots.into_values()))
    }
}
