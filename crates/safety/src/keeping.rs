//! How long a component keeps: one rule for each guidance profile and keeping class, and the date arithmetic.
//!
//! Whole-day rules end at 23:59 of their last day; rules in hours end on the minute. Freezing pauses the count
//! and never starts it again from nothing. The count always starts when the food was made.

mod table;

use std::sync::LazyLock;

use jiff::Span;
use jiff::civil::{Date, DateTime};
use larderwright_model::{Keep, Profile, RuleId};
use larderwright_quantity::Seconds;

use crate::source::Flag;

/// What guidance tables distinguish when they say how long food keeps.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the names of the classes")]
pub enum KeepClass {
    RiceCooked,
    PulseCooked,
    GrainCooked,
    PastaCooked,
    PoultryCooked,
    MeatCooked,
    FishCooked,
    VegetableCooked,
    EggHardCooked,
    Soup,
    SauceCooked,
    Dressing,
    GarlicInOil,
    DairyDressing,
    CutProduce,
    PickleVinegar,
    TofuCooked,
    DoughRaw,
    Bread,
    BreakfastPot,
}

const CLASSES: [KeepClass; 20] = [
    KeepClass::RiceCooked,
    KeepClass::PulseCooked,
    KeepClass::GrainCooked,
    KeepClass::PastaCooked,
    KeepClass::PoultryCooked,
    KeepClass::MeatCooked,
    KeepClass::FishCooked,
    KeepClass::VegetableCooked,
    KeepClass::EggHardCooked,
    KeepClass::Soup,
    KeepClass::SauceCooked,
    KeepClass::Dressing,
    KeepClass::GarlicInOil,
    KeepClass::DairyDressing,
    KeepClass::CutProduce,
    KeepClass::PickleVinegar,
    KeepClass::TofuCooked,
    KeepClass::DoughRaw,
    KeepClass::Bread,
    KeepClass::BreakfastPot,
];

/// Every keeping class.
#[must_use]
pub fn classes() -> &'static [KeepClass] {
    &CLASSES
}

impl KeepClass {
    /// The word used in recipes: `rice-cooked`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::RiceCooked => "rice-cooked",
            Self::PulseCooked => "pulse-cooked",
            Self::GrainCooked => "grain-cooked",
            Self::PastaCooked => "pasta-cooked",
            Self::PoultryCooked => "poultry-cooked",
            Self::MeatCooked => "meat-cooked",
            Self::FishCooked => "fish-cooked",
            Self::VegetableCooked => "vegetable-cooked",
            Self::EggHardCooked => "egg-hard-cooked",
            Self::Soup => "soup",
            Self::SauceCooked => "sauce-cooked",
            Self::Dressing => "dressing",
            Self::GarlicInOil => "garlic-in-oil",
            Self::DairyDressing => "dairy-dressing",
            Self::CutProduce => "cut-produce",
            Self::PickleVinegar => "pickle-vinegar",
            Self::TofuCooked => "tofu-cooked",
            Self::DoughRaw => "dough-raw",
            Self::Bread => "bread",
            Self::BreakfastPot => "breakfast-pot",
        }
    }

    /// Reads the word used in recipes.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        CLASSES.into_iter().find(|class| class.word() == word)
    }

    /// Whether food of this class spoils within hours when it is kept warm.
    #[must_use]
    pub fn perishable(self) -> bool {
        self != Self::Bread
    }
}

/// How long one class keeps under one profile.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeepRow {
    /// Stable identifier: `us-home/pulse-cooked`.
    pub id: RuleId,
    /// Guidance profile.
    pub profile: Profile,
    /// Keeping class.
    pub class: KeepClass,
    /// Days in the fridge after the day of making, low and high end of the range.
    pub fridge_days: Option<(i64, i64)>,
    /// Hours in the fridge after making, where the guidance counts hours.
    pub fridge_hours: Option<i64>,
    /// Days in the cupboard after the day of making; `None` when it has to be chilled.
    pub cupboard_days: Option<(i64, i64)>,
    /// Months in the freezer, a limit of quality; `None` when it does not freeze.
    pub freezer_months: Option<(i64, i64)>,
    /// Hours after the pull from the freezer within which it is eaten, at most.
    pub thawed_hours: Option<i64>,
    /// From the end of cooking to the fridge or freezer, at most.
    pub chill_within: Seconds,
    /// Warmed once only.
    pub reheat_once: bool,
    /// The profile has no figure for this class: its general rule for left-overs is used.
    pub general: bool,
    /// Document, year and row or section.
    pub source: &'static str,
    /// How sure the figure is.
    pub flag: Flag,
}

static TABLE: LazyLock<Vec<KeepRow>> = LazyLock::new(table::rows);

/// Every row, by profile and class.
#[must_use]
pub fn rows() -> &'static [KeepRow] {
    &TABLE
}

/// The rule of a profile for a class.
///
/// # Panics
/// Never: the table has a row for every pair, which a test shows.
#[must_use]
pub fn rule(profile: Profile, class: KeepClass) -> &'static KeepRow {
    TABLE
        .iter()
        .find(|row| row.profile == profile && row.class == class)
        .expect("the table has a row for every profile and class")
}

/// Until when a lot in the fridge is to be eaten.
///
/// The count starts at the earlier of the two times, so that a slip between them never lengthens a life.
#[must_use]
pub fn fridge(profile: Profile, class: KeepClass, made: DateTime, stored: DateTime) -> Keep {
    let row = rule(profile, class);
    let (best_by, use_by) = count(row, made.min(stored));
    keep(row, best_by, use_by)
}

/// Until when a lot in the cupboard is to be eaten; `None` when the class has to be chilled.
#[must_use]
pub fn cupboard(profile: Profile, class: KeepClass, made: DateTime) -> Option<Keep> {
    let row = rule(profile, class);
    let (low, high) = row.cupboard_days?;
    Some(keep(
        row,
        end_of_day(made.date(), low),
        end_of_day(made.date(), high),
    ))
}

/// Until when a frozen lot keeps its quality; `None` when the class does not freeze.
#[must_use]
pub fn frozen(profile: Profile, class: KeepClass, frozen: DateTime) -> Option<Keep> {
    let row = rule(profile, class);
    let (low, high) = row.freezer_months?;
    let best_by = end_of_month_count(frozen.date(), low);
    let use_by = end_of_month_count(frozen.date(), high);
    Some(keep(row, best_by, use_by))
}

/// Until when a lot is to be eaten that was frozen and pulled to the fridge.
///
/// What was left of the count when it froze goes on from the pull, and ends sooner where the profile limits
/// thawed food. The day of freezing is not counted twice: the day of the pull takes its place.
#[must_use]
pub fn thawed(
    profile: Profile,
    class: KeepClass,
    made: DateTime,
    frozen: DateTime,
    pulled: DateTime,
) -> Keep {
    let row = rule(profile, class);
    let (best_by, use_by) = count(row, made.min(frozen));
    let shift = |end: DateTime| match row.fridge_hours {
        Some(_) => plus(end, Span::new().seconds(pulled.duration_since(frozen).as_secs())),
        None => plus(end, Span::new().days(days_between(frozen.date(), pulled.date()))),
    };
    let cap = |end: DateTime| match row.thawed_hours {
        Some(hours) => end.min(plus(pulled, Span::new().hours(hours))),
        None => end,
    };
    keep(row, cap(shift(best_by)), cap(shift(use_by)))
}

/// Whether a lot went into the fridge or freezer in time.
#[must_use]
pub fn chilled_in_time(row: &KeepRow, made: DateTime, stored: DateTime) -> bool {
    stored.duration_since(made).as_secs() <= row.chill_within.secs()
}

/// The date of a plate: the earliest of what is on it.
///
/// Source: FDA Food Code 3-501.17(C), read in 010-3 Wyo. Code R. 3-60(c).
#[must_use]
pub fn earliest<'a>(keeps: impl IntoIterator<Item = &'a Keep>) -> Option<&'a Keep> {
    keeps.into_iter().min_by_key(|keep| keep.use_by)
}

fn count(row: &KeepRow, from: DateTime) -> (DateTime, DateTime) {
    if let Some(hours) = row.fridge_hours {
        let end = plus(from, Span::new().hours(hours));
        return (end, end);
    }
    let (low, high) = row.fridge_days.unwrap_or((0, 0));
    (end_of_day(from.date(), low), end_of_day(from.date(), high))
}

fn keep(row: &KeepRow, best_by: DateTime, use_by: DateTime) -> Keep {
    Keep {
        best_by,
        use_by,
        rule: row.id.clone(),
        source: format!("{} ({})", row.source, row.flag.word()),
    }
}

fn end_of_day(date: Date, days: i64) -> DateTime {
    plus(date.at(23, 59, 0, 0), Span::new().days(days))
}

fn end_of_month_count(date: Date, months: i64) -> DateTime {
    plus(date.at(23, 59, 0, 0), Span::new().months(months))
}

fn days_between(from: Date, to: Date) -> i64 {
    to.duration_since(from).as_hours() / 24
}

fn plus(time: DateTime, span: Span) -> DateTime {
    time.checked_add(span)
        .expect("a use-by date lies inside the calendar")
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    #[test]
    fn every_profile_has_one_row_for_every_class() {
        for profile in Profile::ALL {
            for class in CLASSES {
                let found = rows()
                    .iter()
                    .filter(|row| row.profile == profile && row.class == class);
                assert_eq!(found.count(), 1, "{} {}", profile.word(), class.word());
            }
        }
    }

    #[test]
    fn every_row_has_a_life_and_a_source() {
        for row in rows() {
            assert!(
                row.fridge_days.is_some() != row.fridge_hours.is_some(),
                "{}",
                row.id
            );
            assert!(!row.source.is_empty(), "{}", row.id);
            for (low, high) in [row.fridge_days, row.cupboard_days, row.freezer_months]
                .into_iter()
                .flatten()
            {
                assert!(0 < low && low <= high, "{}", row.id);
            }
        }
    }

    #[test]
    fn cooked_food_without_a_figure_never_outlives_the_left_overs_rule() {
        for profile in Profile::ALL {
            let general = rows()
                .iter()
                .find(|row| row.profile == profile && row.general)
                .expect("every profile falls back somewhere");
            for class in [
                KeepClass::PulseCooked,
                KeepClass::GrainCooked,
                KeepClass::VegetableCooked,
                KeepClass::SauceCooked,
                KeepClass::BreakfastPot,
            ] {
                let row = rule(profile, class);
                assert_eq!(
                    (row.fridge_days, row.fridge_hours),
                    (general.fridge_days, general.fridge_hours)
                );
            }
        }
    }

    #[test]
    fn a_class_is_read_from_its_word() {
        for class in CLASSES {
            assert_eq!(KeepClass::parse(class.word()), Some(class));
        }
        assert_eq!(KeepClass::parse("leftovers"), None);
    }

    #[test]
    fn a_life_crosses_the_end_of_the_year() {
        let made = date(2026, 12, 29).at(18, 0, 0, 0);
        let keep = fridge(Profile::UsHome, KeepClass::Soup, made, made);
        assert_eq!(keep.best_by, date(2027, 1, 1).at(23, 59, 0, 0));
        assert_eq!(keep.use_by, date(2027, 1, 2).at(23, 59, 0, 0));
    }

    #[test]
    fn a_life_counts_the_leap_day() {
        let made = date(2028, 2, 27).at(12, 0, 0, 0);
        let keep = fridge(Profile::UsHome, KeepClass::Soup, made, made);
        assert_eq!(keep.use_by.date(), date(2028, 3, 2));
        let common = date(2027, 2, 27).at(12, 0, 0, 0);
        let keep = fridge(Profile::UsHome, KeepClass::Soup, common, common);
        assert_eq!(keep.use_by.date(), date(2027, 3, 3));
    }

    #[test]
    fn freezer_months_end_at_the_end_of_a_short_month() {
        let frozen_on = date(2026, 12, 31).at(12, 0, 0, 0);
        let keep = frozen(Profile::UsHome, KeepClass::Soup, frozen_on).expect("soup freezes");
        assert_eq!(keep.best_by.date(), date(2027, 2, 28));
        assert_eq!(keep.use_by.date(), date(2027, 3, 31));
    }

    #[test]
    fn thawed_food_never_outlives_what_was_left_of_its_count() {
        let made = date(2026, 11, 29).at(12, 0, 0, 0);
        let frozen_at = date(2026, 12, 2).at(12, 0, 0, 0);
        let pulled = date(2026, 12, 20).at(8, 0, 0, 0);
        let keep = thawed(Profile::UsHome, KeepClass::PulseCooked, made, frozen_at, pulled);
        assert_eq!(keep.use_by, date(2026, 12, 21).at(23, 59, 0, 0));
    }

    #[test]
    fn thawed_food_frozen_at_once_ends_with_the_limit_for_thawed_food() {
        let made = date(2026, 11, 29).at(12, 0, 0, 0);
        let pulled = date(2026, 12, 20).at(8, 0, 0, 0);
        let keep = thawed(Profile::Uk, KeepClass::PulseCooked, made, made, pulled);
        assert_eq!(keep.use_by, date(2026, 12, 21).at(8, 0, 0, 0));
    }

    #[test]
    fn a_count_used_up_before_freezing_leaves_nothing_after_it() {
        let made = date(2026, 11, 29).at(18, 0, 0, 0);
        let frozen_at = date(2026, 12, 1).at(18, 0, 0, 0);
        let pulled = date(2026, 12, 20).at(8, 0, 0, 0);
        let keep = thawed(Profile::Uk, KeepClass::RiceCooked, made, frozen_at, pulled);
        assert!(keep.use_by < pulled);
    }

    #[test]
    fn bread_alone_may_lie_in_the_cupboard() {
        let made = date(2026, 11, 29).at(12, 0, 0, 0);
        for class in CLASSES {
            let kept = cupboard(Profile::UsHome, class, made);
            assert_eq!(kept.is_some(), class == KeepClass::Bread, "{}", class.word());
        }
    }
}
