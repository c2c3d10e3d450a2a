//! The basket: what is wanted of every ware on every trip is in the house or bought in whole packs.

use std::collections::BTreeMap;

use super::shares::{Shares, WHOLE};
use super::{Key, Week, cost_of};
use crate::menu::basket::Rates;
use crate::menu::problem::Thing;

/// What is wanted of a ware on a trip.
#[derive(Default)]
struct Wanted {
    /// Columns with thousandths of a milligram as purchased for each unit.
    terms: Vec<(usize, i64)>,
    /// The most that can be wanted, in milligrams.
    most: i64,
    /// Who takes of it.
    shares: Shares,
    /// Batches that cannot do without.
    setups: Vec<usize>,
}

impl Week<'_, '_> {
    pub(super) fn basket(&mut self) {
        let wanted = self.wares_wanted();
        let mut home: BTreeMap<usize, Vec<(usize, i64)>> = BTreeMap::new();
        let mut lines: BTreeMap<usize, Vec<(usize, i64)>> = BTreeMap::new();
        for ((ware, trip), wanted) in &wanted {
            lines.entry(*ware).or_default();
            if let Some(column) = self.ware((*ware, *trip), wanted) {
                home.entry(*ware).or_default().push((column, 1));
            }
        }
        for (ware, mut terms) in lines {
            let trips = 0..self.problem.basket.trips();
            terms.extend(trips.filter_map(|trip| Some((self.at(Key::Line(ware, trip))?, -1))));
            if terms.len() > 1 && !home.contains_key(&ware) {
                let listed = self.column(Key::Listed(ware), 0, 1, true);
                terms.push((listed, 1));
                self.row("some_trip", &terms, (None, Some(0)));
            }
        }
        for (ware, terms) in home {
            let there = self.problem.basket.wares()[ware].home;
            self.row("at_home", &terms, (None, Some(there)));
        }
    }

    fn wares_wanted(&self) -> BTreeMap<(usize, usize), Wanted> {
        let problem = self.problem;
        let basket = &problem.basket;
        let mut all: BTreeMap<(usize, usize), Wanted> = BTreeMap::new();
        for (take, part) in &self.takes {
            let slot = &problem.slots[take.slot];
            let option = self.option(*take);
            let (Thing::Bought(_), None, Some(ware)) = (&option.thing, option.shelf, option.ware) else {
                continue;
            };
            let wanted = all.entry((ware, basket.bought_on(ware, slot.trip))).or_default();
            // Milligrams by thousandths of appetite by thousandths that are edible.
            let rate = option.portion.mg() * 1000 / basket.wares()[ware].edible.permille().max(1);
            let seated = self.factor(*take);
            wanted.terms.push((part.column, rate * part.factor));
            wanted.most += (rate + 1) * seated / 1000 + 2;
            wanted.shares.add(*take, *part, seated);
        }
        for comp in 0..problem.comps.len() {
            for (session, trip) in problem.session_trips.iter().enumerate() {
                let (Some(setup), Some(units)) = (
                    self.at(Key::Setup(comp, session)),
                    self.at(Key::Units(comp, session)),
                ) else {
                    continue;
                };
                for share in basket.recipe(comp) {
                    let wanted = all
                        .entry((share.ware, basket.bought_on(share.ware, *trip)))
                        .or_default();
                    let each = share.per_kg * problem.comps[comp].step.mg() / 1000;
                    wanted.terms.push((setup, share.fixed * 1000));
                    wanted.terms.push((units, each));
                    wanted.most += share.fixed + (each + 1) * self.programme.columns[units].upper / 1000 + 2;
                    wanted.setups.push(setup);
                }
            }
        }
        all
    }

    /// The rows of a ware on a trip; returns the column of what the house gives.
    fn ware(&mut self, (ware_ix, trip): (usize, usize), wanted: &Wanted) -> Option<usize> {
        let problem = self.problem;
        let ware = &problem.basket.wares()[ware_ix];
        let rates = Rates::of(ware, &problem.weights);
        let most = wanted.most.max(1);
        let line = self.column(Key::Line(ware_ix, trip), cost_of(ware.line(), 1), 1, true);
        let mut covered = Vec::new();
        let mut packs = Vec::new();
        for (pack, &(size, price)) in ware.packs.iter().enumerate() {
            let each = cost_of((rates.eaten - rates.left) * price, size);
            let mass = self.column(Key::Covered(ware_ix, trip, pack), each, most, false);
            let count = most / size + 1;
            let packs_of = self.column(
                Key::Packs(ware_ix, trip, pack),
                cost_of(rates.left * price, 1),
                count,
                true,
            );
            self.row("pack", &[(mass, 1), (packs_of, -size)], (None, Some(0)));
            covered.push(mass);
            packs.push((packs_of, 1));
        }
        if ware.packs.is_empty() {
            covered.push(self.column(Key::Covered(ware_ix, trip, 0), 0, most, false));
        } else {
            packs.push((line, -1));
            self.row("some_pack", &packs, (Some(0), None));
        }
        let mut open: Vec<(usize, i64)> = covered.iter().map(|column| (*column, 1)).collect();
        open.push((line, -most));
        self.row("listed", &open, (None, Some(0)));
        let home =
            (ware.home > 0).then(|| self.column(Key::Home(ware_ix, trip), 0, ware.home.min(most), false));
        let mut terms: Vec<(usize, i64)> = covered
            .iter()
            .chain(&home)
            .map(|column| (*column, 1000))
            .collect();
        terms.extend(wanted.terms.iter().map(|(column, mass)| (*column, -mass)));
        self.row("wanted", &terms, (Some(0), Some(1000 * self.rounded())));
        if home.is_none() {
            self.lines(line, wanted);
        }
        home
    }

    /// Whoever takes of a ware that is not in the house opens its line.
    fn lines(&mut self, line: usize, wanted: &Wanted) {
        for slot in wanted.shares.slots() {
            for mut terms in wanted.shares.sums(slot) {
                terms.push((line, -WHOLE));
                self.row("on_list", &terms, (None, Some(0)));
            }
        }
        for setup in &wanted.setups {
            self.row("on_list", &[(*setup, 1), (line, -1)], (None, Some(0)));
        }
    }

    /// Milligrams that rounding may add to what is bought of a ware: one for each helping and batch, and a thousandth for
    /// each thousandth of appetite.
    fn rounded(&self) -> i64 {
        let appetite: i64 = self.problem.slots.iter().flat_map(|slot| &slot.factors).sum();
        appetite * 8 / 1000 + 1000
    }
}
