//! Components: prepared building blocks, each with the ways to make it.

use larderwright_quantity::{Density, Mass, Permille, Seconds, Temperature, Volume};

use crate::food::Sourced;
use crate::id::{ComponentId, FoodId, RuleId, StepId, WayId};
use crate::law::Law;

/// What sort of building block a component is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the names of the families")]
pub enum Family {
    Pulse,
    Grain,
    Protein,
    Vegetable,
    Egg,
    Sauce,
    Pickle,
    Salad,
    Dough,
    Breakfast,
    Stock,
}

/// How well a component freezes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Freezing {
    /// Comes back much as it was.
    Good,
    /// Comes back softer; fine in soups and bakes.
    Fair,
    /// Not to be frozen.
    No,
}

/// How a component is meant to be eaten after storage.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants say it")]
pub enum Serving {
    Hot,
    Cold,
    Either,
}

/// A prepared building block that is stored.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Component {
    /// Its identifier.
    pub id: ComponentId,
    /// Its name as the cook reads it.
    pub name: String,
    /// What sort of building block it is.
    pub family: Family,
    /// Its keeping class, which guidance tables speak about.
    pub keep: RuleId,
    /// How well it freezes.
    pub freeze: Freezing,
    /// Hot, cold, or either.
    pub serve: Serving,
    /// Grams of the finished component per litre of box.
    pub bulk: Sourced<Density>,
    /// Months (1-12) in which it is at its best; empty means all year.
    pub season: Vec<i8>,
    /// What goes wrong, in a sentence or two.
    pub trouble: String,
    /// Alternative ways to make it; the first is the default.
    pub ways: Vec<Way>,
}

impl Component {
    /// The way with this identifier.
    #[must_use]
    pub fn way(&self, id: &WayId) -> Option<&Way> {
        self.ways.iter().find(|way| way.id == *id)
    }
}

/// In what steps a batch may grow.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SizeStep {
    /// By so much of the driver's edible portion.
    Mass(Mass),
    /// By whole packs of the driver (cans).
    Pack,
    /// By whole units of the driver (eggs).
    Unit,
}

/// Limits of one batch, in edible portion of the driver.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SizeLimits {
    /// The smallest batch worth a pot.
    pub min: Mass,
    /// How a batch grows.
    pub step: SizeStep,
    /// The largest batch.
    pub max: Mass,
}

/// Output per thousand of the driver: low, likely, high.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Yield {
    /// The low end.
    pub low: Permille,
    /// The usual case.
    pub likely: Permille,
    /// The high end.
    pub high: Permille,
    /// Where the figures come from.
    pub source: String,
}

/// Equipment a way cannot do without.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the names of the equipment")]
pub enum Equipment {
    Burner,
    Oven,
    Rack,
    Microwave,
    Pot,
    Tray,
    PressureCooker,
    Board,
    Blender,
}

/// One way to make a component.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Way {
    /// Its identifier within the component: `dry`, `canned`.
    pub id: WayId,
    /// Its name: `from dry`.
    pub name: String,
    /// The food whose edible portion is the batch size `x`.
    pub driver: FoodId,
    /// Limits of `x`.
    pub size: SizeLimits,
    /// Output from `x`.
    pub yields: Yield,
    /// Equipment that has to exist.
    pub needs: Vec<Equipment>,
    /// What goes in.
    pub inputs: Vec<Input>,
    /// What is done, in order.
    pub steps: Vec<Step>,
}

/// One input of a way: edible portion = `fixed + per_kg * x / 1 kg`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Input {
    /// The food.
    pub food: FoodId,
    /// The part that does not depend on size.
    pub fixed: Mass,
    /// Edible mass for each kilogram of the driver.
    pub per_kg: Mass,
    /// Poured away again: cooking water.
    pub drained: bool,
    /// How it is cut or treated beforehand; may be empty.
    pub prep: String,
}

/// Where in the kitchen a step is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the names of the stations")]
pub enum Station {
    Board,
    Counter,
    Sink,
    Stove,
    Oven,
    Fridge,
}

/// What a cook must be allowed to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the names of the skills")]
pub enum Skill {
    Any,
    Knife,
    Stove,
}

/// What a step leaves on a board and on hands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hygiene {
    /// Raw vegetables and the like.
    Plain,
    /// Eaten as it is.
    Ready,
    /// Raw meat, fish or poultry.
    RawMeat,
    /// Handles an allergen that someone at the table must not have.
    Allergen,
}

/// One step of a way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// Its identifier within the way.
    pub id: StepId,
    /// Three words or fewer.
    pub title: String,
    /// What to do.
    pub text: String,
    /// How to see that it is done; may be empty.
    pub cue: String,
    /// Done before the session: a dated reminder.
    pub lead: bool,
    /// For a lead step: the shortest wait that still works.
    pub lead_min: Option<Seconds>,
    /// Where it is done.
    pub station: Station,
    /// How many people are busy throughout; 0 when it looks after itself.
    pub hands: u32,
    /// What they must be allowed to do.
    pub skill: Skill,
    /// Which steps come before, and how long after them it may start.
    pub after: Vec<StepAfter>,
    /// Equipment held for the whole step.
    pub uses: Vec<Equipment>,
    /// Volume of pot: fixed part.
    pub pot_fixed: Volume,
    /// Volume of pot for each kilogram of the driver.
    pub pot_per_kg: Volume,
    /// How much of the driver one load of this step takes; more means more loads.
    pub load: Option<Mass>,
    /// How much of the driver lies on one tray.
    pub tray: Option<Mass>,
    /// How long it takes.
    pub law: Law,
    /// Adds the time to bring water to the boil.
    pub boil: Option<Boil>,
    /// Short visits in the course of a passive step.
    pub visit: Option<Visit>,
    /// The oven's setting.
    pub oven: Option<OvenRange>,
    /// What it leaves on boards and hands.
    pub hygiene: Hygiene,
    /// A minimum that published guidance demands.
    pub safety: Option<StepSafety>,
    /// Like work of several batches is done once: `peel:onion`.
    pub merge: Option<String>,
}

/// A predecessor of a step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepAfter {
    /// The earlier step of the same way.
    pub step: StepId,
    /// Shortest time from its end to this start.
    pub min: Seconds,
    /// Longest time from its end to this start; `None` when it can wait.
    pub max: Option<Seconds>,
}

/// Water to bring to the boil before the law's time starts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Boil {
    /// The part that does not depend on size.
    pub fixed: Mass,
    /// Water for each kilogram of the driver.
    pub per_kg: Mass,
}

/// A short visit that a passive step wants now and then.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Visit {
    /// How often.
    pub every: Seconds,
    /// How long the hands are busy.
    pub hands: Seconds,
    /// What to do.
    pub text: String,
}

/// An oven setting that suits a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OvenRange {
    /// The best temperature; the law's time holds there.
    pub best: Temperature,
    /// The lowest that works.
    pub min: Temperature,
    /// The highest that works.
    pub max: Temperature,
    /// Seconds added for each degree Celsius above the best (negative: hotter is quicker).
    pub per_degree: Seconds,
}

/// A minimum that published guidance demands of a step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepSafety {
    /// Core temperature to reach.
    pub core: Option<Temperature>,
    /// Time at a full boil.
    pub boil: Option<Seconds>,
    /// What the guidance says, in a sentence.
    pub note: String,
}
