//! Of each group exactly one statement is true, and each has its price; together they cost at most so much.
//!
//! A group costs at least what the cheapest of its statements that may still be true costs. Where that is
//! too much in sum there is a conflict; where it leaves too little for a statement, that one is false. A
//! group's price is explained by its cheaper statements being false; what is not needed is left out.
//!
//! That exactly one statement of each group is true is for others to see to. Cost: the number of statements.

use super::domain::{Lit, Side};
use super::solver::Rule;
use super::state::{Clash, State};

#[derive(Debug)]
pub(crate) struct Choice {
    /// By rising price within a group.
    groups: Vec<Vec<(i64, Lit)>>,
    most: i64,
    /// By group, what it costs at least.
    least: Vec<i64>,
    grounds: Vec<Lit>,
}

impl Choice {
    /// No group may be empty; prices are not negative.
    pub(crate) fn new(mut groups: Vec<Vec<(i64, Lit)>>, most: i64) -> Self {
        groups
            .iter_mut()
            .for_each(|group| group.sort_by_key(|(price, _)| *price));
        Self {
            least: vec![0; groups.len()],
            groups,
            most,
            grounds: Vec::new(),
        }
    }

    fn price(state: &State, group: &[(i64, Lit)]) -> i64 {
        let open = group.iter().find(|(_, lit)| !state.is_false(*lit));
        // With no statement left others find the conflict; the dearest is then a price that can be explained.
        open.or(group.last()).map_or(0, |(price, _)| *price)
    }

    /// Why groups other than `skip` cost what they do, less what is spare.
    fn explain(&mut self, skip: Option<usize>, mut spare: i64) {
        self.grounds.clear();
        for (at, group) in self.groups.iter().enumerate() {
            if Some(at) == skip {
                continue;
            }
            let least = self.least[at];
            let prices = group.iter().map(|(price, _)| *price);
            let enough = prices
                .filter(|price| *price <= least && least - price <= spare)
                .min();
            let enough = enough.unwrap_or(least);
            spare -= least - enough;
            let cheaper = group.iter().filter(|(price, _)| *price < enough);
            self.grounds.extend(cheaper.map(|(_, lit)| lit.negated()));
        }
    }
}

impl Rule for Choice {
    fn sides(&self) -> Vec<Side> {
        let lits = self.groups.iter().flatten();
        lits.map(|(_, lit)| lit.side.opposite()).collect()
    }

    fn rank(&self) -> usize {
        0
    }

    fn run(&mut self, state: &mut State) -> Result<(), Clash> {
        state.work += self.groups.len() as u64;
        for (least, group) in self.least.iter_mut().zip(&self.groups) {
            *least = Self::price(state, group);
        }
        let room = self.most - self.least.iter().sum::<i64>();
        if room < 0 {
            self.explain(None, -room - 1);
            return state.fail(&self.grounds);
        }
        for at in 0..self.groups.len() {
            let least = self.least[at];
            for place in (0..self.groups[at].len()).rev() {
                let (price, lit) = self.groups[at][place];
                let excess = price - least - room;
                if excess <= 0 {
                    break;
                }
                if !state.is_false(lit) {
                    self.explain(Some(at), excess - 1);
                    state.post(lit.negated(), &self.grounds)?;
                }
            }
        }
        Ok(())
    }
}
