//! What cooking leaves of vitamins and minerals: the published retention factors, which of them stands for a
//! food under a method, and how much fat runs out of meat. It computes no dish; see [`crate::cooked`].

use crate::generated::retention::{FACTORS, FAT_LOST, FOODS, METHODS};
use crate::nutrient::Nutrient;

/// Nutrients with a published factor, in the order of [`Factors::percent`].
pub const RETAINED: [Nutrient; 17] = [
    Nutrient::Alcohol,
    Nutrient::Calcium,
    Nutrient::Iron,
    Nutrient::Magnesium,
    Nutrient::Phosphorus,
    Nutrient::Potassium,
    Nutrient::Sodium,
    Nutrient::Zinc,
    Nutrient::VitaminA,
    Nutrient::VitaminC,
    Nutrient::Thiamin,
    Nutrient::Riboflavin,
    Nutrient::Niacin,
    Nutrient::VitaminB6,
    Nutrient::Folate,
    Nutrient::VitaminB12,
    Nutrient::Choline,
];

/// How heat reaches the food, as far as retention factors tell methods apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Method {
    /// Not heated.
    Raw,
    /// In water that is poured away with what it washed out.
    BoiledDrained,
    /// In water that is eaten, or taken up to the last drop.
    BoiledWaterUsed,
    /// Over steam, or in a microwave oven.
    Steamed,
    /// By dry heat in an oven; what drips on the tray is left there.
    Roasted,
    /// In fat first and then in liquid, which is eaten.
    Braised,
    /// In a pan without liquid; what runs out is left there.
    Fried,
}

impl Method {
    /// Every method.
    pub const ALL: [Self; 7] = [
        Self::Raw,
        Self::BoiledDrained,
        Self::BoiledWaterUsed,
        Self::Steamed,
        Self::Roasted,
        Self::Braised,
        Self::Fried,
    ];

    /// The words for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Raw => "raw",
            Self::BoiledDrained => "boiled, drained",
            Self::BoiledWaterUsed => "boiled, water used",
            Self::Steamed => "steamed",
            Self::Roasted => "roasted",
            Self::Braised => "braised",
            Self::Fried => "fried",
        }
    }
}

/// Foods that share their factors.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(
    missing_docs,
    reason = "the variants are the names of the groups; `data/retention` says which foods and why"
)]
pub enum Group {
    PulseQuick,
    PulseMedium,
    PulseLong,
    PulseCooked,
    Rice,
    Grain,
    Oats,
    GrainCooked,
    Pasta,
    PastaCooked,
    Flour,
    Bread,
    Potato,
    PotatoCooked,
    SweetPotato,
    SweetPotatoCooked,
    Tomato,
    TomatoCooked,
    Greens,
    GreensCooked,
    GreensFrozen,
    Root,
    RootCooked,
    RootFrozen,
    Vegetable,
    VegetableCooked,
    VegetableFrozen,
    Fruit,
    Citrus,
    FruitDried,
    FruitCooked,
    Nuts,
    Egg,
    EggCooked,
    Cheese,
    Milk,
    Chicken,
    Turkey,
    PoultryCooked,
    Beef,
    BeefMince,
    MeatCooked,
    Pork,
    PorkMince,
    PorkCured,
    Bacon,
    Lamb,
    Veal,
    Liver,
    Organ,
    SausageRaw,
    SausageReady,
    FishLean,
    FishFat,
    FishCooked,
    Shellfish,
    ShellfishInShell,
    Alcohol,
    Liquid,
    Soluble,
    Plain,
}

impl Group {
    /// Whether it dissolves in the pot or is the liquid of the pot, so that what the food takes up brings some
    /// of it along even when the rest is poured away.
    #[must_use]
    pub fn dissolves(self) -> bool {
        matches!(self, Self::Liquid | Self::Soluble)
    }
}

/// One row of the retention table.
#[derive(Debug, PartialEq, Eq)]
pub struct Factors {
    /// Its published number: `0521`.
    pub code: &'static str,
    /// What it is for, in our words.
    pub words: &'static str,
    /// Percent kept of each of [`RETAINED`].
    pub percent: [u8; 17],
    /// Where it was read.
    pub source: &'static str,
}

impl Factors {
    /// Percent kept of a nutrient; `None` where no factor is published, which means nothing about the loss.
    #[must_use]
    pub fn percent(&self, nutrient: Nutrient) -> Option<u8> {
        let at = RETAINED.iter().position(|retained| *retained == nutrient)?;
        Some(self.percent[at])
    }
}

/// Fat that runs out of a meat and is left behind.
#[derive(Debug, PartialEq, Eq)]
pub struct FatLost {
    /// Identifier of the food.
    pub food: &'static str,
    /// The method it was measured for.
    pub method: Method,
    /// Hundredths of a percent of the raw mass.
    pub per_10000: i64,
    /// Where it was read.
    pub source: &'static str,
}

/// The group of a built-in food; foods that fit no published row are [`Group::Plain`].
#[must_use]
pub fn group(food: &str) -> Group {
    FOODS
        .binary_search_by(|(id, _)| (*id).cmp(food))
        .ok()
        .and_then(|at| FOODS.get(at))
        .map_or(Group::Plain, |(_, group)| *group)
}

/// The factors of a group under a method; `None` keeps everything: raw, or no row is published.
#[must_use]
pub fn factors(group: Group, method: Method) -> Option<&'static Factors> {
    let column = match method {
        Method::Raw => return None,
        Method::BoiledDrained => 0,
        Method::BoiledWaterUsed => 1,
        Method::Steamed => 2,
        Method::Roasted => 3,
        Method::Braised => 4,
        Method::Fried => 5,
    };
    let (_, rows) = METHODS.get(group as usize)?;
    FACTORS.get(usize::from(rows[column]))
}

/// Every row of the retention table that is in use, in the order of its numbers.
#[must_use]
pub fn all() -> &'static [Factors] {
    &FACTORS
}

/// Fat that a built-in food leaves behind under a method, where it was measured.
#[must_use]
pub fn fat_lost(food: &str, method: Method) -> Option<&'static FatLost> {
    FAT_LOST
        .iter()
        .find(|row| row.food == food && row.method == method)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rows_of_the_groups_stand_in_the_order_of_the_groups() {
        for (at, (group, rows)) in METHODS.iter().enumerate() {
            assert_eq!(*group as usize, at, "{group:?}");
            assert!(
                rows.iter()
                    .all(|row| *row == 255 || usize::from(*row) < FACTORS.len())
            );
        }
        assert_eq!(METHODS.len(), Group::Plain as usize + 1);
    }

    #[test]
    fn a_food_finds_its_row_under_each_method() {
        let code = |food, method| factors(group(food), method).map(|row| row.code);
        assert_eq!(code("black-bean-dry", Method::BoiledDrained), Some("0521"));
        assert_eq!(code("black-bean-dry", Method::BoiledWaterUsed), Some("0522"));
        assert_eq!(code("black-bean-canned", Method::Fried), Some("0550"));
        assert_eq!(code("carrot", Method::Roasted), Some("3451"));
        assert_eq!(code("egg", Method::BoiledDrained), Some("0105"));
        assert_eq!(code("salt", Method::BoiledDrained), None);
        assert_eq!(code("carrot", Method::Raw), None);
    }

    #[test]
    fn foods_are_in_order_and_name_foods_of_the_table() {
        assert!(FOODS.windows(2).all(|pair| pair[0].0 < pair[1].0));
        assert!(FOODS.iter().all(|(id, _)| crate::food(id).is_some()));
        assert!(FAT_LOST.iter().all(|row| crate::food(row.food).is_some()));
    }

    #[test]
    fn every_row_cites_its_source_and_keeps_no_more_than_all() {
        for row in all() {
            assert!(row.source.ends_with(row.code), "{}", row.code);
            assert!(row.percent.iter().all(|percent| *percent <= 100), "{}", row.code);
        }
    }
}
