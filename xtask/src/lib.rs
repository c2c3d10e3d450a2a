//! The repository's own chores: checks, tables, measurements. Nothing here ships to a cook.

pub mod data;
