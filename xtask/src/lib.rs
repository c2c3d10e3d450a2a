//! The repository's own chores: checks, tables, measurements. Nothing here ships to a cook.

pub mod bench;
pub mod bench_lookups;
pub mod bench_menu;
pub mod bench_pages;
pub mod bench_schedule;
pub mod bench_store;
pub mod ci;
pub mod conduction;
pub mod data;
pub mod machine;
pub mod rules;
pub mod soak;
pub mod tidy;
