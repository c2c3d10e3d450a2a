//! The figures: for each profile its general rule for left-overs and what it says of single classes.
//!
//! A class without a figure of its own takes the general rule and is marked so. Figures read on the page of an
//! authority are marked as read, the others honestly as what they are.

mod others;
mod shared;
mod us;

use larderwright_model::{Profile, RuleId};
use larderwright_quantity::Seconds;

use self::others::{AUSTRALIA_GENERAL, CANADA_GENERAL, EU_GENERAL, UK_GENERAL, UK_RICE};
use self::shared::{CAPS, EVERYWHERE};
use self::us::{
    CUT_PRODUCE, GARLIC_OIL, HERB_OIL, SERVICE_GENERAL, US_BABY, US_BACON, US_CAN_ACID, US_CAN_LOW_ACID,
    US_EGG, US_EGG_BROKEN, US_EGG_DISH, US_EGG_SHELL, US_FISH_RAW, US_GENERAL, US_GROUND, US_LEAVES, US_MEAT,
    US_MEAT_MARINATING, US_MEAT_RAW, US_MIXED_SALAD, US_PESTO, US_PIZZA, US_POULTRY_MARINATING,
    US_POULTRY_RAW, US_SAUSAGE, US_SOUP, US_TOFU_OPENED, US_VEGETABLE,
};
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

impl Life {
    fn days(self) -> Option<(i64, i64)> {
        match self {
            Self::Days(low, high) => Some((low, high)),
            Self::Hours(_) => None,
        }
    }

    fn hours(self) -> Option<i64> {
        match self {
            Self::Days(..) => None,
            Self::Hours(hours) => Some(hours),
        }
    }
}

struct Guidance {
    profile: Profile,
    reheat_once: bool,
    general: Figure,
    figures: &'static [Figure],
}

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
            HERB_OIL,
            US_PESTO,
            CUT_PRODUCE,
            US_LEAVES,
            US_MIXED_SALAD,
            US_PIZZA,
            US_EGG_DISH,
            US_EGG_SHELL,
            US_EGG_BROKEN,
            US_GROUND,
            US_MEAT_RAW,
            US_POULTRY_RAW,
            US_FISH_RAW,
            US_SAUSAGE,
            US_BACON,
            US_POULTRY_MARINATING,
            US_MEAT_MARINATING,
            US_CAN_LOW_ACID,
            US_CAN_ACID,
            US_TOFU_OPENED,
            US_BABY,
        ],
    },
    Guidance {
        profile: Profile::UsFoodService,
        reheat_once: false,
        general: SERVICE_GENERAL,
        figures: &[],
    },
    Guidance {
        profile: Profile::Uk,
        reheat_once: true,
        general: UK_GENERAL,
        figures: &[UK_RICE],
    },
    Guidance {
        profile: Profile::Canada,
        reheat_once: false,
        general: CANADA_GENERAL,
        figures: &[],
    },
    Guidance {
        profile: Profile::Australia,
        reheat_once: false,
        general: AUSTRALIA_GENERAL,
        figures: &[],
    },
    Guidance {
        profile: Profile::Eu,
        reheat_once: false,
        general: EU_GENERAL,
        figures: &[],
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
    let of_class = |figure: &&Figure| figure.class == Some(class);
    let own = guidance.figures.iter().chain(&EVERYWHERE).find(of_class);
    let figure = own.unwrap_or(&guidance.general);
    let row = KeepRow {
        id: RuleId::new(&format!("{}/{}", guidance.profile.word(), class.word())),
        profile: guidance.profile,
        class,
        fridge_days: figure.fridge.days(),
        fridge_hours: figure.fridge.hours(),
        cupboard_days: figure.cupboard,
        freezer_months: figure.freezer.filter(|_| class.freezes()),
        thawed_hours: figure.thawed_hours,
        chill_within: Seconds::from_mins(figure.chill_minutes),
        reheat_once: guidance.reheat_once,
        general: figure.general && class != KeepClass::Leftovers,
        source: figure.source.to_owned(),
        flag: figure.flag,
    };
    match CAPS.iter().find(of_class) {
        Some(cap) if own.is_none() => capped(row, cap),
        _ => row,
    }
}

/// The general rule of the profile with the figure of the United States on top: both ends have to hold.
fn capped(row: KeepRow, cap: &Figure) -> KeepRow {
    let sooner = |a: Option<(i64, i64)>, b: Option<(i64, i64)>| match (a, b) {
        (Some(a), Some(b)) => Some((a.0.min(b.0), a.1.min(b.1))),
        (one, other) => one.or(other),
    };
    let fewer = |a: Option<i64>, b: Option<i64>| a.into_iter().chain(b).min();
    KeepRow {
        fridge_days: sooner(row.fridge_days, cap.fridge.days()),
        fridge_hours: fewer(row.fridge_hours, cap.fridge.hours()),
        freezer_months: row.freezer_months.and_then(|months| {
            cap.freezer
                .map(|most| (months.0.min(most.0), months.1.min(most.1)))
        }),
        thawed_hours: fewer(row.thawed_hours, cap.thawed_hours),
        source: format!(
            "no figure under this profile; its rule for left-overs ({}) and the United States figure both hold: {}",
            row.source, cap.source
        ),
        flag: Flag::Derived,
        ..row
    }
}
