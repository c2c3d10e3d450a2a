//! Nutrients of what a pot gives, from its raw inputs: masses through the yield, vitamins and minerals through
//! the published retention factors, fat through what runs out of meat. Whole numbers, rounded once. It judges
//! nothing and it replaces no analysis: `docs/nutrients.md` tells how far it is off.

mod sum;
mod way;

use std::fmt;

use larderwright_model::FoodId;
use larderwright_quantity::Mass;

use crate::food::{FoodRow, NUTRIENTS};
use crate::nutrient::Nutrient;
use crate::retention::{self, Factors, FatLost, Group, Method};

pub use way::{built_in, method_of, of_way};

/// A food as an ingredient: what it is made of and how cooking treats it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ingredient {
    /// Its identifier.
    pub food: FoodId,
    /// Figures per 100 g of edible portion, in thousandths of [`Nutrient::unit`], in the order of
    /// [`Nutrient::ALL`]; `None` is unknown.
    pub composition: [Option<i32>; NUTRIENTS],
    /// Which foods it shares its factors with.
    pub group: Group,
    /// Where its composition was read.
    pub source: String,
}

impl Ingredient {
    /// A built-in food as an ingredient.
    #[must_use]
    pub fn of_row(row: &FoodRow) -> Self {
        Self {
            food: FoodId::new(row.id),
            composition: Nutrient::ALL.map(|nutrient| row.nutrient(nutrient)),
            group: retention::group(row.id),
            source: row.source.to_owned(),
        }
    }
}

/// So much of an ingredient.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Input {
    /// What goes in.
    pub ingredient: Ingredient,
    /// How much of it, edible portion.
    pub mass: Mass,
    /// Taken out or poured away again: cooking water, a bay leaf.
    pub drained: bool,
}

/// A figure of a cooked component, in thousandths of [`Nutrient::unit`] per 100 g.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figure {
    /// Every input that counts is known.
    Known(i64),
    /// An input is unknown, but there is so little of it that the sum of the others is worth telling.
    AtLeast(i64),
    /// An input that counts is unknown.
    Unknown,
}

impl Figure {
    /// The figure, known or at least so much.
    #[must_use]
    pub fn value(self) -> Option<i64> {
        match self {
            Self::Known(value) | Self::AtLeast(value) => Some(value),
            Self::Unknown => None,
        }
    }
}

/// How an input was counted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Basis {
    /// The food.
    pub food: FoodId,
    /// Where its composition was read.
    pub source: String,
    /// The retention row; `None` keeps everything.
    pub factors: Option<&'static Factors>,
    /// Fat left behind, where it was measured.
    pub fat_lost: Option<&'static FatLost>,
    /// How much of it stayed: all of it, or what the food took up of the liquid that was poured away.
    pub stayed: Mass,
}

/// Nutrients of a cooked component per 100 g, with what they rest on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Nutrients {
    /// How it was cooked.
    pub method: Method,
    /// The inputs of which something stayed.
    pub basis: Vec<Basis>,
    figures: [Figure; NUTRIENTS],
}

impl Nutrients {
    /// One figure per 100 g.
    #[must_use]
    pub fn figure(&self, nutrient: Nutrient) -> Figure {
        self.figures[nutrient as usize]
    }
}

/// Why nutrients cannot be computed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CookedError {
    /// The output weighs nothing.
    NoOutput,
    /// An input weighs less than nothing.
    NegativeInput(FoodId),
    /// Nothing is known of a food.
    NoFood(FoodId),
}

impl fmt::Display for CookedError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoOutput => f.write_str("the yield leaves nothing to eat"),
            Self::NegativeInput(food) => write!(f, "the mass of `{food}` is negative"),
            Self::NoFood(food) => write!(f, "food `{food}` is not in the table"),
        }
    }
}

impl std::error::Error for CookedError {}

/// Share of the output, per thousand, below which an unknown input only makes a figure a lower bound.
pub const NEGLIGIBLE_PERMILLE: i64 = 10;

/// The same for sodium: a thousandth of salt already adds 39 mg to 100 g.
pub const NEGLIGIBLE_SODIUM_PERMILLE: i64 = 1;

/// Nutrients per 100 g of what is cooked from `inputs` and weighs `output`.
///
/// - Each input gives its figures times its mass times the percent kept of its group under `method`, where a
///   factor is published; what has no factor is kept whole.
/// - Of a drained input nothing is counted, except of liquid and of what dissolves in it: as much of those
///   stays as the output outweighs the other inputs.
/// - Water is the output less everything else. Fat left behind takes its fatty acids and its energy along
///   (9 kcal/g), and alcohol that evaporates its energy (7 kcal/g).
/// - An unknown figure of an input makes the sum unknown, unless all such inputs together weigh less than
///   [`NEGLIGIBLE_PERMILLE`] of the output; then the sum of the others is a lower bound. Drained salt of
///   which nothing is taken up makes sodium a lower bound as well, since some of it seeps in.
///
/// Rounded once, to the nearest thousandth.
///
/// # Errors
/// When the output weighs nothing or an input weighs less than nothing.
///
/// ```
/// use larderwright_quantity::Mass;
/// use larderwright_reference::cooked::{Figure, Ingredient, Input, cooked};
/// use larderwright_reference::retention::Method;
/// use larderwright_reference::{Nutrient, food};
///
/// let beans = food("black-bean-dry").expect("the table holds black beans");
/// let inputs = [Input { ingredient: Ingredient::of_row(beans), mass: Mass::from_g(100), drained: false }];
/// let boiled = cooked(&inputs, Mass::from_g(200), Method::BoiledDrained)?;
/// // Half of 502 mg, and 85 % of that is kept.
/// assert_eq!(beans.nutrient(Nutrient::Iron), Some(5_020));
/// assert_eq!(boiled.figure(Nutrient::Iron), Figure::Known(2_008));
/// # Ok::<(), larderwright_reference::cooked::CookedError>(())
/// ```
pub fn cooked(inputs: &[Input], output: Mass, method: Method) -> Result<Nutrients, CookedError> {
    if output <= Mass::ZERO {
        return Err(CookedError::NoOutput);
    }
    if let Some(input) = inputs.iter().find(|input| input.mass < Mass::ZERO) {
        return Err(CookedError::NegativeInput(input.ingredient.food.clone()));
    }
    Ok(sum::sum(inputs, output, method))
}

#[cfg(test)]
mod tests;
