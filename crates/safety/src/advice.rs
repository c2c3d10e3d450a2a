//! What guidance says beyond dates: reheating, thawing, slow cookers, opened cans, oil, marinades, rice, power cuts.
//!
//! Each row is a sentence for the cook with its figure and source. Rows of the food service are never shown to a
//! home.

mod table;

use larderwright_model::Profile;

use crate::keeping::KeepClass;
use crate::source::Flag;

/// What a row is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the names of the topics")]
pub enum Topic {
    Beans,
    Rice,
    Oil,
    Eggs,
    Produce,
    Can,
    Pack,
    RawMeat,
    Marinade,
    Baby,
    Chilling,
    Reheating,
    Thawing,
    SlowCooker,
    TimeOut,
    PowerCut,
}

impl Topic {
    /// The word used in answers.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Beans => "beans",
            Self::Rice => "rice",
            Self::Oil => "oil",
            Self::Eggs => "eggs",
            Self::Produce => "produce",
            Self::Can => "can",
            Self::Pack => "pack",
            Self::RawMeat => "raw-meat",
            Self::Marinade => "marinade",
            Self::Baby => "baby",
            Self::Chilling => "chilling",
            Self::Reheating => "reheating",
            Self::Thawing => "thawing",
            Self::SlowCooker => "slow-cooker",
            Self::TimeOut => "time-out",
            Self::PowerCut => "power-cut",
        }
    }
}

/// Whom a row is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Audience {
    /// Every profile.
    Everyone,
    /// These profiles alone.
    Only(&'static [Profile]),
}

/// A figure with its unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Figure {
    /// The figure in the unit.
    pub value: i64,
    /// `min`, `h`, `days`, `0.1 °C`, `min/kg`.
    pub unit: &'static str,
}

/// One thing that guidance says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AdviceRow {
    /// Stable identifier: `beans/boil`.
    pub id: &'static str,
    /// What it is about.
    pub topic: Topic,
    /// For whom it holds.
    pub audience: Audience,
    /// The classes it concerns; empty means it is told on demand, by topic.
    pub classes: &'static [KeepClass],
    /// The figure in it, where it has one.
    pub figure: Option<Figure>,
    /// What to tell the cook: lower case, no final stop.
    pub text: &'static str,
    /// Document, year and section.
    pub source: &'static str,
    /// How sure it is.
    pub flag: Flag,
}

impl AdviceRow {
    /// Whether the row holds under a profile.
    #[must_use]
    pub fn holds_in(&self, profile: Profile) -> bool {
        match self.audience {
            Audience::Everyone => true,
            Audience::Only(profiles) => profiles.contains(&profile),
        }
    }
}

/// Every row, by topic.
#[must_use]
pub fn rows() -> &'static [AdviceRow] {
    table::ROWS
}

/// What a profile tells about a class, by topic.
#[must_use]
pub fn for_class(profile: Profile, class: KeepClass) -> Vec<&'static AdviceRow> {
    table::ROWS
        .iter()
        .filter(|row| row.holds_in(profile) && row.classes.contains(&class))
        .collect()
}

/// What a profile tells about a topic.
#[must_use]
pub fn about(profile: Profile, topic: Topic) -> Vec<&'static AdviceRow> {
    table::ROWS
        .iter()
        .filter(|row| row.holds_in(profile) && row.topic == topic)
        .collect()
}

/// The figure of a row.
///
/// # Panics
/// When there is no such row or it has no figure: identifiers are written in code beside their use.
#[must_use]
pub fn figure(id: &str) -> i64 {
    let row = table::ROWS.iter().find(|row| row.id == id);
    row.and_then(|row| row.figure)
        .expect("a row that is asked for its figure has one")
        .value
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn identifiers_are_unique_and_every_row_has_text_and_source() {
        let mut ids: Vec<_> = rows().iter().map(|row| row.id).collect();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), rows().len());
        for row in rows() {
            assert!(!row.source.is_empty() && !row.text.is_empty(), "{}", row.id);
            assert!(!row.text.ends_with('.'), "{}", row.id);
        }
    }

    #[test]
    fn every_class_but_bread_is_told_something_under_every_profile() {
        for profile in Profile::ALL {
            for class in crate::keeping::classes() {
                let told = !for_class(profile, *class).is_empty();
                assert_eq!(told, class.perishable(), "{} {}", profile.word(), class.word());
            }
        }
    }

    #[test]
    fn the_food_service_never_nags_a_home() {
        for profile in Profile::ALL {
            let service = rows()
                .iter()
                .filter(|row| row.audience == Audience::Only(&[Profile::UsFoodService]));
            for row in service {
                assert_eq!(
                    row.holds_in(profile),
                    profile == Profile::UsFoodService,
                    "{}",
                    row.id
                );
            }
        }
    }

    #[test]
    fn nothing_is_called_safe() {
        for row in rows() {
            assert!(
                !row.text
                    .split(|c: char| !c.is_alphabetic())
                    .any(|word| word == "safe"),
                "{}",
                row.id
            );
        }
    }
}
