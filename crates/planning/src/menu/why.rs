//! Why this meal, and what another one would cost: every other meal of a sitting is put in its place, the rest of the week
//! is fitted around it, and the difference is told. Nothing here goes through the later stages: a session may still refuse.

use larderwright_model::{MealId, SittingId, Snapshot, WeekPlan};
use larderwright_quantity::{Rounding, mul_div};

use super::account::{Account, account};
use super::candidates::offering;
use super::cost;
use super::problem::{Candidate, Problem};
use super::search::{self, Effort, State};
use crate::driver::Threads;
use crate::restrict::Restrictions;

/// Moves to fit the week around a meal, at first and for the best.
const MOVES: [u64; 2] = [250, 2000];
/// So many meals are looked at more closely.
const CLOSER: usize = 4;
/// Minutes that a longer session gains.
const LONGER: i64 = 20;

/// Why a meal is where it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Why {
    /// The meal.
    pub meal: MealId,
    /// What the week asks for with it.
    pub week: Account,
    /// Other meals, the nearest first, and what the week would ask for beyond that.
    pub others: Vec<(MealId, Account)>,
    /// Meals for which no week was found that breaks nothing.
    pub impossible: Vec<MealId>,
    /// What would be gained by giving way a little: the wish, and what the week would ask for beyond what it does.
    pub relaxed: Vec<(String, Account)>,
}

/// Weighs the meals of a sitting against the one a plan has there; none where the plan has no such sitting.
#[must_use]
pub fn why(snapshot: &Snapshot, plan: &WeekPlan, sitting: &SittingId, threads: Threads) -> Option<Why> {
    let slot = snapshot.sittings.iter().position(|own| own.id == *sitting)?;
    let mut problem = Problem::new(snapshot, &Restrictions::default());
    let planned = planned(&problem, plan)?;
    // What the plan did not need to look for is granted to all alike.
    let kept = best(&problem, &planned, (MOVES[1], threads));
    let week = account(&problem, &planned);
    let fair = account(&problem, &kept);
    let relaxed = relaxed(snapshot, &kept, fair, threads);
    let all = std::mem::take(&mut problem.slots[slot].candidates);
    let mut names: Vec<MealId> = all.iter().map(|candidate| candidate.meal.id.clone()).collect();
    let meal = names[planned.meals[slot]].clone();
    let mut tried = Vec::new();
    let mut impossible = Vec::new();
    for (ix, candidate) in all.into_iter().enumerate() {
        if ix == planned.meals[slot] {
            continue;
        }
        let mut state = kept.clone();
        only(&mut problem, (slot, candidate), &mut state);
        let state = best(&problem, &state, (MOVES[0], threads));
        let found = cost::cost(&problem, &state);
        let candidate = problem.slots[slot]
            .candidates
            .pop()
            .expect("it was just put there");
        if found.hard > 0 {
            impossible.push(std::mem::replace(&mut names[ix], MealId::new("")));
        } else {
            tried.push((found.parts(), ix, candidate, state));
        }
    }
    tried.sort_by_key(|(parts, ix, ..)| (*parts, *ix));
    let mut others = Vec::new();
    for (at, (_, ix, candidate, mut state)) in tried.into_iter().enumerate() {
        only(&mut problem, (slot, candidate), &mut state);
        if at < CLOSER {
            state = best(&problem, &state, (MOVES[1], threads));
        }
        others.push((names[ix].clone(), fair.to(account(&problem, &state))));
    }
    others.sort_by_key(|(_, more)| more.points);
    Some(Why {
        meal,
        week,
        others,
        impossible,
        relaxed,
    })
}

/// Leaves one candidate at a slot.
fn only<'a>(problem: &mut Problem<'a>, (slot, candidate): (usize, Candidate<'a>), state: &mut State) {
    let comps = problem.comps.len();
    let slot = &mut problem.slots[slot];
    slot.candidates = vec![candidate];
    slot.offering = offering(&slot.candidates, comps);
    state.meals[slot.index] = 0;
}

/// The best week found from one; what its meals lack is cooked.
fn best(problem: &Problem<'_>, from: &State, (moves, threads): (u64, Threads)) -> State {
    let effort = Effort {
        times: 1,
        salt: 0x0077_6879,
        until_fits: false,
    };
    search::improve(problem, threads, effort, (from, moves)).state
}

/// A plan as the search holds it: its meals, and what is cooked when.
fn planned(problem: &Problem<'_>, plan: &WeekPlan) -> Option<State> {
    let snapshot = problem.snapshot;
    let mut meals = Vec::new();
    for slot in &problem.slots {
        let id = &snapshot.sittings[slot.index].id;
        let choice = plan.menu.choices.iter().find(|choice| choice.sitting == *id)?;
        let own = |candidate: &Candidate<'_>| candidate.meal.id == choice.meal;
        meals.push(slot.candidates.iter().position(own)?);
    }
    let cooked = plan.batches.iter().filter_map(|batch| {
        let own = problem
            .comps
            .iter()
            .position(|comp| comp.component.id == batch.component)?;
        let session = snapshot
            .sessions
            .iter()
            .position(|session| session.id == batch.session)?;
        Some((own, session))
    });
    Some(State::of(problem, meals, cooked))
}

/// What is gained by one more component, and by longer sessions.
fn relaxed(snapshot: &Snapshot, kept: &State, fair: Account, threads: Threads) -> Vec<(String, Account)> {
    let mut all = Vec::new();
    let gained = |snapshot: &Snapshot, restrict: &Restrictions| {
        let problem = Problem::new(snapshot, restrict);
        let state = best(&problem, kept, (MOVES[1], threads));
        let found = cost::cost(&problem, &state);
        let more = fair.to(account(&problem, &state));
        (found.hard == 0 && more.points < 0).then_some(more)
    };
    let mut more = snapshot.clone();
    more.household.wishes.components_max += 1;
    if let Some(gain) = gained(&more, &Restrictions::default()) {
        all.push(("one more component in a session".into(), gain));
    }
    let mut longer = Restrictions::default();
    for session in &snapshot.sessions {
        let minutes = session.window().secs() / 60;
        let share = mul_div(1000, minutes + LONGER, minutes.max(1), Rounding::Nearest);
        longer.window_permille.insert(session.id.clone(), share);
    }
    if let Some(gain) = gained(snapshot, &longer) {
        all.push((format!("{LONGER} more minutes for each session"), gain));
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use larderwright_testkit::random;

    #[test]
    fn other_meals_are_weighed_and_none_is_much_better() {
        let mut met = 0;
        for seed in [1, 4, 7, 11] {
            let snapshot = random::snapshot(seed);
            let Ok(plan) = crate::plan_week(&snapshot, Threads::Two) else {
                continue;
            };
            let sitting = &plan.menu.choices[0];
            let why = why(&snapshot, &plan, &sitting.sitting, Threads::Two).expect("the sitting is planned");
            assert_eq!(why.meal, sitting.meal);
            assert!(
                why.others
                    .windows(2)
                    .all(|pair| pair[0].1.points <= pair[1].1.points)
            );
            assert!(why.others.iter().all(|(meal, _)| *meal != why.meal));
            // The week was searched for; what is forced on it is dearer, give or take what the search misses.
            let least = why.others.first().map_or(0, |(_, more)| more.points);
            assert!(
                least * 20 >= -why.week.points,
                "seed {seed}: {least} of {}",
                why.week.points
            );
            met += usize::from(!why.others.is_empty());
        }
        assert!(met > 2, "too few to show anything");
    }
}
