//! The cost of a week: what cannot be (hard) and what is less welcome (soft), in whole points.
//!
//! One soft point is about a minute of the cook or ten cents. Options are served greedily: the
//! option that most covers share comes first, then what is left for the others.

use larderwright_model::{Fate, Freezing, Need};
use larderwright_quantity::{Mass, Rounding, mul_div};

use super::boxes::{Parcel, Taken};
use super::problem::{Candidate, CoverSet, Elem, Opt, PROTEIN_TIRES, Problem, Slot, Thing, is_main};
use super::search::State;
use super::stores::{Pools, mass_of};

/// A missing element on a plate, in hard points.
const MISSING: i64 = 20;
/// One component beyond what the cook will stand for in a session.
const TOO_MANY: i64 = 15;

/// One element served to one cover.
pub(super) struct Served {
    pub element: usize,
    pub option: usize,
    pub source: Source,
}

/// Where a helping comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Source {
    /// From the shop, as it is.
    Shop,
    /// From a food in the house, by its number.
    Shelf(usize),
    /// From a lot in the house, by its number.
    Store(usize),
    /// Cooked in a session.
    Session(usize, Fate),
}

/// Every plate of a week: by slot, by cover.
pub(super) struct Week {
    pub plates: Vec<Vec<Vec<Served>>>,
}

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

/// How often each seat has had each item at a main meal this week.
struct Had<'a> {
    counts: Vec<u8>,
    /// The same by group, for proteins only.
    grouped: Vec<u8>,
    groups: &'a [usize],
    seats: usize,
}

impl<'a> Had<'a> {
    fn new(problem: &'a Problem<'_>) -> Self {
        Self {
            counts: vec![0; problem.items * problem.seats],
            grouped: vec![0; problem.items * problem.seats],
            groups: &problem.groups,
            seats: problem.seats,
        }
    }

    /// How tired of an item those are who would get it.
    fn weariness(&self, slot: &Slot<'_>, element: &Elem, option: &Opt, covers: CoverSet) -> i64 {
        if element.tires == 0 {
            return 0;
        }
        let row = option.item * self.seats;
        let group = self.groups[option.item] * self.seats;
        let protein = element.tires == PROTEIN_TIRES;
        let mut points = 0;
        for (cover, seat) in slot.eaters.iter().enumerate() {
            if covers & (1 << cover) != 0 {
                points += element.tires * i64::from(self.counts[row + seat]);
                points += if protein {
                    4 * i64::from(self.grouped[group + seat])
                } else {
                    0
                };
            }
        }
        points
    }

    fn note(&mut self, slot: &Slot<'_>, element: &Elem, option: &Opt, covers: CoverSet) {
        if element.tires == 0 {
            return;
        }
        for (cover, seat) in slot.eaters.iter().enumerate() {
            if covers & (1 << cover) != 0 {
                self.counts[option.item * self.seats + seat] += 1;
                if element.tires == PROTEIN_TIRES {
                    self.grouped[self.groups[option.item] * self.seats + seat] += 1;
                }
            }
        }
    }
}

/// One option served to some covers of a slot.
pub(super) struct Helping<'a> {
    pub slot: &'a Slot<'a>,
    pub covers: CoverSet,
    pub element: usize,
    pub option: usize,
    pub source: Source,
    weariness: i64,
}

/// What a walk through the week could not serve.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Missing {
    /// Elements that had to be filled and were not, over all covers.
    pub count: i64,
    /// The first slot concerned.
    pub slot: Option<usize>,
    /// What spoils of what is in the house, in soft points.
    pub lost: i64,
}

/// Serves every slot in order; `sink` hears of each helping.
pub(super) fn walk(problem: &Problem<'_>, state: &State, sink: &mut impl FnMut(&Helping<'_>)) -> Missing {
    let mut had = Had::new(problem);
    let mut pools = Pools::new(problem);
    let mut missing = Missing::default();
    for (ix, slot) in problem.slots.iter().enumerate() {
        let missed = Server {
            problem,
            state,
            slot,
            had: &mut had,
            pools: &mut pools,
        }
        .serve(sink);
        missing.count += missed;
        if missed > 0 && missing.slot.is_none() {
            missing.slot = Some(ix);
        }
    }
    missing.lost = pools.lost(problem);
    missing
}

/// Serves every slot of a week and lists the plates.
pub(super) fn serve(problem: &Problem<'_>, state: &State) -> Week {
    let empty = |slot: &Slot<'_>| slot.covers.iter().map(|_| Vec::new()).collect();
    let mut plates: Vec<Vec<Vec<Served>>> = problem.slots.iter().map(empty).collect();
    walk(problem, state, &mut |helping| {
        for (cover, plate) in plates[helping.slot.index].iter_mut().enumerate() {
            if helping.covers & (1 << cover) != 0 {
                plate.push(Served {
                    element: helping.element,
                    option: helping.option,
                    source: helping.source,
                });
            }
        }
    });
    Week { plates }
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

fn option_cost(option: &Opt, covers: CoverSet, source: Source) -> i64 {
    let rank = i64::try_from(option.index).expect("an element has few options");
    let disliked = i64::from((option.disliked & covers).count_ones());
    let way = match source {
        Source::Session(_, Fate::Freezer) => 2,
        // What is there is eaten before anything is cooked anew.
        Source::Store(_) => -4,
        _ => 0,
    };
    rank + disliked * 40 + way
}

/// Serves one slot from what the slots before it have left.
struct Server<'s, 'p> {
    problem: &'s Problem<'p>,
    state: &'s State,
    slot: &'s Slot<'p>,
    had: &'s mut Had<'p>,
    pools: &'s mut Pools,
}

impl Server<'_, '_> {
    /// Returns how many covers lack an element that has to be filled.
    fn serve(&mut self, sink: &mut impl FnMut(&Helping<'_>)) -> i64 {
        let slot = self.slot;
        let candidate = &slot.candidates[self.state.meals[slot.index]];
        let mut chosen: [(u8, CoverSet); 32] = [(0, 0); 32];
        let mut chosen_len = 0;
        let mut missing = 0;
        for (element_ix, element) in candidate.elements.iter().enumerate() {
            let mut left = slot.everyone();
            while left != 0 {
                let forbidden =
                    |option: usize| forbidden(candidate, (element_ix, option), &chosen[..chosen_len]);
                let Some((option_ix, source, covers)) = self.best_option(element, left, &forbidden) else {
                    break;
                };
                let option = &element.options[option_ix];
                let weariness = self.had.weariness(slot, element, option, covers);
                sink(&Helping {
                    slot,
                    covers,
                    element: element_ix,
                    option: option_ix,
                    source,
                    weariness,
                });
                self.had.note(slot, element, option, covers);
                self.take(option, source, covers);
                if chosen_len < chosen.len() {
                    chosen[chosen_len] = (code(element_ix, option_ix), covers);
                    chosen_len += 1;
                }
                left &= !covers;
            }
            if element.need != Need::Optional {
                missing += i64::from(left.count_ones());
            }
        }
        missing
    }

    fn take(&mut self, option: &Opt, source: Source, covers: CoverSet) {
        match source {
            Source::Store(store) => {
                self.pools
                    .take_lot(self.problem, self.slot, store, mass_of(option, covers));
            }
            Source::Shelf(shelf) => self.pools.take_food(shelf, mass_of(option, covers)),
            Source::Shop | Source::Session(..) => {}
        }
    }

    fn best_option(
        &self,
        element: &Elem,
        left: CoverSet,
        forbidden: &impl Fn(usize) -> CoverSet,
    ) -> Option<Best> {
        let mut best: Option<(i64, Best)> = None;
        for (ix, option) in element.options.iter().enumerate() {
            let covers = option.allowed & left & !forbidden(ix);
            // Those who dislike it take another option where there is one.
            let pleased = covers & !option.disliked;
            let covers = if pleased == 0 { covers } else { pleased };
            let Some((source, covers)) = self.source(option, covers) else {
                continue;
            };
            let worth = i64::from(covers.count_ones()) * 6
                - option_cost(option, covers, source)
                - self.had.weariness(self.slot, element, option, covers);
            if best.as_ref().is_none_or(|(known, ..)| worth > *known) {
                best = Some((worth, (ix, source, covers)));
            }
        }
        best.map(|(_, found)| found)
    }

    /// Where an option comes from, and for which of the covers there is enough.
    fn source(&self, option: &Opt, covers: CoverSet) -> Option<(Source, CoverSet)> {
        let found = match option.thing {
            Thing::Bought(_) => match option.shelf {
                Some(shelf) => (Source::Shelf(shelf), self.pools.food(shelf, option, covers)),
                None => (Source::Shop, covers),
            },
            Thing::Made(comp) => match self.pools.lot(self.problem, self.slot, (comp, option), covers) {
                Some((store, fitting)) => (Source::Store(store), fitting),
                None => {
                    let (session, fate) = supply(self.slot, self.state, comp)?;
                    (Source::Session(session, fate), covers)
                }
            },
        };
        (found.1 != 0).then_some(found)
    }
}

fn code(element: usize, option: usize) -> u8 {
    u8::try_from(element * 16 + option.min(15)).unwrap_or(u8::MAX)
}

/// Covers for which an option would complete a combination that is not offered.
fn forbidden(candidate: &Candidate<'_>, this: (usize, usize), chosen: &[(u8, CoverSet)]) -> CoverSet {
    let mut set = 0;
    for rule in candidate.rules.iter().filter(|rule| rule.contains(&this)) {
        let others = rule.iter().filter(|pair| **pair != this);
        set |= others.fold(u64::MAX, |all, &(element, option)| {
            let have = chosen
                .iter()
                .filter(|(found, _)| *found == code(element, option))
                .fold(0, |set, (_, covers)| set | covers);
            all & have
        });
    }
    set
}

/// An option, where it comes from, and the covers it is for.
type Best = (usize, Source, CoverSet);

/// The first active supply of a component for a slot.
pub(super) fn supply(slot: &Slot<'_>, state: &State, comp: usize) -> Option<(usize, Fate)> {
    slot.supplies[comp]
        .iter()
        .copied()
        .find(|(session, _)| state.is_active(comp, *session))
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
