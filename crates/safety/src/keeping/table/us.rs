//! Figures of the United States: home guidance and the food service.

use super::{Figure, Life};
use crate::keeping::KeepClass;
use crate::source::Flag;

const CHART: &str = "Cold Food Storage Chart, foodsafety.gov, read in the HHS syndicated copy (media 63)";

pub(super) const US_GENERAL: Figure = Figure {
    class: None,
    general: true,
    fridge: Life::Days(3, 4),
    cupboard: None,
    freezer: Some((3, 4)),
    thawed_hours: Some(72),
    chill_minutes: 120,
    source: "left-overs 3-4 days, frozen 3-4 months: University of Illinois Extension, Leftovers; 2 h: U.S. National \
             Agricultural Library, How long should I keep leftover food; 72 h after thawing from memory",
    flag: Flag::Read,
};

pub(super) const US_SOUP: Figure = Figure {
    class: Some(KeepClass::Soup),
    general: false,
    freezer: Some((2, 3)),
    thawed_hours: Some(48),
    source: "Cold Food Storage Chart, foodsafety.gov, row soups and stews; thawed 1-2 days: MSU Extension E3259, stew",
    ..US_GENERAL
};

pub(super) const US_MEAT: Figure = Figure {
    class: Some(KeepClass::MeatCooked),
    general: false,
    freezer: Some((2, 6)),
    thawed_hours: Some(48),
    source: "Cold Food Storage Chart, foodsafety.gov, row left-overs, cooked meat or poultry; thawed 48 h from memory",
    ..US_GENERAL
};

pub(super) const US_VEGETABLE: Figure = Figure {
    class: Some(KeepClass::VegetableCooked),
    freezer: Some((2, 3)),
    source: "no row in the federal chart, left-overs rule for the fridge; freezer 2-3 months from memory",
    flag: Flag::Memory,
    ..US_GENERAL
};

pub(super) const US_EGG: Figure = Figure {
    class: Some(KeepClass::EggHardCooked),
    general: false,
    fridge: Life::Days(7, 7),
    freezer: None,
    source: CHART,
    ..US_GENERAL
};

pub(super) const GARLIC_OIL: Figure = Figure {
    class: Some(KeepClass::GarlicInOil),
    general: false,
    fridge: Life::Days(4, 4),
    freezer: Some((1, 3)),
    thawed_hours: Some(24),
    source: "NCHFP, Freezing Garlic-in-Oil (Nummer et al. 2011, reviewed 2015): 4 days at 40 °F; freezer months and \
             24 h after thawing from memory",
    ..US_GENERAL
};

pub(super) const CUT_PRODUCE: Figure = Figure {
    class: Some(KeepClass::CutProduce),
    freezer: None,
    source: "from memory: cut raw vegetables 3-5 days; the left-overs rule is taken as the shorter",
    flag: Flag::Memory,
    ..US_GENERAL
};

pub(super) const SERVICE_GENERAL: Figure = Figure {
    class: None,
    general: true,
    fridge: Life::Days(6, 6),
    thawed_hours: None,
    source: "FDA Food Code 2022 3-501.17(A), read in 010-3 Wyo. Code R. 3-60: 7 days, day of preparation is day 1; \
             freezer months of quality: University of Illinois Extension, Leftovers",
    ..US_GENERAL
};

const fn chart(class: KeepClass, fridge: Life, freezer: Option<(i64, i64)>) -> Figure {
    Figure {
        class: Some(class),
        general: false,
        fridge,
        freezer,
        thawed_hours: Some(48),
        source: CHART,
        ..US_GENERAL
    }
}

/// Egg, chicken, ham, tuna and macaroni salads; an older edition of the chart says 3-5 days.
pub(super) const US_MIXED_SALAD: Figure = chart(KeepClass::MixedSalad, Life::Days(3, 4), None);
pub(super) const US_PIZZA: Figure = chart(KeepClass::Pizza, Life::Days(3, 4), Some((1, 2)));
pub(super) const US_EGG_DISH: Figure = Figure {
    source: "Cold Food Storage Chart, foodsafety.gov, row cooked egg dishes, on a page that quotes it",
    flag: Flag::ReadSecond,
    ..chart(KeepClass::EggDish, Life::Days(3, 4), None)
};
pub(super) const US_EGG_SHELL: Figure = chart(KeepClass::EggInShell, Life::Days(21, 35), None);
/// Whites freeze for 12 months, yolks poorly: the class as a whole is given no freezer.
pub(super) const US_EGG_BROKEN: Figure = chart(KeepClass::EggOutOfShell, Life::Days(2, 4), None);
pub(super) const US_GROUND: Figure = chart(KeepClass::GroundMeatRaw, Life::Days(1, 2), Some((3, 4)));
pub(super) const US_MEAT_RAW: Figure = Figure {
    thawed_hours: Some(120),
    ..chart(KeepClass::MeatRaw, Life::Days(3, 5), Some((4, 12)))
};
pub(super) const US_POULTRY_RAW: Figure = chart(KeepClass::PoultryRaw, Life::Days(1, 2), Some((9, 12)));
pub(super) const US_SAUSAGE: Figure = chart(KeepClass::SausageRaw, Life::Days(1, 2), Some((1, 2)));
pub(super) const US_BACON: Figure = chart(KeepClass::Bacon, Life::Days(7, 7), Some((1, 1)));
pub(super) const US_FISH_RAW: Figure = Figure {
    source: "from memory: Cold Food Storage Chart, foodsafety.gov, rows of fin fish, fat to lean",
    flag: Flag::Memory,
    ..chart(KeepClass::FishRaw, Life::Days(1, 2), Some((2, 8)))
};
/// Two extension services disagree; the shorter life is taken.
pub(super) const US_POULTRY_MARINATING: Figure = Figure {
    source: "poultry and cubed meat at most 2 days: dinnertonight.tamu.edu, Marinade safely; at most 24 hours: Iowa State \
             University Extension; the shorter is taken",
    ..chart(KeepClass::PoultryMarinating, Life::Hours(24), None)
};
pub(super) const US_MEAT_MARINATING: Figure = Figure {
    source: "roasts, chops and steaks at most 5 days: dinnertonight.tamu.edu, Marinade safely; at most 24 hours: Iowa State \
             University Extension; the shorter is taken",
    ..chart(KeepClass::MeatMarinating, Life::Hours(24), None)
};
pub(super) const HERB_OIL: Figure = Figure {
    class: Some(KeepClass::HerbInOil),
    ..GARLIC_OIL
};
pub(super) const US_PESTO: Figure = Figure {
    class: Some(KeepClass::Pesto),
    fridge: Life::Days(3, 4),
    source: "from memory: herbs and garlic in oil, as left-overs; NCHFP allows garlic in oil 4 days at 40 °F",
    flag: Flag::Memory,
    ..GARLIC_OIL
};
pub(super) const US_CAN_LOW_ACID: Figure = Figure {
    source: "from memory: federal consumer advice on opened cans of low-acid food, 3-4 days out of the can",
    flag: Flag::Memory,
    ..chart(KeepClass::CanOpenedLowAcid, Life::Days(3, 4), Some((3, 4)))
};
pub(super) const US_CAN_ACID: Figure = Figure {
    source: "from memory: federal consumer advice on opened cans of acid food (tomatoes, fruit), 5-7 days out of the can",
    flag: Flag::Memory,
    ..chart(KeepClass::CanOpenedAcid, Life::Days(5, 7), Some((2, 3)))
};
pub(super) const US_TOFU_OPENED: Figure = Figure {
    source: "from memory: raw tofu 3-5 days in water changed daily; the left-overs rule is taken as the shorter",
    flag: Flag::Memory,
    ..chart(KeepClass::TofuOpened, Life::Days(3, 4), Some((3, 5)))
};
pub(super) const US_LEAVES: Figure = Figure {
    source: "from memory: washed leaves kept dry 3-5 days; the left-overs rule is taken as the shorter",
    flag: Flag::Memory,
    ..chart(KeepClass::SaladLeaves, Life::Days(3, 4), None)
};
pub(super) const US_BABY: Figure = Figure {
    thawed_hours: Some(24),
    source: "evolvia.com.tr citing foodsafety.gov: home-made baby food 24-48 h in the fridge, 1-2 months frozen; 24 h after \
             thawing from memory",
    flag: Flag::ReadSecond,
    ..chart(KeepClass::BabyFood, Life::Hours(48), Some((1, 2)))
};
