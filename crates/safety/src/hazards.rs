//! Special hazards that a recipe has to answer: beans that must boil, animal foods that must reach a core
//! temperature. Which foods they concern is told from identifiers and kinds.

use larderwright_model::{Food, FoodId, FoodKind, StorageClass};
use larderwright_quantity::{Seconds, Temperature};

use crate::source::Flag;

/// A boil that dry beans need before anything else.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BeanBoil {
    /// Words in the food's identifier that tell the bean.
    pub words: &'static [&'static str],
    /// Time at a full boil near sea level.
    pub boil: Seconds,
    /// Altitude in metres from which the longer boil is asked for.
    pub high_from_m: i64,
    /// Time at a full boil there.
    pub boil_high: Seconds,
    /// Document, year and section.
    pub source: &'static str,
    /// How sure the figure is.
    pub flag: Flag,
}

static BEAN_BOIL: BeanBoil = BeanBoil {
    words: &[
        "kidney-bean",
        "cannellini",
        "broad-bean",
        "fava-bean",
        "red-bean",
        "white-bean",
    ],
    boil: Seconds::from_mins(10),
    high_from_m: 1000,
    boil_high: Seconds::from_mins(30),
    source: "10 min at a full boil: J. Food Sci. 1985 and foodsafety.asn.au/topic/slow-cookers; the FDA Bad Bug Book asks \
             for 30 min (read at mscnews.net), which is taken above about 1000 m",
    flag: Flag::Read,
};

/// The boil this food needs when it is cooked from dry; `None` for other foods.
#[must_use]
pub fn bean_boil(food: &FoodId) -> Option<&'static BeanBoil> {
    let id = food.as_str();
    let dry = id.ends_with("-dry");
    (dry && BEAN_BOIL.words.iter().any(|word| id.contains(word))).then_some(&BEAN_BOIL)
}

impl BeanBoil {
    /// The time at this altitude.
    #[must_use]
    pub fn at(&self, altitude_m: i64) -> Seconds {
        if altitude_m > self.high_from_m {
            self.boil_high
        } else {
            self.boil
        }
    }
}

/// A core temperature for raw animal food.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CoreRow {
    /// What it is about.
    pub about: &'static str,
    /// The least core temperature.
    pub core: Temperature,
    /// Document, year and section.
    pub source: &'static str,
    /// How sure the figure is.
    pub flag: Flag,
}

const CORES: &str =
    "federal minimum internal temperatures, foodsafety.gov, copy at wichealth.org (2019-04-12)";

const fn core(about: &'static str, deci_c: i64) -> CoreRow {
    CoreRow {
        about,
        core: Temperature::from_deci_c(deci_c),
        source: CORES,
        flag: Flag::Read,
    }
}

/// 165 °F.
static POULTRY: CoreRow = core("poultry", 739);
/// 160 °F.
static GROUND: CoreRow = core("ground meat", 711);
/// 145 °F.
static WHOLE: CoreRow = core("whole cuts of meat", 628);
/// 145 °F.
static FISH: CoreRow = core("fish and shellfish", 628);

/// The least core temperature of a raw animal food; `None` for foods that are not raw flesh.
///
/// Food that spoils fast in the fridge or is frozen counts as raw; tins do not. Eggs have no row: they are done
/// when yolk and white are firm, which no cook measures in the shell.
#[must_use]
pub fn core_minimum(food: &Food) -> Option<&'static CoreRow> {
    if !matches!(food.storage, StorageClass::FridgeShort | StorageClass::Freezer) {
        return None;
    }
    let has = |kind: FoodKind| food.kinds.contains(&kind);
    let meat = [
        FoodKind::Beef,
        FoodKind::Pork,
        FoodKind::Lamb,
        FoodKind::OtherMeat,
    ];
    let sea = [FoodKind::Fish, FoodKind::Crustacean, FoodKind::Mollusc];
    let id = food.id.as_str();
    let ground = ["mince", "ground", "sausage", "burger"]
        .iter()
        .any(|word| id.contains(word));
    if has(FoodKind::Poultry) {
        Some(&POULTRY)
    } else if meat.into_iter().any(has) {
        Some(if ground { &GROUND } else { &WHOLE })
    } else if sea.into_iter().any(has) {
        Some(&FISH)
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_dry_beans_of_the_kind_need_the_boil() {
        assert!(bean_boil(&FoodId::new("kidney-bean-dry")).is_some());
        assert!(bean_boil(&FoodId::new("cannellini-bean-dry")).is_some());
        assert!(bean_boil(&FoodId::new("kidney-bean-canned")).is_none());
        assert!(bean_boil(&FoodId::new("chickpea-dry")).is_none());
    }

    #[test]
    fn the_boil_is_longer_in_the_mountains() {
        let boil = bean_boil(&FoodId::new("kidney-bean-dry")).expect("kidney beans need the boil");
        assert_eq!(boil.at(1000), Seconds::from_mins(10));
        assert_eq!(boil.at(1600), Seconds::from_mins(30));
    }
}
