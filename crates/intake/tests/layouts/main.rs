//! Small files written by us in the published layouts: what is read of them, and what is told when they are damaged.

mod fdc;
mod shown;
mod sr;
