//! Figures that hold under every profile: practice nobody publishes, and caps that keep a general rule from
//! giving risky food a longer life than the one authority that has a figure for it.

use super::us::{
    GARLIC_OIL, HERB_OIL, US_BABY, US_BACON, US_EGG_BROKEN, US_FISH_RAW, US_GENERAL, US_GROUND,
    US_MEAT_MARINATING, US_MEAT_RAW, US_PESTO, US_POULTRY_MARINATING, US_POULTRY_RAW, US_SAUSAGE,
};
use super::{Figure, Life};
use crate::keeping::KeepClass;
use crate::source::Flag;

const PICKLE: Figure = Figure {
    class: Some(KeepClass::PickleVinegar),
    general: false,
    fridge: Life::Days(7, 14),
    freezer: None,
    thawed_hours: None,
    source: "from memory: United States extension advice on quick refrigerator pickles, up to about a month; the plan \
             stops at two weeks",
    flag: Flag::Memory,
    ..US_GENERAL
};

const DOUGH: Figure = Figure {
    class: Some(KeepClass::DoughRaw),
    general: false,
    fridge: Life::Days(2, 3),
    freezer: Some((1, 2)),
    thawed_hours: Some(24),
    source: "common practice, no source",
    flag: Flag::Practice,
    ..US_GENERAL
};

const BREAD: Figure = Figure {
    class: Some(KeepClass::Bread),
    general: false,
    fridge: Life::Days(3, 4),
    cupboard: Some((2, 3)),
    freezer: Some((1, 3)),
    thawed_hours: Some(48),
    chill_minutes: 720,
    source: "common practice, no source",
    flag: Flag::Practice,
};

/// Practice that no profile has a figure for; the same everywhere.
pub(super) const EVERYWHERE: [Figure; 3] = [PICKLE, DOUGH, BREAD];

/// Where a profile has no figure for these, its general rule holds and so does the United States figure: the
/// sooner end rules.
pub(super) const CAPS: [Figure; 13] = [
    GARLIC_OIL,
    HERB_OIL,
    US_PESTO,
    US_GROUND,
    US_MEAT_RAW,
    US_POULTRY_RAW,
    US_FISH_RAW,
    US_SAUSAGE,
    US_BACON,
    US_EGG_BROKEN,
    US_POULTRY_MARINATING,
    US_MEAT_MARINATING,
    US_BABY,
];
