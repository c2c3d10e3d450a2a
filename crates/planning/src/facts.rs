//! Facts of items: what a component or food is made of, and whether an eater may have it.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_model::{
    Allergen, Avoid, Component, ComponentId, Contact, Diet, Eater, Equipment, Food, FoodId, FoodKind, Input,
    Item, Kitchen, Presence, Snapshot, Step, Way, WayId,
};

/// What an item is made of, as far as diets and allergies ask.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Makeup {
    /// Kinds of food in it.
    pub kinds: BTreeSet<FoodKind>,
    /// Allergens with the stronger presence.
    pub allergens: BTreeMap<Allergen, Presence>,
    /// Some food's allergens are not known.
    pub unknown: bool,
    /// Foods in it, for dislikes.
    pub foods: BTreeSet<FoodId>,
}

impl Makeup {
    fn add(&mut self, food: &Food) {
        self.kinds.extend(food.kinds.iter().copied());
        self.foods.insert(food.id.clone());
        match &food.allergens {
            None => self.unknown = true,
            Some(allergens) => {
                for (&allergen, &presence) in allergens {
                    let slot = self.allergens.entry(allergen).or_insert(presence);
                    *slot = (*slot).max(presence);
                }
            }
        }
    }
}

/// Why an eater may not have an item.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Refusal {
    /// The diet excludes a kind of food in it.
    Diet,
    /// Something avoided by choice is in it.
    Avoid,
    /// It contains an allergen, may contain it, or nobody knows.
    Allergy,
}

/// The way in which this kitchen makes a component: the first whose equipment exists.
#[must_use]
pub fn way_here<'a>(component: &'a Component, kitchen: &Kitchen) -> Option<&'a Way> {
    component.ways.iter().find(|way| can_make(way, kitchen))
}

/// Whether a component is cooked in a liquid that is poured off and holds nothing that water would wash away: no oil, no
/// salt, no spice beside it.
#[must_use]
pub fn is_plain_and_drained(component: &Component, way: &WayId) -> bool {
    component.way(way).is_some_and(|way| {
        let bare = |input: &Input| input.drained || input.food == way.driver;
        way.inputs.iter().any(|input| input.drained) && way.inputs.iter().all(bare)
    })
}

/// Whether a step brings raw animal food to its core temperature in a simmering pot.
#[must_use]
pub fn is_moist_meat(step: &Step) -> bool {
    let core = step.safety.as_ref().is_some_and(|safety| safety.core.is_some());
    core && step.boil.is_some() && !step.uses.contains(&Equipment::PressureCooker)
}

/// Whether a kitchen has what a way needs, and room for its smallest batch.
#[must_use]
pub fn can_make(way: &Way, kitchen: &Kitchen) -> bool {
    way.needs.iter().all(|&need| kitchen.has(need))
        && way
            .steps
            .iter()
            .all(|step| step.uses.iter().all(|&equipment| kitchen.has(equipment)))
        && way
            .steps
            .iter()
            .all(|step| step.load_plan(way.size.min, kitchen).is_some())
        && way.steps.iter().filter_map(|step| step.oven).all(|range| {
            kitchen
                .oven
                .is_some_and(|oven| oven.min <= range.max && range.min <= oven.max)
        })
}

/// What an item is made of in this snapshot; `None` when it is not known or cannot be made here.
#[must_use]
pub fn makeup(snapshot: &Snapshot, item: &Item) -> Option<Makeup> {
    let mut makeup = Makeup::default();
    match item {
        Item::Food(id) => makeup.add(snapshot.foods.get(id)?),
        Item::Component(id) => {
            let component = snapshot.components.get(id)?;
            let way = way_here(component, &snapshot.household.kitchen)?;
            for input in &way.inputs {
                makeup.add(snapshot.foods.get(&input.food)?);
            }
        }
    }
    Some(makeup)
}

/// Whether the diet excludes a kind of food.
#[must_use]
pub fn diet_excludes(diet: Diet, kind: FoodKind) -> bool {
    let flesh = matches!(
        kind,
        FoodKind::Poultry
            | FoodKind::Beef
            | FoodKind::Pork
            | FoodKind::Lamb
            | FoodKind::OtherMeat
            | FoodKind::Gelatine
    );
    let sea = matches!(kind, FoodKind::Fish | FoodKind::Crustacean | FoodKind::Mollusc);
    let animal = matches!(kind, FoodKind::Dairy | FoodKind::Egg | FoodKind::Honey);
    match diet {
        Diet::Everything => false,
        Diet::Pescatarian => flesh,
        Diet::Vegetarian => flesh || sea,
        Diet::Vegan => flesh || sea || animal,
    }
}

fn avoids(eater: &Eater, makeup: &Makeup) -> bool {
    let has = |allergen| makeup.allergens.get(&allergen) == Some(&Presence::Contains);
    eater.avoid.iter().any(|avoid| match avoid {
        Avoid::Dairy => makeup.kinds.contains(&FoodKind::Dairy) || has(Allergen::Milk),
        Avoid::Gluten => has(Allergen::Gluten) || has(Allergen::Wheat),
        Avoid::Pork => makeup.kinds.contains(&FoodKind::Pork),
        Avoid::Alcohol => makeup.kinds.contains(&FoodKind::Alcohol),
    })
}

/// Whether an allergic eater may not have it: containing it always counts; `may contain` counts
/// from traces upwards; unknown counts for anyone with an allergy.
#[must_use]
pub fn allergy_excludes(eater: &Eater, makeup: &Makeup) -> bool {
    eater.allergies.iter().any(|(allergen, contact)| {
        makeup.unknown
            || match makeup.allergens.get(allergen) {
                None => false,
                Some(Presence::Contains) => true,
                Some(Presence::MayContain) => *contact >= Contact::Traces,
            }
    })
}

/// Whether an eater may have an item.
///
/// # Errors
/// The first reason why not.
pub fn may_have(eater: &Eater, makeup: &Makeup) -> Result<(), Refusal> {
    if makeup.kinds.iter().any(|&kind| diet_excludes(eater.diet, kind)) {
        return Err(Refusal::Diet);
    }
    if avoids(eater, makeup) {
        return Err(Refusal::Avoid);
    }
    if allergy_excludes(eater, makeup) {
        return Err(Refusal::Allergy);
    }
    Ok(())
}

/// Whether an eater dislikes an item itself or a food in it.
#[must_use]
pub fn dislikes(eater: &Eater, item: &Item, makeup: &Makeup) -> bool {
    eater.dislikes.contains(item.as_str())
        || makeup
            .foods
            .iter()
            .any(|food| eater.dislikes.contains(food.as_str()))
}

/// Whether an item may be on the table at all when these people sit at it: an eater who states
/// severe contact keeps the allergen off every plate of the sitting.
#[must_use]
pub fn on_the_table(eaters: &[&Eater], makeup: &Makeup) -> bool {
    !eaters.iter().any(|eater| {
        eater.allergies.iter().any(|(allergen, contact)| {
            *contact == Contact::Severe && makeup.allergens.get(allergen) == Some(&Presence::Contains)
        })
    })
}

/// Makeups of every item that meals speak of.
#[must_use]
pub fn makeups(snapshot: &Snapshot) -> BTreeMap<Item, Makeup> {
    let items = snapshot
        .meals
        .values()
        .flat_map(|meal| &meal.elements)
        .flat_map(|element| &element.options)
        .map(|option| option.item.clone());
    items
        .filter_map(|item| makeup(snapshot, &item).map(|found| (item, found)))
        .collect()
}

/// The allergens that somebody states severe contact for, by the components that contain them; wheat is gluten.
#[must_use]
pub fn severe_allergens(snapshot: &Snapshot) -> BTreeMap<ComponentId, BTreeSet<Allergen>> {
    let eaters = snapshot.household.eaters.iter();
    let severe: BTreeSet<Allergen> = eaters
        .flat_map(|eater| &eater.allergies)
        .filter(|(_, contact)| **contact == Contact::Severe)
        .map(|(&allergen, _)| allergen)
        .collect();
    let held = |id: &ComponentId| -> BTreeSet<Allergen> {
        let makeup = makeup(snapshot, &Item::Component(id.clone()));
        let found = makeup.map(|makeup| makeup.allergens).unwrap_or_default();
        let has = |allergen| found.get(&allergen) == Some(&Presence::Contains);
        let own =
            |allergen: &Allergen| has(*allergen) || (*allergen == Allergen::Gluten && has(Allergen::Wheat));
        severe.iter().copied().filter(own).collect()
    };
    let all = snapshot.components.keys().map(|id| (id.clone(), held(id)));
    all.filter(|(_, held)| !held.is_empty()).collect()
}
