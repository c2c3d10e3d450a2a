//! The kernel's surface: variables, clauses, arcs and rules go in; searches come out.

use super::activity::Activity;
use super::analyse::Analysis;
use super::domain::{Lit, Side, Var};
use super::facts::Facts;
use super::state::{Clash, Reason, State};

/// A constraint that derives bounds with grounds.
///
/// A rule keeps nothing that depends on bounds between runs unless it can tell that they are still the same.
pub(crate) trait Rule: std::fmt::Debug + Send {
    /// The sides whose rise wakes the rule.
    fn sides(&self) -> Vec<Side>;

    /// Rules of a lower rank run first; below [`RANKS`].
    fn rank(&self) -> usize;

    /// Derives what it can. Grounds must be true, and imply what is posted in every solution.
    ///
    /// # Errors
    /// If no solution is left.
    fn run(&mut self, state: &mut State) -> Result<(), Clash>;
}

pub(crate) const RANKS: usize = 4;

/// How a search decides.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Taste {
    /// Conflicts before the first restart; later ones follow Luby's sequence.
    pub(crate) restart: u64,
    /// Learnt clauses held before half of them are forgotten; grows a little each time.
    pub(crate) clauses_max: usize,
}

#[derive(Debug)]
pub(crate) struct Solver {
    pub(super) facts: Facts,
    pub(super) activity: Activity,
    pub(super) analysis: Analysis,
    pub(super) taste: Taste,
    rules: Vec<Box<dyn Rule>>,
    wakes: Vec<Vec<u32>>,
    queues: [Vec<u32>; RANKS],
    queued: Vec<bool>,
    /// Entries of the trail before this one have been followed up.
    head: usize,
    /// There is no solution whatever is decided.
    pub(super) refuted: bool,
    started: bool,
    /// By variable, the value to try first, once one is known.
    pub(super) wishes: Option<Vec<i32>>,
    /// The variables that are decided when no conflict says otherwise, soonest first.
    pub(super) order: Vec<Var>,
    pub(super) conflicts: u64,
    pub(super) restarts: u64,
    pub(super) patience: u64,
    pub(super) conflict: Vec<Lit>,
    /// A known solution that no clause may exclude.
    #[cfg(test)]
    witness: Option<Vec<i32>>,
}

impl Solver {
    pub(crate) fn new(taste: Taste) -> Self {
        Self {
            facts: Facts::default(),
            activity: Activity::new(),
            analysis: Analysis::default(),
            taste,
            rules: Vec::new(),
            wakes: Vec::new(),
            queues: Default::default(),
            queued: Vec::new(),
            head: 0,
            refuted: false,
            started: false,
            wishes: None,
            order: Vec::new(),
            conflicts: 0,
            restarts: 0,
            patience: 0,
            conflict: Vec::new(),
            #[cfg(test)]
            witness: None,
        }
    }

    /// A new variable; with `least > most` there is no solution.
    pub(crate) fn var(&mut self, least: i32, most: i32) -> Var {
        self.refuted |= least > most;
        self.activity.add_var();
        self.analysis.add_side_pair();
        self.wakes.extend([Vec::new(), Vec::new()]);
        self.facts.add_var(least, most.max(least))
    }

    pub(crate) fn state(&self) -> &State {
        &self.facts.state
    }

    pub(crate) fn work(&self) -> u64 {
        self.facts.state.work
    }

    pub(crate) fn set_order(&mut self, order: Vec<Var>) {
        self.order = order;
    }

    /// Values to try first, by variable.
    pub(crate) fn set_wishes(&mut self, wishes: Vec<i32>) {
        self.wishes = Some(wishes);
    }

    /// `later >= sooner + add` while the condition holds.
    pub(crate) fn arc(&mut self, sooner: Var, later: Var, add: i32, condition: Option<Lit>) {
        self.facts.add_arc(sooner, later, add, condition);
    }

    /// At least one of the statements is true. Only while no search is under way.
    pub(crate) fn clause(&mut self, lits: &[Lit]) {
        debug_assert_eq!(self.facts.state.level(), 0, "clauses are given before decisions");
        let state = &self.facts.state;
        if lits.iter().any(|lit| state.is_true(*lit)) {
            return;
        }
        let mut open: Vec<Lit> = lits.iter().copied().filter(|lit| !state.is_false(*lit)).collect();
        open.sort_unstable();
        open.dedup();
        match open[..] {
            [] => self.refuted = true,
            [only] => self.require(only),
            _ => {
                self.facts.clauses.add(&open, 0);
            }
        }
    }

    /// The statement is true in every solution wanted from here on. Ends the search under way.
    pub(crate) fn require(&mut self, lit: Lit) {
        self.back_to(0);
        #[cfg(test)]
        self.witness.take_if(|values| !lit.holds_for(values));
        if !self.refuted && self.facts.state.raise(lit, Reason::Given).is_err() {
            self.refuted = true;
        }
    }

    pub(crate) fn rule(&mut self, rule: impl Rule + 'static) {
        let number = u32::try_from(self.rules.len()).expect("rules are fewer than 2^32");
        let mut sides = rule.sides();
        sides.sort_unstable();
        sides.dedup();
        for side in sides {
            self.wakes[side.index()].push(number);
        }
        self.queues[rule.rank()].push(number);
        self.queued.push(true);
        self.rules.push(Box::new(rule));
    }

    /// Takes every decision back: the state then holds for all solutions.
    pub(crate) fn reset(&mut self) {
        self.back_to(0);
    }

    /// Takes everything back that was decided after a level.
    pub(super) fn back_to(&mut self, level: usize) {
        if self.facts.state.level() <= level {
            return;
        }
        while let Some(entry) = self.facts.state.take_back(level) {
            self.activity.reopen(&entry);
        }
        self.head = self.facts.state.trail.len();
        for number in self.queues.iter_mut().flat_map(|queue| queue.drain(..)) {
            self.queued[number as usize] = false;
        }
    }

    /// Derives all that follows without a decision.
    ///
    /// # Errors
    /// If something cannot be; `self.conflict` then holds true statements that cannot all be.
    pub(super) fn propagate(&mut self) -> Result<(), Clash> {
        if !std::mem::replace(&mut self.started, true) {
            self.noting_crossing(Facts::run_all_arcs)?;
        }
        loop {
            while let Some(entry) = self.facts.state.trail.get(self.head).copied() {
                self.head += 1;
                for &rule in &self.wakes[entry.side.index()] {
                    if !std::mem::replace(&mut self.queued[rule as usize], true) {
                        self.queues[self.rules[rule as usize].rank()].push(rule);
                    }
                }
                self.noting_crossing(|facts| facts.run_arcs(entry))?;
                self.facts.run_clauses(entry, &mut self.conflict)?;
            }
            let Some(next) = self.queues.iter_mut().find_map(Vec::pop) else {
                return Ok(());
            };
            self.queued[next as usize] = false;
            if self.rules[next as usize].run(&mut self.facts.state).is_err() {
                if self.facts.state.has_crossed() {
                    self.facts.explain_crossing(&mut self.conflict);
                } else {
                    self.conflict.clear();
                    self.conflict.extend_from_slice(self.facts.state.grounds());
                }
                return Err(Clash);
            }
        }
    }

    fn noting_crossing(&mut self, run: impl FnOnce(&mut Facts) -> Result<(), Clash>) -> Result<(), Clash> {
        run(&mut self.facts).inspect_err(|_| self.facts.explain_crossing(&mut self.conflict))
    }
}

#[cfg(test)]
impl Solver {
    /// Names a solution: every clause learnt is checked to be true for it.
    pub(crate) fn set_witness(&mut self, values: Vec<i32>) {
        self.witness = Some(values);
    }

    /// Excludes one solution.
    pub(super) fn exclude(&mut self, values: &[i32]) {
        self.back_to(0);
        let lits = values.iter().enumerate().flat_map(|(at, value)| {
            let var = Side::of_index(2 * at).var();
            [var.at_most(value - 1), var.at_least(value + 1)]
        });
        let lits: Vec<Lit> = lits.collect();
        self.clause(&lits);
    }

    pub(super) fn check_witness(&self, clause: &[Lit]) {
        if let Some(values) = &self.witness {
            assert!(
                clause.iter().any(|lit| lit.holds_for(values)),
                "a learnt clause excludes a known solution: {clause:?}"
            );
        }
    }
}
