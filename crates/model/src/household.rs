//! The household: who eats, by which rules, and what they wish for.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_quantity::{Currency, Mass, Money, Permille, System};

use crate::food::{Allergen, Food, Region};
use crate::id::{ComponentId, EaterId, FoodId, MealId, SittingId};
use crate::kitchen::{Cook, Kitchen};
use crate::week::{SessionPattern, ShopPattern, SittingPattern};

/// The published food-safety rules in force.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the names of the profiles")]
pub enum Profile {
    UsHome,
    UsFoodService,
    Uk,
    Canada,
    Australia,
    Eu,
}

impl Profile {
    /// Every profile.
    pub const ALL: [Self; 6] = [
        Self::UsHome,
        Self::UsFoodService,
        Self::Uk,
        Self::Canada,
        Self::Australia,
        Self::Eu,
    ];

    /// The word used in files and on the command line.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::UsHome => "us-home",
            Self::UsFoodService => "us-food-service",
            Self::Uk => "uk",
            Self::Canada => "ca",
            Self::Australia => "au",
            Self::Eu => "eu",
        }
    }

    /// Reads the word used in files.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|profile| profile.word() == word)
    }
}

/// What an eater's diet allows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the names of the diets")]
pub enum Diet {
    Everything,
    Pescatarian,
    Vegetarian,
    Vegan,
}

/// How strictly contact with an allergen is to be avoided; stated by the eater, never guessed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Contact {
    /// Not on the plate; `may contain` is accepted.
    Plate,
    /// Not on the plate, and nothing that may contain it.
    Traces,
    /// As `Traces`, and shared boards, tools and air count: allergen-free work goes first.
    Severe,
}

/// How much someone eats, relative to a usual adult.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Appetite {
    /// Stated: three quarters.
    Small,
    /// Stated: one.
    Usual,
    /// Stated: one and a quarter.
    Big,
    /// Computed from the body by published energy equations.
    Computed(Physique),
}

/// The sexes that the published energy equations distinguish.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants say it")]
pub enum Sex {
    Female,
    Male,
}

/// A body, for the energy equations.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Physique {
    /// Age in whole years.
    pub age: i64,
    /// Sex.
    pub sex: Sex,
    /// Height in centimetres.
    pub height_cm: i64,
    /// Weight in tenths of a kilogram.
    pub weight_hg: i64,
    /// Activity: 0 sedentary, 1 low active, 2 active, 3 very active.
    pub activity: u8,
}

/// A state in which guidance is stricter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants say it")]
pub enum Caution {
    Pregnant,
    Breastfeeding,
    Infant,
    ImmuneCompromised,
    OlderThan65,
}

/// Someone who eats.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Eater {
    /// Identifier.
    pub id: EaterId,
    /// Name.
    pub name: String,
    /// How much.
    pub appetite: Appetite,
    /// What the diet allows.
    pub diet: Diet,
    /// Further things not eaten: dairy, gluten, pork, alcohol.
    pub avoid: BTreeSet<Avoid>,
    /// Allergens with the strictness stated.
    pub allergies: BTreeMap<Allergen, Contact>,
    /// Foods and components not liked.
    pub dislikes: BTreeSet<String>,
    /// States in which guidance is stricter.
    pub cautions: BTreeSet<Caution>,
}

/// Things left out by choice rather than by allergy.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants say it")]
pub enum Avoid {
    Dairy,
    Gluten,
    Pork,
    Alcohol,
}

/// What the cook ranks first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants say it")]
pub enum Priority {
    Cheaper,
    Quicker,
    LessWaste,
}

/// What the cook wants of the week.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wishes {
    /// Meals fixed at sittings.
    pub fixed: BTreeMap<SittingId, MealId>,
    /// Meals switched off.
    pub off_meals: BTreeSet<MealId>,
    /// Components switched off.
    pub off_components: BTreeSet<ComponentId>,
    /// How many components one session may hold.
    pub components_max: usize,
    /// Ranked priorities, first first.
    pub priorities: Vec<Priority>,
    /// What the week's food may cost, if that matters.
    pub budget: Option<Money>,
}

/// What a tick list says of a food at home.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum StockState {
    /// There is enough: a usual pack.
    Have,
    /// Running low: not to be counted on.
    Low,
    /// An amount somebody weighed or read off the pack.
    Amount(Mass),
}

/// One line of the tick list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StockItem {
    /// The food.
    pub food: FoodId,
    /// What the list says.
    pub state: StockState,
}

/// A food of which there should always be so much at home.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ParItem {
    /// The food.
    pub food: FoodId,
    /// The level to restore.
    pub level: Mass,
    /// What is there now, as far as known.
    pub on_hand: Mass,
}

/// A food bought every week whatever is cooked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StandingItem {
    /// The food.
    pub food: FoodId,
    /// How much.
    pub mass: Mass,
}

/// A price the household wrote down.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PriceEntry {
    /// The food.
    pub food: FoodId,
    /// Pack mass.
    pub pack: Mass,
    /// Pack label.
    pub label: String,
    /// Price of one pack.
    pub price: Money,
}

/// A household, its kitchen, its usual week.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Household {
    /// What it calls itself.
    pub name: String,
    /// Which pack sizes are usual.
    pub region: Region,
    /// Guidance profile in force.
    pub profile: Profile,
    /// Units on sheets.
    pub system: System,
    /// Currency of prices.
    pub currency: Currency,
    /// IANA time zone.
    pub zone: String,
    /// Altitude in metres.
    pub altitude_m: i64,
    /// Who eats.
    pub eaters: Vec<Eater>,
    /// Who cooks.
    pub cooks: Vec<Cook>,
    /// The kitchen.
    pub kitchen: Kitchen,
    /// The usual week's sittings.
    pub sittings: Vec<SittingPattern>,
    /// The usual week's sessions.
    pub sessions: Vec<SessionPattern>,
    /// The usual week's trips to the shop.
    pub shops: Vec<ShopPattern>,
    /// Foods of its own, beside those of the food table. A pack whose price nobody wrote has the price zero as an
    /// estimate, until the catalogue puts a better one in its place.
    pub foods: Vec<Food>,
    /// What is at home.
    pub stock: Vec<StockItem>,
    /// Par levels.
    pub pars: Vec<ParItem>,
    /// Standing items.
    pub standing: Vec<StandingItem>,
    /// Known prices.
    pub prices: Vec<PriceEntry>,
    /// Wishes.
    pub wishes: Wishes,
}

impl Household {
    /// The eater with this identifier.
    #[must_use]
    pub fn eater(&self, id: &EaterId) -> Option<&Eater> {
        self.eaters.iter().find(|eater| eater.id == *id)
    }
}

/// Appetites that are stated rather than computed.
impl Appetite {
    /// The stated factor, per thousand of a usual adult; `None` when it has to be computed.
    #[must_use]
    pub fn stated(&self) -> Option<Permille> {
        match self {
            Self::Small => Some(Permille::from_permille(750)),
            Self::Usual => Some(Permille::from_permille(1000)),
            Self::Big => Some(Permille::from_permille(1250)),
            Self::Computed(_) => None,
        }
    }
}
