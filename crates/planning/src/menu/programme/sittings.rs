//! Sittings: one meal at each, and for each class what it takes of each element.

use std::collections::BTreeMap;

use larderwright_model::Need;

use super::{Key, Part, Take, Week, cost_of};
use crate::menu::cost::{AT_HAND, DISLIKED, FINE, RANK};
use crate::menu::problem::{CoverSet, Elem, Opt, Slot, Thing};

impl<'p> Week<'p, '_> {
    pub(super) fn sittings(&mut self) {
        let problem = self.problem;
        for slot in &problem.slots {
            let meals: Vec<(usize, i64)> = (0..slot.candidates.len())
                .map(|candidate| {
                    let seconds = slot.candidates[candidate].assemble;
                    let cost = cost_of(seconds * problem.weights.quicker * FINE, 120);
                    (self.column(Key::Meal(slot.index, candidate), cost, 1, true), 1)
                })
                .collect();
            self.row("one_meal", &meals, (Some(1), Some(1)));
            for (candidate, (meal, _)) in meals.iter().enumerate() {
                for element in 0..slot.candidates[candidate].elements.len() {
                    self.element(slot, (candidate, element), *meal);
                }
            }
        }
    }

    fn element(&mut self, slot: &'p Slot<'_>, (candidate, element): (usize, usize), meal: usize) {
        let elem = &slot.candidates[candidate].elements[element];
        let alike = alike(slot, elem);
        for &covers in &alike {
            let options = elem.options.iter().enumerate();
            let options = options.filter(|(_, option)| option.allowed & covers == covers);
            let ways = options.flat_map(|(ix, option)| {
                ways(slot, option).into_iter().map(move |stored| Take {
                    slot: slot.index,
                    candidate,
                    element,
                    option: ix,
                    covers,
                    stored,
                })
            });
            let ways: Vec<Take> = ways.collect();
            let factor: i64 = self.factors(slot.index, covers).sum();
            let needed = elem.need != Need::Optional || self.comes_anyway(slot, (candidate, element), covers);
            if let ([way], true) = (ways.as_slice(), needed) {
                // No choice: it comes with the meal.
                let cost = self.take_cost(slot, *way, factor);
                self.programme.columns[meal].cost += cost;
                self.takes.insert(*way, Part { column: meal, factor });
                continue;
            }
            let mut terms = vec![(meal, -factor)];
            for way in ways {
                let cost = self.take_cost(slot, way, 1);
                let column = self.column(Key::Take(way), cost, factor, false);
                self.takes.insert(way, Part { column, factor: 1 });
                terms.push((column, 1));
            }
            self.row("fill", &terms, (needed.then_some(0), Some(0)));
        }
        self.alike.insert((slot.index, candidate, element), alike);
    }

    /// Whether an element that could be left out is filled whatever is cooked: something for it is in the house or on the
    /// order anyway.
    fn comes_anyway(&self, slot: &Slot<'_>, (candidate, element): (usize, usize), covers: CoverSet) -> bool {
        let candidate = &slot.candidates[candidate];
        let at_hand = self.problem.basket.at_hand();
        candidate.elements[element]
            .options
            .iter()
            .enumerate()
            .any(|(ix, option)| {
                option.allowed & covers == covers
                    && option.shelf.is_none()
                    && matches!(option.thing, Thing::Bought(_))
                    && option.ware.is_none_or(|ware| at_hand[ware])
                    && !candidate.rules.iter().any(|rule| rule.contains(&(element, ix)))
            })
    }

    /// What so much appetite for an option costs, money and packs aside.
    fn take_cost(&self, slot: &Slot<'_>, take: Take, factor: i64) -> i64 {
        let option = self.option(take);
        let factors = self.factors(slot.index, take.covers);
        let least = factors.clone().min().unwrap_or(1);
        let most = factors.max().unwrap_or(1);
        let all: i64 = self.factors(slot.index, slot.everyone()).sum::<i64>().max(1);
        let rank = i64::try_from(option.index).expect("an element has few options");
        let mut cost = cost_of(factor * rank * RANK * FINE, all);
        if option.disliked & take.covers != 0 {
            cost += cost_of(factor * DISLIKED * FINE, most);
        }
        if take.stored {
            let covers = i64::try_from(slot.covers.len()).expect("a table seats few");
            cost += cost_of(-factor * AT_HAND * FINE, covers * least);
        }
        if matches!(option.thing, Thing::Bought(_)) && option.shelf.is_none() {
            let each = self.problem.weights.quicker * FINE;
            cost += cost_of(2 * factor * each, 4 * all) + cost_of(factor * each, 4 * most);
        }
        cost
    }
}

/// The covers of a slot in sets that may have, and dislike, the same options of an element.
fn alike(slot: &Slot<'_>, element: &Elem) -> Vec<CoverSet> {
    let mut sets: BTreeMap<Vec<(bool, bool)>, CoverSet> = BTreeMap::new();
    for cover in 0..slot.covers.len() {
        let has = |set: CoverSet| set & (1 << cover) != 0;
        let options = element.options.iter();
        let profile = options.map(|option| (has(option.allowed), has(option.disliked)));
        *sets.entry(profile.collect()).or_default() |= 1 << cover;
    }
    sets.into_values().collect()
}

/// Whether an option can come from a lot in the house, and whether it can come from elsewhere.
fn ways(slot: &Slot<'_>, option: &Opt) -> Vec<bool> {
    match option.thing {
        Thing::Bought(_) => vec![false],
        Thing::Made(comp) => {
            let mut ways = Vec::with_capacity(2);
            if !slot.supplies[comp].is_empty() {
                ways.push(false);
            }
            if !slot.stored[comp].is_empty() {
                ways.push(true);
            }
            ways
        }
    }
}
