//! Small random puzzles, all solutions of which are found by trying every value. For tests only.

use super::choice::Choice;
use super::domain::{Lit, Side, Var};
use super::energy::Energy;
use super::item::Item;
use super::solver::{Solver, Taste};
use super::sum::Sum;
use super::timetable::Timetable;
use super::unary::Unary;
use crate::random::Random;

/// Which rules a puzzle holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    Timetable,
    Unary,
    /// Beside the timetable, which it needs.
    Energy,
    Sum,
    Choice,
    /// Clauses and arcs only.
    Plain,
    /// All of them at once.
    Mixed,
}

#[derive(Clone, Debug)]
pub(super) struct Puzzle {
    pub(super) domains: Vec<(i32, i32)>,
    arcs: Vec<(Var, Var, i32, Option<Lit>)>,
    clauses: Vec<Vec<Lit>>,
    timetables: Vec<(Vec<Item>, i32)>,
    unaries: Vec<Vec<Item>>,
    energies: Vec<(Vec<Item>, i32)>,
    sums: Vec<(Terms, i64, Var)>,
    choices: Vec<(Vec<Group>, i64)>,
}

/// Statements with their prices.
type Group = Vec<(i64, Lit)>;
/// Sides with their weights.
type Terms = Vec<(Side, i64)>;

const STARTS: usize = 4;
const SWITCHES: usize = 2;

impl Puzzle {
    pub(super) fn random(kind: Kind, random: &mut Random) -> Self {
        let mut puzzle = Self {
            domains: Vec::new(),
            arcs: Vec::new(),
            clauses: Vec::new(),
            timetables: Vec::new(),
            unaries: Vec::new(),
            energies: Vec::new(),
            sums: Vec::new(),
            choices: Vec::new(),
        };
        for _ in 0..STARTS {
            let least = small(random, 3) - 1;
            puzzle.domains.push((least, least + 1 + small(random, 6)));
        }
        puzzle.domains.extend([(0, 1); SWITCHES]);
        match kind {
            Kind::Timetable => puzzle.add_timetable(random),
            Kind::Unary => puzzle.add_unary(random),
            Kind::Energy => {
                puzzle.add_timetable(random);
                puzzle.energies = puzzle.timetables.clone();
            }
            Kind::Sum => puzzle.add_sum(random),
            Kind::Choice => puzzle.add_choice(random),
            Kind::Plain => puzzle.add_plain(random),
            Kind::Mixed => {
                puzzle.add_timetable(random);
                puzzle.energies = puzzle.timetables.clone();
                puzzle.add_unary(random);
                puzzle.add_sum(random);
                puzzle.add_choice(random);
                puzzle.add_plain(random);
            }
        }
        puzzle
    }

    fn items(random: &mut Random, duration_max: usize, amount_max: usize) -> Vec<Item> {
        let mut items = Vec::new();
        for start in 0..STARTS {
            if random.chance(85) {
                let switch = var(STARTS + random.below(SWITCHES));
                let lit = if random.chance(50) {
                    switch.at_least(1)
                } else {
                    switch.at_most(0)
                };
                items.push(Item {
                    start: var(start),
                    duration: 1 + small(random, duration_max),
                    amount: 1 + small(random, amount_max),
                    present: random.chance(30).then_some(lit),
                });
            }
        }
        items
    }

    fn add_timetable(&mut self, random: &mut Random) {
        let items = Self::items(random, 4, 3);
        let most = items.iter().map(|item| item.amount).max().unwrap_or(1);
        self.timetables.push((items, most + small(random, 3)));
    }

    fn add_unary(&mut self, random: &mut Random) {
        self.unaries.push(Self::items(random, 4, 1));
    }

    /// The last start serves as the total.
    fn add_sum(&mut self, random: &mut Random) {
        let mut terms = Vec::new();
        for at in 0..STARTS - 1 {
            let side = if random.chance(50) {
                var(at).lower()
            } else {
                var(at).upper()
            };
            if random.chance(80) {
                terms.push((side, i64::from(1 + small(random, 3))));
            }
        }
        self.sums
            .push((terms, i64::from(small(random, 7) - 3), var(STARTS - 1)));
    }

    /// One group of three, told apart by the first start and the first switch, and two groups of two.
    fn add_choice(&mut self, random: &mut Random) {
        let (least, most) = self.domains[0];
        let low = least + small(random, 3);
        let high = (low + small(random, 3)).min(most.max(low));
        let middle = var(STARTS).at_least(1);
        let (below, above) = (var(0).at_most(low), var(0).at_least(high + 1));
        self.clauses.push(vec![middle.negated(), below.negated()]);
        self.clauses.push(vec![middle.negated(), above.negated()]);
        self.clauses.push(vec![middle, below, above]);
        let (split, switch) = (
            var(1).at_least(self.domains[1].0 + 1 + small(random, 3)),
            var(STARTS + 1).at_least(1),
        );
        let groups = [
            vec![below, middle, above],
            vec![split, split.negated()],
            vec![switch, switch.negated()],
        ];
        let mut price = |lit: Lit| (i64::from(small(random, 5)), lit);
        let groups = groups.map(|group| group.into_iter().map(&mut price).collect::<Vec<_>>());
        self.choices
            .push((groups.to_vec(), 1 + i64::from(small(random, 8))));
    }

    fn add_plain(&mut self, random: &mut Random) {
        for _ in 0..random.below(6) {
            let sooner = random.below(STARTS);
            let later = (sooner + 1 + random.below(STARTS - 1)) % STARTS;
            let condition = random.chance(60).then(|| self.lit(random));
            let add = small(random, 6) - 2;
            self.arcs.push((var(sooner), var(later), add, condition));
        }
        for _ in 0..random.below(6) {
            let length = 1 + random.below(4);
            let clause = (0..length).map(|_| self.lit(random)).collect();
            self.clauses.push(clause);
        }
    }

    /// A statement about a random variable that is open in its domain, if it is not fixed.
    pub(super) fn lit(&self, random: &mut Random) -> Lit {
        let at = random.below(self.domains.len());
        let (least, most) = self.domains[at];
        let width = usize::try_from(most - least).expect("domains are not empty");
        let value = least + 1 + small(random, width.max(1));
        if random.chance(50) {
            var(at).at_least(value)
        } else {
            var(at).at_most(value - 1)
        }
    }

    pub(super) fn solver(&self) -> Solver {
        let mut solver = self.solver_without_timetables();
        for (items, capacity) in &self.timetables {
            solver.rule(Timetable::new(items.clone(), *capacity));
        }
        solver
    }

    /// Rules that alone do not tell every solution from others must explain themselves all the same.
    pub(super) fn solver_without_timetables(&self) -> Solver {
        // Restarts and forgetting come so soon that tiny puzzles meet them.
        let mut solver = Solver::new(Taste {
            restart: 3,
            clauses_max: 3,
        });
        for (least, most) in &self.domains {
            solver.var(*least, *most);
        }
        for (sooner, later, add, condition) in &self.arcs {
            solver.arc(*sooner, *later, *add, *condition);
        }
        for clause in &self.clauses {
            solver.clause(clause);
        }
        for (items, capacity) in &self.energies {
            solver.rule(Energy::new(items.clone(), *capacity, 0));
        }
        for items in &self.unaries {
            solver.rule(Unary::new(items.clone()));
        }
        for (terms, constant, total) in &self.sums {
            solver.rule(Sum::new(terms.clone(), *constant, *total));
        }
        for (groups, most) in &self.choices {
            solver.rule(Choice::new(groups.clone(), *most));
        }
        solver
    }

    pub(super) fn solutions(&self) -> Vec<Vec<i32>> {
        let mut found = Vec::new();
        let mut values: Vec<i32> = self.domains.iter().map(|(least, _)| *least).collect();
        loop {
            if self.admits(&values) {
                found.push(values.clone());
            }
            let Some(at) = (0..values.len()).find(|at| values[*at] < self.domains[*at].1) else {
                return found;
            };
            values[at] += 1;
            (0..at).for_each(|lower| values[lower] = self.domains[lower].0);
        }
    }

    pub(super) fn admits(&self, values: &[i32]) -> bool {
        let value = |var: Var| values[var.index()];
        let holds = |lit: &Lit| lit.holds_for(values);
        let arcs = self.arcs.iter().all(|(sooner, later, add, condition)| {
            !condition.as_ref().is_none_or(holds) || value(*later) >= value(*sooner) + add
        });
        let clauses = self.clauses.iter().all(|clause| clause.iter().any(holds));
        let fits = |items: &[Item], capacity: i32| {
            (-2..20).all(|time| {
                let runs = |item: &&Item| {
                    let start = value(item.start);
                    start <= time && time < start + item.duration && item.present.as_ref().is_none_or(holds)
                };
                items.iter().filter(runs).map(|item| item.amount).sum::<i32>() <= capacity
            })
        };
        let capacities = self
            .timetables
            .iter()
            .all(|(items, capacity)| fits(items, *capacity));
        let sums = self.sums.iter().all(|(terms, constant, total)| {
            let worth = |(side, weight): &(Side, i64)| {
                let sign = if side.is_upper() { -1 } else { 1 };
                weight * sign * i64::from(value(side.var()))
            };
            i64::from(value(*total)) >= constant + terms.iter().map(worth).sum::<i64>()
        });
        let choices = self.choices.iter().all(|(groups, most)| {
            let chosen = groups.iter().flatten().filter(|(_, lit)| holds(lit));
            chosen.map(|(price, _)| price).sum::<i64>() <= *most
        });
        arcs && clauses && capacities && sums && choices && self.unaries.iter().all(|items| fits(items, 1))
    }
}

fn var(at: usize) -> Var {
    super::domain::Side::of_index(2 * at).var()
}

fn small(random: &mut Random, bound: usize) -> i32 {
    i32::try_from(random.below(bound)).expect("small")
}
