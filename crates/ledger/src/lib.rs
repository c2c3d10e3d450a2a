//! The ledger: what really happened, folded into stock, costs, waste and yields.
//!
//! Pure: events in, states out. An event is never changed; what counts is decided by [`effective()`], and every fold
//! is a function of the set of events, whatever the order in which they arrived and however often. Where events
//! are kept is the store's business.

pub mod batch;
pub mod books;
pub mod calibrate;
pub mod deed;
pub mod effective;
pub mod life;
pub mod lot;
pub mod prices;
pub mod review;
#[cfg(test)]
mod sample;
pub mod stock;
pub mod subject;

pub use batch::{BatchState, batch_state};
pub use books::{Books, Oddity, lots_of, tick_of};
pub use calibrate::Lessons;
pub use deed::Deed;
pub use effective::{effective, is_undoing};
pub use life::WeekState;
pub use lot::{Held, LotState, lot_state};
pub use review::Review;
pub use stock::{Price, Stock, shelf_lot};
pub use subject::{Subject, subjects};
