//! Tables written by `cargo xtask data`; see the texts under `data`.

#[rustfmt::skip]
pub(crate) mod foods;

#[rustfmt::skip]
pub(crate) mod retention;
