//! One batch of a way at one size: what goes in, what stays, what comes out, how long hands are busy.

use std::collections::BTreeMap;

use larderwright_model::{Component, Food, FoodId, Input, Step, Way};
use larderwright_quantity::{Mass, Rounding, Seconds, Volume, mul_div};
use larderwright_reference::retention::{self, Group};

/// A way at one size, with the foods it is bought from.
#[derive(Clone, Copy)]
pub(super) struct Batch<'b> {
    pub(super) component: &'b Component,
    pub(super) way: &'b Way,
    /// Edible portion of the driver.
    pub(super) x: Mass,
    pub(super) foods: &'b BTreeMap<FoodId, Food>,
}

impl Batch<'_> {
    /// `chickpeas/dry`.
    pub(super) fn subject(&self) -> String {
        format!("{}/{}", self.component.id, self.way.id)
    }

    /// Edible mass of an input.
    pub(super) fn edible(&self, input: &Input) -> Mass {
        input.fixed + input.per_kg.scale(self.x.mg(), 1_000_000, Rounding::Nearest)
    }

    /// What goes in and is not lifted out or poured away.
    pub(super) fn kept(&self) -> Mass {
        self.sum(|input| !input.drained)
    }

    /// Water and the like that is poured away as far as the food does not drink it.
    pub(super) fn poured(&self) -> Mass {
        self.sum(|input| input.drained && is_liquid(&input.food))
    }

    /// Water and the like, whatever becomes of it.
    pub(super) fn liquid(&self) -> Mass {
        self.sum(|input| is_liquid(&input.food))
    }

    fn sum(&self, counts: impl Fn(&Input) -> bool) -> Mass {
        let inputs = self.way.inputs.iter().filter(|input| counts(input));
        inputs.map(|input| self.edible(input)).sum()
    }

    /// What comes out, likely.
    pub(super) fn output(&self) -> Mass {
        self.way.yields.likely.of(self.x, Rounding::Down)
    }

    /// How much of the driver lies in one load of a step.
    pub(super) fn load(&self, step: &Step) -> Mass {
        step.load.map_or(self.x, |load| load.min(self.x))
    }

    /// The pot a step asks for, and what has to fit into it.
    pub(super) fn pot(&self, step: &Step) -> (Volume, Volume) {
        let load = self.load(step);
        let per_kg = |ml_per_kg: i64| mul_div(ml_per_kg, load.mg(), 1_000_000, Rounding::Up);
        let pot = step.pot_fixed.ul() + per_kg(step.pot_per_kg.ul());
        let boiled = step.boil.map_or(Mass::ZERO, |boil| {
            boil.fixed + boil.per_kg.scale(load.mg(), 1_000_000, Rounding::Up)
        });
        (Volume::from_ul(pot), Volume::from_ul(boiled.mg() + load.mg() / 2))
    }

    /// Busy hands of all steps, in the likely case.
    pub(super) fn hands(&self) -> Seconds {
        let of = |step: &Step| {
            let loads = step.load.map_or(1, |load| self.x.div_ceil_by(load).max(1));
            let load = self.load(step);
            let likely = step.law.likely(load);
            let visits = step.visit.as_ref().map_or(Seconds::ZERO, |visit| {
                visit.hands.times(likely.secs() / visit.every.secs().max(1))
            });
            let hands = if step.hands > 0 { likely } else { visits };
            hands.times(loads)
        };
        self.way.steps.iter().map(of).sum()
    }
}

/// Whether a food is thin liquid: water, stock, vinegar.
pub(super) fn is_liquid(food: &FoodId) -> bool {
    retention::group(food.as_str()) == Group::Liquid
}

/// A mass per thousand of another; zero of nothing.
pub(super) fn permille(part: Mass, whole: Mass) -> i64 {
    if whole.is_positive() {
        mul_div(part.mg(), 1000, whole.mg(), Rounding::Nearest)
    } else {
        0
    }
}
