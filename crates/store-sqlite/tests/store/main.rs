//! The store in a file: the contract of every store, and what only files can suffer.

mod contract;
mod faults;
mod flips;
mod fresh;
mod kills;
mod processes;
mod script;
mod writer;
