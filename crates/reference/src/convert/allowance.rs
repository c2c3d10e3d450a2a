//! How far a single measuring strays from the published weight.

use super::Spread;
use super::rate::Rate;

/// Parts per thousand below and above.
pub(super) struct Allowance {
    permille: i64,
    what: &'static str,
}

/// Where all rows of this table come from; a reader of an answer is told.
pub(super) const SOURCE: &str = "common practice, no source";

/// A level cup or spoon of a food that was weighed in that measure.
pub(super) const MEASURE: Allowance = Allowance {
    permille: 50,
    what: "A cup or spoon filled by hand",
};
/// A volume by the weight of another measure.
pub(super) const DENSITY: Allowance = Allowance {
    permille: 80,
    what: "A volume weighed from another measure",
};
/// A piece whose size was said.
pub(super) const SIZED: Allowance = Allowance {
    permille: 100,
    what: "A piece of a size",
};
/// A piece whose size nobody told.
pub(super) const UNSIZED: Allowance = Allowance {
    permille: 250,
    what: "A piece of any size",
};
/// What is left of a can without its brine.
pub(super) const DRAINED: Allowance = Allowance {
    permille: 50,
    what: "What is left when drained",
};
/// What is printed on a pack.
pub(super) const PRINTED: Allowance = Allowance {
    permille: 0,
    what: "A weight as printed",
};

impl Allowance {
    /// The likely rate with the allowance about it, and wider where other published rates lie beyond.
    pub(super) fn about(&self, likely: Rate, others: &[Rate]) -> Spread<Rate> {
        let near = [
            likely.permille(1000 - self.permille),
            likely.permille(1000 + self.permille),
        ];
        let all = || others.iter().copied().chain(near);
        Spread {
            low: all().min().unwrap_or(likely),
            likely,
            high: all().max().unwrap_or(likely),
        }
    }

    /// The fact as a sentence.
    pub(super) fn note(&self) -> Option<String> {
        let percent = self.permille / 10;
        (percent > 0).then(|| format!("{} strays by {percent} % or so ({SOURCE}).", self.what))
    }
}
