//! Looks back are folds of everything that was ever said: they are kept until something new is said, here or by another
//! program.

use std::sync::Arc;

use jiff::civil::Date;
use larderwright_app::home::WeekReview;
use larderwright_ledger::prices::Paid;
use larderwright_store::Store;

use super::{Desk, DeskError};

/// A look back: the review, the prices paid last, and whether the week is closed.
pub(crate) type Look = (WeekReview, Vec<Paid>, bool);

/// What was looked at since the last word.
#[derive(Debug, Default)]
pub(super) struct Looked {
    seen: u64,
    reviews: Vec<(Date, Arc<Look>)>,
}

impl<S: Store> Desk<S> {
    /// The look back on a week.
    ///
    /// # Errors
    /// When nothing was planned for it, or the store fails.
    pub(crate) async fn review(&self, monday: Date) -> Result<Arc<Look>, DeskError> {
        let mut looked = self.looked.lock().await;
        let arrived = self.home.store().arrived().await?;
        if looked.seen != arrived {
            looked.seen = arrived;
            looked.reviews.clear();
        }
        if let Some((_, look)) = looked.reviews.iter().find(|(of, _)| *of == monday) {
            return Ok(Arc::clone(look));
        }
        let closed = self.home.is_closed(monday).await?;
        let review = self.home.review(monday).await?;
        let look = Arc::new((review, self.home.prices().await?, closed));
        looked.reviews.push((monday, Arc::clone(&look)));
        Ok(look)
    }
}
