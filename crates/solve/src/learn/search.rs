//! Deciding, learning, restarting, forgetting.

use super::domain::Lit;
use super::solver::Solver;
use super::state::{Clash, Reason};

/// How a search ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Verdict {
    /// Every variable has a value; it can be read until the next call.
    Found,
    /// There is no solution.
    Refuted,
    /// There is none under what was assumed.
    Untenable,
    /// The work ran out.
    Stopped,
}

/// Steps between two looks at the work.
const PACE: u32 = 8;

impl Solver {
    /// Searches for a solution under assumptions until the work counted since the solver was made reaches a
    /// limit. What is learnt stays true for later searches with other assumptions.
    pub(crate) fn search(&mut self, assumed: &[Lit], work_max: u64) -> Verdict {
        self.back_to(0);
        if self.patience == 0 {
            self.renew_patience();
        }
        let mut steps = 0;
        loop {
            if self.refuted {
                return Verdict::Refuted;
            }
            steps += 1;
            if steps % PACE == 0 && self.work() >= work_max {
                self.back_to(0);
                return Verdict::Stopped;
            }
            if self.propagate().is_err() {
                self.conflicts += 1;
                self.learn();
                continue;
            }
            if self.patience == 0 {
                self.restart();
                continue;
            }
            match self.next_decision(assumed) {
                Next::Untenable => {
                    self.back_to(0);
                    return Verdict::Untenable;
                }
                Next::Done => return Verdict::Found,
                Next::Decide(lit) => {
                    self.facts.state.decide();
                    let open = self.facts.state.raise(lit, Reason::Given);
                    debug_assert!(open.is_ok(), "what is decided was open");
                }
                Next::Holds => self.facts.state.decide(),
            }
        }
    }

    /// The value of every variable after a search that found a solution.
    pub(crate) fn values(&self) -> Vec<i32> {
        let sides = (0..self.facts.state.var_count()).map(|var| 2 * var);
        sides
            .map(|side| self.facts.state.bound(super::domain::Side::of_index(side)))
            .collect()
    }

    fn learn(&mut self) {
        let state = &self.facts.state;
        let places = self
            .conflict
            .iter()
            .filter_map(|lit| state.place_above_root(*lit));
        // A rule that ran late may have found a conflict that lies below the newest level.
        let Some(newest) = places.max() else {
            self.refuted = true;
            return;
        };
        let level = state.level_of(newest);
        self.back_to(level);
        let conflict = std::mem::take(&mut self.conflict);
        let lesson = self
            .analysis
            .learn(&mut self.facts, &mut self.activity, &conflict);
        self.conflict = conflict;
        self.activity.age();
        self.facts.clauses.age();
        self.patience = self.patience.saturating_sub(1);
        #[cfg(test)]
        self.check_witness(&lesson.clause);
        self.back_to(lesson.level);
        let reason = if lesson.clause.len() > 1 {
            Reason::Clause(self.facts.clauses.add(&lesson.clause, lesson.spread))
        } else {
            Reason::Given
        };
        if let Err(Clash) = self.facts.state.raise(lesson.clause[0], reason) {
            self.refuted = true;
        }
    }

    fn restart(&mut self) {
        self.renew_patience();
        self.back_to(0);
        if self.facts.clauses.learnt_count() > self.taste.clauses_max {
            let state = &self.facts.state;
            self.facts
                .clauses
                .reduce(|lits| lits.iter().any(|lit| state.is_true(*lit)));
            self.taste.clauses_max += self.taste.clauses_max / 20 + 1;
        }
    }

    fn renew_patience(&mut self) {
        self.restarts += 1;
        self.patience = self.taste.restart * luby(self.restarts);
    }

    fn next_decision(&mut self, assumed: &[Lit]) -> Next {
        if let Some(lit) = assumed.get(self.facts.state.level()) {
            let state = &self.facts.state;
            return match (state.is_true(*lit), state.is_false(*lit)) {
                (true, _) => Next::Holds,
                (_, true) => Next::Untenable,
                _ => Next::Decide(*lit),
            };
        }
        // Before anything is known, schedule as early as can be; later, follow the conflicts.
        if (self.wishes.is_some() || self.restarts > 1)
            && let Some((var, value)) = self.activity.next(&self.facts.state)
        {
            let wishes = self.wishes.as_ref();
            let wished = wishes.is_some_and(|wishes| wishes[var.index()] >= value);
            return Next::Decide(if wished {
                var.at_least(value)
            } else {
                var.at_most(value - 1)
            });
        }
        self.soonest()
    }

    /// The variable in the order, then any, with the least lower bound is put there.
    fn soonest(&mut self) -> Next {
        let state = &mut self.facts.state;
        state.work += self.order.len() as u64 / 4;
        let open = self
            .order
            .iter()
            .filter(|var| state.least(**var) < state.most(**var));
        let soonest = open.min_by_key(|var| (state.least(**var), state.most(**var), **var));
        if let Some(var) = soonest {
            return Next::Decide(var.at_most(state.least(*var)));
        }
        let rest = (0..state.var_count()).map(|var| super::domain::Side::of_index(2 * var).var());
        let mut open = rest.filter(|var| state.least(*var) < state.most(*var));
        open.next()
            .map_or(Next::Done, |var| Next::Decide(var.at_most(state.least(var))))
    }
}

enum Next {
    Done,
    Holds,
    Untenable,
    Decide(Lit),
}

/// 1, 1, 2, 1, 1, 2, 4, ...: Luby, Sinclair and Zuckerman, "Optimal speedup of Las Vegas algorithms" (1993).
fn luby(place: u64) -> u64 {
    let mut place = place;
    loop {
        let size = place.ilog2() + 1;
        if place + 1 == 1 << size {
            return 1 << (size - 1);
        }
        place -= (1 << (size - 1)) - 1;
    }
}

#[cfg(test)]
mod tests {
    use super::luby;

    #[test]
    fn restarts_follow_the_published_sequence() {
        let first: Vec<u64> = (1..=15).map(luby).collect();
        assert_eq!(first, [1, 1, 2, 1, 1, 2, 4, 1, 1, 2, 1, 1, 2, 4, 8]);
    }
}
