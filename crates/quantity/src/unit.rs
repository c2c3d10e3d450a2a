//! Units of a kitchen with their exact size, and the names a cook writes for them.

use crate::mass::Mass;
use crate::rounding::{Rounding, mul_div};
use crate::volume::Volume;
use crate::wording::System;

/// A unit of mass or volume, or plain counting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Unit {
    /// Milligram.
    Mg,
    /// Gram.
    G,
    /// Kilogram.
    Kg,
    /// Ounce avoirdupois.
    Oz,
    /// Pound avoirdupois.
    Lb,
    /// Millilitre.
    Ml,
    /// Litre.
    L,
    /// US teaspoon, a third of a tablespoon.
    TspUs,
    /// US tablespoon, half a fluid ounce.
    TbspUs,
    /// US fluid ounce.
    FlOzUs,
    /// US cup, eight fluid ounces.
    CupUs,
    /// US liquid pint.
    PintUs,
    /// US liquid quart.
    QuartUs,
    /// US gallon.
    GallonUs,
    /// Metric teaspoon, 5 ml.
    TspMetric,
    /// Metric tablespoon, 15 ml.
    TbspMetric,
    /// Metric cup, 250 ml.
    CupMetric,
    /// UK pint, an eighth of an imperial gallon.
    PintUk,
    /// Pieces.
    Count,
}

/// The size of a unit as a ratio: milligrams, microlitres, or nothing but a count.
#[derive(Clone, Copy)]
enum Size {
    Milligrams(i64, i64),
    Microlitres(i64, i64),
    One,
}

/// Names in lower case. Of names with two meanings the bare one is the US unit.
const NAMES: &[(&str, Unit)] = &[
    ("mg", Unit::Mg),
    ("milligram", Unit::Mg),
    ("milligrams", Unit::Mg),
    ("g", Unit::G),
    ("gram", Unit::G),
    ("grams", Unit::G),
    ("kg", Unit::Kg),
    ("kilo", Unit::Kg),
    ("kilos", Unit::Kg),
    ("kilogram", Unit::Kg),
    ("kilograms", Unit::Kg),
    ("oz", Unit::Oz),
    ("ounce", Unit::Oz),
    ("ounces", Unit::Oz),
    ("lb", Unit::Lb),
    ("lbs", Unit::Lb),
    ("pound", Unit::Lb),
    ("pounds", Unit::Lb),
    ("ml", Unit::Ml),
    ("millilitre", Unit::Ml),
    ("millilitres", Unit::Ml),
    ("milliliter", Unit::Ml),
    ("milliliters", Unit::Ml),
    ("l", Unit::L),
    ("litre", Unit::L),
    ("litres", Unit::L),
    ("liter", Unit::L),
    ("liters", Unit::L),
    ("tsp", Unit::TspUs),
    ("teaspoon", Unit::TspUs),
    ("teaspoons", Unit::TspUs),
    ("tbsp", Unit::TbspUs),
    ("tbs", Unit::TbspUs),
    ("tablespoon", Unit::TbspUs),
    ("tablespoons", Unit::TbspUs),
    ("fl oz", Unit::FlOzUs),
    ("fluid ounce", Unit::FlOzUs),
    ("fluid ounces", Unit::FlOzUs),
    ("cup", Unit::CupUs),
    ("cups", Unit::CupUs),
    ("pt", Unit::PintUs),
    ("pint", Unit::PintUs),
    ("pints", Unit::PintUs),
    ("qt", Unit::QuartUs),
    ("quart", Unit::QuartUs),
    ("quarts", Unit::QuartUs),
    ("gal", Unit::GallonUs),
    ("gallon", Unit::GallonUs),
    ("gallons", Unit::GallonUs),
    ("count", Unit::Count),
    ("each", Unit::Count),
    ("piece", Unit::Count),
    ("pieces", Unit::Count),
];

impl Unit {
    /// Every unit.
    pub const ALL: [Self; 19] = [
        Self::Mg,
        Self::G,
        Self::Kg,
        Self::Oz,
        Self::Lb,
        Self::Ml,
        Self::L,
        Self::TspUs,
        Self::TbspUs,
        Self::FlOzUs,
        Self::CupUs,
        Self::PintUs,
        Self::QuartUs,
        Self::GallonUs,
        Self::TspMetric,
        Self::TbspMetric,
        Self::CupMetric,
        Self::PintUk,
        Self::Count,
    ];

    /// Reads a unit's name; bare spoons, cups and pints are the US ones.
    ///
    /// `metric cup`, `us cup` and `uk pint` say which. Case does not matter, except that `T` is a tablespoon and
    /// `t` a teaspoon; a full stop after an abbreviation is passed over.
    ///
    /// ```
    /// # use larderwright_quantity::Unit;
    /// assert_eq!(Unit::parse("cups"), Some(Unit::CupUs));
    /// assert_eq!(Unit::parse("Tbsp."), Some(Unit::TbspUs));
    /// assert_eq!(Unit::parse("handful"), None);
    /// ```
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        Self::parse_for(text, System::UsCustomary)
    }

    /// Reads a unit's name as a household of this system means it: metric spoons hold 5 and 15 ml, a metric cup 250 ml.
    ///
    /// A bare pint, quart, gallon or fluid ounce is the US one in both systems.
    #[must_use]
    pub fn parse_for(text: &str, system: System) -> Option<Self> {
        let name = plain(text);
        if let Some(name) = name.strip_prefix("us ") {
            return named(name).filter(|unit| unit.is_us());
        }
        if let Some(name) = name.strip_prefix("metric ") {
            return named(name)?.metric_kitchen();
        }
        if let Some(name) = name
            .strip_prefix("uk ")
            .or_else(|| name.strip_prefix("imperial "))
        {
            return (named(name)? == Self::PintUs).then_some(Self::PintUk);
        }
        let unit = named(&name)?;
        match system {
            System::UsCustomary => Some(unit),
            System::Metric => unit.metric_kitchen().or(Some(unit)),
        }
    }

    /// Its short name; reading it gives the unit back.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Mg => "mg",
            Self::G => "g",
            Self::Kg => "kg",
            Self::Oz => "oz",
            Self::Lb => "lb",
            Self::Ml => "ml",
            Self::L => "l",
            Self::TspUs => "tsp",
            Self::TbspUs => "tbsp",
            Self::FlOzUs => "fl oz",
            Self::CupUs => "cup",
            Self::PintUs => "pint",
            Self::QuartUs => "quart",
            Self::GallonUs => "gallon",
            Self::TspMetric => "metric tsp",
            Self::TbspMetric => "metric tbsp",
            Self::CupMetric => "metric cup",
            Self::PintUk => "UK pint",
            Self::Count => "count",
        }
    }

    /// The mass of `num / den` of this unit, to the nearest milligram; `None` when it is no unit of mass.
    ///
    /// # Panics
    /// Panics when `den` is not positive or the mass does not fit.
    #[must_use]
    pub fn to_mass(self, num: i64, den: i64) -> Option<Mass> {
        match self.size() {
            Size::Milligrams(up, down) => {
                Some(Mass::from_mg(mul_div(num, up, down * den, Rounding::Nearest)))
            }
            Size::Microlitres(..) | Size::One => None,
        }
    }

    /// The volume of `num / den` of this unit, to the nearest microlitre; `None` when it is no unit of volume.
    ///
    /// # Panics
    /// Panics when `den` is not positive or the volume does not fit.
    #[must_use]
    pub fn to_volume(self, num: i64, den: i64) -> Option<Volume> {
        match self.size() {
            Size::Microlitres(up, down) => {
                Some(Volume::from_ul(mul_div(num, up, down * den, Rounding::Nearest)))
            }
            Size::Milligrams(..) | Size::One => None,
        }
    }

    /// Its size in milligrams, microlitres or pieces, as numerator and denominator.
    ///
    /// The pound is 453.592 37 g and the US gallon 3.785 411 784 l, both exactly (NIST Handbook 44, appendix C; read
    /// second-hand); the ounce is a sixteenth of the one, the US measures are binary parts of the other, and three
    /// teaspoons make a tablespoon (NIST SP 430, 2004; read). The imperial gallon is 4.546 09 l (NIST SP 811, section
    /// B.8; from memory of that table). A metric cup of 250 ml: common practice, no source.
    pub(crate) const fn ratio(self) -> (i64, i64) {
        match self.size() {
            Size::Milligrams(up, down) | Size::Microlitres(up, down) => (up, down),
            Size::One => (1, 1),
        }
    }

    const fn size(self) -> Size {
        match self {
            Self::Mg => Size::Milligrams(1, 1),
            Self::G => Size::Milligrams(1000, 1),
            Self::Kg => Size::Milligrams(1_000_000, 1),
            Self::Oz => Size::Milligrams(45_359_237, 1600),
            Self::Lb => Size::Milligrams(45_359_237, 100),
            Self::Ml => Size::Microlitres(1000, 1),
            Self::L => Size::Microlitres(1_000_000, 1),
            Self::TspUs => Size::Microlitres(473_176_473, 96_000),
            Self::TbspUs => Size::Microlitres(473_176_473, 32_000),
            Self::FlOzUs => Size::Microlitres(473_176_473, 16_000),
            Self::CupUs => Size::Microlitres(473_176_473, 2000),
            Self::PintUs => Size::Microlitres(473_176_473, 1000),
            Self::QuartUs => Size::Microlitres(473_176_473, 500),
            Self::GallonUs => Size::Microlitres(473_176_473, 125),
            Self::TspMetric => Size::Microlitres(5000, 1),
            Self::TbspMetric => Size::Microlitres(15_000, 1),
            Self::CupMetric => Size::Microlitres(250_000, 1),
            Self::PintUk => Size::Microlitres(2_273_045, 4),
            Self::Count => Size::One,
        }
    }

    const fn is_us(self) -> bool {
        matches!(
            self,
            Self::TspUs
                | Self::TbspUs
                | Self::FlOzUs
                | Self::CupUs
                | Self::PintUs
                | Self::QuartUs
                | Self::GallonUs
        )
    }

    const fn metric_kitchen(self) -> Option<Self> {
        match self {
            Self::TspUs => Some(Self::TspMetric),
            Self::TbspUs => Some(Self::TbspMetric),
            Self::CupUs => Some(Self::CupMetric),
            _ => None,
        }
    }
}

/// Lower case, single spaces, no full stop after a letter; the one-letter spoons are spelled out first.
fn plain(text: &str) -> String {
    let mut words = Vec::new();
    for word in text.split_whitespace() {
        let bare = word
            .strip_suffix('.')
            .filter(|bare| bare.ends_with(char::is_alphabetic))
            .unwrap_or(word);
        words.push(match bare {
            "T" => "tbsp".to_string(),
            "t" => "tsp".to_string(),
            "U.S" => "us".to_string(),
            "U.K" => "uk".to_string(),
            other => other.to_lowercase(),
        });
    }
    words.join(" ")
}

fn named(name: &str) -> Option<Unit> {
    NAMES.iter().find(|row| row.0 == name).map(|row| row.1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_unit_is_read_back_from_its_name() {
        for unit in Unit::ALL {
            assert_eq!(Unit::parse(unit.name()), Some(unit));
        }
    }

    #[test]
    fn no_name_stands_twice() {
        let names: std::collections::BTreeSet<_> = NAMES.iter().map(|row| row.0).collect();
        assert_eq!(names.len(), NAMES.len());
    }

    #[test]
    fn a_capital_t_is_three_small_ones() {
        assert_eq!(Unit::parse("T"), Some(Unit::TbspUs));
        assert_eq!(Unit::parse("t"), Some(Unit::TspUs));
    }

    #[test]
    fn spelling_and_stops_do_not_matter() {
        for text in ["FL. OZ.", " fl  oz", "Fluid Ounces", "U.S. fl oz", "us fl. oz"] {
            assert_eq!(Unit::parse(text), Some(Unit::FlOzUs), "{text}");
        }
    }

    #[test]
    fn a_metric_household_means_its_own_cup() {
        assert_eq!(Unit::parse_for("cup", System::Metric), Some(Unit::CupMetric));
        assert_eq!(Unit::parse_for("us cup", System::Metric), Some(Unit::CupUs));
        assert_eq!(Unit::parse_for("oz", System::Metric), Some(Unit::Oz));
    }

    #[test]
    fn what_is_no_unit_is_refused() {
        for text in [
            "",
            ".",
            "handful",
            "metric pint",
            "us g",
            "uk cup",
            "cup s",
            "lb .",
            "g/l",
        ] {
            assert_eq!(Unit::parse(text), None, "{text}");
        }
    }

    #[test]
    fn a_unit_is_mass_or_volume_or_neither_but_never_both() {
        for unit in Unit::ALL {
            let both = (unit.to_mass(1, 1).is_some(), unit.to_volume(1, 1).is_some());
            assert_ne!(both, (true, true), "{unit:?}");
            assert_eq!(both == (false, false), unit == Unit::Count, "{unit:?}");
        }
    }
}
