//! How long a component keeps: one rule for each guidance profile and keeping class, and the date arithmetic.
//!
//! Whole-day rules end at 23:59 of their last day; rules in hours end on the minute. Freezing pauses the count
//! and never starts it again from nothing. The count always starts when the food was made.

mod table;

use std::sync::LazyLock;

use jiff::Span;
use jiff::civil::{Date, DateTime};
use jiff::tz::TimeZone;
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
    Leftovers,
    MixedSalad,
    Pizza,
    EggDish,
    EggInShell,
    EggOutOfShell,
    GroundMeatRaw,
    MeatRaw,
    PoultryRaw,
    FishRaw,
    SausageRaw,
    Bacon,
    PoultryMarinating,
    MeatMarinating,
    HerbInOil,
    Pesto,
    Dip,
    CanOpenedLowAcid,
    CanOpenedAcid,
    TofuOpened,
    SaladLeaves,
    BabyFood,
    OpenedPack,
}

const CLASSES: [KeepClass; 43] = [
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
    KeepClass::Leftovers,
    KeepClass::MixedSalad,
    KeepClass::Pizza,
    KeepClass::EggDish,
    KeepClass::EggInShell,
    KeepClass::EggOutOfShell,
    KeepClass::GroundMeatRaw,
    KeepClass::MeatRaw,
    KeepClass::PoultryRaw,
    KeepClass::FishRaw,
    KeepClass::SausageRaw,
    KeepClass::Bacon,
    KeepClass::PoultryMarinating,
    KeepClass::MeatMarinating,
    KeepClass::HerbInOil,
    KeepClass::Pesto,
    KeepClass::Dip,
    KeepClass::CanOpenedLowAcid,
    KeepClass::CanOpenedAcid,
    KeepClass::TofuOpened,
    KeepClass::SaladLeaves,
    KeepClass::BabyFood,
    KeepClass::OpenedPack,
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
            Self::Leftovers => "leftovers",
            Self::MixedSalad => "mixed-salad",
            Self::Pizza => "pizza",
            Self::EggDish => "egg-dish",
            Self::EggInShell => "egg-in-shell",
            Self::EggOutOfShell => "egg-out-of-shell",
            Self::GroundMeatRaw => "ground-meat-raw",
            Self::MeatRaw => "meat-raw",
            Self::PoultryRaw => "poultry-raw",
            Self::FishRaw => "fish-raw",
            Self::SausageRaw => "sausage-raw",
            Self::Bacon => "bacon",
            Self::PoultryMarinating => "poultry-marinating",
            Self::MeatMarinating => "meat-marinating",
            Self::HerbInOil => "herb-in-oil",
            Self::Pesto => "pesto",
            Self::Dip => "dip",
            Self::CanOpenedLowAcid => "can-opened-low-acid",
            Self::CanOpenedAcid => "can-opened-acid",
            Self::TofuOpened => "tofu-opened",
            Self::SaladLeaves => "salad-leaves",
            Self::BabyFood => "baby-food",
            Self::OpenedPack => "opened-pack",
        }
    }

    /// Reads the word used in recipes.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        CLASSES.into_iter().find(|class| class.word() == word)
    }

    /// Whether food of this class is kept raw: its days count from buying, marinating or thawing.
    #[must_use]
    pub fn raw(self) -> bool {
        matches!(
            self,
            Self::EggInShell
                | Self::EggOutOfShell
                | Self::GroundMeatRaw
                | Self::MeatRaw
                | Self::PoultryRaw
                | Self::FishRaw
                | Self::SausageRaw
                | Self::Bacon
                | Self::PoultryMarinating
                | Self::MeatMarinating
                | Self::DoughRaw
        )
    }

    /// Whether guidance gives it a place in the freezer at all.
    #[must_use]
    pub fn freezes(self) -> bool {
        !matches!(
            self,
            Self::EggHardCooked
                | Self::EggInShell
                | Self::EggOutOfShell
                | Self::EggDish
                | Self::CutProduce
                | Self::SaladLeaves
                | Self::MixedSalad
                | Self::PickleVinegar
                | Self::PoultryMarinating
                | Self::MeatMarinating
        )
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
    /// Hours in the fridge after making, where the guidance counts hours. Where both stand the sooner end rules.
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
    pub source: String,
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
    let row = &TABLE[profile as usize * CLASSES.len() + class as usize];
    assert!(
        row.profile == profile && row.class == class,
        "rows stand by profile and class"
    );
    row
}

/// Until when a lot in the fridge is to be eaten.
///
/// The count starts at the earlier of the two times, so that a slip between them never lengthens a life.
#[must_use]
pub fn fridge(profile: Profile, class: KeepClass, made: DateTime, stored: DateTime) -> Keep {
    let row = rule(profile, class);
    let from = made.min(stored);
    let [best_by, use_by] = sooner(day_ends(row, from), hour_end(row, from), from);
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
    let from = made.min(frozen);
    let days_frozen = Span::new().days(days_between(frozen.date(), pulled.date()));
    let time_frozen = Span::new().seconds(pulled.duration_since(frozen).as_secs());
    let by_days = day_ends(row, from).map(|ends| ends.map(|end| plus(end, days_frozen)));
    let by_hours = hour_end(row, from).map(|end| plus(end, time_frozen));
    let [best_by, use_by] = sooner(by_days, by_hours, from);
    let cap = |end: DateTime| match row.thawed_hours {
        Some(hours) => end.min(plus(pulled, Span::new().hours(hours))),
        None => end,
    };
    keep(row, cap(best_by), cap(use_by))
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

/// The ends of a count in days.
fn day_ends(row: &KeepRow, from: DateTime) -> Option<[DateTime; 2]> {
    let (low, high) = row.fridge_days?;
    Some([low, high].map(|days| end_of_day(from.date(), days)))
}

/// The end of a count in hours.
fn hour_end(row: &KeepRow, from: DateTime) -> Option<DateTime> {
    row.fridge_hours.map(|hours| plus(from, Span::new().hours(hours)))
}

/// Best-by and use-by by whichever count ends sooner; a row without a count leaves nothing.
fn sooner(by_days: Option<[DateTime; 2]>, by_hours: Option<DateTime>, from: DateTime) -> [DateTime; 2] {
    match (by_days, by_hours) {
        (Some(ends), Some(end)) => ends.map(|by_day| by_day.min(end)),
        (Some(ends), None) => ends,
        (None, Some(end)) => [end; 2],
        (None, None) => [from; 2],
    }
}

/// A life counted in hours, shortened to hours that really pass where clocks change in between.
///
/// Times are local; on the night on which clocks go back a civil day has 25 hours, of which guidance knows 24.
#[must_use]
pub fn by_the_clock(row: &KeepRow, keep: Keep, from: DateTime, zone: &TimeZone) -> Keep {
    let passed = row.fridge_hours.and_then(|hours| {
        let start = zone.to_ambiguous_zoned_datetime(from).earlier().ok()?;
        start
            .checked_add(Span::new().hours(hours))
            .ok()
            .map(|end| end.datetime())
    });
    match passed {
        Some(end) => Keep {
            best_by: keep.best_by.min(end),
            use_by: keep.use_by.min(end),
            ..keep
        },
        None => keep,
    }
}

fn keep(row: &KeepRow, best_by: DateTime, use_by: DateTime) -> Keep {
    Keep {
        best_by,
        use_by,
        rule: row.id.clone(),
        source: format!("{} ({})", row.source, row.flag.word()),
    }
}

/// The last minute of a day so many days after another.
///
/// # Panics
/// When it lies outside the calendar.
#[must_use]
pub fn end_of_day(date: Date, days: i64) -> DateTime {
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
                row.fridge_days.is_some() || row.fridge_hours.is_some(),
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
        assert_eq!(KeepClass::parse("left-overs"), None);
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

    #[test]
    fn a_general_rule_never_lengthens_the_life_of_raw_meat() {
        for class in [
            KeepClass::GroundMeatRaw,
            KeepClass::PoultryRaw,
            KeepClass::FishRaw,
            KeepClass::SausageRaw,
        ] {
            for profile in Profile::ALL {
                let made = date(2026, 11, 29).at(12, 0, 0, 0);
                let here = fridge(profile, class, made, made);
                let home = fridge(Profile::UsHome, class, made, made);
                assert!(here.use_by <= home.use_by, "{} {}", profile.word(), class.word());
            }
        }
    }

    #[test]
    fn where_days_and_hours_both_count_the_sooner_end_rules() {
        let made = date(2026, 11, 29).at(6, 0, 0, 0);
        let keep = fridge(Profile::Uk, KeepClass::GroundMeatRaw, made, made);
        assert_eq!(keep.best_by, date(2026, 11, 30).at(23, 59, 0, 0));
        assert_eq!(keep.use_by, date(2026, 12, 1).at(6, 0, 0, 0));
    }
}
