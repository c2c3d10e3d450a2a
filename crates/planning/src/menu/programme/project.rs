//! From a week that the search holds to its point in the programme.

use std::collections::BTreeMap;

use super::{Key, Take, Week};
use crate::menu::cost::{self, Part};
use crate::menu::problem::Thing;
use crate::menu::search::State;
use crate::menu::serving::{self, Source};

impl Week<'_, '_> {
    /// The point of a week.
    pub(in crate::menu) fn point(&self, state: &State) -> Vec<i64> {
        let mut values: BTreeMap<Key, i64> = BTreeMap::new();
        let problem = self.problem;
        for (slot, meal) in state.meals.iter().enumerate() {
            values.insert(Key::Meal(slot, *meal), 1);
        }
        serving::walk(problem, state, &mut |helping| {
            let slot = helping.slot;
            let candidate = state.meals[slot.index];
            let option = &slot.candidates[candidate].elements[helping.element].options[helping.option];
            for &covers in &self.alike[&(slot.index, candidate, helping.element)] {
                let factor: i64 = self.factors(slot.index, helping.covers & covers).sum();
                let take = Take {
                    slot: slot.index,
                    candidate,
                    element: helping.element,
                    option: helping.option,
                    covers,
                    stored: matches!(helping.source, Source::Store(_)),
                };
                if factor > 0 {
                    *values.entry(Key::Take(take)).or_default() += factor;
                }
            }
            if let (Thing::Made(comp), Source::Session(session, _)) = (&option.thing, helping.source) {
                *values.entry(Key::Flow(*comp, session, slot.index)).or_default() +=
                    cost::portions(slot, helping.covers, option.portion);
            }
        });
        cost::told(problem, state, &mut |part| match part {
            Part::Batch(comp, session, x) => {
                values.insert(Key::Setup(comp, session), 1);
                values.insert(Key::Cooked(comp), 1);
                let step = problem.comps[comp].step.mg().max(1);
                values.insert(Key::Units(comp, session), x.mg() / step);
            }
            Part::Bought(bought) => {
                let (ware, trip) = (bought.ware, bought.trip);
                values.insert(Key::Home(ware, trip), bought.home);
                if bought.mass > 0 {
                    values.insert(Key::Line(ware, trip), 1);
                    values.insert(Key::Listed(ware), 1);
                    let (pack, count) = problem.basket.wares()[ware].cover(bought.mass).unwrap_or((0, 0));
                    values.insert(Key::Packs(ware, trip, pack), count);
                    values.insert(Key::Covered(ware, trip, pack), bought.mass);
                }
            }
        });
        self.filled(&values)
    }

    /// One value for each column; what exceeds something follows from the rest.
    fn filled(&self, values: &BTreeMap<Key, i64>) -> Vec<i64> {
        let mut point = vec![0; self.programme.columns.len()];
        for (key, value) in values {
            if let Some(column) = self.at(*key) {
                point[column] = *value;
            }
        }
        for (column, row) in &self.follows {
            let row = &self.programme.rows[*row];
            let lacks = i128::from(row.least.unwrap_or(0)) - row.sum(&point);
            point[*column] += i64::try_from(lacks.max(0)).expect("a mass fits 64 bits");
        }
        for excess in &self.excesses {
            let sum: i64 = excess
                .terms
                .iter()
                .map(|(column, factor)| factor * point[*column])
                .sum();
            point[excess.column] = (sum - excess.free).max(0);
        }
        point
    }

    /// A fault in words, for tests.
    #[cfg(test)]
    pub(super) fn named(&self, fault: &larderwright_solve::linear::Fault) -> String {
        use larderwright_solve::linear::Fault;
        match fault {
            Fault::Column(ix, value) => {
                let column = &self.programme.columns[*ix];
                format!("{} is {value}, at most {}", column.name, column.upper)
            }
            Fault::Row(ix, sum) => {
                let row = &self.programme.rows[*ix];
                format!(
                    "{} is {sum}, between {:?} and {:?}",
                    row.name, row.least, row.most
                )
            }
        }
    }
}
