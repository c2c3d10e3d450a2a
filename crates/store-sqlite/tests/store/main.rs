//! The store in a file: the contract of every store, and what only files can suffer.

mod contract;
mod doctor;
mod faults;
mod flips;
mod fresh;
mod kills;
mod processes;
mod properties;
mod script;
mod versions;
mod writer;
