//! From one way of saying how much to another: cups to grams, cans to cups, onions to ounces. Pure arithmetic on
//! facts of the food table; where a fact is missing the answer names it, and a figure the cook supplies stands in.
//! It reads no household, and what the food does in the pot is no concern of it.

mod allowance;
mod knowledge;
mod measure;
mod missing;
mod rate;
mod read;
mod resolve;

use larderwright_model::Region;
use larderwright_quantity::{Amount, Mass, Permille, Rounding, Unit, Volume};

use crate::food::FoodRow;
use knowledge::{Rates, pack_rates, piece_rates, volume_rates};
use rate::Rate;

pub use missing::Missing;
pub use read::{ReadError, Request, read_said, read_target, request};
pub use resolve::{NotOneFood, resolve};

/// How much, as it was said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Given {
    /// By weight.
    Mass(Mass, Part),
    /// By measure: how much, in which unit it was said, and how it is cut or filled (`chopped`, `packed`).
    Volume(Volume, Unit, Vec<String>),
    /// By number, in thousandths, of these pieces.
    Pieces(i64, Piece),
    /// By number, in thousandths, of packs as they are sold.
    Packs(i64, Container),
}

/// What a weight is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// What goes into the pot: trimmed, drained.
    Edible,
    /// What was bought: with peel, bone or brine.
    AsPurchased,
}

/// One of something, as it was said; words are spelled as [`crate::search::words`] does.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Piece {
    /// `small`, `medium`, `large` and the like.
    pub size: Option<String>,
    /// `clove`, `slice`, `head`; `None` for the whole thing.
    pub noun: Option<String>,
}

/// A pack, as it was said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Container {
    /// `can`, `jar`, `bag`; spelled as [`crate::search::words`] does.
    pub word: String,
    /// The weight on it, if it was said.
    pub net: Option<Mass>,
}

/// What the amount is wanted in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Target {
    /// A unit of weight.
    Mass(Unit),
    /// A unit of volume, and how the food is cut or filled.
    Volume(Unit, Vec<String>),
    /// A number of pieces.
    Pieces(Piece),
    /// A number of packs.
    Packs(Container),
}

/// A figure the cook supplies: so much weighs so much of edible portion.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Said {
    /// What was measured.
    pub given: Given,
    /// What it weighed.
    pub mass: Mass,
    /// As it was written.
    pub text: String,
}

/// What else a conversion depends on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Context {
    /// Whose packs are meant.
    pub region: Region,
    /// What the cook knows better or alone.
    pub said: Option<Said>,
}

/// What kind of knowledge a step rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Basis {
    /// Units of one kind: nothing about the food is needed.
    Weight,
    /// A household measure of the same unit, weighed by the source.
    Measure,
    /// Mass per volume, from another measure.
    Density,
    /// The weight of one piece.
    Count,
    /// The weight printed on a pack.
    Pack,
    /// The part of a can that is not brine.
    DrainedWeight,
    /// The part that is left after trimming.
    EdiblePortion,
    /// A figure of the cook.
    Said,
}

impl Basis {
    /// The words for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Weight => "weight",
            Self::Measure => "measure",
            Self::Density => "density",
            Self::Count => "count",
            Self::Pack => "pack",
            Self::DrainedWeight => "drained weight",
            Self::EdiblePortion => "edible portion",
            Self::Said => "given figure",
        }
    }
}

/// One fact a conversion rests on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// What kind of fact.
    pub basis: Basis,
    /// The fact: `1 cup = 200 g`.
    pub fact: String,
    /// Where it was read.
    pub source: String,
}

/// The least, the likely and the most of something: `low <= likely <= high`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spread<T> {
    /// The least to expect.
    pub low: T,
    /// What to count on.
    pub likely: T,
    /// The most to expect.
    pub high: T,
}

impl<T> Spread<T> {
    fn map<U>(self, change: impl Fn(T) -> U) -> Spread<U> {
        Spread {
            low: change(self.low),
            likely: change(self.likely),
            high: change(self.high),
        }
    }
}

/// An answered conversion.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Conversion {
    /// The amount in milligrams, microlitres or thousandths of a piece; low is rounded down, high up.
    pub amount: Spread<Amount>,
    /// Edible portion by weight: what goes into the pot.
    pub edible: Spread<Mass>,
    /// The same before trimming or draining; `None` when all of it is eaten.
    pub as_purchased: Option<Spread<Mass>>,
    /// What the answer rests on, in the order of use; the first names the conversion.
    pub steps: Vec<Step>,
    /// What a careful reader should know, as sentences.
    pub notes: Vec<String>,
}

/// Converts an amount of a food.
///
/// Weights are of the edible portion unless they say otherwise; pieces and packs are as purchased and are counted
/// with what is left of them after trimming or draining.
///
/// # Errors
/// Names the fact that nobody has told and how to supply it.
///
/// # Panics
/// Panics when the amount is beyond any kitchen: more than [`larderwright_quantity::parse_amount`] reads.
///
/// ```
/// # use larderwright_model::Region;
/// # use larderwright_quantity::{Amount, Mass, Unit, Volume};
/// # use larderwright_reference::convert::{Context, Given, Target, convert};
/// let food = larderwright_reference::food("chickpea-dry").unwrap();
/// let two_cups = Given::Volume(Volume::from_ul(473_176), Unit::CupUs, Vec::new());
/// let context = Context { region: Region::Us, said: None };
/// let answer = convert(food, &two_cups, &Target::Mass(Unit::G), &context).unwrap();
/// assert_eq!(answer.amount.likely, Amount::Mass(Mass::from_g(400)));
/// ```
pub fn convert(
    food: &'static FoodRow,
    given: &Given,
    target: &Target,
    context: &Context,
) -> Result<Conversion, Missing> {
    let mut trail = Trail::default();
    if let Some(volume) = between_volumes(given, target) {
        trail.units();
        let amount = Spread {
            low: volume,
            likely: volume,
            high: volume,
        };
        // The weight is told where it is known, and not asked for.
        let rates = rates(food, given, context).ok();
        let edible = rates.map_or(amount.map(|_| Mass::ZERO), |rates| times(volume.ul(), &rates));
        return Ok(trail.finish(food, amount.map(Amount::Volume), edible));
    }
    let edible = to_mass(food, given, context, &mut trail)?;
    let amount = match target {
        Target::Mass(_) => edible.map(Amount::Mass),
        Target::Volume(unit, forms) => {
            let wanted = Given::Volume(Volume::ZERO, *unit, forms.clone());
            let count = trail.divide(edible, rates(food, &wanted, context)?);
            count.map(|ul| Amount::Volume(Volume::from_ul(ul)))
        }
        Target::Pieces(piece) => {
            let wanted = Given::Pieces(0, piece.clone());
            trail
                .divide(edible, rates(food, &wanted, context)?)
                .map(Amount::Count)
        }
        Target::Packs(container) => {
            let wanted = Given::Packs(0, container.clone());
            trail
                .divide(edible, rates(food, &wanted, context)?)
                .map(Amount::Count)
        }
    };
    if trail.steps.is_empty() {
        trail.units();
    }
    Ok(trail.finish(food, amount, edible))
}

/// The volume, when nothing but units stands between: cups and spoons of one thing cut one way.
fn between_volumes(given: &Given, target: &Target) -> Option<Volume> {
    match (given, target) {
        (Given::Volume(volume, _, one), Target::Volume(_, other)) if other.is_empty() || one == other => {
            Some(*volume)
        }
        _ => None,
    }
}

/// What was gathered on the way.
#[derive(Default)]
struct Trail {
    steps: Vec<Step>,
    notes: Vec<String>,
}

impl Trail {
    fn units(&mut self) {
        self.steps.push(Step {
            basis: Basis::Weight,
            fact: "units of one kind".to_owned(),
            source: "NIST Handbook 44, appendix C".to_owned(),
        });
    }

    fn keep(&mut self, rates: Rates) {
        self.notes.extend(rates.notes);
        for step in rates.steps {
            if !self.steps.contains(&step) {
                self.steps.push(step);
            }
        }
    }

    /// How many fit into a mass: many when each is light.
    fn divide(&mut self, mass: Spread<Mass>, rates: Rates) -> Spread<i64> {
        let count = Spread {
            low: rates.spread.high.units_in(mass.low, Rounding::Down),
            likely: rates.spread.likely.units_in(mass.likely, Rounding::Nearest),
            high: rates.spread.low.units_in(mass.high, Rounding::Up),
        };
        self.keep(rates);
        count
    }

    fn finish(self, food: &FoodRow, amount: Spread<Amount>, edible: Spread<Mass>) -> Conversion {
        let trimmed = Permille::from_permille(food.edible.permille);
        let as_purchased = (trimmed < Permille::ONE).then(|| Spread {
            low: trimmed.undo(edible.low, Rounding::Down),
            likely: trimmed.undo(edible.likely, Rounding::Nearest),
            high: trimmed.undo(edible.high, Rounding::Up),
        });
        Conversion {
            amount,
            edible,
            as_purchased,
            steps: self.steps,
            notes: self.notes,
        }
    }
}

fn to_mass(
    food: &'static FoodRow,
    given: &Given,
    context: &Context,
    trail: &mut Trail,
) -> Result<Spread<Mass>, Missing> {
    let units = match given {
        Given::Mass(mass, Part::Edible) => {
            return Ok(Spread {
                low: *mass,
                likely: *mass,
                high: *mass,
            });
        }
        Given::Mass(mass, Part::AsPurchased) => mass.mg(),
        Given::Volume(volume, ..) => volume.ul(),
        Given::Pieces(count, _) | Given::Packs(count, _) => *count,
    };
    let rates = rates(food, given, context)?;
    let mass = times(units, &rates);
    trail.keep(rates);
    Ok(mass)
}

fn times(units: i64, rates: &Rates) -> Spread<Mass> {
    Spread {
        low: rates.spread.low.mass_of(units, Rounding::Down),
        likely: rates.spread.likely.mass_of(units, Rounding::Nearest),
        high: rates.spread.high.mass_of(units, Rounding::Up),
    }
}

/// Milligrams of edible portion per small unit of what was said.
fn rates(food: &'static FoodRow, given: &Given, context: &Context) -> Result<Rates, Missing> {
    if let Some(rates) = context.said.as_ref().and_then(|said| said_rates(said, given)) {
        return Ok(rates);
    }
    match given {
        Given::Mass(..) => Ok(knowledge::trim_rates(food)),
        Given::Volume(_, unit, forms) => volume_rates(food, *unit, forms),
        Given::Pieces(_, piece) => piece_rates(food, piece),
        Given::Packs(_, container) => pack_rates(food, container, context.region),
    }
}

/// What the cook said, when it is about the thing asked for.
fn said_rates(said: &Said, given: &Given) -> Option<Rates> {
    let units = match (&said.given, given) {
        (Given::Volume(volume, ..), Given::Volume(..)) => volume.ul(),
        (Given::Pieces(count, one), Given::Pieces(_, other)) if one == other => *count,
        (Given::Packs(count, one), Given::Packs(_, other)) if one.word == other.word => *count,
        _ => return None,
    };
    let rate = Rate::new(said.mass.mg().into(), units.into())?;
    Some(Rates {
        spread: Spread {
            low: rate,
            likely: rate,
            high: rate,
        },
        steps: vec![Step {
            basis: Basis::Said,
            fact: said.text.clone(),
            source: "given by the cook".to_owned(),
        }],
        notes: Vec::new(),
    })
}
