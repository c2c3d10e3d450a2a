//! Sameness: meals and parts of the world that come again, dinners eaten lately, and what eaters tire of.

use std::collections::{BTreeMap, BTreeSet};

use super::shares::{Shares, WHOLE};
use super::{Key, Take, Week, cost_of};
use crate::menu::cost::FINE;
use crate::menu::problem::{PROTEIN_TIRES, Thing, is_main};
use crate::menu::variety::{AGAIN, BROKEN, LATELY, OF_DINNERS, RUNNING, occasion};

/// Times of one meal in a week that are told apart.
const TIMES: i64 = 3;

/// Where a meal may be had: slot, column.
type Places = Vec<(usize, usize)>;

impl Week<'_, '_> {
    pub(super) fn sameness(&mut self) {
        let mut meals: BTreeMap<&str, Places> = BTreeMap::new();
        let problem = self.problem;
        for slot in &problem.slots {
            for (ix, candidate) in slot.candidates.iter().enumerate() {
                let column = self
                    .at(Key::Meal(slot.index, ix))
                    .expect("every candidate has a column");
                meals
                    .entry(candidate.meal.id.as_str())
                    .or_default()
                    .push((slot.index, column));
            }
        }
        self.there = self.there();
        for places in meals.values() {
            self.again(places);
        }
        self.running();
        self.lately(&meals);
        self.tired();
    }

    fn main(&self, slot: usize) -> bool {
        is_main(occasion(self.problem, &self.problem.slots[slot]))
    }

    /// The same meal twice: the second time costs once, the third twice as much more.
    fn again(&mut self, places: &Places) {
        let problem = self.problem;
        self.times(places, AGAIN.0 / 2);
        let mut by: BTreeMap<_, Places> = BTreeMap::new();
        for place in places {
            by.entry(occasion(problem, &problem.slots[place.0]))
                .or_default()
                .push(*place);
        }
        for (occasion, places) in by {
            let first = self.excesses.len();
            let company = |slot: usize| problem.slots[slot].company;
            let together = places.iter().all(|one| {
                places
                    .iter()
                    .all(|other| one == other || company(one.0) & company(other.0) != 0)
            });
            let alike = if is_main(occasion) && together {
                BROKEN - AGAIN.0 / 2
            } else {
                AGAIN.0 / 2
            };
            self.times(&places, alike);
            let again = self.at(Key::Excess(first));
            self.ingredients(&places, again);
        }
        for (at, one) in places.iter().enumerate() {
            for other in &places[..at] {
                let apart = problem.slots[one.0].day - problem.slots[other.0].day;
                let mains = self.main(one.0) && self.main(other.0);
                if apart <= 1 && !mains {
                    self.excess(&[(one.1, 1), (other.1, 1)], 1, (cost_of(AGAIN.1 * FINE, 1), 1));
                }
            }
        }
    }

    /// A meal is eaten no oftener than what it is made of is there, but for the times that are paid for as repeated.
    fn ingredients(&mut self, places: &Places, again: Option<usize>) {
        let there = self.there.clone();
        let mut items: BTreeMap<(usize, usize), Shares> = BTreeMap::new();
        for (slot, column) in places {
            let candidate = self.candidate(*slot, *column);
            let range = Take::all_of(*slot, candidate);
            for (take, part) in self.takes.range(range) {
                let item = self.option(*take).item;
                if there.contains_key(&item) {
                    items
                        .entry((take.element, item))
                        .or_default()
                        .add(*take, *part, self.factor(*take));
                }
            }
        }
        for ((_, item), shares) in items {
            let terms = places
                .iter()
                .filter_map(|(slot, column)| shares.surest(*slot, self.candidate(*slot, *column)));
            let mut terms: Vec<(usize, i64)> = terms.collect();
            if terms.len() < 2 {
                continue;
            }
            terms.push((there[&item], -WHOLE));
            terms.extend(again.map(|again| (again, -WHOLE)));
            self.row("made_of", &terms, (None, Some(0)));
        }
    }

    fn candidate(&self, slot: usize, column: usize) -> usize {
        let own = |ix: &usize| self.at(Key::Meal(slot, *ix)) == Some(column);
        let candidates = 0..self.problem.slots[slot].candidates.len();
        candidates.into_iter().find(own).expect("a column of a meal")
    }

    fn times(&mut self, places: &Places, points: i64) {
        let terms: Vec<(usize, i64)> = places.iter().map(|(_, column)| (*column, 1)).collect();
        let count = i64::try_from(places.len()).expect("a week has few sittings");
        for free in 1..=TIMES {
            self.excess(&terms, free, (cost_of(points * FINE, 1), count - free));
        }
    }

    /// Dinners on two evenings running of one part of the world, and of one kind.
    fn running(&mut self) {
        let problem = self.problem;
        for (at, slot) in problem.slots.iter().enumerate() {
            for before in problem.slots[..at]
                .iter()
                .filter(|before| before.day == slot.day - 1)
            {
                if !self.main(at) || !self.main(before.index) {
                    continue;
                }
                let mut cuisines: BTreeMap<&str, Vec<(usize, i64)>> = BTreeMap::new();
                let mut kinds = cuisines.clone();
                for slot in [before, slot] {
                    for (ix, candidate) in slot.candidates.iter().enumerate() {
                        let column = self
                            .at(Key::Meal(slot.index, ix))
                            .expect("every candidate has a column");
                        cuisines
                            .entry(&candidate.meal.cuisine)
                            .or_default()
                            .push((column, 1));
                        kinds.entry(&candidate.meal.kind).or_default().push((column, 1));
                    }
                }
                for (groups, points) in [(cuisines, RUNNING.0), (kinds, RUNNING.1)] {
                    for terms in groups.values() {
                        self.excess(terms, 1, (cost_of(points * FINE, 1), 1));
                    }
                }
            }
        }
    }

    /// Dinners that were dinners lately.
    fn lately(&mut self, meals: &BTreeMap<&str, Places>) {
        let problem = self.problem;
        let mut eaten = Vec::new();
        for (number, places) in meals.values().enumerate() {
            let dinners: Vec<(usize, usize)> = places
                .iter()
                .filter(|(slot, _)| self.main(*slot))
                .copied()
                .collect();
            let recent = dinners.first().and_then(|(slot, column)| {
                let slot = &problem.slots[*slot];
                slot.candidates[self.candidate(slot.index, *column)].eaten
            });
            let Some(recent) = recent else {
                continue;
            };
            let cost = cost_of((LATELY + recent) * FINE, 1);
            let lately = self.column(Key::Lately(number), cost, 1, false);
            for (_, column) in dinners {
                self.row("lately", &[(lately, 1), (column, -1)], (Some(0), None));
                self.follows(lately);
            }
            eaten.push((lately, 1));
        }
        let dinners = (0..problem.slots.len()).filter(|slot| self.main(*slot)).count();
        let dinners = i64::try_from(dinners).expect("a week has few sittings");
        self.excess(&eaten, dinners / OF_DINNERS, (cost_of(BROKEN * FINE, 1), dinners));
    }

    /// What eaters have often: once again costs little, the third time tires, and so does a third protein of one group. What
    /// is free is free only of what there is.
    fn tired(&mut self) {
        let problem = self.problem;
        let mut items: BTreeMap<usize, Often> = BTreeMap::new();
        let mut groups: BTreeMap<usize, Often> = BTreeMap::new();
        for (take, part) in &self.takes {
            let slot = &problem.slots[take.slot];
            let element = &slot.candidates[take.candidate].elements[take.element];
            if element.tires == 0 {
                continue;
            }
            let item = element.options[take.option].item;
            let note = |often: &mut Often| {
                often.terms.push((part.column, part.factor));
                often.tires = often.tires.min(element.tires);
                often.slots.insert(take.slot);
                for (cover, seat) in slot.eaters.iter().enumerate() {
                    if take.covers & (1 << cover) != 0 {
                        often.seats.insert(*seat, slot.factors[cover].max(1));
                    }
                }
            };
            note(items.entry(item).or_default());
            if element.tires == PROTEIN_TIRES {
                note(groups.entry(problem.groups[item]).or_default());
            }
        }
        let there = self.there.clone();
        for (item, often) in &items {
            let there = there.get(item).copied();
            self.slopes(often, there, &[(1, 1), (2, often.tires), (3, often.tires)]);
        }
        for often in groups.values() {
            self.slopes(often, None, &[(2, 4), (3, 4), (4, 4)]);
        }
    }

    /// For each item the column that says whether it is there at all, unless it may be in the house.
    fn there(&self) -> BTreeMap<usize, usize> {
        let mut there = BTreeMap::new();
        let mut in_house = BTreeSet::new();
        for take in self.takes.keys() {
            let option = self.option(*take);
            let column = match option.thing {
                _ if take.stored || option.shelf.is_some() => None,
                Thing::Made(comp) => self.at(Key::Cooked(comp)).or_else(|| {
                    let sessions = 0..self.problem.snapshot.sessions.len();
                    sessions
                        .filter_map(|session| self.at(Key::Setup(comp, session)))
                        .next()
                }),
                Thing::Bought(_) => option.ware.and_then(|ware| self.at(Key::Listed(ware))),
            };
            match column {
                Some(column) => {
                    there.insert(option.item, column);
                }
                None => {
                    in_house.insert(option.item);
                }
            }
        }
        there.retain(|item, _| !in_house.contains(item));
        there
    }

    /// What is had more than so many times costs so many points more for each time and eater.
    fn slopes(&mut self, often: &Often, there: Option<usize>, slopes: &[(i64, i64)]) {
        let factor: i64 = often.seats.values().sum();
        let most = often.seats.values().max().copied().unwrap_or(1);
        let slots = i64::try_from(often.slots.len()).expect("a week has few sittings");
        for (free, points) in slopes {
            // An item may fill two elements of one meal.
            let times = 2 * slots - free;
            let mut terms = often.terms.clone();
            let mut rest = free * factor;
            if let Some(there) = there {
                terms.push((there, -rest));
                rest = 0;
            }
            self.excess(&terms, rest, (cost_of(points * FINE, most), times * factor));
        }
    }
}

/// Who may have an item or a group, where, and in which columns.
struct Often {
    terms: Vec<(usize, i64)>,
    tires: i64,
    slots: BTreeSet<usize>,
    /// Appetite by seat.
    seats: BTreeMap<usize, i64>,
}

impl Default for Often {
    fn default() -> Self {
        Self {
            terms: Vec::new(),
            tires: i64::MAX,
            slots: BTreeSet::new(),
            seats: BTreeMap::new(),
        }
    }
}
