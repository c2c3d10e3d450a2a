//! Serving: from a choice of meals and active components to every plate of a week. Options are served greedily: the
//! option that most covers share comes first, then what is left for the others.

use larderwright_model::{Fate, Need};

use super::basket::LINE;
use super::cost::{AT_HAND, DISLIKED, FROZEN, RANK};
use super::problem::{Candidate, CoverSet, Elem, Opt, PROTEIN_TIRES, Problem, Slot, Thing};
use super::search::State;
use super::stores::{Pools, mass_of};

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

/// Lines on the order of a week for what could be left out: a bunch of herbs, an olive, a lime.
const EXTRAS: u8 = 3;

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
                // Once again is what boxes are for; it is the third time that tires.
                let before = i64::from(self.counts[row + seat]);
                points += before.min(1) + element.tires * (before - 1).max(0);
                if protein {
                    points += 4 * (i64::from(self.grouped[group + seat]) - 1).max(0);
                }
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
    pub weariness: i64,
}

/// What a walk through the week could not serve.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Missing {
    /// Elements that had to be filled and were not, over all covers.
    pub count: i64,
    /// The first slot concerned.
    pub slot: Option<usize>,
    /// What spoils of what is in the house, in parts of a point.
    pub lost: i64,
}

/// Serves every slot in order; `sink` hears of each helping.
pub(super) fn walk(problem: &Problem<'_>, state: &State, sink: &mut impl FnMut(&Helping<'_>)) -> Missing {
    let mut had = Had::new(problem);
    let mut pools = Pools::new(problem);
    let mut listed = listed(problem, state);
    let mut extras = EXTRAS;
    let mut missing = Missing::default();
    for (ix, slot) in problem.slots.iter().enumerate() {
        let missed = Server {
            problem,
            state,
            slot,
            had: &mut had,
            pools: &mut pools,
            listed: &mut listed,
            extras: &mut extras,
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

/// Wares that cost no line: in the house, on the order anyway, or in what is cooked.
fn listed(problem: &Problem<'_>, state: &State) -> Vec<bool> {
    let mut listed = problem.basket.at_hand().to_vec();
    let sessions = problem.snapshot.sessions.len();
    let cooked = |comp: &usize| (0..sessions).any(|session| state.is_active(*comp, session));
    for comp in (0..problem.comps.len()).filter(cooked) {
        for ware in problem.basket.wares_of(comp) {
            listed[ware] = true;
        }
    }
    listed
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

/// How welcome an option is to its covers when plates are filled; less is better.
fn option_cost(option: &Opt, covers: CoverSet, source: Source) -> i64 {
    let rank = i64::try_from(option.index).expect("an element has few options");
    let disliked = i64::from((option.disliked & covers).count_ones());
    let way = match source {
        Source::Session(_, Fate::Freezer) => FROZEN,
        // What is there is eaten before anything is cooked anew.
        Source::Store(_) => -AT_HAND,
        _ => 0,
    };
    rank * RANK + disliked * DISLIKED + way
}

/// Serves one slot from what the slots before it have left.
struct Server<'s, 'p> {
    problem: &'s Problem<'p>,
    state: &'s State,
    slot: &'s Slot<'p>,
    had: &'s mut Had<'p>,
    pools: &'s mut Pools,
    /// Wares that are in the house or on the order already.
    listed: &'s mut [bool],
    /// Lines that may still be opened for what could be left out.
    extras: &'s mut u8,
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
                if let (true, Some(ware)) = (self.opens_a_line(option, source), option.ware) {
                    self.listed[ware] = true;
                    *self.extras -= u8::from(element.need == Need::Optional);
                }
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
            let opens = self.opens_a_line(option, source);
            if opens && element.need == Need::Optional && !self.may_open(element) {
                continue;
            }
            let worth = i64::from(covers.count_ones()) * 6
                - option_cost(option, covers, source)
                - if opens { LINE } else { 0 }
                - self.had.weariness(self.slot, element, option, covers);
            if best.as_ref().is_none_or(|(known, ..)| worth > *known) {
                best = Some((worth, (ix, source, covers)));
            }
        }
        best.map(|(_, found)| found)
    }

    /// Whether an option would put another line on the order.
    fn opens_a_line(&self, option: &Opt, source: Source) -> bool {
        source == Source::Shop && option.ware.is_some_and(|ware| !self.listed[ware])
    }

    /// At a main meal a few things go on the order that could be left out.
    fn may_open(&self, element: &Elem) -> bool {
        element.tires > 0 && *self.extras > 0
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
