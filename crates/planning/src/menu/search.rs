//! The search: construction, then threshold accepting, by two logical workers with seeds of their own.

use super::cost::{self, Cost, FINE};
use super::problem::{CoverSet, Problem, Slot, Thing};
use super::serving::{self, Source};
use crate::driver::Threads;
use larderwright_model::Need;
use larderwright_solve::Random;

/// A week in the making: a meal for every slot, and which component is cooked in which session.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct State {
    pub meals: Vec<usize>,
    active: Vec<bool>,
    sessions: usize,
}

impl State {
    pub(super) fn is_active(&self, comp: usize, session: usize) -> bool {
        self.active[comp * self.sessions + session]
    }

    fn set(&mut self, comp: usize, session: usize, on: bool) {
        self.active[comp * self.sessions + session] = on;
    }
}

impl State {
    /// A week of these meals in which so many components are cooked in so many sessions.
    pub(super) fn of(
        problem: &Problem<'_>,
        meals: Vec<usize>,
        cooked: impl Iterator<Item = (usize, usize)>,
    ) -> Self {
        let sessions = problem.snapshot.sessions.len();
        let mut state = Self {
            meals,
            active: vec![false; problem.comps.len() * sessions],
            sessions,
        };
        for (comp, session) in cooked {
            state.set(comp, session, true);
        }
        state
    }
}

/// What a search found.
pub(super) struct Found {
    pub state: State,
    pub cost: i64,
    pub first_cost: i64,
    pub work: u64,
}

/// A week that costs less breaks nothing.
const FITS: i64 = 10_000 * FINE;

/// How hard to look, and where.
#[derive(Clone, Copy)]
pub(super) struct Effort {
    /// So many times the snapshot's budget.
    pub times: u64,
    /// Changes the seed, so that another search looks elsewhere.
    pub salt: u64,
    /// No longer than until a week breaks nothing.
    pub until_fits: bool,
}

/// Searches with two workers, one thread or two, and keeps the better (the first when equal).
pub(super) fn search(problem: &Problem<'_>, threads: Threads, effort: Effort, from: Option<&State>) -> Found {
    let seed = problem.snapshot.seed ^ effort.salt;
    let work = problem.snapshot.menu_work / 2 * effort.times;
    // The second worker always begins anew.
    pair(threads, [seed, seed ^ 0xA5A5_5A5A_0F0F_F0F0], &|own| {
        let from = from.filter(|_| own == seed);
        worker(problem, from, &mut Random::new(own), (work, effort))
    })
}

/// Lets two workers search, on one thread or two, and keeps the better (the first when equal).
fn pair(threads: Threads, seeds: [u64; 2], worker: &(impl Fn(u64) -> Found + Sync)) -> Found {
    let [first, second] = match threads {
        Threads::One => seeds.map(worker),
        Threads::Two => std::thread::scope(|scope| {
            let handles = seeds.map(|seed| scope.spawn(move || worker(seed)));
            handles.map(|handle| handle.join().expect("a search worker does not panic"))
        }),
    };
    let work = first.work + second.work;
    let best = if second.cost < first.cost { second } else { first };
    Found { work, ..best }
}

fn worker(
    problem: &Problem<'_>,
    from: Option<&State>,
    random: &mut Random,
    (work, effort): (u64, Effort),
) -> Found {
    let mut current = match from {
        Some(from) => mended(problem, from, random),
        None => construct(problem, random),
    };
    let mut current_cost = cost::cost(problem, &current).parts();
    let first_cost = current_cost;
    let mut best = current.clone();
    let mut best_cost = current_cost;
    for step in 0..work {
        if effort.until_fits && best_cost < FITS {
            break;
        }
        let threshold = FINE * i64::try_from(60 * (work - step) / work.max(1)).expect("a threshold is small");
        let mut next = current.clone();
        propose(problem, &mut next, random);
        // Many a move changes nothing.
        let next_cost = if next == current {
            current_cost
        } else {
            cost::cost(problem, &next).parts()
        };
        if next_cost <= current_cost + threshold {
            current = next;
            current_cost = next_cost;
            if current_cost < best_cost {
                best = current.clone();
                best_cost = current_cost;
            }
        }
        // A walk that has strayed far starts again from the best.
        if step % 2000 == 1999 {
            current = best.clone();
            current_cost = best_cost;
        }
    }
    prune(problem, &mut best);
    let cost = cost::cost(problem, &best).parts();
    Found {
        state: best,
        cost,
        first_cost,
        work,
    }
}

/// Goes on from a week with so many moves, on two workers.
pub(super) fn improve(
    problem: &Problem<'_>,
    threads: Threads,
    effort: Effort,
    (from, moves): (&State, u64),
) -> Found {
    let seed = problem.snapshot.seed ^ effort.salt;
    pair(threads, [seed, !seed], &|seed| {
        worker(problem, Some(from), &mut Random::new(seed), (moves / 2, effort))
    })
}

/// A week found under other restrictions, with what it now lacks.
fn mended(problem: &Problem<'_>, from: &State, random: &mut Random) -> State {
    let mut state = from.clone();
    for slot in &problem.slots {
        activate(slot, &mut state, random);
    }
    prune(problem, &mut state);
    state
}

pub(super) fn construct(problem: &Problem<'_>, random: &mut Random) -> State {
    let sessions = problem.snapshot.sessions.len();
    let mut state = State {
        meals: vec![0; problem.slots.len()],
        active: vec![false; problem.comps.len() * sessions],
        sessions,
    };
    for slot in &problem.slots {
        state.meals[slot.index] = random.below(slot.candidates.len());
        activate(slot, &mut state, random);
    }
    for slot in &problem.slots {
        let mut best: Option<(Cost, State)> = None;
        for meal in 0..slot.candidates.len() {
            let mut next = state.clone();
            next.meals[slot.index] = meal;
            activate(slot, &mut next, random);
            prune(problem, &mut next);
            let cost = cost::cost(problem, &next);
            if best
                .as_ref()
                .is_none_or(|(known, _)| cost.parts() < known.parts())
            {
                best = Some((cost, next));
            }
        }
        if let Some((_, next)) = best {
            state = next;
        }
    }
    state
}

pub(super) fn propose(problem: &Problem<'_>, state: &mut State, random: &mut Random) {
    match random.below(20) {
        0..=7 => change_meal(problem, state, random),
        8..=9 => share_component(problem, state, random),
        10..=11 => swap_meals(problem, state, random),
        12..=14 => switch_off(problem, state, random),
        15..=16 => switch_on(problem, state, random),
        _ => move_component(problem, state, random),
    }
}

fn change_meal(problem: &Problem<'_>, state: &mut State, random: &mut Random) {
    let slot = &problem.slots[random.below(problem.slots.len())];
    state.meals[slot.index] = random.below(slot.candidates.len());
    if random.below(3) > 0 {
        activate(slot, state, random);
    }
    if random.below(2) == 0 {
        prune(problem, state);
    }
}

/// Brings what is cooked anyway to a few more sittings.
fn share_component(problem: &Problem<'_>, state: &mut State, random: &mut Random) {
    let on: Vec<usize> = (0..state.active.len()).filter(|ix| state.active[*ix]).collect();
    if on.is_empty() {
        return;
    }
    let comp = on[random.below(on.len())] / state.sessions;
    for _ in 0..=random.below(3) {
        let slot = &problem.slots[random.below(problem.slots.len())];
        let offering = &slot.offering[comp];
        if !offering.is_empty() {
            state.meals[slot.index] = offering[random.below(offering.len())];
            activate(slot, state, random);
        }
    }
    prune(problem, state);
}

fn swap_meals(problem: &Problem<'_>, state: &mut State, random: &mut Random) {
    let (a, b) = (
        random.below(problem.slots.len()),
        random.below(problem.slots.len()),
    );
    let (first, second) = (&problem.slots[a], &problem.slots[b]);
    let find = |slot: &Slot<'_>, other: &Slot<'_>| {
        let meal = &other.candidates[state.meals[other.index]].meal.id;
        slot.candidates
            .iter()
            .position(|candidate| candidate.meal.id == *meal)
    };
    if let (Some(one), Some(two)) = (find(first, second), find(second, first)) {
        state.meals[first.index] = one;
        state.meals[second.index] = two;
    }
}

fn switch_off(problem: &Problem<'_>, state: &mut State, random: &mut Random) {
    let on: Vec<usize> = (0..state.active.len()).filter(|ix| state.active[*ix]).collect();
    if on.is_empty() {
        return;
    }
    state.active[on[random.below(on.len())]] = false;
    if random.below(2) == 0 {
        // Mend what went missing with something else.
        for slot in &problem.slots {
            activate(slot, state, random);
        }
        prune(problem, state);
    }
}

fn switch_on(problem: &Problem<'_>, state: &mut State, random: &mut Random) {
    if state.sessions == 0 {
        return;
    }
    let (comp, session) = (random.below(problem.comps.len()), random.below(state.sessions));
    if problem.fits[session][comp] {
        state.set(comp, session, true);
    }
}

fn move_component(problem: &Problem<'_>, state: &mut State, random: &mut Random) {
    if state.sessions == 0 {
        return;
    }
    let comp = random.below(problem.comps.len());
    let (from, to) = (random.below(state.sessions), random.below(state.sessions));
    if state.is_active(comp, from) && problem.fits[to][comp] {
        state.set(comp, from, false);
        state.set(comp, to, true);
    }
}

/// Switches on what a slot lacks: for every element that has to be filled, some option for every cover.
fn activate(slot: &Slot<'_>, state: &mut State, random: &mut Random) {
    let candidate = &slot.candidates[state.meals[slot.index]];
    for element in candidate
        .elements
        .iter()
        .filter(|element| element.need != Need::Optional)
    {
        let mut left = slot.everyone();
        for option in &element.options {
            let there = match option.thing {
                Thing::Bought(_) => true,
                // What is in the house may be eaten up by then: sometimes it is not counted on.
                Thing::Made(comp) => {
                    serving::supply(slot, state, comp).is_some()
                        || (!slot.stored[comp].is_empty() && random.below(4) > 0)
                }
            };
            if there {
                left &= !option.allowed;
            }
        }
        while left != 0 {
            let Some((comp, covers)) = lacking(slot, element, left, random) else {
                break;
            };
            let supplies = &slot.supplies[comp];
            let pick = if random.below(3) == 0 {
                random.below(supplies.len())
            } else {
                0
            };
            state.set(comp, supplies[pick].0, true);
            left &= !covers;
        }
    }
}

fn lacking(
    slot: &Slot<'_>,
    element: &super::problem::Elem,
    left: CoverSet,
    random: &mut Random,
) -> Option<(usize, CoverSet)> {
    let useful: Vec<(usize, CoverSet)> = element
        .options
        .iter()
        .filter_map(|option| match option.thing {
            Thing::Made(comp) if option.allowed & left != 0 && !slot.supplies[comp].is_empty() => {
                Some((comp, option.allowed))
            }
            _ => None,
        })
        .collect();
    if useful.is_empty() {
        None
    } else {
        Some(useful[random.below(useful.len())])
    }
}

/// Switches off what nobody eats.
pub(super) fn prune(problem: &Problem<'_>, state: &mut State) {
    let mut used = vec![false; state.active.len()];
    serving::walk(problem, state, &mut |helping| {
        let candidate = &helping.slot.candidates[state.meals[helping.slot.index]];
        let option = &candidate.elements[helping.element].options[helping.option];
        if let (Thing::Made(comp), Source::Session(session, _)) = (&option.thing, helping.source) {
            used[comp * state.sessions + session] = true;
        }
    });
    state.active = used;
}
