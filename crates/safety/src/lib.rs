//! Published rules of food safety as rows of data, and the arithmetic that reads them.
//!
//! How long food keeps, how hot and cold it has to be, how long it may stand, and where stricter care is
//! usual. Rules decide what the program says; physics in [`cooling`] may only be stricter, or explain. Nothing here says
//! that food is safe. Local food-safety authorities have the last word.

pub mod advice;
pub mod altitude;
pub mod cautions;
pub mod chilling;
pub mod cooling;
pub mod hazards;
pub mod headspace;
pub mod keeping;
pub mod limits;
mod source;
pub mod standing;

pub use cautions::{Applies, CautionRow, cautions};
pub use hazards::{BeanBoil, CoreRow, bean_boil, core_minimum};
pub use keeping::{
    KeepClass, KeepRow, chilled_in_time, classes, cupboard, earliest, fridge, frozen, rule, thawed,
};
pub use limits::{LimitKind, LimitRow, Limits, limits};
pub use source::Flag;
