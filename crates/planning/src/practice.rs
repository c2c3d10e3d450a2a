//! Practice: durations that no publication gives, each a row with its source in words.
//!
//! They are starting values; a household's own log is to replace them.

use larderwright_quantity::{Mass, Rounding, Seconds, mul_div};

/// A duration that grows with a mass or a number of things.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Practice {
    /// The part that does not grow, in seconds.
    pub fixed_s: i64,
    /// Seconds for each further thing (box, portion, plate).
    pub each_s: i64,
    /// Seconds per kilogram.
    pub per_kg_s: i64,
    /// Where it comes from.
    pub source: &'static str,
}

const TRADE: &str = "common practice, no source";

const fn row(fixed_s: i64, each_s: i64, per_kg_s: i64) -> Practice {
    Practice {
        fixed_s,
        each_s,
        per_kg_s,
        source: TRADE,
    }
}

/// Taking one lot out of the fridge and opening it.
pub const TAKE_OUT: Practice = row(0, 20, 0);
/// Warming one portion in a microwave, covered and stirred once.
pub const MICROWAVE_PORTION: Practice = row(45, 0, 400);
/// Warming an item in a pan for everybody, until it steams throughout.
pub const PAN_REHEAT: Practice = row(240, 0, 240);
/// Toasting, two slices at a time.
pub const TOAST_PAIR: Practice = row(0, 150, 0);
/// Frying for everybody in one pan, with a hand on it.
pub const FRY: Practice = row(240, 45, 0);
/// Before a session: boxes and labels out, sink clear, hands washed, recipes read.
pub const PREFLIGHT: Practice = row(480, 0, 0);
/// Between two uses of a surface: hot soapy wash, rinse, fresh cloth; each further board.
pub const CLEAN_DOWN: Practice = row(180, 60, 0);
/// After a session: wash up, wipe down, bin out.
pub const CLEAR_DOWN: Practice = row(900, 0, 0);
/// Hot food spread shallow until it stops steaming.
pub const COOL_SHALLOW: Practice = row(1500, 0, 0);
/// Hot food spread thin on trays.
pub const COOL_TRAYS: Practice = row(1200, 0, 0);
/// Eggs or blanched vegetables in cold water.
pub const COOL_WATER: Practice = row(600, 0, 0);
/// Hot food in open boxes: ten minutes until it stops steaming, then an hour in the freezer.
pub const COOL_FREEZER: Practice = row(4200, 0, 0);
/// Boxing, wiping, labelling and putting away.
pub const PACK_OUT: Practice = row(120, 60, 0);
/// Oven, each degree Celsius upwards.
pub const OVEN_RISE: Practice = row(0, 6, 0);
/// Oven, each degree Celsius downwards with the door ajar.
pub const OVEN_FALL: Practice = row(0, 12, 0);

impl Practice {
    /// The duration for `count` things of together `mass`, rounded up to a second.
    #[must_use]
    pub fn seconds(self, count: i64, mass: Mass) -> Seconds {
        let by_mass = mul_div(self.per_kg_s, mass.mg(), 1_000_000, Rounding::Up);
        Seconds::from_secs(self.fixed_s + self.each_s * count + by_mass)
    }

    /// The duration in whole minutes, rounded up, at least one.
    #[must_use]
    pub fn minutes(self, count: i64) -> i64 {
        self.seconds(count, Mass::ZERO).mins(Rounding::Up).max(1)
    }
}
