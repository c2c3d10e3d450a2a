//! Quantities of a kitchen: whole numbers of a declared small unit, named rounding, wording.
//!
//! Nothing here is floating point, and a conversion that needs knowledge takes it as an argument.

mod density;
mod duration;
mod length;
mod mass;
mod money;
mod permille;
mod rounding;
mod temperature;
mod volume;
mod whole;
mod wording;

pub use density::Density;
pub use duration::Seconds;
pub use length::Length;
pub use mass::Mass;
pub use money::{Currency, Money, fmt_money};
pub use permille::Permille;
pub use rounding::{Rounding, mul_div};
pub use temperature::Temperature;
pub use volume::Volume;
pub use wording::{System, count_text, duration_text, mass_text, temperature_text, volume_text};
