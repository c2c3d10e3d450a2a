//! The menu problem with everything numbered: sittings, meals, components, sessions, covers.

use std::collections::BTreeMap;

use larderwright_model::{
    Component, CoolingMethod, Cover, Fate, Finish, FoodId, FoodKind, Item, Meal, Need, Occasion, Priority,
    Skill, Snapshot, Way,
};
use larderwright_quantity::{Mass, Rounding, Seconds, Volume, mul_div};

use super::basket::Basket;
use super::boxes::Cupboard;
use super::candidates::Builder;
use super::stores::{Stores, is_unshopped, suffices};
use crate::facts::{self, Makeup};
use crate::packing;
use crate::practice::{CLEAR_DOWN, COOL_SHALLOW, PACK_OUT, PREFLIGHT};
use crate::restrict::{Cut, Restrictions};

/// How tiresome a protein is for each time but the first that somebody has had it this week; other elements count less.
pub(super) const PROTEIN_TIRES: i64 = 6;

/// A set of covers of one sitting, as bits.
pub(super) type CoverSet = u64;

pub(super) enum Thing {
    Made(usize),
    Bought(FoodId),
}

/// A component that this kitchen can make, with what a batch costs in hands, heat and money.
pub(super) struct Comp<'a> {
    pub component: &'a Component,
    pub way: &'a Way,
    pub hands: Line,
    pub oven: Line,
    pub burner: Line,
    /// Minutes from the first step to the box.
    pub chain: Seconds,
    /// Hundredths of the currency for each kilogram of output.
    pub cents_per_kg: i64,
    /// Whether it goes hot into its boxes.
    pub hot: bool,
    /// The step a batch grows by and the smallest batch.
    pub step: Mass,
    pub min: Mass,
}

/// Seconds as a straight line in the batch size.
#[derive(Clone, Copy, Default)]
pub(super) struct Line {
    pub fixed: i64,
    pub per_kg: i64,
}

impl Line {
    fn through(at: impl Fn(Mass) -> i64, min: Mass, max: Mass) -> Self {
        let (low, high) = (at(min), at(max));
        let span = (max - min).mg().max(1);
        let per_kg = mul_div(high - low, 1_000_000, span, Rounding::Nearest);
        Self {
            fixed: low - mul_div(per_kg, min.mg(), 1_000_000, Rounding::Nearest),
            per_kg,
        }
    }

    /// Milliseconds for a batch.
    pub(super) fn ms_at(self, x: Mass) -> i64 {
        self.fixed * 1000 + mul_div(self.per_kg, x.mg(), 1000, Rounding::Nearest)
    }
}

impl Comp<'_> {
    /// The yield that a batch is sized by: half-way between low and likely, per thousand.
    pub(super) fn cautious(&self) -> i64 {
        ((self.way.yields.low.permille() + self.way.yields.likely.permille()) / 2).max(1)
    }
}

pub(super) struct Opt {
    /// Index in the meal's element.
    pub index: usize,
    pub thing: Thing,
    pub portion: Mass,
    /// What each cover would eat of it, in milligrams.
    pub masses: Vec<i64>,
    /// What is done to it at the sitting.
    pub finish: Finish,
    /// The number of the food in the house, when no trip to the shop reaches the sitting.
    pub shelf: Option<usize>,
    /// Covers that may have it.
    pub allowed: CoverSet,
    /// Covers that dislike it.
    pub disliked: CoverSet,
    /// Its number in the basket, when it may have to be bought.
    pub ware: Option<usize>,
    /// Number of the item among all items of the larder.
    pub item: usize,
}

pub(super) struct Elem {
    pub need: Need,
    /// How tiresome the same item is here when somebody has had it before this week.
    pub tires: i64,
    pub options: Vec<Opt>,
}

pub(super) struct Candidate<'a> {
    pub meal: &'a Meal,
    pub elements: Vec<Elem>,
    /// When it was eaten lately: zero for the longest ago, eight for the last meal.
    pub eaten: Option<i64>,
    /// Seconds of putting the plates together.
    pub assemble: i64,
    /// Combinations not offered: element and option indices (into `Elem::options`).
    pub rules: Vec<Vec<(usize, usize)>>,
}

pub(super) struct Slot<'a> {
    /// Index of the sitting.
    pub index: usize,
    pub covers: Vec<Cover>,
    /// Number of each cover's eater in the household; guests come after them.
    pub eaters: Vec<usize>,
    /// Appetite of each cover, per thousand.
    pub factors: Vec<i64>,
    pub candidates: Vec<Candidate<'a>>,
    /// Every plate of some meal could be filled, but none is ready in the sitting's minutes.
    pub too_slow: bool,
    /// For each component the supplies that reach this sitting, most welcome first.
    pub supplies: Vec<Vec<(usize, Fate)>>,
    /// For each component the lots in the house that reach this sitting, to be used first first.
    pub stored: Vec<Vec<usize>>,
    pub day: i64,
    /// The last trip to the shop before its food leaves the fridge.
    pub trip: usize,
    /// Everybody who sits there, as a set of seats.
    pub company: u64,
    /// For each component the candidates that offer it.
    pub offering: Vec<Vec<usize>>,
}

impl Slot<'_> {
    pub(super) fn everyone(&self) -> CoverSet {
        (1u64 << self.covers.len()) - 1
    }
}

/// What a session can take.
pub(super) struct Capacity {
    pub hands: i64,
    pub oven: i64,
    pub burners: i64,
}

/// Batches that did not fit a session together, unless they ask for less of the cook.
pub(super) struct CutOff {
    pub session: usize,
    pub comps: Vec<usize>,
    pub hands_ms: i64,
}

pub(super) struct Problem<'a> {
    pub snapshot: &'a Snapshot,
    pub comps: Vec<Comp<'a>>,
    pub slots: Vec<Slot<'a>>,
    pub capacities: Vec<Capacity>,
    /// For each session the components whose chain fits its window.
    pub fits: Vec<Vec<bool>>,
    pub weights: Weights,
    pub cuts: Vec<CutOff>,
    /// Room for boxes in fridge and freezer, in microlitres.
    pub fridge: i64,
    pub freezer: i64,
    pub boxes: Cupboard,
    pub stores: Stores,
    pub basket: Basket,
    /// For each session the last trip before it.
    pub session_trips: Vec<usize>,
    /// The day of each session, counted from Monday.
    pub session_days: Vec<i64>,
    /// For each item the group that people tire of together: pulses, eggs, each meat.
    pub groups: Vec<usize>,
    /// How many items there are, and how many seats: eaters and the most guests.
    pub items: usize,
    pub seats: usize,
}

/// How much each priority counts, three for the first.
pub(super) struct Weights {
    pub cheaper: i64,
    pub quicker: i64,
    pub less_waste: i64,
}

impl<'a> Problem<'a> {
    pub(super) fn new(snapshot: &'a Snapshot, restrict: &Restrictions) -> Self {
        let makeups = facts::makeups(snapshot);
        let comps = comps(snapshot);
        let fits = fits(snapshot, &comps);
        let stores = Stores::new(snapshot, restrict, &comps);
        let basket = Basket::new(snapshot, &comps);
        let items: BTreeMap<&Item, usize> = makeups.keys().enumerate().map(|(ix, item)| (item, ix)).collect();
        let index: BTreeMap<&str, usize> = comps
            .iter()
            .enumerate()
            .map(|(ix, comp)| (comp.component.id.as_str(), ix))
            .collect();
        let slots: Vec<Slot<'_>> = (0..snapshot.sittings.len())
            .map(|slot| {
                Builder {
                    snapshot,
                    restrict,
                    makeups: &makeups,
                    comps: &comps,
                    index: &index,
                    items: &items,
                    fits: &fits,
                    stores: &stores,
                    basket: &basket,
                }
                .slot(slot)
            })
            .collect();
        let kitchen = &snapshot.household.kitchen;
        let house = packing::held(snapshot, &[]);
        let room = |volume: i64| mul_div(volume, restrict.room_permille * 85 / 100, 1000, Rounding::Down);
        Self {
            cuts: cuts(snapshot, restrict, &index),
            capacities: capacities(snapshot, restrict),
            weights: weights(&snapshot.household.wishes.priorities),
            fridge: room(free(snapshot, &house, (Fate::Fridge, kitchen.fridge))),
            freezer: room(free(snapshot, &house, (Fate::Freezer, kitchen.freezer))),
            boxes: Cupboard::new(
                snapshot,
                &house,
                larderwright_safety::limits(snapshot.household.profile).depth_max,
                restrict.room_permille,
            ),
            session_trips: snapshot
                .sessions
                .iter()
                .map(|session| basket.trip(session.from))
                .collect(),
            session_days: snapshot
                .sessions
                .iter()
                .map(|session| i64::from((session.from.date() - snapshot.monday).get_days()))
                .collect(),
            groups: groups(&makeups),
            items: makeups.len(),
            seats: seats(&slots),
            snapshot,
            comps,
            slots,
            fits,
            stores,
            basket,
        }
    }
}

/// What the lots of the house leave of a room from the first session on.
fn free(snapshot: &Snapshot, house: &[packing::Held<'_>], (fate, room): (Fate, Volume)) -> i64 {
    let first = snapshot.sessions.first().map(|session| session.from.date());
    let there =
        |lot: &&packing::Held<'_>| lot.stay.fate == fate && first.is_some_and(|first| lot.stay.to >= first);
    let taken: i64 = house.iter().filter(there).map(|lot| lot.room.ul()).sum();
    (room.ul() - taken).max(0)
}

/// Seats that are taken at some sitting, counted from the first.
fn seats(slots: &[Slot<'_>]) -> usize {
    slots
        .iter()
        .flat_map(|slot| &slot.eaters)
        .max()
        .map_or(0, |last| last + 1)
}

/// What was found not to fit a session together, numbered.
fn cuts(snapshot: &Snapshot, restrict: &Restrictions, index: &BTreeMap<&str, usize>) -> Vec<CutOff> {
    let cut = |cut: &Cut| {
        let number = |id: &larderwright_model::ComponentId| index.get(id.as_str()).copied();
        Some(CutOff {
            session: snapshot
                .sessions
                .iter()
                .position(|session| session.id == cut.session)?,
            comps: cut.components.iter().map(number).collect::<Option<_>>()?,
            hands_ms: cut.hands_ms,
        })
    };
    restrict.cuts.iter().filter_map(cut).collect()
}

/// Proteins that people tire of together share a group: what grows, eggs, milk and cheese, fish; a meat stands for
/// itself. The number of a group is that of its first item.
fn groups(makeups: &BTreeMap<Item, Makeup>) -> Vec<usize> {
    let sorts: Vec<Sort> = makeups.values().map(sort).collect();
    let first = |(ix, sort): (usize, &Sort)| sorts.iter().position(|other| other == sort).unwrap_or(ix);
    sorts.iter().enumerate().map(first).collect()
}

/// What a protein is, by the animal in it.
#[derive(PartialEq, Eq)]
enum Sort {
    Meat(FoodKind),
    Fish,
    Egg,
    Dairy,
    Plant,
}

fn sort(makeup: &Makeup) -> Sort {
    let meats = [
        FoodKind::Poultry,
        FoodKind::Beef,
        FoodKind::Pork,
        FoodKind::Lamb,
        FoodKind::OtherMeat,
    ];
    let has = |kind: &FoodKind| makeup.kinds.contains(kind);
    if let Some(meat) = meats.into_iter().find(has) {
        Sort::Meat(meat)
    } else if has(&FoodKind::Fish) || has(&FoodKind::Crustacean) || has(&FoodKind::Mollusc) {
        Sort::Fish
    } else if has(&FoodKind::Egg) {
        Sort::Egg
    } else if has(&FoodKind::Dairy) {
        Sort::Dairy
    } else {
        Sort::Plant
    }
}

fn weights(priorities: &[Priority]) -> Weights {
    let weight = |wanted: Priority| {
        let rank = priorities.iter().position(|priority| *priority == wanted);
        3 - i64::try_from(rank.unwrap_or(2))
            .expect("there are three priorities")
            .min(2)
    };
    Weights {
        cheaper: weight(Priority::Cheaper),
        quicker: weight(Priority::Quicker),
        less_waste: weight(Priority::LessWaste),
    }
}

fn comps(snapshot: &Snapshot) -> Vec<Comp<'_>> {
    let off = &snapshot.household.wishes.off_components;
    let makeable = snapshot
        .components
        .values()
        .filter(|component| !off.contains(&component.id));
    makeable
        .filter_map(|component| comp(snapshot, component))
        .collect()
}

fn comp<'a>(snapshot: &'a Snapshot, component: &'a Component) -> Option<Comp<'a>> {
    let kitchen = &snapshot.household.kitchen;
    let way = facts::way_here(component, kitchen)?;
    let (min, step) = crate::batches::min_and_step(snapshot, way);
    let max = way.size.max.max(min);
    let sum = |x: Mass, seconds: &dyn Fn(&larderwright_model::Step, i64, Mass) -> i64| -> i64 {
        let steps = way.steps.iter().filter(|step| !step.lead);
        steps
            .filter_map(|step| Some((step, step.load_plan(x, kitchen)?)))
            .map(|(step, plan)| seconds(step, plan.loads, plan.x))
            .sum()
    };
    let hands = |x: Mass| {
        sum(x, &|step, loads, each| {
            let busy = step.law.likely(each).secs() * i64::from(step.hands);
            let visits = step.visit.as_ref().map_or(0, |visit| {
                step.law.likely(each).secs() / visit.every.secs().max(1) * visit.hands.secs()
            });
            loads * (busy + visits)
        }) + PACK_OUT.seconds(3, Mass::ZERO).secs()
    };
    let held = |equipment: larderwright_model::Equipment| {
        move |x: Mass| {
            sum(x, &|step, loads, each| {
                let uses = step.uses.contains(&equipment);
                let length =
                    step.heat_up(each, kitchen, snapshot.household.altitude_m) + step.law.likely(each);
                if uses { loads * length.secs() } else { 0 }
            })
        }
    };
    Some(Comp {
        hands: Line::through(hands, min, max),
        oven: Line::through(held(larderwright_model::Equipment::Rack), min, max),
        burner: Line::through(held(larderwright_model::Equipment::Burner), min, max),
        chain: chain(snapshot, way, min),
        cents_per_kg: cents_per_kg(snapshot, way),
        hot: crate::packing::cooling(snapshot, component) == CoolingMethod::Shallow,
        component,
        way,
        step,
        min,
    })
}

/// Time from the first step of a smallest batch to its box.
fn chain(snapshot: &Snapshot, way: &Way, x: Mass) -> Seconds {
    let kitchen = &snapshot.household.kitchen;
    let mut ends: BTreeMap<&str, i64> = BTreeMap::new();
    for step in way.steps.iter().filter(|step| !step.lead) {
        let Some(plan) = step.load_plan(x, kitchen) else {
            continue;
        };
        let ready = step
            .after
            .iter()
            .filter_map(|after| Some(ends.get(after.step.as_str())? + after.min.secs()))
            .max();
        let heat = if step.oven.is_some() {
            kitchen.oven.map_or(0, |oven| oven.preheat_min * 60)
        } else {
            0
        };
        let start = ready.unwrap_or(0).max(heat);
        let length = step
            .likely_length(&plan, kitchen, snapshot.household.altitude_m)
            .secs();
        ends.insert(step.id.as_str(), start + length * plan.loads);
    }
    let around =
        PREFLIGHT.fixed_s + COOL_SHALLOW.fixed_s + PACK_OUT.fixed_s + PACK_OUT.each_s + CLEAR_DOWN.fixed_s;
    Seconds::from_secs(ends.values().max().copied().unwrap_or(0) + around)
}

fn cents_per_kg(snapshot: &Snapshot, way: &Way) -> i64 {
    let kilogram = Mass::from_g(1000);
    let total: i64 = way
        .inputs
        .iter()
        .filter_map(|input| {
            let food = snapshot.foods.get(&input.food)?;
            let ep = input.per_kg + input.fixed;
            Some(food_cents(
                snapshot,
                &input.food,
                food.edible.value.undo(ep, Rounding::Up),
            ))
        })
        .sum();
    let out = way.yields.likely.of(kilogram, Rounding::Down);
    mul_div(total, kilogram.mg(), out.mg().max(1), Rounding::Up)
}

/// What a mass of a food costs, by its cheapest pack; zero when it has no pack.
pub(super) fn food_cents(snapshot: &Snapshot, food: &FoodId, ap: Mass) -> i64 {
    let Some(food) = snapshot.foods.get(food) else {
        return 0;
    };
    let prices = food.packs.iter().map(|pack| {
        mul_div(
            pack.price.minor(),
            ap.mg(),
            pack.size.mass.mg().max(1),
            Rounding::Up,
        )
    });
    prices.min().unwrap_or(0)
}

fn fits(snapshot: &Snapshot, comps: &[Comp<'_>]) -> Vec<Vec<bool>> {
    let household = &snapshot.household;
    snapshot
        .sessions
        .iter()
        .map(|session| {
            let can = |skill: Skill| {
                household
                    .cooks
                    .iter()
                    .any(|cook| session.cooks.contains(&cook.id) && cook.can(skill))
            };
            let unshopped = is_unshopped(snapshot, session.from);
            comps
                .iter()
                .map(|comp| {
                    comp.chain <= session.window()
                        && (!unshopped || suffices(snapshot, comp))
                        && comp
                            .way
                            .steps
                            .iter()
                            .all(|step| step.hands == 0 || can(step.skill))
                })
                .collect()
        })
        .collect()
}

fn capacities(snapshot: &Snapshot, restrict: &Restrictions) -> Vec<Capacity> {
    let kitchen = &snapshot.household.kitchen;
    let capacity = |session: &larderwright_model::Session| {
        let share = restrict.window_permille.get(&session.id).copied().unwrap_or(1000);
        let window = mul_div(session.window().secs(), share, 1000, Rounding::Down);
        let cooks = i64::try_from(session.cooks.len()).expect("a kitchen holds few cooks");
        let around = PREFLIGHT.fixed_s + CLEAR_DOWN.fixed_s;
        let heat = kitchen.oven.map_or(0, |oven| oven.preheat_min * 60);
        let racks = kitchen.oven.map_or(0, |oven| i64::from(oven.racks));
        let tail = CLEAR_DOWN.fixed_s + COOL_SHALLOW.fixed_s;
        Capacity {
            hands: (window - around).max(0) * cooks * 85 / 100,
            oven: (window - heat.max(PREFLIGHT.fixed_s) - tail).max(0) * racks * 80 / 100,
            burners: (window - PREFLIGHT.fixed_s - tail).max(0) * i64::from(kitchen.burners) * 80 / 100,
        }
    };
    snapshot.sessions.iter().map(capacity).collect()
}

/// Whether a meal is a main meal, for variety.
pub(super) fn is_main(occasion: Occasion) -> bool {
    occasion == Occasion::Dinner
}
