//! Foods: what is bought or grown, with the reference facts that planning needs.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_quantity::{Density, Mass, Money, Permille};

use crate::id::FoodId;

/// A fact together with where it was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sourced<T> {
    /// The fact.
    pub value: T,
    /// Document, year and section; or `common practice, no source`; or `from memory`.
    pub source: String,
}

/// The allergens that law names: the fourteen of Regulation (EU) 1169/2011 Annex II, and wheat
/// apart from other gluten cereals, as the nine of the United States need it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(missing_docs, reason = "the variants are the names of the allergens")]
pub enum Allergen {
    Gluten,
    Wheat,
    Crustaceans,
    Eggs,
    Fish,
    Peanuts,
    Soy,
    Milk,
    TreeNuts,
    Celery,
    Mustard,
    Sesame,
    Sulphites,
    Lupin,
    Molluscs,
}

impl Allergen {
    /// Every allergen, in the order of Annex II with wheat after gluten.
    pub const ALL: [Self; 15] = [
        Self::Gluten,
        Self::Wheat,
        Self::Crustaceans,
        Self::Eggs,
        Self::Fish,
        Self::Peanuts,
        Self::Soy,
        Self::Milk,
        Self::TreeNuts,
        Self::Celery,
        Self::Mustard,
        Self::Sesame,
        Self::Sulphites,
        Self::Lupin,
        Self::Molluscs,
    ];

    /// The word used in files: `tree-nuts`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Gluten => "gluten",
            Self::Wheat => "wheat",
            Self::Crustaceans => "crustaceans",
            Self::Eggs => "eggs",
            Self::Fish => "fish",
            Self::Peanuts => "peanuts",
            Self::Soy => "soy",
            Self::Milk => "milk",
            Self::TreeNuts => "tree-nuts",
            Self::Celery => "celery",
            Self::Mustard => "mustard",
            Self::Sesame => "sesame",
            Self::Sulphites => "sulphites",
            Self::Lupin => "lupin",
            Self::Molluscs => "molluscs",
        }
    }

    /// Reads the word used in files.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|allergen| allergen.word() == word)
    }
}

/// Whether an allergen is in a food for certain or may have got in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Presence {
    /// May have got in: a state of its own.
    MayContain,
    /// Part of the food.
    Contains,
}

/// Where in a shop a food is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the names of the departments")]
pub enum Department {
    Produce,
    Bakery,
    Meat,
    Fish,
    Dairy,
    Chilled,
    Dry,
    Cans,
    Spices,
    OilsSauces,
    Baking,
    Snacks,
    Drinks,
    Frozen,
    Household,
}

/// What a food is made of, as far as diets ask.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the names of the kinds")]
pub enum FoodKind {
    Plant,
    Mineral,
    Dairy,
    Egg,
    Honey,
    Fish,
    Crustacean,
    Mollusc,
    Poultry,
    Beef,
    Pork,
    Lamb,
    OtherMeat,
    Gelatine,
    Alcohol,
}

/// How a food is kept at home before it is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum StorageClass {
    /// Dry and cool: tins, rice, oil.
    Cupboard,
    /// On the counter or in a rack: onions, bananas, bread.
    Counter,
    /// Chilled, keeps a week or more: cheese, carrots, yoghurt.
    Fridge,
    /// Chilled and quick to spoil: raw meat and fish, salad leaves, soft herbs.
    FridgeShort,
    /// Frozen.
    Freezer,
    /// From the tap: never bought.
    Tap,
}

impl StorageClass {
    /// Whether what is left over after a week still has its value.
    #[must_use]
    pub fn keeps_beyond_a_week(self) -> bool {
        !matches!(self, Self::FridgeShort)
    }
}

/// The word for one of a food that is counted, and what it weighs as purchased.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CountUnit {
    /// `onion`, `clove`, `egg`.
    pub singular: String,
    /// `onions`, `cloves`, `eggs`.
    pub plural: String,
    /// Mass of one as purchased.
    pub mass: Mass,
    /// Where the mass was read.
    pub source: String,
}

/// Where a pack size is usual.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the names of the regions")]
pub enum Region {
    Us,
    Uk,
    Eu,
}

/// A size in which a food is sold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PackSize {
    /// What the shopper reads: `400 g can`, `bag of 1 kg`, `each`.
    pub label: String,
    /// Mass as purchased, brine included for cans.
    pub mass: Mass,
}

/// Where a price comes from.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PriceBasis {
    /// The household wrote it down.
    Household,
    /// A published average, with its source.
    Published(String),
    /// An invented estimate of ours, marked as such wherever it is shown.
    Estimate,
}

/// A pack as it can be bought by this household.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pack {
    /// The size.
    pub size: PackSize,
    /// Price of one.
    pub price: Money,
    /// Where the price comes from.
    pub basis: PriceBasis,
}

/// Something bought or grown, with reference facts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Food {
    /// Its identifier, state last: `chickpea-dry`.
    pub id: FoodId,
    /// Its name in this household's English.
    pub name: String,
    /// Where in the shop it stands.
    pub department: Department,
    /// What it is made of.
    pub kinds: BTreeSet<FoodKind>,
    /// Allergens; `None` when nobody knows.
    pub allergens: Option<BTreeMap<Allergen, Presence>>,
    /// The label differs by brand: someone with an allergy has to read it.
    pub read_label: bool,
    /// Edible portion of what is purchased (for cans: drained).
    pub edible: Sourced<Permille>,
    /// Mass per volume, where known.
    pub density: Option<Sourced<Density>>,
    /// How it is counted, if it is.
    pub unit: Option<CountUnit>,
    /// Sizes it is sold in here, smallest first, with prices.
    pub packs: Vec<Pack>,
    /// How it is kept before use.
    pub storage: StorageClass,
    /// Where the identity and composition were read.
    pub source: String,
}

impl Food {
    /// Whether the food comes from the tap and is never bought.
    #[must_use]
    pub fn is_tap(&self) -> bool {
        self.storage == StorageClass::Tap
    }

    /// The mass of edible portion in one counted unit, rounded down.
    #[must_use]
    pub fn unit_edible(&self) -> Option<Mass> {
        let unit = self.unit.as_ref()?;
        Some(
            self.edible
                .value
                .of(unit.mass, larderwright_quantity::Rounding::Down),
        )
    }
}
