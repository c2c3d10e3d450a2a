//! What can be cooked and bought: the built-in larder read into types, foods with the names, packs and prices
//! of this household. Nothing is chosen here.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

use larderwright_model::{
    Component, ComponentId, Department, Food, FoodId, Household, Item, Meal, MealId, Pack, PackSize,
    PriceBasis, PriceEntry,
};
use larderwright_quantity::{Mass, Money, Rounding, mul_div};
use larderwright_records::Problem;
use larderwright_records::larder::{parse_component, parse_meal};
use larderwright_reference::larder::{COMPONENTS, MEALS};

use crate::nearest::nearest;

/// Recipes and meals that are known.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Larder {
    /// Components by identifier.
    pub components: BTreeMap<ComponentId, Component>,
    /// Meals by identifier.
    pub meals: BTreeMap<MealId, Meal>,
}

/// The built-in larder, read once.
///
/// # Errors
/// Every mistake in its files; the field opens with the file's name.
pub fn built_in() -> Result<&'static Larder, Vec<Problem>> {
    static LARDER: OnceLock<Result<Larder, Vec<Problem>>> = OnceLock::new();
    LARDER.get_or_init(read_built_in).as_ref().map_err(Clone::clone)
}

fn read_built_in() -> Result<Larder, Vec<Problem>> {
    let mut larder = Larder::default();
    let mut problems = Vec::new();
    for &(id, text) in COMPONENTS {
        match parse_component(id, text) {
            Ok(component) => drop(larder.components.insert(component.id.clone(), component)),
            Err(found) => problems.extend(found.into_iter().map(|problem| in_file(id, problem))),
        }
    }
    for &(id, text) in MEALS {
        match parse_meal(id, text) {
            Ok(meal) => drop(larder.meals.insert(meal.id.clone(), meal)),
            Err(found) => problems.extend(found.into_iter().map(|problem| in_file(id, problem))),
        }
    }
    problems.extend(larder.dangling());
    if problems.is_empty() {
        Ok(larder)
    } else {
        Err(problems)
    }
}

fn in_file(id: &str, problem: Problem) -> Problem {
    let field = format!("{id}.toml {}", problem.field).trim_end().to_owned();
    Problem { field, ..problem }
}

impl Larder {
    /// References that lead nowhere.
    #[must_use]
    pub fn dangling(&self) -> Vec<Problem> {
        let mut problems = Vec::new();
        for component in self.components.values() {
            for way in &component.ways {
                let foods = way.inputs.iter().map(|input| &input.food).chain([&way.driver]);
                problems.extend(
                    foods.filter_map(|food| unknown_food(food, &format!("{}.toml way", component.id))),
                );
            }
        }
        for meal in self.meals.values() {
            let options = meal.elements.iter().flat_map(|element| &element.options);
            for option in options {
                let field = format!("{}.toml element.option", meal.id);
                problems.extend(match &option.item {
                    Item::Food(food) => unknown_food(food, &field),
                    Item::Component(id) => self.unknown_component(id, &field),
                });
            }
        }
        problems
    }

    /// A problem, when there is no such component.
    #[must_use]
    pub fn unknown_component(&self, id: &ComponentId, field: &str) -> Option<Problem> {
        let known = || self.components.keys().map(ComponentId::as_str);
        (!self.components.contains_key(id))
            .then(|| unknown("component", id.as_str(), field, nearest(id.as_str(), known())))
    }

    /// A problem, when there is no such meal.
    #[must_use]
    pub fn unknown_meal(&self, id: &MealId, field: &str) -> Option<Problem> {
        let known = || self.meals.keys().map(MealId::as_str);
        (!self.meals.contains_key(id))
            .then(|| unknown("meal", id.as_str(), field, nearest(id.as_str(), known())))
    }

    /// The foods that recipes and meals speak of.
    #[must_use]
    pub fn foods(&self) -> BTreeSet<FoodId> {
        let ways = self.components.values().flat_map(|component| &component.ways);
        let inputs = ways.flat_map(|way| way.inputs.iter().map(|input| &input.food).chain([&way.driver]));
        let elements = self.meals.values().flat_map(|meal| &meal.elements);
        let options = elements
            .flat_map(|element| &element.options)
            .filter_map(|option| match &option.item {
                Item::Food(food) => Some(food),
                Item::Component(_) => None,
            });
        inputs.chain(options).cloned().collect()
    }
}

/// A problem, when there is no such food.
#[must_use]
pub fn unknown_food(id: &FoodId, field: &str) -> Option<Problem> {
    let known = || larderwright_reference::all().iter().map(|row| row.id);
    let missing = larderwright_reference::food(id.as_str()).is_none();
    missing.then(|| unknown("food", id.as_str(), field, nearest(id.as_str(), known())))
}

pub(crate) fn unknown(what: &str, id: &str, field: &str, meant: Option<&str>) -> Problem {
    let help = match meant {
        Some(meant) => format!("Did you mean `{meant}`?"),
        None => format!("Use the identifier of a {what} that is known, or leave the line out."),
    };
    Problem {
        line: 0,
        field: field.into(),
        message: format!("there is no {what} `{id}`"),
        help,
    }
}

/// A problem, when there is no such food in the table and the household has none of its own.
#[must_use]
pub fn unknown_food_of(household: &Household, id: &FoodId, field: &str) -> Option<Problem> {
    let own = || household.foods.iter().map(|food| food.id.as_str());
    if own().any(|known| known == id.as_str()) {
        return None;
    }
    let problem = unknown_food(id, field)?;
    Some(match nearest(id.as_str(), own()) {
        Some(meant) => unknown("food", id.as_str(), field, Some(meant)),
        None => problem,
    })
}

/// Foods of the household's own that bear the identifier of a food in the table.
#[must_use]
pub fn taken_names(household: &Household) -> Vec<Problem> {
    let taken = |food: &&Food| larderwright_reference::food(food.id.as_str()).is_some();
    let problem = |food: &Food| Problem {
        line: 0,
        field: "food".into(),
        message: format!(
            "`{}` is known already, as `{}` of the food table",
            food.name, food.id
        ),
        help: "Use that one and leave this group out, or add a line `id = ...` with another id.".into(),
    };
    household.foods.iter().filter(taken).map(problem).collect()
}

/// Foods as this household buys them: its names, its packs, the prices it wrote down. All of its own are among them.
#[must_use]
pub fn foods(household: &Household, ids: &BTreeSet<FoodId>) -> BTreeMap<FoodId, Food> {
    let rows = ids
        .iter()
        .filter_map(|id| larderwright_reference::food(id.as_str()));
    let built_in = rows.map(|row| {
        let mut food = row.to_food_in(household.region);
        if household.currency.code() != "USD" {
            food.packs.iter_mut().for_each(foreign_price);
        }
        food
    });
    let own = household.foods.iter().cloned().map(|mut food| {
        let department = food.department;
        let unpriced = |pack: &&mut Pack| pack.basis == PriceBasis::Estimate && pack.price == Money::ZERO;
        for pack in food.packs.iter_mut().filter(unpriced) {
            pack.price = usual_price(department, pack.size.mass);
        }
        food
    });
    let priced = |mut food: Food| {
        for entry in household.prices.iter().filter(|entry| entry.food == food.id) {
            set_price(&mut food.packs, entry);
        }
        food.packs.sort_by(|one, other| {
            (one.size.mass, &one.size.label).cmp(&(other.size.mass, &other.size.label))
        });
        (food.id.clone(), food)
    };
    built_in.chain(own).map(priced).collect()
}

/// What a pack costs when nobody says: the middle one of the table's prices per kilogram in its department, in
/// hundredths. An estimate, and marked as one.
fn usual_price(department: Department, mass: Mass) -> Money {
    let rows = larderwright_reference::all()
        .iter()
        .filter(|row| row.department == department);
    let packs = rows
        .flat_map(|row| row.packs)
        .filter(|pack| pack.mg > 0 && pack.usd_minor > 0);
    let mut per_kg: Vec<i64> = packs
        .map(|pack| mul_div(pack.usd_minor, 1_000_000, pack.mg, Rounding::Up))
        .collect();
    per_kg.sort_unstable();
    let middle = per_kg.get(per_kg.len() / 2).copied().unwrap_or(0);
    Money::from_minor(mul_div(middle, mass.mg(), 1_000_000, Rounding::Up))
}

/// An average published in another currency says little here: it is shown as the estimate it is.
fn foreign_price(pack: &mut Pack) {
    pack.basis = PriceBasis::Estimate;
}

/// A written price replaces the estimate for that pack, or adds the pack.
fn set_price(packs: &mut Vec<Pack>, entry: &PriceEntry) {
    let pack = Pack {
        size: PackSize {
            label: entry.label.clone(),
            mass: entry.pack,
        },
        price: entry.price,
        basis: PriceBasis::Household,
    };
    packs.retain(|known| known.size.mass != entry.pack);
    packs.push(pack);
}

#[cfg(test)]
mod tests {
    use larderwright_quantity::Currency;
    use larderwright_records::household::{EXAMPLE_HOUSEHOLD, parse_household};

    use super::*;

    fn household() -> Household {
        parse_household(EXAMPLE_HOUSEHOLD).expect("the example is well formed")
    }

    fn carrot(household: &Household) -> Food {
        let ids = BTreeSet::from([FoodId::new("carrot")]);
        foods(household, &ids)
            .remove(&ids.iter().next().cloned().expect("one"))
            .expect("carrots are known")
    }

    #[test]
    fn the_built_in_larder_is_whole() {
        let larder = built_in().unwrap_or_else(|problems| panic!("{problems:?}"));
        assert_eq!(larder.components.len(), COMPONENTS.len());
        assert_eq!(larder.meals.len(), MEALS.len());
    }

    #[test]
    fn a_written_price_replaces_the_estimate_for_its_pack() {
        let mut household = household();
        let before = carrot(&household);
        let entry = PriceEntry {
            food: "carrot".into(),
            pack: before.packs[0].size.mass,
            label: "bunch".into(),
            price: Money::from_minor(77),
        };
        household.prices = vec![entry];
        let after = carrot(&household);
        assert_eq!(after.packs.len(), before.packs.len());
        let written = after
            .packs
            .iter()
            .find(|pack| pack.basis == PriceBasis::Household)
            .expect("it is there");
        assert_eq!(
            (written.price, written.size.label.as_str()),
            (Money::from_minor(77), "bunch")
        );
    }

    #[test]
    fn a_written_price_of_an_unknown_pack_adds_it_in_order() {
        let mut household = household();
        let count = carrot(&household).packs.len();
        household.prices = vec![PriceEntry {
            food: "carrot".into(),
            pack: Mass::from_g(13_000),
            label: "sack".into(),
            price: Money::from_minor(700),
        }];
        let after = carrot(&household);
        assert_eq!(after.packs.len(), count + 1);
        assert!(after.packs.is_sorted_by_key(|pack| pack.size.mass));
    }

    #[test]
    fn averages_in_another_currency_are_estimates() {
        let mut household = household();
        household.prices.clear();
        household.currency = Currency::parse("CHF").expect("a currency code");
        assert!(
            carrot(&household)
                .packs
                .iter()
                .all(|pack| pack.basis == PriceBasis::Estimate)
        );
    }

    fn with_own(lines: &str) -> Household {
        let text = format!("{EXAMPLE_HOUSEHOLD}\n[[food]]\nname = \"Smoked tofu\"\n{lines}\n");
        parse_household(&text).unwrap_or_else(|problems| panic!("{problems:?}"))
    }

    #[test]
    fn a_food_of_its_own_stands_beside_those_of_the_table() {
        let household = with_own("department = \"chilled\"\npack = \"200 g\"");
        let own = FoodId::new("smoked-tofu");
        let foods = foods(&household, &BTreeSet::from([FoodId::new("carrot")]));
        assert_eq!(foods.len(), 2);
        assert_eq!(foods[&own].allergens, None);
        assert_eq!(unknown_food_of(&household, &own, "stock"), None);
        let slip = unknown_food_of(&household, &"smoked-tufo".into(), "stock").expect("a slip of the pen");
        assert_eq!(slip.help, "Did you mean `smoked-tofu`?");
        assert_eq!(taken_names(&household), []);
    }

    #[test]
    fn a_pack_without_a_price_gets_an_estimate_in_proportion() {
        let price = |pack: &str| {
            let household = with_own(&format!("department = \"chilled\"\npack = \"{pack}\""));
            let food = &foods(&household, &BTreeSet::new())[&FoodId::new("smoked-tofu")];
            assert_eq!(food.packs[0].basis, PriceBasis::Estimate);
            food.packs[0].price.minor()
        };
        assert!(price("1 kg") > 0);
        assert!((price("1 kg") - 5 * price("200 g")).abs() <= 5);
    }

    #[test]
    fn a_written_price_counts_for_a_food_of_its_own() {
        let household = with_own(
            "department = \"chilled\"\npack = \"200 g\"\n[[price]]\nfood = \"smoked-tofu\"\npack = \"200 g\"\nlabel = \"block\"\nprice = 3.19",
        );
        let food = &foods(&household, &BTreeSet::new())[&FoodId::new("smoked-tofu")];
        assert_eq!(food.packs.len(), 1);
        assert_eq!(food.packs[0].price, Money::from_minor(319));
    }

    #[test]
    fn a_food_of_its_own_takes_no_name_of_the_table() {
        let household = with_own("id = \"carrot\"\ndepartment = \"produce\"");
        let problems = taken_names(&household);
        assert_eq!(
            problems[0].message,
            "`Smoked tofu` is known already, as `carrot` of the food table"
        );
    }

    #[test]
    fn an_unknown_food_is_told_with_what_was_meant() {
        let problem = unknown_food(&"carot".into(), "stock").expect("there is no such food");
        assert_eq!(problem.message, "there is no food `carot`");
        assert_eq!(problem.help, "Did you mean `carrot`?");
    }
}
