//! Weeks of random households, projected into their programmes and checked in whole numbers.

use larderwright_model::{Occasion, Snapshot};
use larderwright_solve::Random;
use larderwright_solve::linear::bound;
use larderwright_testkit::{demo_snapshot, random};

use super::{DECIMALS, Week};
use crate::menu::cost::{self, FINE};
use crate::menu::problem::Problem;
use crate::menu::search::{self, State};
use crate::restrict::Restrictions;

/// Weeks that the search can hold, met on random walks.
fn weeks(problem: &Problem<'_>, seed: u64, moves: usize) -> Vec<State> {
    let mut random = Random::new(seed);
    let mut state = search::construct(problem, &mut random);
    let mut all = vec![state.clone()];
    for step in 0..moves {
        let mut next = state.clone();
        search::propose(problem, &mut next, &mut random);
        let (old, new) = (
            cost::cost(problem, &state).parts(),
            cost::cost(problem, &next).parts(),
        );
        if new <= old + 400 * FINE {
            state = next;
            if step % 7 == 0 {
                all.push(state.clone());
            }
        }
    }
    all
}

/// Checks weeks of a snapshot; returns how many were checked, and the sum of what they cost and of what their points do.
fn check(snapshot: &Snapshot, seed: u64, moves: usize) -> (usize, i128, i128) {
    let problem = Problem::new(snapshot, &Restrictions::default());
    if problem.slots.iter().any(|slot| slot.candidates.is_empty()) {
        return (0, 0, 0);
    }
    let week = Week::new(&problem);
    let below = i128::from(bound(&week.programme, 400).value);
    let (mut count, mut costs, mut values) = (0, 0, 0);
    for state in weeks(&problem, seed, moves) {
        let cost = cost::cost(&problem, &state);
        if cost.hard > 0 {
            continue;
        }
        let point = week.point(&state);
        let faults = week.programme.faults(&point);
        let named: Vec<String> = faults.iter().map(|fault| week.named(fault)).collect();
        assert!(faults.is_empty(), "seed {seed}: {named:?}");
        let value = week.programme.value(&point);
        let cost = i128::from(cost.soft) * 10_i128.pow(DECIMALS) / i128::from(FINE);
        assert!(
            value <= cost,
            "seed {seed}: the point costs {value}, its week {cost}"
        );
        assert!(
            below <= value,
            "seed {seed}: a bound of {below} above a point of {value}"
        );
        count += 1;
        costs += cost;
        values += value;
    }
    (count, costs, values)
}

#[test]
fn every_week_is_a_point_of_the_programme_that_costs_no_more() {
    let (mut checked, mut costs, mut values) = (0, 0, 0);
    for seed in 0..25 {
        let (count, cost, value) = check(&random::snapshot(seed), seed, 300);
        checked += count;
        costs += cost;
        values += value;
    }
    assert!(checked > 200, "only {checked} weeks could be checked");
    // Where the programme asks for less it is not much less.
    assert!(values * 100 >= costs * 90, "{values} of {costs}");
}

#[test]
fn the_demo_week_is_a_point_of_the_programme_that_costs_no_more() {
    let (checked, costs, values) = check(&demo_snapshot(), 1, 300);
    assert!(checked > 10, "only {checked} weeks could be checked");
    assert!(values * 100 >= costs * 90, "{values} of {costs}");
}

/// A week so small that every choice can be tried: two dinners, two meals, one session.
fn tiny(seed: u64) -> Snapshot {
    let mut snapshot = random::snapshot(seed);
    snapshot.sessions.truncate(1);
    snapshot.household.wishes.components_max = 4;
    snapshot
        .sittings
        .retain(|sitting| sitting.occasion == Occasion::Dinner);
    snapshot.sittings.truncate(2);
    let problem = Problem::new(&snapshot, &Restrictions::default());
    let meals: Vec<_> = problem.slots.iter().flat_map(|slot| &slot.candidates).collect();
    let mut random = Random::new(seed);
    let mut kept = std::collections::BTreeSet::new();
    while kept.len() < 2 && !meals.is_empty() && random.below(200) > 0 {
        kept.insert(meals[random.below(meals.len())].meal.id.clone());
    }
    snapshot.meals.retain(|id, _| kept.contains(id));
    snapshot
}

/// All choices of at most so many of some things.
fn choices<T: Copy>(things: &[T], most: usize) -> Vec<Vec<T>> {
    let mut all = vec![Vec::new()];
    for thing in things {
        let longer = all.iter().filter(|chosen| chosen.len() < most);
        let longer: Vec<Vec<T>> = longer
            .map(|chosen| chosen.iter().chain([thing]).copied().collect())
            .collect();
        all.extend(longer);
    }
    all
}

/// The least cost of all weeks that break nothing, by trying every meal at every sitting with everything cooked or not.
fn least_of_all(problem: &Problem<'_>) -> Option<(i64, State)> {
    let offered = |comp: &usize| problem.slots.iter().any(|slot| !slot.offering[*comp].is_empty());
    let sessions = problem.snapshot.sessions.len();
    let fits = |&(comp, session): &(usize, usize)| problem.fits[session][comp];
    let comps = (0..problem.comps.len()).filter(offered);
    let cooked: Vec<(usize, usize)> = comps
        .flat_map(|comp| (0..sessions).map(move |session| (comp, session)))
        .filter(fits)
        .collect();
    let weeks: usize = problem.slots.iter().map(|slot| slot.candidates.len()).product();
    if weeks == 0 || cooked.len() > 24 {
        return None;
    }
    let sets = choices(&cooked, problem.snapshot.household.wishes.components_max);
    let mut best: Option<(i64, State)> = None;
    for week in 0..weeks {
        let mut rest = week;
        let meals: Vec<usize> = problem
            .slots
            .iter()
            .map(|slot| {
                let meal = rest % slot.candidates.len();
                rest /= slot.candidates.len();
                meal
            })
            .collect();
        for on in &sets {
            let state = State::of(problem, meals.clone(), on.iter().copied());
            let found = cost::cost(problem, &state);
            if found.hard == 0 && best.as_ref().is_none_or(|(known, _)| found.soft < *known) {
                best = Some((found.soft, state));
            }
        }
    }
    best
}

#[test]
fn of_all_tiny_weeks_none_costs_less_than_the_search_or_the_bound_says() {
    let mut met = 0;
    for seed in 0..80 {
        let mut snapshot = tiny(seed);
        snapshot.menu_work = 4000;
        let problem = Problem::new(&snapshot, &Restrictions::default());
        let Some((least, state)) = least_of_all(&problem) else {
            continue;
        };
        met += 1;
        let found = search::search(&problem, crate::Threads::Two, super::super::USUAL, None);
        assert!(
            found.cost >= least,
            "seed {seed}: {} below the least of all, {least}",
            found.cost
        );
        let week = Week::new(&problem);
        let point = week.point(&state);
        assert_eq!(week.programme.faults(&point), [], "seed {seed}");
        let below = i128::from(bound(&week.programme, 2000).value);
        assert!(below <= week.programme.value(&point), "seed {seed}");
    }
    assert!(met >= 8, "only {met} weeks are small enough");
}
