//! What tests of several crates share: a week written by hand. Not shipped.

pub mod sample;
