//! The kitchen: which components are cooked when and how much, what the sittings have of them, and what a session, the
//! fridge and the freezer can take.

use std::collections::BTreeMap;

use larderwright_model::{Fate, Need};
use larderwright_quantity::{Mass, Rounding, mul_div};

use super::shares::{Shares, WHOLE};
use super::{Key, Take, Week, cost_of};
use crate::menu::cost::{BATCH, FINE, FROZEN, batch_size, lost_per_kg};
use crate::menu::problem::{Opt, Slot, Thing};
use crate::menu::stores::spoilt_per_kg;

/// What a slot may have of a component from sessions.
#[derive(Default)]
struct Wanted {
    /// Columns with thousandths of a milligram for each unit.
    terms: Vec<(usize, i64)>,
    /// By candidate: the most it can take.
    most: BTreeMap<usize, i64>,
}

impl Week<'_, '_> {
    pub(super) fn kitchen(&mut self) {
        let wanted = self.wanted();
        self.setups(&wanted);
        let mut drawn = Drawn::default();
        for ((comp, slot), wanted) in &wanted {
            self.supply((*comp, *slot), wanted, &mut drawn);
        }
        self.shared();
        self.taken_along();
        self.batches(&drawn);
        self.sessions();
        self.room(&drawn);
        self.stores();
    }

    fn wanted(&self) -> BTreeMap<(usize, usize), Wanted> {
        let mut all: BTreeMap<(usize, usize), Wanted> = BTreeMap::new();
        for (take, part) in self.takes.iter().filter(|(take, _)| !take.stored) {
            let option = self.option(*take);
            let Thing::Made(comp) = option.thing else {
                continue;
            };
            let wanted = all.entry((comp, take.slot)).or_default();
            let portion = option.portion.mg();
            wanted.terms.push((part.column, portion * part.factor));
            *wanted.most.entry(take.candidate).or_default() +=
                mul_div(portion, self.factor(*take), 1000, Rounding::Up) + self.rounded_at(take.slot);
        }
        all
    }

    /// Milligrams that rounding may add to what a sitting has of a component: one for each helping.
    fn rounded_at(&self, slot: usize) -> i64 {
        2 * i64::try_from(self.problem.slots[slot].covers.len()).expect("a table seats few")
    }

    /// Whoever takes of a component from sessions needs it cooked in one that reaches the sitting.
    fn shared(&mut self) {
        let mut all: BTreeMap<usize, Shares> = BTreeMap::new();
        for (take, part) in self.takes.iter().filter(|(take, _)| !take.stored) {
            if let Thing::Made(comp) = self.option(*take).thing {
                all.entry(comp).or_default().add(*take, *part, self.factor(*take));
            }
        }
        for (comp, shares) in all {
            for slot in shares.slots() {
                let supplies = self.problem.slots[slot].supplies[comp].iter();
                let setups: Vec<(usize, i64)> = supplies
                    .filter_map(|(session, _)| Some((self.at(Key::Setup(comp, *session))?, -WHOLE)))
                    .collect();
                for mut terms in shares.sums(slot) {
                    terms.extend(&setups);
                    self.row("share", &terms, (None, Some(0)));
                }
            }
        }
    }

    /// What could be left out is not left out where something for it is cooked in time.
    fn taken_along(&mut self) {
        let problem = self.problem;
        for slot in &problem.slots {
            for comp in 0..problem.comps.len() {
                let mut terms = Vec::new();
                for &candidate in &slot.offering[comp] {
                    terms.extend(self.left_out(slot, candidate, comp));
                }
                if terms.is_empty() {
                    continue;
                }
                for (session, _) in &slot.supplies[comp] {
                    if let Some(setup) = self.at(Key::Setup(comp, *session)) {
                        let mut terms = terms.clone();
                        terms.push((setup, WHOLE));
                        self.row("along", &terms, (None, Some(WHOLE)));
                    }
                }
            }
        }
    }

    /// What some eaters leave out of an element of a candidate that a component could fill, as parts of a whole.
    fn left_out(&self, slot: &Slot<'_>, candidate: usize, comp: usize) -> Vec<(usize, i64)> {
        let meal = &slot.candidates[candidate];
        for (element, elem) in meal.elements.iter().enumerate() {
            let made = |option: &Opt| matches!(option.thing, Thing::Made(own) if own == comp);
            let Some(ix) = elem.options.iter().position(made) else {
                continue;
            };
            if elem.need != Need::Optional || meal.rules.iter().any(|rule| rule.contains(&(element, ix))) {
                continue;
            }
            let sets = self.alike[&(slot.index, candidate, element)].iter();
            let sets = sets.filter(|covers| elem.options[ix].allowed & **covers == **covers);
            let Some(covers) = sets.max_by_key(|covers| covers.count_ones()) else {
                continue;
            };
            let all: i64 = self.factors(slot.index, *covers).sum();
            let column = self
                .at(Key::Meal(slot.index, candidate))
                .expect("every candidate has a column");
            let mut terms = vec![(column, WHOLE)];
            let takes = self.takes.range(Take::all_of(slot.index, candidate));
            let own = takes.filter(|(take, _)| take.element == element && take.covers == *covers);
            terms.extend(own.map(|(_, part)| (part.column, -WHOLE * part.factor / all - 1)));
            return terms;
        }
        Vec::new()
    }

    /// Whether each component is cooked in each session, and how much of it.
    fn setups(&mut self, wanted: &BTreeMap<(usize, usize), Wanted>) {
        let problem = self.problem;
        for (comp_ix, comp) in problem.comps.iter().enumerate() {
            let mut setups = Vec::new();
            for session in 0..problem.snapshot.sessions.len() {
                let reached = wanted.iter().filter(|((comp, slot), _)| {
                    *comp == comp_ix
                        && problem.slots[*slot].supplies[comp_ix]
                            .iter()
                            .any(|(from, _)| *from == session)
                });
                let (most, rounded) = reached.fold((0, 1), |(most, rounded), ((_, slot), wanted)| {
                    (most + wanted.most(), rounded + self.rounded_at(*slot))
                });
                if most == 0 || !problem.fits[session][comp_ix] {
                    continue;
                }
                let lost = lost_per_kg(problem, comp_ix);
                let quicker = problem.weights.quicker;
                let step = comp.step.mg().max(1);
                let (fixed, per_kg) = (comp.hands.fixed, comp.hands.per_kg);
                let setup = cost_of(BATCH * FINE + fixed * quicker, 1)
                    - cost_of(quicker, 1000)
                    - cost_of(lost * rounded, 1_000_000)
                    - 2;
                let likely = comp.way.yields.likely.permille();
                let each = cost_of(per_kg * quicker * step, 1_000_000)
                    + cost_of(mul_div(lost, likely * step, 1_000_000, Rounding::Down), 1000);
                let most = batch_size(comp, most).mg().div_euclid(step);
                let least = mul_div(comp.min.mg(), 1, step, Rounding::Up);
                let setup = self.column(Key::Setup(comp_ix, session), setup, 1, true);
                let units = self.column(Key::Units(comp_ix, session), each, most.max(least), true);
                self.row("least", &[(units, 1), (setup, -least)], (Some(0), None));
                self.row("most", &[(units, 1), (setup, -most.max(least))], (None, Some(0)));
                setups.push((setup, -1));
            }
            if setups.len() > 1 {
                let cooked = self.column(Key::Cooked(comp_ix), 0, 1, true);
                setups.push((cooked, 1));
                self.row("some_session", &setups, (None, Some(0)));
            }
        }
    }

    /// What a sitting has of a component from sessions is cooked there. Where one session reaches it there is nothing to
    /// share out, and what the plates take is drawn from its batch.
    fn supply(&mut self, (comp, slot): (usize, usize), wanted: &Wanted, drawn: &mut Drawn) {
        let problem = self.problem;
        let lost = lost_per_kg(problem, comp);
        let most = wanted.most();
        let cost = |fate: Fate| {
            let frozen = if fate == Fate::Freezer {
                cost_of(FROZEN * FINE, most.max(1))
            } else {
                0
            };
            (frozen, cost_of(-lost, 1_000_000))
        };
        let supplies = problem.slots[slot].supplies[comp].iter();
        let supplies: Vec<(usize, Fate, usize)> = supplies
            .filter_map(|&(session, fate)| Some((session, fate, self.at(Key::Setup(comp, session))?)))
            .collect();
        if let [(session, fate, _)] = supplies.as_slice() {
            for (column, mass) in &wanted.terms {
                let frozen = if *fate == Fate::Freezer { FROZEN * FINE } else { 0 };
                let own = cost_of(frozen * mass, most.max(1) * 1000);
                self.programme.columns[*column].cost += own + cost_of(-lost * mass, 1_000_000_000);
                drawn.add((comp, *session, *fate), (*column, *mass));
            }
            return;
        }
        let mut flows = Vec::new();
        for (session, fate, setup) in supplies {
            let (frozen, spare) = cost(fate);
            let flow = self.column(Key::Flow(comp, session, slot), frozen + spare, most, false);
            self.row("cooked", &[(flow, 1), (setup, -most)], (None, Some(0)));
            flows.push((flow, 1000));
            drawn.add((comp, session, fate), (flow, 1000));
        }
        let mut terms = flows;
        terms.extend(wanted.terms.iter().map(|(column, mass)| (*column, -mass)));
        self.row("served", &terms, (Some(0), Some(1000 * self.rounded_at(slot))));
    }

    /// A batch yields what is eaten of it.
    fn batches(&mut self, drawn: &Drawn) {
        let problem = self.problem;
        for (comp_ix, comp) in problem.comps.iter().enumerate() {
            for session in 0..problem.snapshot.sessions.len() {
                let Some(units) = self.at(Key::Units(comp_ix, session)) else {
                    continue;
                };
                let mut terms = drawn.of(comp_ix, session, Fate::Fridge).to_vec();
                terms.extend(drawn.of(comp_ix, session, Fate::Freezer));
                terms.push((units, -comp.cautious() * comp.step.mg()));
                self.row("yield", &terms, (None, Some(0)));
            }
        }
    }

    /// Hands, oven, burners and the number of components of each session.
    fn sessions(&mut self) {
        let problem = self.problem;
        let wishes = &problem.snapshot.household.wishes;
        let most = i64::try_from(wishes.components_max).unwrap_or(i64::MAX);
        let slack = i64::try_from(problem.comps.len()).unwrap_or(i64::MAX) * 1000;
        for (session, capacity) in problem.capacities.iter().enumerate() {
            let mut rows: [Vec<(usize, i64)>; 4] = Default::default();
            for (comp_ix, comp) in problem.comps.iter().enumerate() {
                let (Some(setup), Some(units)) = (
                    self.at(Key::Setup(comp_ix, session)),
                    self.at(Key::Units(comp_ix, session)),
                ) else {
                    continue;
                };
                for (terms, line) in rows.iter_mut().zip([comp.hands, comp.oven, comp.burner]) {
                    terms.push((setup, line.fixed * 1_000_000));
                    terms.push((units, line.per_kg * comp.step.mg()));
                }
                rows[3].push((setup, 1));
            }
            let rooms =
                [capacity.hands, capacity.oven, capacity.burners].map(|room| room * 1_000_000 + slack);
            for ((terms, word), room) in rows.iter().zip(["hands", "oven", "burners"]).zip(rooms) {
                self.row(word, terms, (None, Some(room)));
            }
            self.row("components", &rows[3], (None, Some(most)));
        }
    }

    /// Room in the fridge for what each session chills, and in the freezer for everything.
    fn room(&mut self, drawn: &Drawn) {
        let problem = self.problem;
        let mut freezer = Vec::new();
        for session in 0..problem.snapshot.sessions.len() {
            let mut fridge = Vec::new();
            for (comp_ix, comp) in problem.comps.iter().enumerate() {
                let density = comp.component.bulk.value.g_per_l().max(1);
                // Thousandths of a microlitre.
                let volume = |terms: &[(usize, i64)]| -> Vec<(usize, i64)> {
                    terms
                        .iter()
                        .map(|(column, mass)| (*column, mass * 1000 / density))
                        .collect()
                };
                fridge.extend(volume(drawn.of(comp_ix, session, Fate::Fridge)));
                freezer.extend(volume(drawn.of(comp_ix, session, Fate::Freezer)));
            }
            self.row("fridge", &fridge, (None, Some(problem.fridge * 1000)));
        }
        self.row("freezer", &freezer, (None, Some(problem.freezer * 1000)));
    }

    /// What is in the house: no more is eaten than there is, and what is not eaten of it in time spoils.
    fn stores(&mut self) {
        let problem = self.problem;
        let mut eaten: BTreeMap<usize, [Vec<(usize, i64)>; 2]> = BTreeMap::new();
        for (take, part) in self.takes.iter().filter(|(take, _)| take.stored) {
            let Thing::Made(comp) = self.option(*take).thing else {
                continue;
            };
            let [least, most] = self.rates(*take);
            let terms = eaten.entry(comp).or_default();
            terms[0].push((part.column, least * part.factor));
            terms[1].push((part.column, most * part.factor));
        }
        let mass = |lot: usize| problem.snapshot.lots[lot].mass;
        for comp in 0..problem.comps.len() {
            let lots = || {
                problem
                    .stores
                    .lots
                    .iter()
                    .filter(move |(_, of)| *of == comp)
                    .map(|(lot, _)| *lot)
            };
            let all: Mass = lots().map(mass).fold(Mass::ZERO, |sum, mass| sum + mass);
            let chilled =
                lots().filter(|lot| problem.snapshot.lots[*lot].place == larderwright_model::Place::Fridge);
            let chilled: i64 = chilled.map(|lot| mass(lot).mg()).sum();
            let [least, most] = eaten.remove(&comp).unwrap_or_default();
            if !least.is_empty() {
                self.row("in_house", &least, (None, Some(all.mg() * 1000)));
            }
            if chilled > 0 {
                let cost = cost_of(spoilt_per_kg(problem, comp), 1_000_000_000);
                let spoilt = self.column(Key::Spoilt(comp), cost, chilled * 1000, false);
                let mut terms = most;
                terms.push((spoilt, 1));
                self.row("spoils", &terms, (Some(chilled * 1000), None));
                self.follows(spoilt);
            }
        }
    }

    /// The least and the most that a class eats of an option for each thousandth of appetite, in thousandths of a
    /// milligram.
    fn rates(&self, take: Take) -> [i64; 2] {
        let (slot, option) = (&self.problem.slots[take.slot], self.option(take));
        let here = (0..slot.covers.len()).filter(|cover| take.covers & (1 << cover) != 0);
        let rate = |cover: usize, rounding| {
            mul_div(option.masses[cover], 1000, slot.factors[cover].max(1), rounding)
        };
        [
            here.clone()
                .map(|cover| rate(cover, Rounding::Down))
                .min()
                .unwrap_or(0),
            here.map(|cover| rate(cover, Rounding::Up)).max().unwrap_or(0),
        ]
    }
}

/// What is drawn from each batch: by component, session and fate, columns with thousandths of a milligram.
#[derive(Default)]
struct Drawn {
    by: BTreeMap<(usize, usize, Fate), Vec<(usize, i64)>>,
}

impl Drawn {
    fn add(&mut self, batch: (usize, usize, Fate), term: (usize, i64)) {
        self.by.entry(batch).or_default().push(term);
    }

    fn of(&self, comp: usize, session: usize, fate: Fate) -> &[(usize, i64)] {
        self.by.get(&(comp, session, fate)).map_or(&[], Vec::as_slice)
    }
}

impl Wanted {
    fn most(&self) -> i64 {
        self.most.values().max().copied().unwrap_or(0)
    }
}
