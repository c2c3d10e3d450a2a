//! How long bought food keeps under each guidance profile, and the plain answer where a profile says nothing.
//! It counts no dates, and knows no component cooked at home beyond the general rule for left-overs.

use larderwright_model::Profile;

use crate::food::FoodRow;
use crate::generated::foods::KEEP_LEFTOVERS;

/// A range of days, low and high.
pub type Days = (u16, u16);

/// How long a kind of food keeps under some profiles. Guidance, not a promise; where local food-safety
/// authorities say less, theirs holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Keeping {
    /// The profiles whose guidance this is.
    pub profiles: &'static [Profile],
    /// Days in the refrigerator as bought.
    pub fridge_days: Option<Days>,
    /// Days in the freezer, for quality.
    pub freezer_days: Option<Days>,
    /// Days in the cupboard or on the counter.
    pub cupboard_days: Option<Days>,
    /// Days in the refrigerator once opened.
    pub opened_days: Option<Days>,
    /// How the weakest of these figures was come by.
    pub basis: KeepingBasis,
    /// What the days refer to.
    pub note: &'static str,
    /// Where they were read.
    pub source: &'static str,
}

/// How a figure was come by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KeepingBasis {
    /// Read in a stored copy of the source.
    Read,
    /// Read on a page that quotes the source.
    SecondHand,
    /// Worked out from a figure that was read.
    Derived,
    /// From memory of the source, not checked.
    Memory,
    /// Common practice, no source.
    Practice,
}

impl KeepingBasis {
    /// The word for readers.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Read => "read",
            Self::SecondHand => "read second hand",
            Self::Derived => "derived",
            Self::Memory => "from memory",
            Self::Practice => "common practice",
        }
    }
}

/// What a profile says of the keeping of a food.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KeepingLookup {
    /// It has figures; those it lacks are `None` and are not to be taken from another profile.
    Figures(&'static Keeping),
    /// It has no figure: the printed date rules while the food is closed and raw, and once it is opened or
    /// cooked the general rule of the profile for left-overs, which is given here.
    NoFigure {
        /// The general rule for left-overs.
        leftovers: &'static Keeping,
    },
}

/// What to do where a profile has no figure.
pub const NO_FIGURE: &str = "no figure under this profile: go by the printed date while it is closed and raw, and by the rule for \
     left-overs once it is opened or cooked";

/// The general rule of a profile for left-overs.
///
/// # Panics
/// Never: the table is not compiled without a rule for every profile.
#[must_use]
pub fn leftovers(profile: Profile) -> &'static Keeping {
    find(&KEEP_LEFTOVERS, profile).expect("every profile has a general rule for left-overs")
}

fn find(rows: &'static [Keeping], profile: Profile) -> Option<&'static Keeping> {
    rows.iter().find(|row| row.profiles.contains(&profile))
}

impl FoodRow {
    /// What a profile says of the keeping of this food. Figures of one profile never stand in for another's.
    #[must_use]
    pub fn keeping_under(&self, profile: Profile) -> KeepingLookup {
        find(self.keeping, profile).map_or_else(
            || KeepingLookup::NoFigure {
                leftovers: leftovers(profile),
            },
            KeepingLookup::Figures,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::food::food;

    fn check(id: &str, profile: Profile) -> KeepingLookup {
        food(id).expect("the table holds it").keeping_under(profile)
    }

    fn fridge(lookup: KeepingLookup) -> Option<Days> {
        match lookup {
            KeepingLookup::Figures(row) => row.fridge_days,
            KeepingLookup::NoFigure { .. } => None,
        }
    }

    #[test]
    fn raw_mince_has_the_days_of_the_federal_chart_and_no_other_profile_borrows_them() {
        assert_eq!(fridge(check("beef-mince", Profile::UsHome)), Some((1, 2)));
        for profile in Profile::ALL {
            if profile != Profile::UsHome {
                let expected = KeepingLookup::NoFigure {
                    leftovers: leftovers(profile),
                };
                assert_eq!(check("beef-mince", profile), expected, "{profile:?}");
            }
        }
    }

    #[test]
    fn cooked_rice_keeps_one_day_in_britain_and_as_leftovers_elsewhere() {
        assert_eq!(fridge(check("rice-white-cooked", Profile::Uk)), Some((1, 1)));
        assert_eq!(
            check("rice-white-cooked", Profile::Canada),
            KeepingLookup::NoFigure {
                leftovers: leftovers(Profile::Canada)
            }
        );
        assert_eq!(leftovers(Profile::Canada).fridge_days, Some((2, 4)));
    }

    #[test]
    fn an_opened_can_keeps_no_longer_than_leftovers() {
        for profile in [Profile::UsHome, Profile::Uk] {
            let KeepingLookup::Figures(row) = check("chickpea-canned", profile) else {
                panic!("{profile:?} has a figure");
            };
            assert_eq!(row.opened_days, leftovers(profile).fridge_days);
            assert_eq!(row.fridge_days, None, "closed, the printed date rules");
        }
    }

    #[test]
    fn a_food_nobody_speaks_of_has_no_figure_anywhere() {
        for profile in Profile::ALL {
            assert!(matches!(check("salt", profile), KeepingLookup::NoFigure { .. }));
        }
    }
}
