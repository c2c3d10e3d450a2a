//! The menu as an integer programme: the same week as `menu/cost.rs` weighs, in rows and columns that any solver reads.
//!
//! It is a relaxation: every week that the search can hold, and that breaks nothing hard, is a point of it, and no point
//! costs more than its week. Where the cost is no straight line the programme asks for less, never for more
//! (docs/menu.md lists where). So a bound below the programme is a bound below every week.

mod basket;
mod kitchen;
mod project;
mod sameness;
mod shares;
mod sittings;

use std::collections::BTreeMap;
use std::ops::RangeInclusive;

use larderwright_solve::linear::{Column, Programme};

use super::cost::FINE;
use super::problem::{CoverSet, Opt, Problem};

/// Parts of a point in which the programme counts: thousand millionths.
pub(super) const DECIMALS: u32 = 9;

/// What a column stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Key {
    /// A meal at a sitting: slot, candidate.
    Meal(usize, usize),
    /// Appetite of eaters who are alike, per thousand, that takes an option.
    Take(Take),
    /// Milligrams of a component that a sitting has from a session: component, session, slot.
    Flow(usize, usize, usize),
    /// A component is cooked in a session.
    Setup(usize, usize),
    /// Steps of a batch: component, session.
    Units(usize, usize),
    /// Thousandths of a milligram of a component in the house that spoil.
    Spoilt(usize),
    /// A component is cooked in some session.
    Cooked(usize),
    /// A ware is on the order of some trip.
    Listed(usize),
    /// A line on the order: ware, trip.
    Line(usize, usize),
    /// Milligrams that the house gives: ware, trip.
    Home(usize, usize),
    /// Whole packs: ware, trip, pack.
    Packs(usize, usize, usize),
    /// Milligrams that such packs cover: ware, trip, pack.
    Covered(usize, usize, usize),
    /// A dinner eaten lately that comes again: the place of its meal.
    Lately(usize),
    /// By how much a sum exceeds what is free.
    Excess(usize),
}

/// An option taken by eaters who may have, and dislike, the same options of an element.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Take {
    pub slot: usize,
    pub candidate: usize,
    pub element: usize,
    pub option: usize,
    /// Which covers they are.
    pub covers: CoverSet,
    /// From a lot in the house.
    pub stored: bool,
}

impl Take {
    /// The range of everything taken of a candidate at a slot.
    fn all_of(slot: usize, candidate: usize) -> RangeInclusive<Self> {
        let end = |number, stored| Self {
            slot,
            candidate,
            element: number,
            option: number,
            covers: if stored { CoverSet::MAX } else { 0 },
            stored,
        };
        end(0, false)..=end(usize::MAX, true)
    }
}

/// So much appetite for each unit of a column.
#[derive(Clone, Copy)]
struct Part {
    column: usize,
    factor: i64,
}

/// A sum of columns beyond what is free of it.
struct Excess {
    column: usize,
    terms: Vec<(usize, i64)>,
    free: i64,
}

/// The programme of a menu, with what its columns stand for.
pub(super) struct Week<'p, 'a> {
    problem: &'p Problem<'a>,
    pub programme: Programme,
    columns: BTreeMap<Key, usize>,
    /// For each element of a candidate at a slot the covers that are alike there.
    alike: BTreeMap<(usize, usize, usize), Vec<CoverSet>>,
    /// How every option may be taken: by columns of their own, or with the meal where there is no choice.
    takes: BTreeMap<Take, Part>,
    excesses: Vec<Excess>,
    /// For each item the column that says whether it is there at all, unless it may be in the house.
    there: BTreeMap<usize, usize>,
    /// Columns that are the least that a row allows, and the row.
    follows: Vec<(usize, usize)>,
}

impl<'p, 'a> Week<'p, 'a> {
    /// States the week of a problem.
    pub(super) fn new(problem: &'p Problem<'a>) -> Self {
        let mut week = Self {
            problem,
            programme: Programme::default(),
            columns: BTreeMap::new(),
            alike: BTreeMap::new(),
            takes: BTreeMap::new(),
            excesses: Vec::new(),
            there: BTreeMap::new(),
            follows: Vec::new(),
        };
        week.sittings();
        week.kitchen();
        week.basket();
        week.sameness();
        week
    }

    /// Adds a column that may be so much at the most.
    fn column(&mut self, key: Key, cost: i64, upper: i64, whole: bool) -> usize {
        let column = self.programme.column(Column {
            name: key.name(),
            cost,
            lower: 0,
            upper,
            whole,
        });
        self.columns.insert(key, column);
        column
    }

    fn row(&mut self, word: &str, terms: &[(usize, i64)], sides: (Option<i64>, Option<i64>)) {
        let name = format!("{word}_{}", self.programme.rows.len());
        self.programme.row(name, terms, sides);
    }

    /// What a sum exceeds a free amount by costs so much for each unit, up to `most`.
    fn excess(&mut self, terms: &[(usize, i64)], free: i64, (cost, most): (i64, i64)) {
        if most <= 0 || cost <= 0 {
            return;
        }
        let column = self.column(Key::Excess(self.excesses.len()), cost, most, false);
        let mut all = terms.to_vec();
        all.push((column, -1));
        self.row("over", &all, (None, Some(free)));
        self.excesses.push(Excess {
            column,
            terms: terms.to_vec(),
            free,
        });
    }

    /// What the numbers in the names of columns stand for.
    pub(super) fn legend(&self) -> Vec<String> {
        let problem = self.problem;
        let mut lines = Vec::new();
        for slot in &problem.slots {
            let sitting = &problem.snapshot.sittings[slot.index];
            let meals = slot.candidates.iter().enumerate();
            lines.extend(meals.map(|(ix, candidate)| {
                format!(
                    "meal_{}_{ix}: {} at {}",
                    slot.index, candidate.meal.id, sitting.id
                )
            }));
        }
        let comps = problem.comps.iter().enumerate();
        lines.extend(
            comps.map(|(ix, comp)| format!("cook_{ix}, steps_{ix}, flow_{ix}: {}", comp.component.id)),
        );
        let wares = problem.basket.foods();
        lines.extend(wares.map(|(food, ix)| format!("packs_{ix}, line_{ix}: {food}")));
        lines
    }

    /// The column, with the coefficient one, makes up for what the last row lacks.
    fn follows(&mut self, column: usize) {
        self.follows.push((column, self.programme.rows.len() - 1));
    }

    fn option(&self, take: Take) -> &Opt {
        &self.problem.slots[take.slot].candidates[take.candidate].elements[take.element].options[take.option]
    }

    /// The appetites of some covers.
    fn factors(&self, slot: usize, covers: CoverSet) -> impl Iterator<Item = i64> + Clone + '_ {
        let factors = self.problem.slots[slot].factors.iter().enumerate();
        factors
            .filter(move |(cover, _)| covers & (1 << cover) != 0)
            .map(|(_, factor)| (*factor).max(1))
    }

    /// The appetite of all who may take an option.
    fn factor(&self, take: Take) -> i64 {
        self.factors(take.slot, take.covers).sum()
    }

    fn at(&self, key: Key) -> Option<usize> {
        self.columns.get(&key).copied()
    }
}

impl Key {
    /// A name that any solver takes.
    fn name(self) -> String {
        match self {
            Self::Meal(slot, candidate) => format!("meal_{slot}_{candidate}"),
            Self::Take(take) => format!(
                "{}_{}_{}_{}_{}_{}",
                if take.stored { "stored" } else { "take" },
                take.slot,
                take.candidate,
                take.element,
                take.option,
                take.covers
            ),
            Self::Flow(comp, session, slot) => format!("flow_{comp}_{session}_{slot}"),
            Self::Setup(comp, session) => format!("cook_{comp}_{session}"),
            Self::Units(comp, session) => format!("steps_{comp}_{session}"),
            Self::Spoilt(comp) => format!("spoilt_{comp}"),
            Self::Cooked(comp) => format!("cooked_{comp}"),
            Self::Listed(ware) => format!("listed_{ware}"),
            Self::Line(ware, trip) => format!("line_{ware}_{trip}"),
            Self::Home(ware, trip) => format!("home_{ware}_{trip}"),
            Self::Packs(ware, trip, pack) => format!("packs_{ware}_{trip}_{pack}"),
            Self::Covered(ware, trip, pack) => format!("covered_{ware}_{trip}_{pack}"),
            Self::Lately(meal) => format!("lately_{meal}"),
            Self::Excess(number) => format!("excess_{number}"),
        }
    }
}

/// `parts / over` parts of a point, as the programme counts, never more.
fn cost_of(parts: i64, over: i64) -> i64 {
    let product = i128::from(parts) * 10_i128.pow(DECIMALS);
    let cost = product.div_euclid(i128::from(FINE) * i128::from(over));
    i64::try_from(cost).expect("a cost of a week fits 64 bits")
}

#[cfg(test)]
mod tests;
