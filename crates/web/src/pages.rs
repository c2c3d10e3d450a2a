//! Pages: a handler takes the week from the desk, makes a view and lays it out.

pub(crate) mod boxes;
pub(crate) mod calendar;
pub(crate) mod changes;
pub(crate) mod cooling;
pub(crate) mod foods;
pub(crate) mod house;
pub(crate) mod household_file;
pub(crate) mod larder;
pub(crate) mod live;
pub(crate) mod news;
pub(crate) mod plans;
pub(crate) mod recipes;
pub(crate) mod review;
pub(crate) mod session;
pub(crate) mod sheets;
pub(crate) mod shopping;
pub(crate) mod sitting;
pub(crate) mod slips;
pub(crate) mod sources;
pub(crate) mod ticks;
pub(crate) mod turns;
pub(crate) mod week;

use maud::Markup;

use crate::refusal::Refusal;

/// What a page answers.
pub(crate) type Answer = Result<Markup, Refusal>;
