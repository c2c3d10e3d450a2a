//! Learning from a conflict: the first unique implication point, and a shorter clause that is still sound.
//!
//! After Marques-Silva and Sakallah, "GRASP" (1999), on bounds as in Feydy and Stuckey (2009). Statements
//! gathered so far are kept as one value per side, the strongest asked for.
//!
//! Shortening drops a statement whose grounds are all covered: true from the start, or implied by another
//! gathered statement. A covering statement may be stronger than the ground asks, hence *later* on the trail
//! than what is dropped, and may rest on it; dropping both would be circular. So it must lie earlier. By
//! induction along the trail the statements that are kept then imply all that were dropped.

use super::activity::Activity;
use super::domain::{Lit, Side};
use super::facts::Facts;
use super::state::Reason;

/// How many steps back the grounds of a statement are followed when it might be dropped.
const DEPTH: u32 = 2;

#[derive(Debug, Default)]
pub(super) struct Analysis {
    /// By side, the value gathered.
    gathered: Vec<Option<i32>>,
    /// Sides that were ever gathered in this analysis.
    met: Vec<Side>,
    /// Statements of the newest level among the gathered.
    open: usize,
    grounds: Vec<Lit>,
}

/// What a conflict taught.
#[derive(Debug)]
pub(super) struct Lesson {
    /// A clause whose first statement follows at `level`; the second is false there, if there is one.
    pub(super) clause: Vec<Lit>,
    pub(super) level: usize,
    /// The number of levels among its statements.
    pub(super) spread: u32,
}

impl Analysis {
    pub(super) fn add_side_pair(&mut self) {
        self.gathered.extend([None, None]);
    }

    /// Learns from statements that are true and cannot all be, at least one of them of the newest level.
    pub(super) fn learn(&mut self, facts: &mut Facts, activity: &mut Activity, conflict: &[Lit]) -> Lesson {
        self.open = 0;
        conflict.iter().for_each(|lit| self.gather(facts, activity, *lit));
        let mut at = facts.state.trail.len();
        let point = loop {
            at -= 1;
            let entry = facts.state.trail[at];
            let Some(value) = self.gathered[entry.side.index()] else {
                continue;
            };
            if value <= entry.old || entry.new < value {
                continue;
            }
            if self.open == 1 {
                break Lit {
                    side: entry.side,
                    value,
                };
            }
            self.gathered[entry.side.index()] = None;
            self.open -= 1;
            if let Reason::Clause(clause) = entry.reason {
                facts.clauses.bump(clause);
            }
            let mut grounds = std::mem::take(&mut self.grounds);
            grounds.clear();
            facts.explain(&entry, value, &mut grounds);
            facts.state.work += grounds.len() as u64;
            grounds.iter().for_each(|lit| self.gather(facts, activity, *lit));
            self.grounds = grounds;
        };
        self.conclude(facts, point)
    }

    fn gather(&mut self, facts: &Facts, activity: &mut Activity, lit: Lit) {
        let Some(place) = facts.state.place_above_root(lit) else {
            return;
        };
        let begin = facts.state.level_begin();
        let held = self.gathered[lit.side.index()];
        if held.is_some_and(|held| held >= lit.value) {
            return;
        }
        activity.bump(lit);
        let was_open = held.is_some_and(|held| self.place(facts, lit.side, held) >= begin);
        if held.is_none() {
            self.met.push(lit.side);
        }
        self.open += usize::from(place >= begin && !was_open);
        self.gathered[lit.side.index()] = Some(lit.value);
    }

    fn place(&self, facts: &Facts, side: Side, value: i32) -> usize {
        let place = facts.state.place_above_root(Lit { side, value });
        place.expect("what is gathered became true after the first decision")
    }

    fn conclude(&mut self, facts: &mut Facts, point: Lit) -> Lesson {
        let mut sides = std::mem::take(&mut self.met);
        sides.sort_unstable();
        sides.dedup();
        let mut clause = vec![point.negated()];
        let mut levels = vec![facts.state.level()];
        let mut steps = 0;
        for &side in &sides {
            let Some(value) = self.gathered[side.index()].filter(|_| side != point.side) else {
                continue;
            };
            let lit = Lit { side, value };
            if self.is_implied(facts, lit, DEPTH, &mut steps) {
                continue;
            }
            clause.push(lit.negated());
            levels.push(facts.state.level_of(self.place(facts, side, value)));
        }
        facts.state.work += steps;
        sides.iter().for_each(|side| self.gathered[side.index()] = None);
        sides.clear();
        self.met = sides;
        let second = (1..clause.len()).max_by_key(|at| (levels[*at], std::cmp::Reverse(*at)));
        if let Some(second) = second {
            clause.swap(1, second);
            levels.swap(1, second);
        }
        let level = levels.get(1).copied().unwrap_or(0);
        levels.sort_unstable();
        levels.dedup();
        Lesson {
            clause,
            level,
            spread: u32::try_from(levels.len()).expect("levels are fewer than 2^32"),
        }
    }

    /// Whether a true statement follows from gathered statements that lie earlier on the trail.
    fn is_implied(&self, facts: &Facts, lit: Lit, depth: u32, steps: &mut u64) -> bool {
        let Some(place) = facts.state.place_above_root(lit) else {
            return true;
        };
        let entry = facts.state.trail[place];
        if entry.reason == Reason::Given || depth == 0 {
            return false;
        }
        *steps += 1;
        let mut grounds = Vec::new();
        facts.explain(&entry, lit.value, &mut grounds);
        grounds.iter().all(|ground| {
            let Some(own) = facts.state.place_above_root(*ground) else {
                return true;
            };
            debug_assert!(own < place, "grounds are true before what they imply");
            self.covers(facts, *ground, place) || self.is_implied(facts, *ground, depth - 1, steps)
        })
    }

    /// Whether a gathered statement implies this one and lies before a place on the trail.
    fn covers(&self, facts: &Facts, lit: Lit, before: usize) -> bool {
        let held = self.gathered[lit.side.index()].filter(|held| *held >= lit.value);
        held.is_some_and(|held| self.place(facts, lit.side, held) < before)
    }
}
