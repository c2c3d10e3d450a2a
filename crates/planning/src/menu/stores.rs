//! What is in the house already: lots of components, and foods for sittings that no trip to the shop reaches.

use std::collections::BTreeMap;

use jiff::civil::DateTime;
use larderwright_model::{Finish, FoodId, Place, Sitting, Snapshot, StoredLot};
use larderwright_quantity::{Mass, Rounding, mul_div};
use larderwright_safety::keeping;

use super::cost::FINE;
use super::problem::{Comp, CoverSet, Opt, Problem, Slot};
use super::windows::pull_time;
use crate::keeping::class_of;
use crate::order::at_home;
use crate::restrict::Restrictions;

/// Lots and foods in the house, numbered.
pub(super) struct Stores {
    /// Lots that some component of the problem is in: index in the snapshot and component, by use-by.
    pub lots: Vec<(usize, usize)>,
    /// Foods that a sitting before the first trip can have, in edible milligrams.
    pub foods: Vec<(FoodId, i64)>,
}

impl Stores {
    pub(super) fn new(snapshot: &Snapshot, restrict: &Restrictions, comps: &[Comp<'_>]) -> Self {
        let number = |lot: &StoredLot| comps.iter().position(|comp| comp.component.id == lot.component);
        let lots = snapshot.lots.iter().enumerate();
        let mut lots: Vec<(usize, usize)> = lots
            .filter(|(_, lot)| lot.mass.is_positive() && !restrict.lots.contains(&lot.id))
            .filter_map(|(ix, lot)| Some((ix, number(lot)?)))
            .collect();
        lots.sort_by_key(|(ix, _)| {
            (
                snapshot.lots[*ix].place == Place::Freezer,
                snapshot.lots[*ix].keep.use_by,
            )
        });
        let foods = snapshot
            .foods
            .values()
            .filter(|food| !restrict.foods.contains(&food.id));
        let foods = foods.filter_map(|food| {
            let edible = food.edible.value.of(at_home(snapshot, food), Rounding::Down);
            edible.is_positive().then(|| (food.id.clone(), edible.mg()))
        });
        Self {
            lots,
            foods: foods.collect(),
        }
    }

    /// For each component the lots that a sitting can eat from.
    pub(super) fn reach(&self, snapshot: &Snapshot, comps: usize, sitting: &Sitting) -> Vec<Vec<usize>> {
        let mut reach = vec![Vec::new(); comps];
        for (store, (lot, comp)) in self.lots.iter().enumerate() {
            if reaches(snapshot, &snapshot.lots[*lot], sitting) {
                reach[*comp].push(store);
            }
        }
        reach
    }

    /// The number of a food in the house.
    pub(super) fn shelf(&self, food: &FoodId) -> Option<usize> {
        self.foods.binary_search_by(|(known, _)| known.cmp(food)).ok()
    }
}

/// Whether no trip to the shop is home before the sitting's food leaves the fridge.
pub(super) fn is_unshopped(snapshot: &Snapshot, by: DateTime) -> bool {
    snapshot.shops.iter().all(|shop| shop.at > by)
}

fn reaches(snapshot: &Snapshot, lot: &StoredLot, sitting: &Sitting) -> bool {
    match lot.place {
        Place::Fridge | Place::Cupboard => sitting.at <= lot.keep.use_by,
        Place::Freezer => pull_time(sitting) >= snapshot.now && pull_time(sitting) <= lot.keep.use_by,
    }
}

/// Until when a frozen lot is to be eaten that is pulled for a sitting.
pub(super) fn thawed_until(snapshot: &Snapshot, lot: &StoredLot, sitting: &Sitting) -> DateTime {
    let profile = snapshot.household.profile;
    let class = class_of(&snapshot.components[&lot.component]);
    keeping::thawed(profile, class, lot.made, lot.stored, pull_time(sitting)).use_by
}

/// What is left of the stores while a week is being served.
#[derive(Clone, Default)]
pub(super) struct Pools {
    lots: Vec<i64>,
    /// For a frozen lot that was pulled: until when it is to be eaten.
    until: Vec<Option<DateTime>>,
    foods: Vec<i64>,
}

impl Pools {
    pub(super) fn new(problem: &Problem<'_>) -> Self {
        let stores = &problem.stores;
        let mass = |(lot, _): &(usize, usize)| problem.snapshot.lots[*lot].mass.mg();
        Self {
            lots: stores.lots.iter().map(mass).collect(),
            until: vec![None; stores.lots.len()],
            foods: stores.foods.iter().map(|(_, mass)| *mass).collect(),
        }
    }

    /// The first lot that serves some of the covers, and which of them.
    pub(super) fn lot(
        &self,
        problem: &Problem<'_>,
        slot: &Slot<'_>,
        (comp, option): (usize, &Opt),
        covers: CoverSet,
    ) -> Option<(usize, CoverSet)> {
        slot.stored[comp].iter().copied().find_map(|store| {
            let lot = &problem.snapshot.lots[problem.stores.lots[store].0];
            let sitting = &problem.snapshot.sittings[slot.index];
            let late = self.until[store].is_some_and(|until| sitting.at > until);
            let again = lot.reheated && option.finish == Finish::Reheat;
            let fitting = fitting(option, covers, self.lots[store]);
            (!late && !again && fitting != 0).then_some((store, fitting))
        })
    }

    /// Which covers a food in the house suffices for.
    pub(super) fn food(&self, shelf: usize, option: &Opt, covers: CoverSet) -> CoverSet {
        fitting(option, covers, self.foods[shelf])
    }

    pub(super) fn take_lot(&mut self, problem: &Problem<'_>, slot: &Slot<'_>, store: usize, mass: i64) {
        self.lots[store] -= mass;
        let lot = &problem.snapshot.lots[problem.stores.lots[store].0];
        if lot.place == Place::Freezer && self.until[store].is_none() {
            let sitting = &problem.snapshot.sittings[slot.index];
            self.until[store] = Some(thawed_until(problem.snapshot, lot, sitting));
        }
    }

    pub(super) fn take_food(&mut self, shelf: usize, mass: i64) {
        self.foods[shelf] -= mass;
    }

    /// What spoils when nobody eats it, in parts of a point.
    pub(super) fn lost(&self, problem: &Problem<'_>) -> i64 {
        let lots = problem.stores.lots.iter().enumerate();
        let spoilt = lots.filter(|(store, (lot, _))| {
            problem.snapshot.lots[*lot].place == Place::Fridge || self.until[*store].is_some()
        });
        spoilt
            .map(|(store, (_, comp))| {
                mul_div(
                    spoilt_per_kg(problem, *comp),
                    self.lots[store],
                    1_000_000,
                    Rounding::Up,
                )
            })
            .sum()
    }
}

/// What a kilogram of a component in the house costs when it spoils, in parts of a point.
pub(super) fn spoilt_per_kg(problem: &Problem<'_>, comp: usize) -> i64 {
    problem.comps[comp].cents_per_kg * problem.weights.less_waste * FINE / 5
}

/// The covers, first come first served, that a mass suffices for.
fn fitting(option: &Opt, covers: CoverSet, mass: i64) -> CoverSet {
    let mut left = mass;
    let mut set = 0;
    for (cover, portion) in option.masses.iter().enumerate() {
        if covers & (1 << cover) != 0 && *portion <= left {
            left -= portion;
            set |= 1 << cover;
        }
    }
    set
}

/// What some covers eat of an option.
pub(super) fn mass_of(option: &Opt, covers: CoverSet) -> i64 {
    let masses = option.masses.iter().enumerate();
    masses
        .filter(|(cover, _)| covers & (1 << cover) != 0)
        .map(|(_, mass)| mass)
        .sum()
}

/// Whether what is at home suffices for a smallest batch.
pub(super) fn suffices(snapshot: &Snapshot, comp: &Comp<'_>) -> bool {
    let mut wanted: BTreeMap<&FoodId, Mass> = BTreeMap::new();
    for input in &comp.way.inputs {
        let slope = mul_div(input.per_kg.mg(), comp.min.mg(), 1_000_000, Rounding::Up);
        *wanted.entry(&input.food).or_insert(Mass::ZERO) += input.fixed + Mass::from_mg(slope);
    }
    wanted.into_iter().all(|(id, ep)| {
        let food = &snapshot.foods[id];
        food.is_tap() || food.edible.value.undo(ep, Rounding::Up) <= at_home(snapshot, food)
    })
}
