//! The household: who eats, by which rules, what is at home, what is wished for.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_model::{
    Allergen, Appetite, Avoid, Caution, ComponentId, Contact, Cook, Diet, Eater, EaterId, Food, FoodId,
    Household, Kitchen, MealId, ParItem, Physique, PriceEntry, Priority, Profile, Region, SessionPattern,
    Sex, ShopPattern, SittingId, SittingPattern, StandingItem, StockItem, StockState, Wishes,
};
use larderwright_quantity::{Currency, Mass, Money, System};

use crate::wire::{record, variants};

record! {
    /// A household, its kitchen, its usual week.
    HouseholdRecord = Household {
        name: String,
        region: Region,
        profile: Profile,
        system: System,
        currency: Currency,
        zone: String,
        altitude_m: i64,
        eaters: Vec<Eater>,
        cooks: Vec<Cook>,
        kitchen: Kitchen,
        sittings: Vec<SittingPattern>,
        sessions: Vec<SessionPattern>,
        shops: Vec<ShopPattern>,
        /// Foods of its own, as written; those of the snapshot have their prices.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        foods: Vec<Food>,
        stock: Vec<StockItem>,
        pars: Vec<ParItem>,
        standing: Vec<StandingItem>,
        prices: Vec<PriceEntry>,
        wishes: Wishes,
    }
}

record! {
    /// Someone who eats.
    EaterRecord = Eater {
        id: EaterId,
        name: String,
        appetite: Appetite,
        diet: Diet,
        avoid: BTreeSet<Avoid>,
        allergies: BTreeMap<Allergen, Contact>,
        dislikes: BTreeSet<String>,
        cautions: BTreeSet<Caution>,
    }
}

variants! {
    /// How much someone eats.
    AppetiteRecord = Appetite { Small, Usual, Big, Computed(body: Physique) }
}

record! {
    /// A body, for the energy equations; weight in tenths of a kilogram.
    PhysiqueRecord = Physique { age: i64, sex: Sex, height_cm: i64, weight_hg: i64, activity: u8 }
}

record! {
    /// What is wished for.
    WishesRecord = Wishes {
        fixed: BTreeMap<SittingId, MealId>,
        off_meals: BTreeSet<MealId>,
        off_components: BTreeSet<ComponentId>,
        components_max: usize,
        priorities: Vec<Priority>,
        #[serde(rename = "budget_minor")]
        budget: Option<Money>,
    }
}

record! {
    /// One line of the tick list.
    StockItemRecord = StockItem { food: FoodId, state: StockState }
}

variants! {
    /// What the tick list says; an amount in milligrams.
    StockStateRecord = StockState { Have, Low, Amount(mg: Mass) }
}

record! {
    /// A food of which there should always be so much at home.
    ParItemRecord = ParItem {
        food: FoodId,
        #[serde(rename = "level_mg")]
        level: Mass,
        #[serde(rename = "on_hand_mg")]
        on_hand: Mass,
    }
}

record! {
    /// A food bought every week.
    StandingItemRecord = StandingItem {
        food: FoodId,
        #[serde(rename = "mg")]
        mass: Mass,
    }
}

record! {
    /// A price the household wrote down.
    PriceEntryRecord = PriceEntry {
        food: FoodId,
        #[serde(rename = "pack_mg")]
        pack: Mass,
        label: String,
        #[serde(rename = "price_minor")]
        price: Money,
    }
}
