//! Meals: assemblies on a plate, by elements with options.

use larderwright_quantity::{Mass, Seconds};

use crate::id::{ComponentId, ElementId, FoodId, MealId};

/// When a meal is eaten, and how.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Occasion {
    /// At home in the morning.
    Breakfast,
    /// At home at midday.
    Lunch,
    /// At home in the evening.
    Dinner,
    /// In between.
    Snack,
    /// Carried along and eaten cold.
    PackedCold,
    /// Carried along and warmed in a microwave.
    PackedHot,
}

/// What may fill a place on the plate.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Item {
    /// A component from a lot.
    Component(ComponentId),
    /// A food as bought.
    Food(FoodId),
}

impl Item {
    /// The identifier's text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        match self {
            Self::Component(id) => id.as_str(),
            Self::Food(id) => id.as_str(),
        }
    }
}

/// What is done to an item at the sitting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Finish {
    /// Warmed through.
    Reheat,
    /// Taken cold from the fridge.
    Cold,
    /// A food as it is.
    Raw,
    /// Toasted or warmed bread.
    Toast,
    /// Cooked in a pan at the sitting.
    Fry,
}

/// Whether a portion follows the eater's appetite.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants say it")]
pub enum Scales {
    Appetite,
    Fixed,
}

/// Whether an element has to be filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Need {
    /// Exactly one option.
    One,
    /// One or none.
    Optional,
    /// One or two.
    Some,
}

/// An assembly on a plate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Meal {
    /// Its identifier.
    pub id: MealId,
    /// Its name.
    pub name: String,
    /// Where in the world it comes from, in plain geography.
    pub cuisine: String,
    /// What sort of dish: `bowl`, `soup`, `wrap`.
    pub kind: String,
    /// When it is eaten.
    pub at: Vec<Occasion>,
    /// Hands at the sitting besides reheating: the part that is the same for any number.
    pub assemble_fixed: Seconds,
    /// Hands at the sitting for every plate.
    pub assemble_per_cover: Seconds,
    /// How it goes together.
    pub text: String,
    /// The places on the plate.
    pub elements: Vec<Element>,
    /// Combinations that are not offered.
    pub rules: Vec<MealRule>,
}

/// One place on the plate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Element {
    /// `base`, `protein`, `sauce`.
    pub id: ElementId,
    /// Portion for a usual adult.
    pub portion: Mass,
    /// Whether it follows appetite.
    pub scales: Scales,
    /// Whether it has to be filled.
    pub need: Need,
    /// What may fill it, best first.
    pub options: Vec<ElementOption>,
}

/// What may fill an element.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ElementOption {
    /// The component or food.
    pub item: Item,
    /// Portion for a usual adult.
    pub portion: Mass,
    /// What is done at the sitting.
    pub finish: Finish,
}

/// A combination that is not offered: all of these together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MealRule {
    /// Element and item pairs.
    pub not: Vec<(ElementId, String)>,
}
