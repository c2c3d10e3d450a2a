//! Stricter care for eaters whom food can hurt more easily. Advice by published texts, never medical advice.

use larderwright_model::{Caution, FoodKind};

use crate::source::Flag;

/// What a caution looks at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Applies {
    /// A sentence for the eater's sheet; nothing in a plan can be measured.
    Told,
    /// Food of this kind is not served to them.
    Kind(FoodKind),
    /// Components eaten cold that were made more than so many days before.
    ColdAfterDays(i64),
    /// Components made more than so many days before, hot or cold.
    AfterDays(i64),
}

/// One caution.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CautionRow {
    /// Stable identifier.
    pub id: &'static str,
    /// Whom it concerns.
    pub caution: Caution,
    /// What it looks at.
    pub applies: Applies,
    /// What to tell the cook, lower case, no final stop.
    pub text: &'static str,
    /// Document, year and section.
    pub source: &'static str,
    /// How sure the figure is.
    pub flag: Flag,
}

const LISTERIA: &str =
    "a suggestion of this program: Listeria monocytogenes grows at 4 °C; no published limit of days";
const LISTS: &str = "from memory: federal advice for people at risk, foodsafety.gov";

const fn cold(id: &'static str, caution: Caution) -> CautionRow {
    CautionRow {
        id,
        caution,
        applies: Applies::ColdAfterDays(2),
        text: "eat cold components within two days, or warm them to 165 °F (74 °C)",
        source: LISTERIA,
        flag: Flag::Derived,
    }
}

const fn told(id: &'static str, caution: Caution) -> CautionRow {
    CautionRow {
        id,
        caution,
        applies: Applies::Told,
        text: "no raw sprouts, no cold deli meat, no unpasteurised dairy, no raw or undercooked eggs, meat or fish; ask \
               your doctor or midwife",
        source: LISTS,
        flag: Flag::Memory,
    }
}

static ROWS: [CautionRow; 11] = [
    cold("pregnant/cold", Caution::Pregnant),
    told("pregnant/list", Caution::Pregnant),
    cold("immune-compromised/cold", Caution::ImmuneCompromised),
    told("immune-compromised/list", Caution::ImmuneCompromised),
    cold("older-than-65/cold", Caution::OlderThan65),
    told("older-than-65/list", Caution::OlderThan65),
    CautionRow {
        id: "infant/honey",
        caution: Caution::Infant,
        applies: Applies::Kind(FoodKind::Honey),
        text: "no honey before the first birthday",
        source: "foodsafety.gov/blog/blog_22",
        flag: Flag::Read,
    },
    CautionRow {
        id: "infant/kept",
        caution: Caution::Infant,
        applies: Applies::AfterDays(2),
        text: "home-made baby food keeps one to two days in the fridge; throw away what the spoon has touched",
        source: "evolvia.com.tr citing foodsafety.gov: 24-48 h in the fridge, 1-2 months frozen",
        flag: Flag::ReadSecond,
    },
    CautionRow {
        id: "breastfeeding/list",
        caution: Caution::Breastfeeding,
        applies: Applies::Told,
        text: "no special rule for kept food; ask your doctor or midwife about fish and alcohol",
        source: "from memory: federal advice, no rule of keeping differs",
        flag: Flag::Memory,
    },
    CautionRow {
        id: "infant/reheat",
        caution: Caution::Infant,
        applies: Applies::Told,
        text: "warm until steaming, let it cool, stir, and try the temperature before feeding",
        source: "common practice, no source",
        flag: Flag::Practice,
    },
    CautionRow {
        id: "infant/list",
        caution: Caution::Infant,
        applies: Applies::Told,
        text: "no raw milk and no home-canned food",
        source: "foodsafety.gov/blog/blog_22",
        flag: Flag::Read,
    },
];

/// The cautions for a state, in the order of the table.
#[must_use]
pub fn cautions(caution: Caution) -> Vec<&'static CautionRow> {
    ROWS.iter().filter(|row| row.caution == caution).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn identifiers_are_unique_and_every_row_has_a_source() {
        let mut ids: Vec<_> = ROWS.iter().map(|row| row.id).collect();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), ROWS.len());
        assert!(ROWS.iter().all(|row| !row.source.is_empty()));
    }

    #[test]
    fn an_infant_is_kept_from_honey() {
        let kinds = cautions(Caution::Infant)
            .into_iter()
            .map(|row| row.applies)
            .collect::<Vec<_>>();
        assert!(kinds.contains(&Applies::Kind(FoodKind::Honey)));
    }
}
