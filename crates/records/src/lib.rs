//! Formats: the files a household writes, the recipe files, and the versioned records of snapshots,
//! plans and events.
//! Reading and writing of texts only; where the texts are kept is not known here.

mod error;
pub mod event;
pub mod foods;
pub mod household;
pub mod larder;
pub mod plan;
mod problem;
mod reader;
pub mod schema;
pub mod sheet;
pub mod snapshot;
mod wire;
mod words;

pub use error::RecordError;
pub use problem::Problem;
pub use wire::written_hash;
