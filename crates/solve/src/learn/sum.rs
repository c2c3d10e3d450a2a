//! A weighted sum of bounds is at most a variable.
//!
//! Each term is a side: the lower one stands for the variable, the upper one for its negative. Cost: the
//! number of terms, and its square where something is derived.

use super::domain::{Lit, Side, Var};
use super::solver::Rule;
use super::state::{Clash, State};

#[derive(Debug)]
pub(crate) struct Sum {
    /// Positive weights.
    terms: Vec<(Side, i64)>,
    constant: i64,
    total: Var,
    grounds: Vec<Lit>,
}

impl Sum {
    /// `total >= constant + sum of weight * side`. The sum must fit 32 bits at the least bounds.
    pub(crate) fn new(terms: Vec<(Side, i64)>, constant: i64, total: Var) -> Self {
        Self {
            terms,
            constant,
            total,
            grounds: Vec::new(),
        }
    }

    fn explain(&mut self, state: &State, skip: Option<usize>) {
        self.grounds.clear();
        for (at, (side, _)) in self.terms.iter().enumerate() {
            if Some(at) != skip {
                self.grounds.push(Lit {
                    side: *side,
                    value: state.bound(*side),
                });
            }
        }
    }
}

impl Rule for Sum {
    fn sides(&self) -> Vec<Side> {
        let terms = self.terms.iter().map(|(side, _)| *side);
        terms.chain([self.total.upper()]).collect()
    }

    fn rank(&self) -> usize {
        0
    }

    fn run(&mut self, state: &mut State) -> Result<(), Clash> {
        state.work += self.terms.len() as u64;
        let worth = |state: &State, (side, weight): &(Side, i64)| weight * i64::from(state.bound(*side));
        let least: i64 = self.constant + self.terms.iter().map(|term| worth(state, term)).sum::<i64>();
        if least > i64::from(state.least(self.total)) {
            self.explain(state, None);
            let least = i32::try_from(least).unwrap_or(i32::MAX / 2);
            state.post(self.total.at_least(least), &self.grounds)?;
        }
        let most = state.most(self.total);
        let room = i64::from(most) - least;
        for at in 0..self.terms.len() {
            let (side, weight) = self.terms[at];
            let limit = i64::from(state.bound(side)) + room.div_euclid(weight);
            let opposite = side.opposite();
            if limit < -i64::from(state.bound(opposite)) {
                self.explain(state, Some(at));
                self.grounds.push(self.total.at_most(most));
                let value = i32::try_from(-limit).expect("a limit inside the bounds fits");
                state.post(
                    Lit {
                        side: opposite,
                        value,
                    },
                    &self.grounds,
                )?;
            }
        }
        Ok(())
    }
}
