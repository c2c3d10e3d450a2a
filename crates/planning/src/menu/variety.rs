//! Variety: nobody gets the same dinner twice in a week, and at most a third of the dinners were dinners lately. Both
//! give way only to what cannot be otherwise, and the report says so. Milder wishes cost a few points.

use std::collections::BTreeSet;

use larderwright_model::MealId;

use super::problem::{Problem, Slot, is_main};
use super::search::State;

/// A dinner that breaks the rule, in soft points: below what cannot be, above everything that is less welcome.
pub(super) const BROKEN: i64 = 2500;
/// A dinner that was eaten lately.
pub(super) const LATELY: i64 = 12;
/// The same meal at a breakfast or a lunch again, and when that is the next day.
pub(super) const AGAIN: (i64, i64) = (20, 10);
/// Dinners on two evenings running of one part of the world, and of one kind.
pub(super) const RUNNING: (i64, i64) = (8, 6);
/// Of so many dinners one may have been eaten lately.
pub(super) const OF_DINNERS: i64 = 3;

/// Dinners that break the rule.
pub(super) struct Broken {
    /// Dinners that somebody gets twice.
    pub twice: BTreeSet<MealId>,
    /// Dinners eaten lately, when there are too many of them.
    pub lately: BTreeSet<MealId>,
}

fn meal<'p>(problem: &'p Problem<'_>, state: &State, slot: &Slot<'_>) -> &'p larderwright_model::Meal {
    problem.slots[slot.index].candidates[state.meals[slot.index]].meal
}

pub(super) fn occasion(problem: &Problem<'_>, slot: &Slot<'_>) -> larderwright_model::Occasion {
    problem.snapshot.sittings[slot.index].occasion
}

/// What sameness costs a week, in soft points.
pub(super) fn variety(problem: &Problem<'_>, state: &State) -> i64 {
    let mut points = 0;
    let (mut dinners, mut lately) = (0i64, 0i64);
    for (ix, slot) in problem.slots.iter().enumerate() {
        let now = meal(problem, state, slot);
        let main = is_main(occasion(problem, slot));
        let mut fresh = true;
        for earlier in &problem.slots[..ix] {
            let before = meal(problem, state, earlier);
            let apart = slot.day - earlier.day;
            let alike = occasion(problem, earlier) == occasion(problem, slot);
            if std::ptr::eq(before, now) {
                fresh &= !alike;
                points += again(alike && main && slot.company & earlier.company != 0, alike, apart);
            }
            if main && alike && apart == 1 {
                points += RUNNING.0 * i64::from(before.cuisine == now.cuisine)
                    + RUNNING.1 * i64::from(before.kind == now.kind);
            }
        }
        if main && fresh {
            dinners += 1;
            if let Some(recent) = slot.candidates[state.meals[slot.index]].eaten {
                lately += 1;
                points += LATELY + recent;
            }
        }
    }
    points + (lately - dinners / OF_DINNERS).max(0) * BROKEN
}

fn again(broken: bool, alike: bool, apart: i64) -> i64 {
    if broken {
        BROKEN
    } else {
        (if alike { AGAIN.0 } else { AGAIN.0 / 2 }) + if apart <= 1 { AGAIN.1 } else { 0 }
    }
}

/// The dinners of a week that break the rule.
pub(super) fn broken(problem: &Problem<'_>, state: &State) -> Broken {
    let mains: Vec<&Slot<'_>> = problem
        .slots
        .iter()
        .filter(|slot| is_main(occasion(problem, slot)))
        .collect();
    let mut twice = BTreeSet::new();
    for (ix, slot) in mains.iter().enumerate() {
        let now = &meal(problem, state, slot).id;
        let same = |earlier: &&&Slot<'_>| {
            meal(problem, state, earlier).id == *now && earlier.company & slot.company != 0
        };
        if mains[..ix].iter().any(|earlier| same(&earlier)) {
            twice.insert(now.clone());
        }
    }
    let all: BTreeSet<&MealId> = mains.iter().map(|slot| &meal(problem, state, slot).id).collect();
    let known = |id: &&&MealId| problem.snapshot.eaten_lately.contains(id);
    let mut lately: BTreeSet<MealId> = all.iter().filter(known).map(|id| (*id).clone()).collect();
    let count = |set: usize| i64::try_from(set).unwrap_or(i64::MAX);
    if count(lately.len()) <= count(all.len()) / OF_DINNERS {
        lately.clear();
    }
    Broken { twice, lately }
}
