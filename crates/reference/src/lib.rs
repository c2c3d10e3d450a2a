//! Facts about food, each with its source: the food table and its figures. No rule, no recipe arithmetic and
//! no opinion; where a figure is not known it is absent, never zero.

pub mod convert;
pub mod cooked;
pub mod diet;
pub mod food;
mod generated;
pub mod keeping;
pub mod larder;
pub mod nutrient;
pub mod retention;
pub mod search;

pub use food::{FoodRow, all, food};
pub use keeping::{Keeping, KeepingBasis, KeepingLookup};
pub use nutrient::{Nutrient, NutrientUnit};
