//! Laws of the kernel, on thousands of small random puzzles compared with trying every value.

use super::domain::Lit;
use super::search::Verdict;
use super::solver::Solver;
use super::state::Reason;
use super::trial::{Kind, Puzzle};
use crate::random::Random;

const KINDS: [Kind; 7] = [
    Kind::Timetable,
    Kind::Unary,
    Kind::Energy,
    Kind::Sum,
    Kind::Choice,
    Kind::Plain,
    Kind::Mixed,
];

fn each_puzzle(cases: u64, check: impl Fn(&Puzzle, &[Vec<i32>], &mut Random)) {
    for kind in KINDS {
        for seed in 0..cases {
            let mut random = Random::new(seed);
            let puzzle = Puzzle::random(kind, &mut random);
            check(&puzzle, &puzzle.solutions(), &mut random);
        }
    }
}

fn implies(solutions: &[Vec<i32>], grounds: &[Lit], lit: Lit) -> bool {
    let mut met = solutions
        .iter()
        .filter(|values| grounds.iter().all(|ground| ground.holds_for(values)));
    met.all(|values| lit.holds_for(values))
}

/// Checks the grounds of every value that entries from a place on made true.
fn check_entries(solver: &Solver, from: usize, solutions: &[Vec<i32>]) {
    for (place, entry) in solver.facts.state.trail.iter().enumerate().skip(from) {
        for value in entry.old + 1..=entry.new {
            let lit = Lit {
                side: entry.side,
                value,
            };
            if entry.reason == Reason::Given {
                continue;
            }
            let mut grounds = Vec::new();
            solver.facts.explain(entry, value, &mut grounds);
            assert!(
                implies(solutions, &grounds, lit),
                "{grounds:?} do not imply {lit:?}"
            );
            for ground in grounds {
                let own = solver.facts.state.place(ground);
                assert!(own.is_none_or(|own| own < place), "{ground:?} is not earlier");
            }
        }
    }
}

#[test]
fn whatever_is_derived_follows_from_its_grounds() {
    each_puzzle(1500, |puzzle, solutions, random| {
        let mut solver = if random.chance(50) {
            puzzle.solver()
        } else {
            puzzle.solver_without_timetables()
        };
        let mut from = 0;
        while !solver.refuted {
            let outcome = solver.propagate();
            check_entries(&solver, from, solutions);
            if outcome.is_err() {
                let conflict = &solver.conflict;
                assert!(
                    conflict.iter().all(|lit| solver.facts.state.is_true(*lit)),
                    "the conflict is there"
                );
                let excluded = solutions
                    .iter()
                    .all(|values| conflict.iter().any(|lit| !lit.holds_for(values)));
                assert!(excluded, "{conflict:?} excludes a solution");
                return;
            }
            let open: Vec<Lit> = (0..40)
                .map(|_| puzzle.lit(random))
                .filter(|lit| !solver.state().is_true(*lit) && !solver.state().is_false(*lit))
                .collect();
            let Some(decision) = open.first() else { break };
            solver.facts.state.decide();
            from = solver.facts.state.trail.len();
            assert!(solver.facts.state.raise(*decision, Reason::Given).is_ok());
        }
        assert!(!solver.refuted || solutions.is_empty());
    });
}

#[test]
fn every_verdict_agrees_with_trying_every_value() {
    each_puzzle(1500, |puzzle, solutions, random| {
        let mut solver = puzzle.solver();
        if !solutions.is_empty() {
            solver.set_witness(solutions[random.below(solutions.len())].clone());
        }
        for round in 0..6 {
            let mut assumed: Vec<Lit> = (0..random.below(4)).map(|_| puzzle.lit(random)).collect();
            if round == 0 {
                assumed.clear();
            }
            let tenable = solutions
                .iter()
                .any(|values| assumed.iter().all(|lit| lit.holds_for(values)));
            match solver.search(&assumed, u64::MAX) {
                Verdict::Found => {
                    let values = solver.values();
                    assert!(puzzle.admits(&values), "{values:?} is no solution");
                    assert!(assumed.iter().all(|lit| lit.holds_for(&values)));
                    solver.set_wishes(values);
                }
                Verdict::Refuted => assert!(solutions.is_empty()),
                Verdict::Untenable => assert!(!tenable),
                Verdict::Stopped => panic!("the work is unlimited"),
            }
        }
    });
}

#[test]
fn excluding_each_solution_found_counts_them_all() {
    each_puzzle(200, |puzzle, solutions, _| {
        if solutions.len() > 300 {
            return;
        }
        let mut solver = puzzle.solver();
        let mut found = 0;
        while solver.search(&[], u64::MAX) == Verdict::Found {
            let values = solver.values();
            assert!(puzzle.admits(&values));
            found += 1;
            assert!(found <= solutions.len());
            solver.exclude(&values);
        }
        assert_eq!(found, solutions.len());
    });
}

#[test]
fn a_search_continued_in_small_steps_ends_as_one_in_a_single_step() {
    each_puzzle(200, |puzzle, solutions, _| {
        let mut solver = puzzle.solver();
        let (mut step, mut limit) = (20, 20);
        let verdict = loop {
            match solver.search(&[], limit) {
                Verdict::Stopped => {
                    step += 20;
                    limit = solver.work() + step;
                }
                verdict => break verdict,
            }
        };
        assert_eq!(verdict == Verdict::Found, !solutions.is_empty());
    });
}
