//! Foods with their reference facts.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_model::{
    Allergen, CountUnit, Department, Food, FoodId, FoodKind, Pack, PackSize, Presence, PriceBasis, Sourced,
    StorageClass,
};
use larderwright_quantity::{Density, Mass, Money, Permille};

use crate::wire::record;

record! {
    /// Something bought or grown, with reference facts.
    FoodRecord = Food {
        id: FoodId,
        name: String,
        department: Department,
        kinds: BTreeSet<FoodKind>,
        /// Nothing here when nobody knows.
        allergens: Option<BTreeMap<Allergen, Presence>>,
        read_label: bool,
        #[serde(rename = "edible_permille")]
        edible: Sourced<Permille>,
        #[serde(rename = "density_g_per_l")]
        density: Option<Sourced<Density>>,
        unit: Option<CountUnit>,
        packs: Vec<Pack>,
        storage: StorageClass,
        source: String,
    }
}

record! {
    /// How a food is counted.
    CountUnitRecord = CountUnit {
        singular: String,
        plural: String,
        #[serde(rename = "mg")]
        mass: Mass,
        source: String,
    }
}

record! {
    /// A pack as it can be bought.
    PackRecord = Pack {
        size: PackSize,
        #[serde(rename = "price_minor")]
        price: Money,
        basis: PriceBasis,
    }
}

record! {
    /// A size in which a food is sold.
    PackSizeRecord = PackSize {
        label: String,
        #[serde(rename = "mg")]
        mass: Mass,
    }
}
