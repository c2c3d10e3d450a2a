//! Formats: the files a household writes, the recipe files, and the versioned records of snapshots and plans.
//! Reading and writing of texts only; where the texts are kept is not known here.

pub mod household;
pub mod larder;
mod problem;
mod reader;
mod words;

pub use problem::Problem;
