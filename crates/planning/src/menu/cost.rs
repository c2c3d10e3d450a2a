//! The cost of a week: what cannot be (hard) and what is less welcome (soft), in whole points.
//!
//! One soft point is about a minute of the cook or ten cents.

use larderwright_model::{Fate, Freezing};
use larderwright_quantity::{Mass, Rounding, mul_div};

use super::boxes::{Parcel, Taken};
use super::problem::{CoverSet, Problem, Slot, Thing, is_main};
use super::search::State;
use super::serving::{Source, option_cost, walk};

/// A missing element on a plate, in hard points.
const MISSING: i64 = 20;
/// One component beyond what the cook will stand for in a session.
const TOO_MANY: i64 = 15;

/// Where the cost of a week comes from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cost {
    pub hard: i64,
    pub soft: i64,
}

impl Cost {
    pub(super) fn points(self) -> i64 {
        self.hard * 10_000 + self.soft
    }
}

/// Days of the week, for frozen lots that are pulled on different days.
const DAYS: usize = 8;

/// What a week draws from one component of one session, in mg.
#[derive(Clone, Copy, Default)]
struct Drawn {
    fridge: i64,
    /// Last day on which the fridge lot is eaten from.
    last: i64,
    frozen: [i64; DAYS],
}

impl Drawn {
    fn frozen_sum(&self) -> i64 {
        self.frozen.iter().sum()
    }

    fn both(&self) -> i64 {
        self.fridge + self.frozen_sum()
    }
}

/// What a week draws from every component and session, and what it buys to eat as it is.
struct Draws {
    made: Vec<Drawn>,
    sessions: usize,
    bought_cents: i64,
}

impl Draws {
    fn new(problem: &Problem<'_>) -> Self {
        let sessions = problem.snapshot.sessions.len();
        Self {
            made: vec![Drawn::default(); problem.comps.len() * sessions],
            sessions,
            bought_cents: 0,
        }
    }

    fn add(&mut self, (comp, session): (usize, usize), fate: Fate, day: i64, mass: i64) {
        let drawn = &mut self.made[comp * self.sessions + session];
        match fate {
            Fate::Freezer => drawn.frozen[usize::try_from(day).unwrap_or(0).min(DAYS - 1)] += mass,
            Fate::Fridge | Fate::Cupboard => {
                drawn.fridge += mass;
                drawn.last = drawn.last.max(day);
            }
        }
    }

    fn of(&self, comp: usize, session: usize) -> &Drawn {
        &self.made[comp * self.sessions + session]
    }
}

/// The cost of a week.
pub(super) fn cost(problem: &Problem<'_>, state: &State) -> Cost {
    let mut total = Cost::default();
    let mut draws = Draws::new(problem);
    let missing = walk(problem, state, &mut |helping| {
        let candidate = &helping.slot.candidates[state.meals[helping.slot.index]];
        let option = &candidate.elements[helping.element].options[helping.option];
        let mass = portions(helping.slot, helping.covers, option.portion);
        total.soft += option_cost(option, helping.covers, helping.source) + helping.weariness;
        match (&option.thing, helping.source) {
            (Thing::Made(comp), Source::Session(session, fate)) => {
                draws.add((*comp, session), fate, helping.slot.day, mass);
            }
            (_, Source::Store(_) | Source::Shelf(_)) => {}
            _ => draws.bought_cents += mul_div(option.cents_per_kg, mass, 1_000_000, Rounding::Up),
        }
    });
    total.soft += draws.bought_cents * problem.weights.cheaper / 20 + variety(problem, state) + missing.lost;
    let production = production(problem, state, &draws, &mut |_| {});
    Cost {
        hard: missing.count * MISSING + production.hard,
        soft: total.soft + production.soft,
    }
}

fn portions(slot: &Slot<'_>, covers: CoverSet, portion: Mass) -> i64 {
    let factor: i64 = (0..slot.covers.len())
        .filter(|cover| covers & (1 << cover) != 0)
        .map(|cover| slot.factors[cover])
        .sum();
    mul_div(portion.mg(), factor, 1000, Rounding::Up)
}

fn variety(problem: &Problem<'_>, state: &State) -> i64 {
    let lately = &problem.snapshot.eaten_lately;
    let mut points = 0;
    for (ix, slot) in problem.slots.iter().enumerate() {
        let sitting = &problem.snapshot.sittings[slot.index];
        let meal = slot.candidates[state.meals[slot.index]].meal;
        let main = is_main(sitting.occasion);
        let (again, next_day) = if main { (250, 100) } else { (20, 10) };
        for earlier in &problem.slots[..ix] {
            let before = earlier.candidates[state.meals[earlier.index]].meal;
            let apart = slot.day - earlier.day;
            let same_table = problem.snapshot.sittings[earlier.index].occasion == sitting.occasion;
            if before.id == meal.id {
                points += if same_table { again } else { again / 2 } + if apart <= 1 { next_day } else { 0 };
            } else if main && same_table && apart == 1 {
                points +=
                    8 * i64::from(before.cuisine == meal.cuisine) + 6 * i64::from(before.kind == meal.kind);
            }
        }
        if main && lately.contains(&meal.id) {
            points += 15;
        }
    }
    points
}

/// What a week asks for beyond what there is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Over {
    /// Minutes of hands in a session.
    Hands(usize, i64),
    /// Minutes of oven racks in a session.
    Oven(usize, i64),
    /// Minutes of burners in a session.
    Burners(usize, i64),
    /// Components in a session.
    Components(usize, i64),
    /// Room in the fridge, microlitres.
    Fridge(i64),
    /// Room in the freezer, microlitres.
    Freezer(i64),
    /// Boxes, microlitres.
    Boxes(i64),
}

impl Over {
    fn points(self) -> i64 {
        match self {
            Self::Hands(_, minutes) | Self::Oven(_, minutes) | Self::Burners(_, minutes) => minutes,
            Self::Components(_, count) => count * TOO_MANY,
            Self::Fridge(volume) | Self::Freezer(volume) | Self::Boxes(volume) => {
                mul_div(volume, 1, 200_000, Rounding::Up)
            }
        }
    }

    fn amount(self) -> i64 {
        match self {
            Self::Hands(_, amount)
            | Self::Oven(_, amount)
            | Self::Burners(_, amount)
            | Self::Components(_, amount)
            | Self::Fridge(amount)
            | Self::Freezer(amount)
            | Self::Boxes(amount) => amount,
        }
    }
}

/// Everything a week asks for beyond what there is.
pub(super) fn overs(problem: &Problem<'_>, state: &State) -> Vec<Over> {
    let mut draws = Draws::new(problem);
    walk(problem, state, &mut |helping| {
        let candidate = &helping.slot.candidates[state.meals[helping.slot.index]];
        let option = &candidate.elements[helping.element].options[helping.option];
        if let (Thing::Made(comp), Source::Session(session, fate)) = (&option.thing, helping.source) {
            let mass = portions(helping.slot, helping.covers, option.portion);
            draws.add((*comp, session), fate, helping.slot.day, mass);
        }
    });
    let mut overs = Vec::new();
    production(problem, state, &draws, &mut |over| overs.push(over));
    overs
}

fn production(problem: &Problem<'_>, state: &State, draws: &Draws, note: &mut impl FnMut(Over)) -> Cost {
    let mut cost = Cost::default();
    let mut over = |over: Over| {
        if over.amount() > 0 {
            note(over);
            over.points()
        } else {
            0
        }
    };
    let (mut fridge, mut freezer, mut unboxed) = (0i64, 0i64, 0i64);
    let mut taken = problem.boxes.empty();
    for session in 0..problem.snapshot.sessions.len() {
        let mut load = Load::default();
        for comp in (0..problem.comps.len()).filter(|comp| state.is_active(*comp, session)) {
            cost.soft += load.add(problem, (comp, session), draws.of(comp, session), &mut taken);
        }
        fridge = fridge.max(load.chilled);
        freezer += load.frozen;
        unboxed += load.unboxed;
        let capacity = &problem.capacities[session];
        let most = i64::try_from(problem.snapshot.household.wishes.components_max).unwrap_or(i64::MAX);
        let minutes = |used: i64, room: i64| mul_div(used - room, 1, 60, Rounding::Up);
        cost.hard += over(Over::Hands(session, minutes(load.hands, capacity.hands)))
            + over(Over::Oven(session, minutes(load.oven, capacity.oven)))
            + over(Over::Burners(session, minutes(load.burners, capacity.burners)))
            + over(Over::Components(session, load.count - most));
    }
    cost.hard += over(Over::Fridge(fridge - problem.fridge))
        + over(Over::Freezer(freezer - problem.freezer))
        + over(Over::Boxes(unboxed));
    cost
}

/// What the active components of a session add up to.
#[derive(Default)]
struct Load {
    hands: i64,
    oven: i64,
    burners: i64,
    count: i64,
    chilled: i64,
    frozen: i64,
    unboxed: i64,
}

impl Load {
    /// Adds a component; returns its soft cost.
    fn add(
        &mut self,
        problem: &Problem<'_>,
        (comp_ix, session): (usize, usize),
        drawn: &Drawn,
        taken: &mut Taken,
    ) -> i64 {
        self.count += 1;
        if drawn.both() == 0 {
            return 30;
        }
        let comp = &problem.comps[comp_ix];
        let x = batch_size(comp, drawn.both());
        self.hands += comp.hands.at(x);
        self.oven += comp.oven.at(x);
        self.burners += comp.burner.at(x);
        let out = comp.way.yields.likely.of(x, Rounding::Down).mg();
        let stored = store(problem, (comp_ix, session), drawn, out, taken);
        self.chilled += stored.chilled;
        self.frozen += stored.frozen;
        self.unboxed += stored.unboxed;
        batch_cost(problem, comp_ix, x, out, drawn.both())
    }
}

/// What a batch takes of the fridge, the freezer and the boxes, in microlitres.
struct Stored {
    chilled: i64,
    frozen: i64,
    unboxed: i64,
}

fn store(
    problem: &Problem<'_>,
    (comp, session): (usize, usize),
    drawn: &Drawn,
    out: i64,
    taken: &mut Taken,
) -> Stored {
    let bulk = problem.comps[comp].component.bulk.value;
    let hot = problem.comps[comp].hot;
    let litres = |mass: i64| bulk.volume_of(Mass::from_mg(mass), Rounding::Up).ul();
    let from = problem.session_days[session];
    let mut stored = Stored {
        chilled: 0,
        frozen: 0,
        unboxed: 0,
    };
    // What is made beyond the plates stays with the first lot.
    let mut spare = out - drawn.both();
    if drawn.fridge > 0 {
        let volume = litres(drawn.fridge + spare);
        spare = 0;
        stored.chilled += volume;
        stored.unboxed += problem.boxes.take(
            taken,
            &Parcel {
                volume,
                hot,
                frozen: false,
                from,
                to: drawn.last,
            },
        );
    }
    for (day, mass) in (0i64..).zip(drawn.frozen).filter(|(_, mass)| *mass > 0) {
        let volume = litres(mass + spare);
        spare = 0;
        stored.frozen += volume;
        stored.unboxed += problem.boxes.take(
            taken,
            &Parcel {
                volume,
                hot,
                frozen: true,
                from,
                to: day,
            },
        );
    }
    stored
}

/// The batch that covers a draw at the low side of the yield, on its step.
fn batch_size(comp: &super::problem::Comp<'_>, drawn: i64) -> Mass {
    let cautious = (comp.way.yields.low.permille() + comp.way.yields.likely.permille()) / 2;
    let x = Mass::from_mg(mul_div(drawn, 1000, cautious.max(1), Rounding::Up)).max(comp.min);
    x.round_to(comp.step, Rounding::Up)
}

fn batch_cost(problem: &Problem<'_>, comp_ix: usize, x: Mass, out: i64, drawn: i64) -> i64 {
    let comp = &problem.comps[comp_ix];
    let cents = |mass: i64| mul_div(comp.cents_per_kg, mass.max(0), 1_000_000, Rounding::Up);
    let keeps = comp.component.freeze == Freezing::Good && problem.freezer > 0;
    let lost = cents(out - drawn) / if keeps { 3 } else { 1 };
    let minutes = comp.hands.at(x) / 60;
    cents(drawn) * problem.weights.cheaper / 20
        + lost * problem.weights.less_waste / 10
        + minutes * problem.weights.quicker / 2
        + 6
}
