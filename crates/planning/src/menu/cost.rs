//! The cost of a week: what cannot be (hard) and what is less welcome (soft), in whole points.
//!
//! One soft point is about a minute of the cook or ten cents. Points are counted in [`FINE`] parts, so that nearly
//! every term is a straight line of whole numbers and what is rounded is rounded up: the programme
//! (`menu/programme.rs`) states the same week and never asks for more.

use larderwright_model::{Fate, Freezing};
use larderwright_quantity::{Mass, Rounding, mul_div};

use super::basket::Bought;
use super::boxes::{Parcel, Taken};
use super::problem::{Comp, CoverSet, Opt, Problem, Slot, Thing};
use super::search::State;
use super::serving::{Helping, Source, walk};
use super::variety::variety;

/// Parts of a soft point.
pub(super) const FINE: i64 = 360;

/// A missing element on a plate, in hard points.
const MISSING: i64 = 20;
/// One component beyond what the cook will stand for in a session.
const TOO_MANY: i64 = 15;

/// Another batch in a session, whatever its size.
pub(super) const BATCH: i64 = 4;
/// A helping of the second option of an element, and of each one after it.
pub(super) const RANK: i64 = 2;
/// A cover that dislikes what it gets.
pub(super) const DISLIKED: i64 = 40;
/// A helping from the freezer.
pub(super) const FROZEN: i64 = 2;
/// Everybody eats of what is there already.
pub(super) const AT_HAND: i64 = 4;
/// A component that is cooked and that nobody eats.
const IDLE: i64 = 30;

/// Where the cost of a week comes from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cost {
    pub hard: i64,
    /// In parts of a point.
    pub soft: i64,
}

impl Cost {
    /// Parts of a point, what cannot be included.
    pub(super) fn parts(self) -> i64 {
        self.hard * 10_000 * FINE + self.soft
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
}

impl Draws {
    fn new(problem: &Problem<'_>) -> Self {
        let sessions = problem.snapshot.sessions.len();
        Self {
            made: vec![Drawn::default(); problem.comps.len() * sessions],
            sessions,
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

/// What the cost of a week is made of, told as it is added up.
#[derive(Clone, Copy)]
pub(super) enum Part {
    /// A batch of a component in a session, so large.
    Batch(usize, usize, Mass),
    /// What is wanted of a ware on a trip.
    Bought(Bought),
}

/// The cost of a week.
pub(super) fn cost(problem: &Problem<'_>, state: &State) -> Cost {
    told(problem, state, &mut |_| {})
}

/// The cost of a week, with what it is made of.
pub(super) fn told(problem: &Problem<'_>, state: &State, sink: &mut impl FnMut(Part)) -> Cost {
    let mut total = Cost::default();
    let mut draws = Draws::new(problem);
    let mut filled = problem.basket.empty();
    let missing = walk(problem, state, &mut |helping| {
        let candidate = &helping.slot.candidates[state.meals[helping.slot.index]];
        let option = &candidate.elements[helping.element].options[helping.option];
        let mass = portions(helping.slot, helping.covers, option.portion);
        total.soft += welcome(option, helping) + helping.weariness * FINE;
        match (&option.thing, helping.source) {
            (Thing::Made(comp), Source::Session(session, fate)) => {
                draws.add((*comp, session), fate, helping.slot.day, mass);
            }
            (_, Source::Store(_) | Source::Shelf(_)) => {}
            _ => {
                total.soft += handling(problem, helping.covers);
                if let Some(ware) = option.ware {
                    problem.basket.add(&mut filled, (ware, helping.slot.trip), mass);
                }
            }
        }
    });
    total.soft += evenings(problem, state) + variety(problem, state) * FINE + missing.lost;
    let production = production(problem, state, &draws, &mut |batch| match batch {
        Told::Batch(comp, session, x) => {
            sink(Part::Batch(comp, session, x));
            problem
                .basket
                .add_batch(&mut filled, (comp, problem.session_trips[session]), x);
        }
        Told::Over(_) => {}
    });
    let bought = problem.basket.bought(&filled);
    for bought in &bought {
        sink(Part::Bought(*bought));
    }
    total.soft += problem.basket.points(&bought, &problem.weights);
    Cost {
        hard: missing.count * MISSING + production.hard,
        soft: total.soft + production.soft,
    }
}

/// How welcome a helping is to its covers.
fn welcome(option: &Opt, helping: &Helping<'_>) -> i64 {
    let rank = i64::try_from(option.index).expect("an element has few options");
    let disliked = i64::from((option.disliked & helping.covers).count_ones());
    let way = match helping.source {
        Source::Session(_, Fate::Freezer) => FROZEN * FINE,
        // What is there is eaten before anything is cooked anew.
        Source::Store(_) => {
            let covers = i64::from(helping.covers.count_ones());
            let all = i64::from(helping.slot.everyone().count_ones());
            mul_div(-AT_HAND * FINE, covers, all.max(1), Rounding::Up)
        }
        _ => 0,
    };
    (rank * RANK + disliked * DISLIKED) * FINE + way
}

/// What is bought has to be opened, washed or cut while people wait: half a minute, and a quarter for each cover.
fn handling(problem: &Problem<'_>, covers: CoverSet) -> i64 {
    (2 + i64::from(covers.count_ones())) * problem.weights.quicker * FINE / 4
}

/// Minutes of putting plates together.
fn evenings(problem: &Problem<'_>, state: &State) -> i64 {
    let seconds = |slot: &Slot<'_>| slot.candidates[state.meals[slot.index]].assemble;
    problem.slots.iter().map(seconds).sum::<i64>() * problem.weights.quicker * FINE / 120
}

pub(super) fn portions(slot: &Slot<'_>, covers: CoverSet, portion: Mass) -> i64 {
    let factor: i64 = (0..slot.covers.len())
        .filter(|cover| covers & (1 << cover) != 0)
        .map(|cover| slot.factors[cover])
        .sum();
    mul_div(portion.mg(), factor, 1000, Rounding::Up)
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
    /// Minutes of hands in a session for batches that did not fit it together.
    Together(usize, i64),
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
            Self::Together(_, minutes) => TOO_MANY + minutes,
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
            | Self::Together(_, amount)
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
    production(problem, state, &draws, &mut |told| {
        if let Told::Over(over) = told {
            overs.push(over);
        }
    });
    overs
}

/// What is told while the sessions are added up.
enum Told {
    /// A batch of a component in a session.
    Batch(usize, usize, Mass),
    Over(Over),
}

fn production(problem: &Problem<'_>, state: &State, draws: &Draws, note: &mut impl FnMut(Told)) -> Cost {
    let mut cost = Cost::default();
    let (mut fridge, mut freezer, mut unboxed) = (0i64, 0i64, 0i64);
    let mut taken = problem.boxes.empty();
    for session in 0..problem.snapshot.sessions.len() {
        let mut load = Load::default();
        for comp in (0..problem.comps.len()).filter(|comp| state.is_active(*comp, session)) {
            let (points, x) = load.add(problem, (comp, session), draws.of(comp, session), &mut taken);
            cost.soft += points;
            if x.is_positive() {
                note(Told::Batch(comp, session, x));
            }
        }
        fridge = fridge.max(load.chilled);
        freezer += load.frozen;
        unboxed += load.unboxed;
        let capacity = &problem.capacities[session];
        let most = i64::try_from(problem.snapshot.household.wishes.components_max).unwrap_or(i64::MAX);
        let mut over = |what: Over| over(what, note);
        let minutes = |used_ms: i64, room: i64| mul_div(used_ms - room * 1000, 1, 60_000, Rounding::Up);
        cost.hard += over(Over::Hands(session, minutes(load.hands, capacity.hands)))
            + over(Over::Oven(session, minutes(load.oven, capacity.oven)))
            + over(Over::Burners(session, minutes(load.burners, capacity.burners)))
            + over(Over::Components(session, load.count - most));
        for cut in problem.cuts.iter().filter(|cut| cut.session == session) {
            let cooked =
                |comp: &usize| state.is_active(*comp, session) && draws.of(*comp, session).both() > 0;
            if cut.comps.iter().all(cooked) {
                cost.hard += over(Over::Together(session, minutes(load.hands, cut.hands_ms / 1000)));
            }
        }
    }
    let mut over = |what: Over| over(what, note);
    cost.hard += over(Over::Fridge(fridge - problem.fridge))
        + over(Over::Freezer(freezer - problem.freezer))
        + over(Over::Boxes(unboxed));
    cost
}

fn over(over: Over, note: &mut impl FnMut(Told)) -> i64 {
    if over.amount() > 0 {
        note(Told::Over(over));
        over.points()
    } else {
        0
    }
}

/// What the active components of a session add up to.
#[derive(Default)]
struct Load {
    /// Milliseconds of hands, oven racks and burners.
    hands: i64,
    oven: i64,
    burners: i64,
    count: i64,
    chilled: i64,
    frozen: i64,
    unboxed: i64,
}

impl Load {
    /// Adds a component; returns its soft cost and its batch.
    fn add(
        &mut self,
        problem: &Problem<'_>,
        (comp_ix, session): (usize, usize),
        drawn: &Drawn,
        taken: &mut Taken,
    ) -> (i64, Mass) {
        self.count += 1;
        if drawn.both() == 0 {
            return (IDLE * FINE, Mass::ZERO);
        }
        let comp = &problem.comps[comp_ix];
        let x = batch_size(comp, drawn.both());
        self.hands += comp.hands.ms_at(x);
        self.oven += comp.oven.ms_at(x);
        self.burners += comp.burner.ms_at(x);
        let out = comp.way.yields.likely.of(x, Rounding::Down).mg();
        let stored = store(problem, (comp_ix, session), drawn, out, taken);
        self.chilled += stored.chilled;
        self.frozen += stored.frozen;
        self.unboxed += stored.unboxed;
        (batch_cost(problem, comp_ix, x, out, drawn.both()), x)
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
pub(super) fn batch_size(comp: &Comp<'_>, drawn: i64) -> Mass {
    let x = Mass::from_mg(mul_div(drawn, 1000, comp.cautious(), Rounding::Up)).max(comp.min);
    x.round_to(comp.step, Rounding::Up)
}

fn batch_cost(problem: &Problem<'_>, comp_ix: usize, x: Mass, out: i64, drawn: i64) -> i64 {
    let comp = &problem.comps[comp_ix];
    let lost = mul_div(
        lost_per_kg(problem, comp_ix),
        (out - drawn).max(0),
        1_000_000,
        Rounding::Up,
    );
    // Minutes of a session count a sixth: there is time for them, and several pots share them.
    let minutes = mul_div(
        comp.hands.ms_at(x),
        problem.weights.quicker * FINE,
        360_000,
        Rounding::Up,
    );
    lost + minutes + BATCH * FINE
}

/// What a kilogram made beyond the plates costs: a tenth of a point for each cent, a third of that where it keeps.
pub(super) fn lost_per_kg(problem: &Problem<'_>, comp_ix: usize) -> i64 {
    let comp = &problem.comps[comp_ix];
    let keeps = comp.component.freeze == Freezing::Good && problem.freezer > 0;
    comp.cents_per_kg * problem.weights.less_waste * FINE / if keeps { 30 } else { 10 }
}
