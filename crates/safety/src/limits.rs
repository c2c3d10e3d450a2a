//! Limits of time, temperature and depth, one row for each profile and kind.
//!
//! Where a profile states no number of its own the row says so and takes the stricter of its neighbours.

use larderwright_model::Profile;
use larderwright_quantity::{Length, Seconds, Temperature};

use crate::source::Flag;

mod table;

/// What a row limits, which also says its unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LimitKind {
    /// Longest time out of the fridge, minutes.
    OutOfFridge,
    /// Longest time out of the fridge on a hot day, minutes.
    OutOfFridgeHot,
    /// Air temperature above which a day is hot, tenths of a degree Celsius.
    HotDay,
    /// Core temperature when left-overs are warmed, tenths of a degree Celsius.
    ReheatCore,
    /// Warmest fridge, tenths of a degree Celsius.
    FridgeMax,
    /// Warmest freezer, tenths of a degree Celsius.
    FreezerMax,
    /// Coolest hot holding, tenths of a degree Celsius.
    HotMin,
    /// Deepest layer of hot food set to cool, millimetres.
    DepthMax,
}

impl LimitKind {
    /// Every kind.
    pub const ALL: [Self; 8] = [
        Self::OutOfFridge,
        Self::OutOfFridgeHot,
        Self::HotDay,
        Self::ReheatCore,
        Self::FridgeMax,
        Self::FreezerMax,
        Self::HotMin,
        Self::DepthMax,
    ];

    /// The word used in answers.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::OutOfFridge => "out-of-fridge",
            Self::OutOfFridgeHot => "out-of-fridge-hot-day",
            Self::HotDay => "hot-day",
            Self::ReheatCore => "reheat-core",
            Self::FridgeMax => "fridge-max",
            Self::FreezerMax => "freezer-max",
            Self::HotMin => "hot-min",
            Self::DepthMax => "depth-max",
        }
    }

    /// The unit of the row's value.
    #[must_use]
    pub fn unit(self) -> &'static str {
        match self {
            Self::OutOfFridge | Self::OutOfFridgeHot => "min",
            Self::HotDay | Self::ReheatCore | Self::FridgeMax | Self::FreezerMax | Self::HotMin => "0.1 °C",
            Self::DepthMax => "mm",
        }
    }
}

/// One figure of one profile.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LimitRow {
    /// Guidance profile.
    pub profile: Profile,
    /// What is limited.
    pub kind: LimitKind,
    /// The figure in the kind's unit.
    pub value: i64,
    /// Document, year and section.
    pub source: &'static str,
    /// How sure the figure is.
    pub flag: Flag,
}

/// The limits of one profile.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Longest time that perishable food is out of the fridge.
    pub out_of_fridge_max: Seconds,
    /// The same on a hot day.
    pub out_of_fridge_hot_max: Seconds,
    /// Air temperature above which a day is hot.
    pub hot_day: Temperature,
    /// Core temperature when left-overs are warmed.
    pub reheat_core: Temperature,
    /// Warmest fridge.
    pub fridge_max: Temperature,
    /// Warmest freezer.
    pub freezer_max: Temperature,
    /// Coolest hot holding.
    pub hot_min: Temperature,
    /// Deepest layer of hot food set to cool.
    pub depth_max: Length,
    /// The rows the figures come from, in the order of [`LimitKind::ALL`].
    pub sources: Vec<&'static LimitRow>,
}

/// The limits of a profile.
///
/// # Panics
/// Never: the table has a row for every profile and kind, which a test shows.
#[must_use]
pub fn limits(profile: Profile) -> Limits {
    let value = |kind| limit(profile, kind).value;
    let degrees = |kind| Temperature::from_deci_c(value(kind));
    Limits {
        out_of_fridge_max: Seconds::from_mins(value(LimitKind::OutOfFridge)),
        out_of_fridge_hot_max: Seconds::from_mins(value(LimitKind::OutOfFridgeHot)),
        hot_day: degrees(LimitKind::HotDay),
        reheat_core: degrees(LimitKind::ReheatCore),
        fridge_max: degrees(LimitKind::FridgeMax),
        freezer_max: degrees(LimitKind::FreezerMax),
        hot_min: degrees(LimitKind::HotMin),
        depth_max: Length::from_mm(value(LimitKind::DepthMax)),
        sources: LimitKind::ALL
            .into_iter()
            .map(|kind| limit(profile, kind))
            .collect(),
    }
}

/// One row.
///
/// # Panics
/// Never: the table has a row for every profile and kind, which a test shows.
#[must_use]
pub fn limit(profile: Profile, kind: LimitKind) -> &'static LimitRow {
    table::ROWS
        .iter()
        .find(|row| row.profile == profile && row.kind == kind)
        .expect("the table has a row for every profile and kind")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_profile_has_one_row_of_every_kind() {
        for profile in Profile::ALL {
            for kind in LimitKind::ALL {
                let found = table::ROWS
                    .iter()
                    .filter(|row| row.profile == profile && row.kind == kind);
                assert_eq!(found.count(), 1, "{} {kind:?}", profile.word());
            }
        }
    }

    #[test]
    fn cold_is_colder_than_hot_and_hot_cooler_than_reheated() {
        for profile in Profile::ALL {
            let limits = limits(profile);
            assert!(limits.freezer_max < limits.fridge_max);
            assert!(limits.fridge_max < limits.hot_min);
            assert!(limits.hot_min <= limits.reheat_core);
            assert!(limits.out_of_fridge_hot_max <= limits.out_of_fridge_max);
        }
    }
}
