//! The port of the store: what a household's memory has to be able to do, whatever database keeps it.
//!
//! Events are appended once by id and never changed; plans and documents are opaque, versioned texts; stock is a fold
//! kept beside the events. Adapters run [`contract`] unchanged; [`memory`] is the one without a database, against
//! which the others are compared. What time it is, the caller says.

pub mod clock;
pub mod contract;
mod error;
pub mod exchange;
pub mod memory;
mod port;
pub mod rules;

pub use error::{Doing, Fault, StoreError};
pub use memory::MemoryStore;
pub use port::{Appended, Choice, Defect, Document, Gravity, Kept, PlanHead, PlanRow, Put, Receipt, Store};
