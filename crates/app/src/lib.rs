//! Use cases: from a household and a week to a snapshot, from a snapshot to a judged plan, from a plan to a folder of
//! sheets. Effects are injected or confined to `folder`; what time it is, the caller says.

pub mod catalogue;
pub mod changes;
pub mod cross;
pub mod dates;
pub mod folder;
pub mod home;
mod mistakes;
mod nearest;
pub mod planned;
pub mod snapshot;

pub use folder::{FolderError, Saved, load, save};
pub use home::{Home, HomeError, Now, Told};
pub use larderwright_planning::menu::{Account, Why};
pub use larderwright_planning::session::what_if::WhatIf;
pub use larderwright_planning::{Threads, state_week};
pub use mistakes::mistakes;
pub use planned::{Planned, Refusal, plan};
pub use snapshot::{Options, build_snapshot, locate};
