//! Quantities of a kitchen: whole numbers of a declared small unit, named rounding, wording.
//!
//! Nothing here is floating point, and a conversion that needs knowledge takes it as an argument: volume to mass
//! takes a [`Density`], as purchased to edible takes a [`Permille`]. It knows no food, no date and no language but
//! the one its words are written in.

mod amount;
mod decimal;
mod density;
mod duration;
mod figure;
mod fraction;
mod gas_mark;
mod length;
mod mass;
mod money;
mod permille;
mod rounding;
mod spoons;
mod temperature;
mod unit;
mod volume;
mod whole;
mod wording;

pub use amount::{Amount, AmountError, parse_amount, parse_amount_for};
pub use decimal::{decimal, thermometer};
pub use density::Density;
pub use duration::Seconds;
pub use fraction::{Fraction, kitchen_fraction};
pub use gas_mark::GasMark;
pub use length::Length;
pub use mass::Mass;
pub use money::{Currency, Money, fmt_money};
pub use permille::Permille;
pub use rounding::{Rounding, mul_div};
pub use spoons::{cups_text, spoon_text};
pub use temperature::Temperature;
pub use unit::Unit;
pub use volume::Volume;
pub use wording::{System, count_text, duration_text, mass_text, temperature_text, volume_text};
