//! Candidates: for each sitting the meals that could be served, with options as sets of covers.

use std::collections::BTreeMap;

use larderwright_model::{Cover, Eater, Fate, Finish, Item, Meal, Need, Sitting, Snapshot, Where};
use larderwright_quantity::{Permille, Rounding, Seconds};

use super::basket::Basket;
use super::problem::{Candidate, Comp, Elem, Opt, PROTEIN_TIRES, Slot, Thing, is_main};
use super::stores::{Stores, is_unshopped};
use super::windows;
use crate::facts::{self, Makeup};
use crate::restrict::Restrictions;
use crate::{appetite, demand, service};

/// What candidates are made from.
pub(super) struct Builder<'a, 'b> {
    pub snapshot: &'a Snapshot,
    pub restrict: &'b Restrictions,
    pub makeups: &'b BTreeMap<Item, Makeup>,
    pub comps: &'b [Comp<'a>],
    pub index: &'b BTreeMap<&'a str, usize>,
    pub items: &'b BTreeMap<&'b Item, usize>,
    pub fits: &'b [Vec<bool>],
    pub stores: &'b Stores,
    pub basket: &'b Basket,
}

/// A sitting while its candidates are looked for.
struct Table<'t> {
    index: usize,
    eaters: &'t [&'t Eater],
    factors: &'t [i64],
    supplies: &'t [Vec<(usize, Fate)>],
    stored: &'t [Vec<usize>],
    /// No trip to the shop reaches it: what is bought has to be in the house.
    unshopped: bool,
}

impl<'a> Builder<'a, '_> {
    /// A sitting with everything that could be served at it.
    pub(super) fn slot(&self, index: usize) -> Slot<'a> {
        let snapshot = self.snapshot;
        let sitting = &snapshot.sittings[index];
        let eaters: Vec<&Eater> = sitting
            .eaters
            .iter()
            .filter_map(|id| snapshot.household.eater(id))
            .collect();
        let mut covers: Vec<Cover> = eaters
            .iter()
            .map(|eater| Cover::Eater(eater.id.clone()))
            .collect();
        let mut factors: Vec<i64> = eaters
            .iter()
            .map(|eater| appetite::factor_here(snapshot, eater).permille())
            .collect();
        covers.extend((1..=sitting.guests).map(Cover::Guest));
        factors.resize(covers.len(), 1000);
        let household = &snapshot.household.eaters;
        let number = |eater: &&Eater| {
            household
                .iter()
                .position(|other| other.id == eater.id)
                .unwrap_or(0)
        };
        let mut seats: Vec<usize> = eaters.iter().map(number).collect();
        seats.extend((household.len()..).take(covers.len() - eaters.len()));
        let supplies = self.comps.iter().enumerate().map(|(comp_ix, comp)| {
            let mut all = windows::supplies(snapshot, self.restrict, comp.component, sitting);
            all.retain(|(session, _)| self.fits[*session][comp_ix]);
            all
        });
        let supplies: Vec<Vec<(usize, Fate)>> = supplies.collect();
        let stored = self.stores.reach(snapshot, self.comps.len(), sitting);
        let table = Table {
            index,
            eaters: &eaters,
            factors: &factors,
            supplies: &supplies,
            stored: &stored,
            unshopped: is_unshopped(snapshot, sitting.leaves_fridge()),
        };
        let mut candidates: Vec<Candidate<'a>> = self
            .meals(sitting)
            .filter_map(|meal| self.candidate(meal, &table))
            .collect();
        let fillable = !candidates.is_empty();
        candidates.retain(|candidate| self.ready_in_time(candidate.meal, index, covers.len()));
        let too_slow = fillable && candidates.is_empty();
        let day = i64::from((sitting.at.date() - snapshot.monday).get_days());
        Slot {
            index,
            covers,
            eaters: seats,
            factors,
            offering: offering(&candidates, self.comps.len()),
            candidates,
            too_slow,
            supplies,
            stored,
            day,
            trip: self.basket.trip(sitting.leaves_fridge()),
            company: company(snapshot, sitting),
        }
    }

    /// The meals meant for a sitting: the one that is fixed, or all that are not off.
    fn meals<'s>(&'s self, sitting: &'s Sitting) -> impl Iterator<Item = &'a Meal> + use<'a, 's> {
        let snapshot: &'a Snapshot = self.snapshot;
        let wishes = &snapshot.household.wishes;
        let fixed = wishes.fixed.get(&sitting.id);
        let serves = sitting.serves();
        let restrict = self.restrict;
        snapshot.meals.values().filter(move |meal| match fixed {
            Some(id) => meal.id == *id,
            None => {
                meal.at.iter().any(|occasion| serves.contains(occasion))
                    && !wishes.off_meals.contains(&meal.id)
                    && !restrict.meals.contains(&(sitting.id.clone(), meal.id.clone()))
            }
        })
    }

    fn candidate(&self, meal: &'a Meal, table: &Table<'_>) -> Option<Candidate<'a>> {
        let everyone = (1u64 << table.factors.len()) - 1;
        let sitting = &self.snapshot.sittings[table.index];
        let mut elements = Vec::new();
        for element in &meal.elements {
            let options: Vec<Opt> = (0..element.options.len())
                .filter(|ix| windows::bears_the_way(self.snapshot, sitting, &element.options[*ix].item))
                .filter_map(|ix| self.option(element, ix, table))
                .filter(|option| match &option.thing {
                    Thing::Made(comp) => !table.supplies[*comp].is_empty() || !table.stored[*comp].is_empty(),
                    Thing::Bought(_) => true,
                })
                .collect();
            let filled = options.iter().fold(0, |set, option| set | option.allowed);
            if element.need != Need::Optional && filled != everyone {
                return None;
            }
            let tires = if is_main(sitting.occasion) {
                match element.id.as_str() {
                    "protein" => PROTEIN_TIRES,
                    "vegetable" => 4,
                    _ => 2,
                }
            } else {
                0
            };
            elements.push(Elem {
                need: element.need,
                tires,
                options,
            });
        }
        let rules = rules(meal, &elements);
        let covers = i64::try_from(table.factors.len()).expect("a table seats few");
        let assemble = meal.assemble_fixed + meal.assemble_per_cover.scale(covers, 1, Rounding::Up);
        Some(Candidate {
            meal,
            elements,
            eaten: self.eaten(meal),
            assemble: assemble.secs(),
            rules,
        })
    }

    fn eaten(&self, meal: &Meal) -> Option<i64> {
        let lately = &self.snapshot.eaten_lately;
        let ago = lately.iter().position(|id| *id == meal.id)?;
        i64::try_from((lately.len() - ago) * 8 / lately.len()).ok()
    }

    fn option(&self, element: &larderwright_model::Element, index: usize, table: &Table<'_>) -> Option<Opt> {
        let option = &element.options[index];
        let (eaters, covers) = (table.eaters, table.factors.len());
        let makeup = self.makeups.get(&option.item)?;
        let thing = match &option.item {
            Item::Component(id) => Thing::Made(*self.index.get(id.as_str())?),
            Item::Food(id) => Thing::Bought(id.clone()),
        };
        if !facts::on_the_table(eaters, makeup) {
            return None;
        }
        let mut allowed = 0u64;
        let mut disliked = 0u64;
        for (ix, eater) in eaters.iter().enumerate() {
            if facts::may_have(eater, makeup).is_ok() {
                allowed |= 1 << ix;
            }
            if facts::dislikes(eater, &option.item, makeup) {
                disliked |= 1 << ix;
            }
        }
        for guest in eaters.len()..covers {
            allowed |= 1 << guest;
        }
        let shelf = match &thing {
            Thing::Bought(food) if table.unshopped && !self.snapshot.foods[food].is_tap() => {
                Some(self.stores.shelf(food)?)
            }
            _ => None,
        };
        let portion = |factor: &i64| {
            let factor = Permille::from_permille(*factor);
            demand::portion(
                self.snapshot,
                &option.item,
                (option.portion, element.scales),
                factor,
            )
            .mg()
        };
        let ware = match &thing {
            Thing::Made(_) => None,
            Thing::Bought(food) => self.basket.ware(food),
        };
        Some(Opt {
            index,
            thing,
            portion: option.portion,
            masses: table.factors.iter().map(portion).collect(),
            finish: option.finish,
            shelf,
            allowed,
            disliked,
            ware,
            item: *self.items.get(&option.item)?,
        })
    }

    /// Whether the meal is on the table in the sitting's minutes, with the slowest finish of each element.
    fn ready_in_time(&self, meal: &Meal, slot: usize, covers: usize) -> bool {
        let sitting = &self.snapshot.sittings[slot];
        let work = estimate(meal, covers, sitting.place);
        let steps = service::schedule(&self.snapshot.household.kitchen, &work);
        steps.is_ok_and(|steps| service::length(&steps) <= Seconds::from_mins(sitting.minutes))
    }
}

/// Everybody who sits at a table, as a set of seats.
fn company(snapshot: &Snapshot, sitting: &Sitting) -> u64 {
    let household = &snapshot.household.eaters;
    let seats = sitting
        .eaters
        .iter()
        .filter_map(|id| household.iter().position(|eater| eater.id == *id));
    let bit = |seat: usize| u32::try_from(seat).ok().and_then(|seat| 1u64.checked_shl(seat));
    seats.filter_map(bit).fold(0, |set, bit| set | bit)
}

/// For each component the candidates that offer it.
pub(super) fn offering(candidates: &[Candidate<'_>], comps: usize) -> Vec<Vec<usize>> {
    let mut offering = vec![Vec::new(); comps];
    for (ix, candidate) in candidates.iter().enumerate() {
        for option in candidate.elements.iter().flat_map(|element| &element.options) {
            if let Thing::Made(comp) = option.thing
                && offering[comp].last() != Some(&ix)
            {
                offering[comp].push(ix);
            }
        }
    }
    offering
}

/// The work of a service before options are chosen.
fn estimate(meal: &Meal, covers: usize, place: Where) -> service::Work {
    let count = i64::try_from(covers).expect("a table seats few");
    let slowest = |finish: Finish| match finish {
        Finish::Cold | Finish::Raw => 0,
        Finish::Toast => 1,
        Finish::Reheat => 2,
        Finish::Fry => 3,
    };
    let packed = matches!(place, Where::Packed(_));
    let warm = meal.elements.iter().filter_map(|element| {
        let option = element
            .options
            .iter()
            .max_by_key(|option| slowest(option.finish))?;
        let keep = match option.finish {
            Finish::Cold | Finish::Raw => false,
            Finish::Reheat => !packed,
            Finish::Toast | Finish::Fry => true,
        };
        let covers = (0..covers)
            .map(|ix| Cover::Guest(u32::try_from(ix).unwrap_or(u32::MAX)))
            .collect();
        keep.then(|| service::Warm {
            item: option.item.clone(),
            mass: option.portion.times(count),
            covers,
            finish: option.finish,
        })
    });
    service::Work {
        lots: meal
            .elements
            .iter()
            .map(|element| larderwright_model::LotId::new(element.id.as_str()))
            .collect(),
        warm: warm.collect(),
        assemble: meal.assemble_fixed + meal.assemble_per_cover.scale(count, 1, Rounding::Up),
    }
}

fn rules(meal: &Meal, elements: &[Elem]) -> Vec<Vec<(usize, usize)>> {
    let find = |element_id: &larderwright_model::ElementId, item: &str| {
        let element_ix = meal
            .elements
            .iter()
            .position(|element| element.id == *element_id)?;
        let element = &meal.elements[element_ix];
        let option = elements[element_ix]
            .options
            .iter()
            .position(|option| element.options[option.index].item.as_str() == item)?;
        Some((element_ix, option))
    };
    let pairs = meal.rules.iter().map(|rule| {
        rule.not
            .iter()
            .map(|(element, item)| find(element, item))
            .collect::<Option<Vec<_>>>()
    });
    pairs.flatten().collect()
}
