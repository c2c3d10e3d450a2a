//! What a food says about diets: facts of its composition, and cautions where only a label or a certificate tells.

use larderwright_model::{Allergen, FoodKind, Presence};

use crate::food::FoodRow;

/// A thing somebody may want to know of a food.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the names of the flags")]
pub enum DietFlag {
    Vegan,
    Vegetarian,
    Pescatarian,
    GlutenFree,
    DairyFree,
    Alcohol,
    Pork,
}

/// Whether a flag holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Holds {
    /// By its composition.
    Yes,
    /// By its composition.
    No,
    /// Traces may have got in: neither yes nor no.
    Maybe,
    /// Nobody has told.
    NotKnown,
}

impl DietFlag {
    /// Every flag.
    pub const ALL: [Self; 7] = [
        Self::Vegan,
        Self::Vegetarian,
        Self::Pescatarian,
        Self::GlutenFree,
        Self::DairyFree,
        Self::Alcohol,
        Self::Pork,
    ];

    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Vegan => "vegan",
            Self::Vegetarian => "vegetarian",
            Self::Pescatarian => "pescatarian",
            Self::GlutenFree => "gluten-free",
            Self::DairyFree => "dairy-free",
            Self::Alcohol => "alcohol",
            Self::Pork => "pork",
        }
    }
}

impl Holds {
    /// The words for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Yes => "yes",
            Self::No => "no",
            Self::Maybe => "may contain traces",
            Self::NotKnown => "not known",
        }
    }
}

/// Whether a flag holds of a food. Nothing here clears a food for an allergy: labels differ by brand.
#[must_use]
pub fn flag(food: &FoodRow, flag: DietFlag) -> Holds {
    use FoodKind::{
        Alcohol, Beef, Crustacean, Dairy, Egg, Fish, Gelatine, Honey, Lamb, Mollusc, OtherMeat, Pork, Poultry,
    };
    let is_made_of = |kinds: &[FoodKind]| food.kinds.iter().any(|kind| kinds.contains(kind));
    let yes = |holds: bool| if holds { Holds::Yes } else { Holds::No };
    let has_flesh = is_made_of(&[Poultry, Beef, Pork, Lamb, OtherMeat, Gelatine]);
    let has_sea = is_made_of(&[Fish, Crustacean, Mollusc]);
    match flag {
        DietFlag::Vegan => yes(!has_flesh && !has_sea && !is_made_of(&[Dairy, Egg, Honey])),
        DietFlag::Vegetarian => yes(!has_flesh && !has_sea),
        DietFlag::Pescatarian => yes(!has_flesh),
        DietFlag::GlutenFree => is_free_of(food, &[Allergen::Gluten, Allergen::Wheat]),
        DietFlag::DairyFree if is_made_of(&[Dairy]) => Holds::No,
        DietFlag::DairyFree => is_free_of(food, &[Allergen::Milk]),
        DietFlag::Alcohol => yes(is_made_of(&[Alcohol])),
        DietFlag::Pork => yes(is_made_of(&[Pork])),
    }
}

fn is_free_of(food: &FoodRow, allergens: &[Allergen]) -> Holds {
    let Some(marks) = food.allergens else {
        return Holds::NotKnown;
    };
    let worst = marks
        .iter()
        .filter(|mark| allergens.contains(&mark.0))
        .map(|mark| mark.1)
        .max();
    match worst {
        None => Holds::Yes,
        Some(Presence::MayContain) => Holds::Maybe,
        Some(Presence::Contains) => Holds::No,
    }
}

/// Cautions for those who eat halal or kosher: the table knows no slaughter, no certificate and no vessel, so it
/// only tells what to ask about.
#[must_use]
pub fn observance_cautions(food: &FoodRow) -> Vec<&'static str> {
    let mut cautions = Vec::new();
    for kind in food.kinds {
        cautions.push(match kind {
            FoodKind::Pork => "halal, kosher: made of pork",
            FoodKind::Alcohol => "halal: contains alcohol; kosher: ask for a certificate",
            FoodKind::Gelatine => "halal, kosher: ask what the gelatine is made of",
            FoodKind::Crustacean | FoodKind::Mollusc => "kosher: shellfish",
            FoodKind::Beef | FoodKind::Lamb | FoodKind::Poultry | FoodKind::OtherMeat => {
                "halal, kosher: ask for certified meat"
            }
            FoodKind::Fish => "kosher: ask whether the fish has fins and scales",
            FoodKind::Dairy => "kosher: dairy; cheese may be made with rennet",
            FoodKind::Plant | FoodKind::Mineral | FoodKind::Egg | FoodKind::Honey => continue,
        });
    }
    cautions.dedup();
    cautions
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::food::{all, food};

    fn check(id: &str, wanted: DietFlag, holds: Holds) {
        let row = food(id).unwrap_or_else(|| panic!("{id} is in the table"));
        assert_eq!(flag(row, wanted), holds, "{id} {wanted:?}");
    }

    #[test]
    fn diets_follow_from_what_a_food_is_made_of() {
        check("chickpea-dry", DietFlag::Vegan, Holds::Yes);
        check("honey", DietFlag::Vegan, Holds::No);
        check("honey", DietFlag::Vegetarian, Holds::Yes);
        check("salmon-fillet", DietFlag::Pescatarian, Holds::Yes);
        check("salmon-fillet", DietFlag::Vegetarian, Holds::No);
        check("pork-shoulder", DietFlag::Pork, Holds::Yes);
        check("pork-shoulder", DietFlag::Pescatarian, Holds::No);
        check("butter", DietFlag::DairyFree, Holds::No);
        check("pasta-dry", DietFlag::GlutenFree, Holds::No);
    }

    #[test]
    fn a_vegan_food_is_vegetarian_and_a_vegetarian_one_pescatarian() {
        for row in all() {
            let holds = |wanted| flag(row, wanted) == Holds::Yes;
            assert!(
                !holds(DietFlag::Vegan) || holds(DietFlag::Vegetarian),
                "{}",
                row.id
            );
            assert!(
                !holds(DietFlag::Vegetarian) || holds(DietFlag::Pescatarian),
                "{}",
                row.id
            );
        }
    }

    #[test]
    fn what_nobody_knows_is_not_called_free() {
        for row in all().iter().filter(|row| row.allergens.is_none()) {
            assert_eq!(flag(row, DietFlag::GlutenFree), Holds::NotKnown, "{}", row.id);
        }
    }

    #[test]
    fn pork_and_wine_carry_a_caution() {
        let cautions = |id: &str| observance_cautions(food(id).unwrap_or_else(|| panic!("{id}")));
        assert_eq!(cautions("pork-shoulder"), ["halal, kosher: made of pork"]);
        assert!(cautions("chickpea-dry").is_empty());
    }
}
