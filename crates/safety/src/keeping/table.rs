//! The figures: for each profile its general rule for left-overs and what it says of single classes.
//!
//! A class without a figure of its own takes the general rule and is marked so. Figures read on the page of an
//! authority are marked as read, the others honestly as what they are.

use larderwright_model::{Profile, RuleId};
use larderwright_quantity::Seconds;

use super::{CLASSES, KeepClass, KeepRow};
use crate::source::Flag;

/// A figure of one profile for one class, or for everything else.
#[derive(Clone, Copy)]
struct Figure {
    class: Option<KeepClass>,
    /// The fridge life is the profile's general rule for want of a figure.
    general: bool,
    fridge: Life,
    cupboard: Option<(i64, i64)>,
    freezer: Option<(i64, i64)>,
    thawed_hours: Option<i64>,
    chill_minutes: i64,
    source: &'static str,
    flag: Flag,
}

#[derive(Clone, Copy)]
enum Life {
    Days(i64, i64),
    Hours(i64),
}

struct Guidance {
    profile: Profile,
    reheat_once: bool,
    general: Figure,
    figures: &'static [Figure],
}

const CHART: &str = "Cold Food Storage Chart, foodsafety.gov, read in the HHS syndicated copy (media 63)";

const US_GENERAL: Figure = Figure {
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

const US_SOUP: Figure = Figure {
    class: Some(KeepClass::Soup),
    general: false,
    freezer: Some((2, 3)),
    thawed_hours: Some(48),
    source: "Cold Food Storage Chart, foodsafety.gov, row soups and stews; thawed 1-2 days: MSU Extension E3259, stew",
    ..US_GENERAL
};

const US_MEAT: Figure = Figure {
    class: Some(KeepClass::MeatCooked),
    general: false,
    freezer: Some((2, 6)),
    thawed_hours: Some(48),
    source: "Cold Food Storage Chart, foodsafety.gov, row left-overs, cooked meat or poultry; thawed 48 h from memory",
    ..US_GENERAL
};

const US_VEGETABLE: Figure = Figure {
    class: Some(KeepClass::VegetableCooked),
    freezer: Some((2, 3)),
    source: "no row in the federal chart, left-overs rule for the fridge; freezer 2-3 months from memory",
    flag: Flag::Memory,
    ..US_GENERAL
};

const US_EGG: Figure = Figure {
    class: Some(KeepClass::EggHardCooked),
    general: false,
    fridge: Life::Days(7, 7),
    freezer: None,
    source: CHART,
    ..US_GENERAL
};

const GARLIC_OIL: Figure = Figure {
    class: Some(KeepClass::GarlicInOil),
    general: false,
    fridge: Life::Days(4, 4),
    freezer: Some((1, 3)),
    thawed_hours: Some(24),
    source: "NCHFP, Freezing Garlic-in-Oil (Nummer et al. 2011, reviewed 2015): 4 days at 40 °F; freezer months and \
             24 h after thawing from memory",
    ..US_GENERAL
};

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

const CUT_PRODUCE: Figure = Figure {
    class: Some(KeepClass::CutProduce),
    freezer: None,
    source: "from memory: cut raw vegetables 3-5 days; the left-overs rule is taken as the shorter",
    flag: Flag::Memory,
    ..US_GENERAL
};

const SERVICE_GENERAL: Figure = Figure {
    class: None,
    general: true,
    fridge: Life::Days(6, 6),
    thawed_hours: None,
    source: "FDA Food Code 2022 3-501.17(A), read in 010-3 Wyo. Code R. 3-60: 7 days, day of preparation is day 1; \
             freezer months of quality: University of Illinois Extension, Leftovers",
    ..US_GENERAL
};

const SERVICE_EGG: Figure = Figure {
    class: Some(KeepClass::EggHardCooked),
    freezer: None,
    ..SERVICE_GENERAL
};

const SERVICE_CUT: Figure = Figure {
    class: Some(KeepClass::CutProduce),
    freezer: None,
    ..SERVICE_GENERAL
};

const UK_GENERAL: Figure = Figure {
    class: None,
    general: true,
    fridge: Life::Hours(48),
    cupboard: None,
    freezer: Some((1, 3)),
    thawed_hours: Some(24),
    chill_minutes: 120,
    source: "from memory: Food Standards Agency, left-overs within 48 hours, thawed food within 24 hours; freezer months \
             from memory",
    flag: Flag::Memory,
};

const UK_RICE: Figure = Figure {
    class: Some(KeepClass::RiceCooked),
    general: false,
    fridge: Life::Hours(24),
    chill_minutes: 60,
    source: "national health service text on rice, read at healthwell.eani.org.uk: cool within 1 hour, keep no more than \
             1 day, reheat once; freezer and thawing from memory",
    flag: Flag::Read,
    ..UK_GENERAL
};

const UK_EGG: Figure = Figure {
    class: Some(KeepClass::EggHardCooked),
    freezer: None,
    ..UK_GENERAL
};

const UK_CUT: Figure = Figure {
    class: Some(KeepClass::CutProduce),
    freezer: None,
    ..UK_GENERAL
};

const CANADA_GENERAL: Figure = Figure {
    class: None,
    general: true,
    fridge: Life::Days(2, 4),
    cupboard: None,
    freezer: Some((2, 3)),
    thawed_hours: Some(24),
    chill_minutes: 120,
    source: "left-overs 2 to 4 days: Canadian federal advice, read at newswire.ca 2014-10-10; 2 h: recalls-rappels.canada.ca \
             RA-25979; freezer and 24 h after thawing from memory",
    flag: Flag::Read,
};

const CANADA_EGG: Figure = Figure {
    class: Some(KeepClass::EggHardCooked),
    freezer: None,
    ..CANADA_GENERAL
};

const CANADA_CUT: Figure = Figure {
    class: Some(KeepClass::CutProduce),
    freezer: None,
    ..CANADA_GENERAL
};

const AUSTRALIA_GENERAL: Figure = Figure {
    class: None,
    general: true,
    fridge: Life::Days(2, 3),
    cupboard: None,
    freezer: Some((1, 3)),
    thawed_hours: Some(24),
    chill_minutes: 120,
    source: "from memory: left-overs 2-3 days, thawed food within 24 h; 60 °C to 21 °C in 2 h: Food Standards Code 3.2.2 \
             clause 7(3), read at experts123.com",
    flag: Flag::Memory,
};

const AUSTRALIA_EGG: Figure = Figure {
    class: Some(KeepClass::EggHardCooked),
    freezer: None,
    ..AUSTRALIA_GENERAL
};

const AUSTRALIA_CUT: Figure = Figure {
    class: Some(KeepClass::CutProduce),
    freezer: None,
    ..AUSTRALIA_GENERAL
};

const EU_GENERAL: Figure = Figure {
    class: None,
    general: true,
    fridge: Life::Days(3, 3),
    cupboard: None,
    freezer: Some((1, 3)),
    thawed_hours: Some(24),
    chill_minutes: 120,
    source: "from memory: Irish advice, left-overs 3 days, thawed food within 24 h; chilling in 2 h: French text of \
             8 March 2012, read at acfri.com",
    flag: Flag::Memory,
};

const EU_EGG: Figure = Figure {
    class: Some(KeepClass::EggHardCooked),
    freezer: None,
    ..EU_GENERAL
};

const EU_CUT: Figure = Figure {
    class: Some(KeepClass::CutProduce),
    freezer: None,
    ..EU_GENERAL
};

/// Practice that no profile has a figure for; the same everywhere.
const EVERYWHERE: [Figure; 3] = [PICKLE, DOUGH, BREAD];

const GUIDANCE: [Guidance; 6] = [
    Guidance {
        profile: Profile::UsHome,
        reheat_once: false,
        general: US_GENERAL,
        figures: &[
            US_SOUP,
            US_MEAT,
            Figure {
                class: Some(KeepClass::PoultryCooked),
                ..US_MEAT
            },
            US_VEGETABLE,
            US_EGG,
            GARLIC_OIL,
            CUT_PRODUCE,
        ],
    },
    Guidance {
        profile: Profile::UsFoodService,
        reheat_once: false,
        general: SERVICE_GENERAL,
        figures: &[SERVICE_EGG, SERVICE_CUT, GARLIC_OIL],
    },
    Guidance {
        profile: Profile::Uk,
        reheat_once: true,
        general: UK_GENERAL,
        figures: &[UK_RICE, UK_EGG, UK_CUT],
    },
    Guidance {
        profile: Profile::Canada,
        reheat_once: false,
        general: CANADA_GENERAL,
        figures: &[CANADA_EGG, CANADA_CUT],
    },
    Guidance {
        profile: Profile::Australia,
        reheat_once: false,
        general: AUSTRALIA_GENERAL,
        figures: &[AUSTRALIA_EGG, AUSTRALIA_CUT],
    },
    Guidance {
        profile: Profile::Eu,
        reheat_once: false,
        general: EU_GENERAL,
        figures: &[EU_EGG, EU_CUT],
    },
];

/// The whole table, one row for every profile and class.
pub(super) fn rows() -> Vec<KeepRow> {
    GUIDANCE
        .iter()
        .flat_map(|guidance| CLASSES.map(|class| row(guidance, class)))
        .collect()
}

fn row(guidance: &Guidance, class: KeepClass) -> KeepRow {
    let own = guidance
        .figures
        .iter()
        .chain(&EVERYWHERE)
        .find(|figure| figure.class == Some(class));
    let figure = own.unwrap_or(&guidance.general);
    let (fridge_days, fridge_hours) = match figure.fridge {
        Life::Days(low, high) => (Some((low, high)), None),
        Life::Hours(hours) => (None, Some(hours)),
    };
    KeepRow {
        id: RuleId::new(&format!("{}/{}", guidance.profile.word(), class.word())),
        profile: guidance.profile,
        class,
        fridge_days,
        fridge_hours,
        cupboard_days: figure.cupboard,
        freezer_months: figure.freezer,
        thawed_hours: figure.thawed_hours,
        chill_within: Seconds::from_mins(figure.chill_minutes),
        reheat_once: guidance.reheat_once,
        general: figure.general,
        source: figure.source,
        flag: figure.flag,
    }
}
