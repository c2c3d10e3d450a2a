//! The basket: what a menu would have to buy, by trip and in whole packs, as the order stage will buy it; on numbers
//! alone, to see early how long the list gets and what is left over.

use std::collections::BTreeMap;

use jiff::civil::DateTime;
use larderwright_model::{FoodId, Snapshot, StorageClass};
use larderwright_quantity::{Mass, Permille, Rounding, mul_div};

use super::cost::FINE;
use super::problem::{Comp, Weights};
use crate::order::at_home;

/// A line on the order, in soft points: to be found, carried home and put away.
pub(super) const LINE: i64 = 6;

/// A food that may be bought.
pub(super) struct Ware {
    /// Milligrams and hundredths of the currency of each pack.
    pub packs: Vec<(i64, i64)>,
    pub edible: Permille,
    /// Milligrams in the house.
    pub home: i64,
    /// Bought on the last trip in time, for it does not wait.
    short: bool,
    /// What is left over keeps its value beyond the week.
    pub lasting: bool,
    /// On the order whatever is eaten.
    listed: bool,
}

/// What a batch takes of a ware, as purchased: a straight line in the batch size.
pub(super) struct Share {
    pub ware: usize,
    pub fixed: i64,
    pub per_kg: i64,
}

/// Foods that may be bought, and what each component takes of them.
pub(super) struct Basket {
    wares: Vec<Ware>,
    numbers: BTreeMap<FoodId, usize>,
    recipes: Vec<Vec<Share>>,
    trips: Vec<DateTime>,
    /// Wares that cost no line of their own: in the house, or on the order anyway.
    at_hand: Vec<bool>,
}

/// What a week would buy: milligrams as purchased, by ware and trip.
pub(super) struct Filled {
    masses: Vec<i64>,
}

/// What is wanted of a ware on a trip, in milligrams as purchased.
#[derive(Clone, Copy)]
pub(super) struct Bought {
    pub ware: usize,
    pub trip: usize,
    /// What the house gives.
    pub home: i64,
    /// What is bought.
    pub mass: i64,
}

impl Basket {
    pub(super) fn new(snapshot: &Snapshot, comps: &[Comp<'_>]) -> Self {
        let foods: Vec<_> = snapshot.foods.values().filter(|food| !food.is_tap()).collect();
        let numbers: BTreeMap<FoodId, usize> = foods
            .iter()
            .enumerate()
            .map(|(ix, food)| (food.id.clone(), ix))
            .collect();
        let household = &snapshot.household;
        let ware = |food: &&larderwright_model::Food| Ware {
            packs: food
                .packs
                .iter()
                .map(|pack| (pack.size.mass.mg().max(1), pack.price.minor()))
                .collect(),
            edible: food.edible.value,
            home: at_home(snapshot, food).mg(),
            short: matches!(food.storage, StorageClass::FridgeShort | StorageClass::Counter),
            lasting: food.storage.keeps_beyond_a_week(),
            listed: household.pars.iter().any(|par| par.food == food.id)
                || household.standing.iter().any(|standing| standing.food == food.id),
        };
        let wares: Vec<Ware> = foods.iter().map(ware).collect();
        let recipe = |comp: &Comp<'_>| {
            let inputs = comp.way.inputs.iter();
            let shares = inputs.filter_map(|input| {
                let ware = *numbers.get(&input.food)?;
                let bought = |mass: Mass| wares[ware].edible.undo(mass, Rounding::Up).mg();
                Some(Share {
                    ware,
                    fixed: bought(input.fixed),
                    per_kg: bought(input.per_kg),
                })
            });
            shares.collect()
        };
        Self {
            recipes: comps.iter().map(recipe).collect(),
            trips: snapshot.shops.iter().map(|shop| shop.at).collect(),
            at_hand: wares.iter().map(|ware| ware.home > 0 || ware.listed).collect(),
            wares,
            numbers,
        }
    }

    /// The number of a food, unless it comes from the tap.
    pub(super) fn ware(&self, food: &FoodId) -> Option<usize> {
        self.numbers.get(food).copied()
    }

    /// The last trip that is home by a time.
    pub(super) fn trip(&self, by: DateTime) -> usize {
        let in_time = self.trips.iter().filter(|at| **at <= by).count();
        in_time.saturating_sub(1)
    }

    /// For each ware whether it costs no line of its own: it is in the house, or on the order anyway.
    pub(super) fn at_hand(&self) -> &[bool] {
        &self.at_hand
    }

    pub(super) fn wares(&self) -> &[Ware] {
        &self.wares
    }

    /// Every food that may be bought, with its number.
    pub(super) fn foods(&self) -> impl Iterator<Item = (&FoodId, usize)> {
        self.numbers.iter().map(|(food, ix)| (food, *ix))
    }

    /// What a batch of a component takes.
    pub(super) fn recipe(&self, comp: usize) -> &[Share] {
        &self.recipes[comp]
    }

    /// How many trips are told apart.
    pub(super) fn trips(&self) -> usize {
        self.trips.len().max(1)
    }

    /// The trip on which a ware is bought that is wanted after a trip.
    pub(super) fn bought_on(&self, ware: usize, trip: usize) -> usize {
        if self.wares[ware].short { trip } else { 0 }
    }

    /// The wares that a component is made of.
    pub(super) fn wares_of(&self, comp: usize) -> impl Iterator<Item = usize> + '_ {
        self.recipes[comp].iter().map(|share| share.ware)
    }

    pub(super) fn empty(&self) -> Filled {
        Filled {
            masses: vec![0; self.wares.len() * self.trips()],
        }
    }

    /// Adds an edible mass that is wanted after a trip.
    pub(super) fn add(&self, filled: &mut Filled, (ware, trip): (usize, usize), edible: i64) {
        let bought = self.wares[ware].edible.undo(Mass::from_mg(edible), Rounding::Up);
        self.put(filled, (ware, trip), bought.mg());
    }

    /// Adds what a batch is made of.
    pub(super) fn add_batch(&self, filled: &mut Filled, (comp, trip): (usize, usize), x: Mass) {
        for share in &self.recipes[comp] {
            let mass = share.fixed + mul_div(share.per_kg, x.mg(), 1_000_000, Rounding::Up);
            self.put(filled, (share.ware, trip), mass);
        }
    }

    fn put(&self, filled: &mut Filled, (ware, trip): (usize, usize), mass: i64) {
        filled.masses[ware * self.trips() + self.bought_on(ware, trip)] += mass;
    }

    /// What is wanted of each ware on each trip, where there is any, and how much of it the house gives.
    pub(super) fn bought(&self, filled: &Filled) -> Vec<Bought> {
        let mut all = Vec::with_capacity(64);
        for (ware, masses) in filled.masses.chunks_exact(self.trips()).enumerate() {
            let mut home = self.wares[ware].home;
            for (trip, mass) in masses.iter().enumerate().filter(|(_, mass)| **mass > 0) {
                let taken = home.min(*mass);
                home -= taken;
                all.push(Bought {
                    ware,
                    trip,
                    home: taken,
                    mass: mass - taken,
                });
            }
        }
        all
    }

    /// What the basket costs in parts of a point: money, lines, and what is left in open packs.
    pub(super) fn points(&self, bought: &[Bought], weights: &Weights) -> i64 {
        let bought = bought.iter().filter(|bought| bought.mass > 0);
        bought
            .map(|bought| self.wares[bought.ware].points(bought.mass, weights))
            .sum()
    }
}

impl Ware {
    fn points(&self, mass: i64, weights: &Weights) -> i64 {
        let line = self.line();
        let Some((pack, count)) = self.cover(mass) else {
            return line;
        };
        let (price, bought) = (self.packs[pack].1 * count, self.packs[pack].0 * count);
        let part = |rate: i64, mass: i64| mul_div(price * rate, mass, bought.max(1), Rounding::Up);
        part(Rates::of(self, weights).eaten, mass) + part(Rates::of(self, weights).left, bought - mass) + line
    }

    /// The pack that covers a mass for the least, and how many of it.
    pub(super) fn cover(&self, mass: i64) -> Option<(usize, i64)> {
        let packs = self.packs.iter().enumerate().map(|(ix, &(size, price))| {
            let count = mass.div_euclid(size) + i64::from(mass % size > 0);
            ((count * price, count * size), ix, count)
        });
        packs.min().map(|(_, ix, count)| (ix, count))
    }

    /// What its line on the order costs.
    pub(super) fn line(&self) -> i64 {
        if self.listed { 0 } else { LINE * FINE }
    }
}

/// What a cent's worth costs in parts of a point.
pub(super) struct Rates {
    /// Eaten.
    pub eaten: i64,
    /// Left in an open pack: what keeps goes back on the shelf at its value, but the money is gone this week.
    pub left: i64,
}

impl Rates {
    pub(super) fn of(ware: &Ware, weights: &Weights) -> Self {
        Self {
            eaten: weights.cheaper * FINE / 20,
            left: if ware.lasting {
                weights.cheaper * FINE / 60
            } else {
                weights.less_waste * FINE / 20
            },
        }
    }
}
