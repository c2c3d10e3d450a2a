//! The food table: what the rows hold and how they are looked up. The rows themselves are generated; this
//! module computes nothing about a food and knows no recipe.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_model as model;
use larderwright_model::{Allergen, Department, FoodKind, Presence, Region, StorageClass};
use larderwright_quantity as quantity;

use crate::generated::foods::FOODS;
use crate::keeping::Keeping;
use crate::nutrient::Nutrient;

/// How many figures each food carries.
pub const NUTRIENTS: usize = Nutrient::ALL.len();

/// Stands in the table where a figure is not known.
pub(crate) const UNKNOWN: i32 = i32::MIN;

/// One food with every figure and its source.
#[derive(Debug, PartialEq, Eq)]
pub struct FoodRow {
    /// Identifier, state last: `chickpea-dry`.
    pub id: &'static str,
    /// Name in British English.
    pub name: &'static str,
    /// Name in American English; empty where it is the same.
    pub name_us: &'static str,
    /// Other names it is asked for by.
    pub synonyms: &'static [&'static str],
    /// Where in a shop it stands.
    pub department: Department,
    /// What it is made of, as far as diets ask.
    pub kinds: &'static [FoodKind],
    /// Allergens in the order of [`Allergen::ALL`]; `None` when nobody knows.
    pub allergens: Option<&'static [(Allergen, Presence)]>,
    /// The label differs by brand: someone with an allergy has to read it.
    pub read_label: bool,
    /// Figures per 100 g of edible portion, in thousandths of [`Nutrient::unit`], in the order of
    /// [`Nutrient::ALL`], [`UNKNOWN`] where nobody knows; read through [`FoodRow::nutrient`]. Bare numbers
    /// here halve the time the compiler takes for the table.
    pub(crate) nutrients: [i32; NUTRIENTS],
    /// What is eaten of what is purchased (for cans: drained).
    pub edible: Edible,
    /// Mass per volume, in the household measure its source names.
    pub density: Option<Density>,
    /// How it is counted, if it is.
    pub unit: Option<CountUnit>,
    /// Household measures of its source, of edible portion.
    pub measures: &'static [Measure],
    /// Usual pack sizes (common practice, no source), smallest first.
    pub packs: &'static [Pack],
    /// How it is kept before use.
    pub storage: StorageClass,
    /// How long it keeps under the profiles that give days; read through [`FoodRow::keeping_under`].
    pub keeping: &'static [Keeping],
    /// The thing it is a state of: `chickpea`; empty where there is only one.
    pub family: &'static str,
    /// Which state of the family: `dry`, `canned`; empty where there is only one.
    pub state: &'static str,
    /// What can stand in for it.
    pub substitutes: &'static [Substitute],
    /// Where its composition was read.
    pub source: &'static str,
}

/// The part that is eaten of what is purchased.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Edible {
    /// Per thousand of the mass as purchased.
    pub permille: i64,
    /// Where it was read.
    pub source: &'static str,
}

/// Mass per volume.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Density {
    /// Grams per litre.
    pub g_per_l: i64,
    /// Where it was read: a household measure with its weight.
    pub source: &'static str,
}

/// The word for one of a counted food, and its mass.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CountUnit {
    /// `onion`.
    pub singular: &'static str,
    /// `onions`.
    pub plural: &'static str,
    /// Milligrams of one as purchased.
    pub mg: i64,
    /// Where it was read; published unit masses are of the edible part and were divided by it.
    pub source: &'static str,
}

/// A household measure: so much of it weighs so much.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Measure {
    /// Thousandths of the measure.
    pub amount_thousandths: i64,
    /// The measure: `cup, chopped`.
    pub text: &'static str,
    /// Milligrams of edible portion.
    pub mg: i64,
}

/// A size in which a food is sold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pack {
    /// What the shopper reads: `400 g can`.
    pub label: &'static str,
    /// Where it is usual.
    pub regions: &'static [Region],
    /// Milligrams as purchased, brine included.
    pub mg: i64,
    /// Price in US cents.
    pub usd_minor: i64,
    /// The published average it was computed from; empty for an invented estimate.
    pub price_source: &'static str,
}

/// A food that can stand in for another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Substitute {
    /// Identifier of the food to use instead.
    pub food: &'static str,
    /// Grams of it per 1000 g of the food it stands in for, edible portion.
    pub permille: i64,
    /// What changes.
    pub note: &'static str,
    /// Where the ratio comes from.
    pub source: &'static str,
}

/// Every food, in the order of the identifiers.
#[must_use]
pub fn all() -> &'static [FoodRow] {
    &FOODS
}

/// The food with this identifier. Allocation-free, logarithmic in the number of foods.
#[must_use]
pub fn food(id: &str) -> Option<&'static FoodRow> {
    let index = FOODS.binary_search_by(|row| row.id.cmp(id)).ok()?;
    FOODS.get(index)
}

impl FoodRow {
    /// The figure of one nutrient per 100 g of edible portion, in thousandths of [`Nutrient::unit`]; `None`
    /// is unknown, never zero.
    #[must_use]
    pub fn nutrient(&self, nutrient: Nutrient) -> Option<i32> {
        let figure = self.nutrients[nutrient as usize];
        (figure != UNKNOWN).then_some(figure)
    }

    /// The name in the English of a region.
    #[must_use]
    pub fn name_in(&self, region: Region) -> &'static str {
        match region {
            Region::Us if !self.name_us.is_empty() => self.name_us,
            Region::Us | Region::Uk | Region::Eu => self.name,
        }
    }

    /// Other states of the same thing, without this one: dry, canned, frozen.
    pub fn other_states(&self) -> impl Iterator<Item = &'static FoodRow> {
        let (family, id) = (self.family, self.id);
        FOODS
            .iter()
            .filter(move |row| !family.is_empty() && row.family == family && row.id != id)
    }

    /// The food as a household in the United States buys it; see [`FoodRow::to_food_in`].
    #[must_use]
    pub fn to_food(&self) -> model::Food {
        self.to_food_in(Region::Us)
    }

    /// The food with the name and the packs of a region; where no pack of the region is known, with every
    /// pack of elsewhere. Prices are in US cents whatever the region: they are only a first estimate until
    /// the household writes down its own.
    #[must_use]
    pub fn to_food_in(&self, region: Region) -> model::Food {
        model::Food {
            id: model::FoodId::new(self.id),
            name: self.name_in(region).to_owned(),
            department: self.department,
            kinds: self.kinds.iter().copied().collect::<BTreeSet<_>>(),
            allergens: self
                .allergens
                .map(|marks| marks.iter().copied().collect::<BTreeMap<_, _>>()),
            read_label: self.read_label,
            edible: model::Sourced {
                value: quantity::Permille::from_permille(self.edible.permille),
                source: self.edible.source.to_owned(),
            },
            density: self.density.map(|density| model::Sourced {
                value: quantity::Density::from_g_per_l(density.g_per_l),
                source: density.source.to_owned(),
            }),
            unit: self.unit.map(|unit| model::CountUnit {
                singular: unit.singular.to_owned(),
                plural: unit.plural.to_owned(),
                mass: quantity::Mass::from_mg(unit.mg),
                source: unit.source.to_owned(),
            }),
            packs: self.packs_in(region).into_iter().map(Pack::to_pack).collect(),
            storage: self.storage,
            source: self.source.to_owned(),
        }
    }
}

impl FoodRow {
    fn packs_in(&self, region: Region) -> Vec<Pack> {
        let here: Vec<Pack> = self
            .packs
            .iter()
            .copied()
            .filter(|pack| pack.regions.contains(&region))
            .collect();
        if here.is_empty() {
            self.packs.to_vec()
        } else {
            here
        }
    }
}

impl Pack {
    fn to_pack(self) -> model::Pack {
        model::Pack {
            size: model::PackSize {
                label: self.label.to_owned(),
                mass: quantity::Mass::from_mg(self.mg),
            },
            price: quantity::Money::from_minor(self.usd_minor),
            basis: match self.price_source {
                "" => model::PriceBasis::Estimate,
                source => model::PriceBasis::Published(source.to_owned()),
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_food_is_found_by_its_identifier_and_nothing_else_is() {
        for row in all() {
            assert_eq!(food(row.id).map(|found| found.id), Some(row.id));
        }
        for id in ["", "chickpea", "chickpea-dry ", "zzz"] {
            assert!(food(id).is_none(), "{id}");
        }
    }

    #[test]
    fn a_canned_pulse_weighs_its_can_and_is_eaten_drained() {
        let row = food("chickpea-canned").expect("the table holds canned chickpeas");
        let can = row
            .to_food_in(Region::Uk)
            .packs
            .first()
            .expect("canned chickpeas are sold in cans")
            .size
            .mass;
        let drained = row.to_food().edible.value.of(can, quantity::Rounding::Down);
        assert_eq!(
            (can, drained),
            (quantity::Mass::from_g(400), quantity::Mass::from_g(226))
        );
    }

    #[test]
    fn a_region_names_and_packs_a_food_its_own_way() {
        let row = food("courgette").expect("the table holds courgettes");
        assert_eq!(row.to_food_in(Region::Uk).name, "Courgettes");
        assert_eq!(row.to_food().name, "Zucchini");
        let squash = food("acorn-squash").expect("the table holds acorn squash");
        assert!(
            !squash.to_food_in(Region::Eu).packs.is_empty(),
            "a size of elsewhere is better than none"
        );
    }

    #[test]
    fn unknown_composition_stays_unknown() {
        let row = food("sumac").expect("the table holds sumac");
        assert_eq!(row.nutrient(Nutrient::Energy), None);
        let salt = food("salt").expect("the table holds salt");
        assert_eq!(salt.nutrient(Nutrient::Energy), Some(0));
    }

    #[test]
    fn the_other_states_of_chickpeas_are_found() {
        let row = food("chickpea-dry").expect("the table holds dry chickpeas");
        assert!(row.other_states().any(|state| state.id == "chickpea-canned"));
        assert!(row.other_states().all(|state| state.id != "chickpea-dry"));
    }
}
