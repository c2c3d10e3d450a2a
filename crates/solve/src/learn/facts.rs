//! What the kernel reasons with: the state, the clauses, and the arcs; and the grounds of everything derived.

use super::clause::Clauses;
use super::domain::{Lit, Side, Var};
use super::state::{Clash, Entry, Reason, State};

/// While the condition holds, the bound of `to` is at least that of `from` plus `add`.
#[derive(Clone, Copy, Debug)]
struct Arc {
    from: Side,
    to: Side,
    add: i32,
    condition: Option<Lit>,
}

#[derive(Debug, Default)]
pub(super) struct Facts {
    pub(super) state: State,
    pub(super) clauses: Clauses,
    arcs: Vec<Arc>,
    /// By side, the arcs that start there and those whose condition it can make true.
    leaving: Vec<Vec<u32>>,
    conditional: Vec<Vec<u32>>,
}

impl Facts {
    pub(super) fn add_var(&mut self, least: i32, most: i32) -> Var {
        self.clauses.add_side_pair();
        for lists in [&mut self.leaving, &mut self.conditional] {
            lists.extend([Vec::new(), Vec::new()]);
        }
        self.state.add(least, most)
    }

    /// `later >= sooner + add` while the condition holds; its contradiction refutes the condition.
    pub(super) fn add_arc(&mut self, sooner: Var, later: Var, add: i32, condition: Option<Lit>) {
        for (from, to) in [(sooner.lower(), later.lower()), (later.upper(), sooner.upper())] {
            let number = u32::try_from(self.arcs.len()).expect("arcs are fewer than 2^32");
            self.arcs.push(Arc {
                from,
                to,
                add,
                condition,
            });
            self.leaving[from.index()].push(number);
            if let Some(lit) = condition {
                self.conditional[lit.side.index()].push(number);
            }
        }
    }

    pub(super) fn run_all_arcs(&mut self) -> Result<(), Clash> {
        (0..).take(self.arcs.len()).try_for_each(|arc| self.run_arc(arc))
    }

    pub(super) fn run_arcs(&mut self, entry: Entry) -> Result<(), Clash> {
        let side = entry.side.index();
        self.state.work += 2 + self.leaving[side].len() as u64;
        for at in 0..self.leaving[side].len() {
            self.run_arc(self.leaving[side][at])?;
        }
        for at in 0..self.conditional[side].len() {
            self.run_arc(self.conditional[side][at])?;
        }
        Ok(())
    }

    fn run_arc(&mut self, number: u32) -> Result<(), Clash> {
        let arc = self.arcs[number as usize];
        let state = &mut self.state;
        let value = state.bound(arc.from) + arc.add;
        if state.bound(arc.to) >= value {
            return Ok(());
        }
        let lit = Lit { side: arc.to, value };
        match arc.condition {
            Some(condition) if state.is_false(condition) => Ok(()),
            Some(condition) if !state.is_true(condition) => {
                if !state.is_false(lit) {
                    return Ok(());
                }
                let limit = -state.bound(arc.to.opposite());
                let grounds = [
                    Lit {
                        side: arc.from,
                        value: limit + 1 - arc.add,
                    },
                    Lit {
                        side: arc.to.opposite(),
                        value: -limit,
                    },
                ];
                state.post(condition.negated(), &grounds)
            }
            _ => state.raise(lit, Reason::Arc(number)),
        }
    }

    /// Follows the clauses that an entry concerns.
    ///
    /// # Errors
    /// A clause of which no statement is left; its negated statements are then in `grounds`.
    pub(super) fn run_clauses(&mut self, entry: Entry, grounds: &mut Vec<Lit>) -> Result<(), Clash> {
        let side = entry.side.index();
        let mut watches = std::mem::take(&mut self.clauses.watches[side]);
        self.state.work += watches.len() as u64 / 4;
        let mut outcome = Ok(());
        watches.retain_mut(|watch| {
            // A value at or below the old bound was dealt with when the bound reached it.
            let concerned = entry.old < watch.value && watch.value <= entry.new;
            if !concerned || outcome.is_err() || self.state.is_true(watch.other) {
                return true;
            }
            let watched = Lit {
                side: entry.side,
                value: watch.value,
            };
            match self.revise(watch.clause, watched.negated()) {
                Step::Moved => false,
                Step::Stays(other) => {
                    watch.other = other;
                    true
                }
                Step::Broken => {
                    grounds.clear();
                    grounds.extend(self.clauses.lits(watch.clause).iter().map(|lit| lit.negated()));
                    outcome = Err(Clash);
                    true
                }
            }
        });
        // Watches that moved to the same side meanwhile lie in the new list.
        watches.append(&mut self.clauses.watches[side]);
        self.clauses.watches[side] = watches;
        outcome
    }

    /// Looks for another statement to watch instead of one that has become false.
    fn revise(&mut self, clause: u32, fallen: Lit) -> Step {
        self.state.work += 1;
        let lits = self.clauses.lits_mut(clause);
        if lits[0] == fallen {
            lits.swap(0, 1);
        }
        debug_assert_eq!(lits[1], fallen, "a clause watches its first two statements");
        let other = lits[0];
        if self.state.is_true(other) {
            return Step::Stays(other);
        }
        let open = (2..lits.len()).find(|at| !self.state.is_false(lits[*at]));
        if let Some(at) = open {
            lits.swap(1, at);
            let watched = lits[1];
            self.clauses.watch(watched, clause, other);
            return Step::Moved;
        }
        match self.state.raise(other, Reason::Clause(clause)) {
            Ok(()) => Step::Stays(other),
            Err(Clash) => Step::Broken,
        }
    }

    /// Appends what, being true before the entry, makes its side at least `value`.
    pub(super) fn explain(&self, entry: &Entry, value: i32, grounds: &mut Vec<Lit>) {
        debug_assert!(
            entry.old < value && value <= entry.new,
            "the entry made the value true"
        );
        match entry.reason {
            Reason::Given => {}
            Reason::Stored(from, count) => grounds.extend_from_slice(self.state.stored(from, count)),
            Reason::Arc(arc) => {
                let arc = &self.arcs[arc as usize];
                grounds.push(Lit {
                    side: arc.from,
                    value: value - arc.add,
                });
                grounds.extend(arc.condition);
            }
            Reason::Clause(clause) => {
                let implied = Lit {
                    side: entry.side,
                    value: entry.new,
                };
                let others = self.clauses.lits(clause).iter().filter(|lit| **lit != implied);
                grounds.extend(others.map(|lit| lit.negated()));
            }
        }
    }

    /// The grounds of crossing bounds: those of the entry that crossed, as weak as crossing needs, and the
    /// bound that stood opposite. Explaining from anything else would teach what is already known.
    pub(super) fn explain_crossing(&self, grounds: &mut Vec<Lit>) {
        let entry = *self
            .state
            .trail
            .last()
            .expect("the newest entry made the bounds cross");
        let opposite = entry.side.opposite();
        let bound = self.state.bound(opposite);
        grounds.clear();
        self.explain(&entry, 1 - bound, grounds);
        grounds.push(Lit {
            side: opposite,
            value: bound,
        });
    }
}

enum Step {
    Moved,
    Stays(Lit),
    Broken,
}
