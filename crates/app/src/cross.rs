//! Cross-use: which dinners can be put together from what is cooked and what stands in the cupboard.
//!
//! A dinner counts when every place on the plate that has to be filled can be filled from the components at hand or
//! from a food that is kept in the cupboard, and at least two of the components are on the plate. Nothing is sampled:
//! more components never lose a dinner, so the fours of a base, a protein and two vegetables bound every larger choice.

use std::collections::BTreeMap;

use larderwright_model::{
    Component, ComponentId, Family, Food, FoodId, Item, Meal, MealId, Need, Occasion, StorageClass,
};

/// Components on a plate at the least, for a dinner to count as put together from them.
const OF_COMPONENTS: u32 = 2;

/// The dinners of a larder as sets of components.
pub struct Cross<'l> {
    components: Vec<&'l ComponentId>,
    dinners: Vec<Dinner<'l>>,
    /// Grains, and vegetables that dinners take for their base.
    pub bases: Vec<&'l ComponentId>,
    /// Pulses, eggs, meat, fish and what takes their place.
    pub proteins: Vec<&'l ComponentId>,
    /// Vegetables and salads.
    pub vegetables: Vec<&'l ComponentId>,
}

struct Dinner<'l> {
    id: &'l MealId,
    /// For each place that the cupboard cannot fill the components that can.
    needs: Vec<u128>,
    offers: u128,
}

impl Dinner<'_> {
    fn is_from(&self, set: u128) -> bool {
        (self.offers & set).count_ones() >= OF_COMPONENTS && self.needs.iter().all(|need| need & set != 0)
    }
}

/// The scarcest choice of vegetables for a base and a protein.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Least<'l> {
    /// Dinners that can be put together.
    pub dinners: usize,
    /// The vegetables.
    pub vegetables: [&'l ComponentId; 2],
}

impl<'l> Cross<'l> {
    /// The dinners among some meals.
    ///
    /// # Panics
    /// Panics when there are more than 128 components.
    #[must_use]
    pub fn new(
        components: &'l BTreeMap<ComponentId, Component>,
        meals: &'l BTreeMap<MealId, Meal>,
        foods: &BTreeMap<FoodId, Food>,
    ) -> Self {
        let ids: Vec<&ComponentId> = components.keys().collect();
        assert!(ids.len() <= 128, "a set of components holds 128");
        let dinners: Vec<&Meal> = meals
            .values()
            .filter(|meal| meal.at.contains(&Occasion::Dinner))
            .collect();
        let taken_as = |component: &ComponentId, place: &str| {
            let elements = dinners.iter().flat_map(|meal| &meal.elements);
            let options = elements
                .filter(|it| it.id.as_str() == place)
                .flat_map(|it| &it.options);
            options
                .into_iter()
                .any(|option| option.item == Item::Component(component.clone()))
        };
        let role = |place: &str, families: &[Family]| {
            let of_family = components.values().filter(|it| families.contains(&it.family));
            of_family
                .map(|it| &it.id)
                .filter(|id| taken_as(id, place))
                .collect()
        };
        Self {
            bases: role("base", &[Family::Grain, Family::Vegetable]),
            proteins: role("protein", &[Family::Pulse, Family::Protein, Family::Egg]),
            vegetables: role("vegetable", &[Family::Vegetable, Family::Salad]),
            dinners: dinners.iter().map(|meal| dinner(meal, &ids, foods)).collect(),
            components: ids,
        }
    }

    fn set<'a>(&self, components: impl IntoIterator<Item = &'a ComponentId>) -> u128 {
        let bit = |id: &ComponentId| self.components.iter().position(|known| *known == id);
        components
            .into_iter()
            .filter_map(bit)
            .fold(0, |set, bit| set | 1 << bit)
    }

    /// The dinners that can be put together from some components.
    pub fn dinners<'a>(&self, components: impl IntoIterator<Item = &'a ComponentId>) -> Vec<&'l MealId> {
        let set = self.set(components);
        let found = self.dinners.iter().filter(|dinner| dinner.is_from(set));
        found.map(|dinner| dinner.id).collect()
    }

    /// How many dinners there are.
    #[must_use]
    pub fn dinner_count(&self) -> usize {
        self.dinners.len()
    }

    /// All pairs of vegetables.
    pub fn pairs(&self) -> impl Iterator<Item = [&'l ComponentId; 2]> + '_ {
        let all = &self.vegetables;
        all.iter()
            .enumerate()
            .flat_map(move |(at, one)| all[at + 1..].iter().map(move |other| [*one, *other]))
    }

    /// The two vegetables that leave the fewest dinners to a base and a protein; `None` with fewer than two.
    #[must_use]
    pub fn least(&self, base: &ComponentId, protein: &ComponentId) -> Option<Least<'l>> {
        let counted = self.pairs().map(|vegetables| Least {
            dinners: self.dinners([base, protein, vegetables[0], vegetables[1]]).len(),
            vegetables,
        });
        counted.min_by_key(|least| least.dinners)
    }
}

fn dinner<'l>(meal: &'l Meal, ids: &[&ComponentId], foods: &BTreeMap<FoodId, Food>) -> Dinner<'l> {
    let (mut needs, mut offers) = (Vec::new(), 0);
    for element in &meal.elements {
        let (mut set, mut stocked) = (0, false);
        // What may not go with everything is not counted on.
        let free = |item: &Item| {
            let mut barred = meal.rules.iter().flat_map(|rule| &rule.not);
            !barred.any(|(place, barred)| *place == element.id && barred == item.as_str())
        };
        for option in element.options.iter().filter(|option| free(&option.item)) {
            match &option.item {
                Item::Component(id) => {
                    let bit = ids.iter().position(|known| *known == id);
                    set |= bit.map_or(0, |bit| 1 << bit);
                }
                Item::Food(id) => stocked |= foods.get(id).is_some_and(is_stocked),
            }
        }
        offers |= set;
        if element.need != Need::Optional && !stocked {
            needs.push(set);
        }
    }
    Dinner {
        id: &meal.id,
        needs,
        offers,
    }
}

fn is_stocked(food: &Food) -> bool {
    matches!(food.storage, StorageClass::Cupboard | StorageClass::Tap)
}
