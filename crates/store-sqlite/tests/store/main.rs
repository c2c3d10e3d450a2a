//! The store in a file: the contract of every store, and what only files can suffer.

mod contract;
mod fresh;
mod kills;
mod script;
mod times;
mod writer;
