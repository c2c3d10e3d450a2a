//! From a household and a Monday to the snapshot that a planning run depends on, and nothing else.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::{Date, DateTime, Weekday};
use larderwright_model::{ComponentId, FoodId, Household, MealId, Snapshot};
use larderwright_records::Problem;

use crate::catalogue::{Larder, built_in, foods, taken_names, unknown, unknown_food_of};
use crate::{dates, nearest::nearest};

/// Version of the reference tables that a snapshot names.
pub const TABLES: &str = "2026-11";

/// What a planning run depends on besides household and week.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Options {
    /// Seed of the searches.
    pub seed: u64,
    /// Work budget: moves of the menu search.
    pub menu_work: u64,
    /// Work budget: schedules generated for each session.
    pub session_work: u64,
    /// Meals eaten lately, most recent first.
    pub eaten_lately: Vec<MealId>,
    /// Hash of the plan that the new one would replace.
    pub parent: Option<String>,
}

impl Default for Options {
    /// Budgets that plan a family's week in about a second.
    fn default() -> Self {
        Self {
            seed: 1,
            menu_work: 20_000,
            session_work: 8_000,
            eaten_lately: Vec::new(),
            parent: None,
        }
    }
}

/// Everything a planning run for the week from `monday` depends on.
///
/// # Errors
/// Every name in the household that leads nowhere, with the name that was probably meant. Lines are zero: see
/// [`locate`].
///
/// # Panics
/// Panics when `monday` is no Monday.
pub fn build_snapshot(
    household: Household,
    monday: Date,
    now: DateTime,
    options: Options,
) -> Result<Snapshot, Vec<Problem>> {
    assert_eq!(monday.weekday(), Weekday::Monday, "a week starts on a Monday");
    let larder = built_in()?;
    let problems = unknown_names(&household, larder);
    if !problems.is_empty() {
        return Err(problems);
    }
    let mut household = household;
    let sittings = dates::sittings(&household, monday);
    household.wishes.fixed = dates::fixed(&household, &sittings);
    let ids: BTreeSet<FoodId> = larder.foods().into_iter().chain(spoken_of(&household)).collect();
    Ok(Snapshot {
        now,
        monday,
        sessions: dates::sessions(&household, monday),
        shops: dates::shops(&household, monday),
        foods: foods(&household, &ids),
        components: larder.components.clone(),
        meals: larder.meals.clone(),
        lots: Vec::new(),
        habits: BTreeMap::new(),
        learnt: Vec::new(),
        eaten_lately: options.eaten_lately,
        tables: TABLES.into(),
        seed: options.seed,
        menu_work: options.menu_work,
        session_work: options.session_work,
        parent: options.parent,
        sittings,
        household,
    })
}

/// Foods of stock, par levels and standing items.
fn spoken_of(household: &Household) -> Vec<FoodId> {
    let stock = household.stock.iter().map(|item| &item.food);
    let pars = household.pars.iter().map(|item| &item.food);
    let standing = household.standing.iter().map(|item| &item.food);
    stock.chain(pars).chain(standing).cloned().collect()
}

fn unknown_names(household: &Household, larder: &Larder) -> Vec<Problem> {
    let mut problems = taken_names(household);
    problems.extend(
        household
            .stock
            .iter()
            .filter_map(|item| unknown_food_of(household, &item.food, "stock")),
    );
    problems.extend(
        household
            .pars
            .iter()
            .filter_map(|item| unknown_food_of(household, &item.food, "par")),
    );
    problems.extend(
        household
            .standing
            .iter()
            .filter_map(|item| unknown_food_of(household, &item.food, "standing")),
    );
    problems.extend(
        household
            .prices
            .iter()
            .filter_map(|item| unknown_food_of(household, &item.food, "price")),
    );
    let wishes = &household.wishes;
    problems.extend(
        wishes
            .off_meals
            .iter()
            .filter_map(|id| larder.unknown_meal(id, "wishes.off_meals")),
    );
    let off = wishes.off_components.iter();
    problems.extend(off.filter_map(|id| larder.unknown_component(id, "wishes.off_components")));
    problems.extend(
        wishes
            .fixed
            .values()
            .filter_map(|id| larder.unknown_meal(id, "wishes.fixed")),
    );
    for eater in &household.eaters {
        let field = format!("eater `{}`, dislikes", eater.name);
        problems.extend(
            eater
                .dislikes
                .iter()
                .filter(|name| {
                    household
                        .foods
                        .iter()
                        .all(|food| food.id.as_str() != name.as_str())
                })
                .filter_map(|name| unknown_dislike(name, &field, larder)),
        );
    }
    problems
}

fn unknown_dislike(name: &str, field: &str, larder: &Larder) -> Option<Problem> {
    let known = larder.components.contains_key(&ComponentId::new(name))
        || larderwright_reference::food(name).is_some();
    let components = larder.components.keys().map(ComponentId::as_str);
    let names = components.chain(larderwright_reference::all().iter().map(|row| row.id));
    (!known).then(|| unknown("food or component", name, field, nearest(name, names)))
}

/// Fills in the lines of problems that name something in back-ticks: the first line of the text on which that
/// name stands in quotes or alone. Problems that have a line keep it.
#[must_use]
pub fn locate(text: &str, problems: Vec<Problem>) -> Vec<Problem> {
    let line_of = |problem: &Problem| {
        let name = problem.message.split('`').nth(1)?;
        let quoted = [format!("\"{name}\""), format!("'{name}'"), format!("{name} =")];
        let at = text
            .lines()
            .position(|line| quoted.iter().any(|form| line.contains(form.as_str())))?;
        u32::try_from(at + 1).ok()
    };
    let located = |problem: Problem| {
        let line = if problem.line == 0 {
            line_of(&problem).unwrap_or(0)
        } else {
            problem.line
        };
        Problem { line, ..problem }
    };
    let mut all: Vec<Problem> = problems.into_iter().map(located).collect();
    all.sort();
    all
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;
    use larderwright_model::{StockItem, StockState};
    use larderwright_records::household::{DEMO_HOUSEHOLD, EXAMPLE_HOUSEHOLD, parse_household};

    use super::*;
    use crate::catalogue::unknown_food;

    const MONDAY: Date = date(2026, 11, 30);

    fn check(text: &str) -> Snapshot {
        let household = parse_household(text).unwrap_or_else(|problems| panic!("{problems:?}"));
        let now = date(2026, 11, 27).at(18, 0, 0, 0);
        build_snapshot(household, MONDAY, now, Options::default())
            .unwrap_or_else(|problems| panic!("{problems:?}"))
    }

    #[test]
    fn the_example_and_the_demo_name_nothing_unknown() {
        assert_eq!(check(EXAMPLE_HOUSEHOLD).monday, MONDAY);
        assert_eq!(check(DEMO_HOUSEHOLD).monday, MONDAY);
    }

    #[test]
    fn every_food_that_recipes_use_is_in_the_snapshot() {
        let snapshot = check(DEMO_HOUSEHOLD);
        for way in snapshot.components.values().flat_map(|component| &component.ways) {
            assert!(
                way.inputs
                    .iter()
                    .all(|input| snapshot.foods.contains_key(&input.food)),
                "{}",
                way.id
            );
        }
    }

    #[test]
    fn sittings_stand_in_the_order_of_time() {
        let snapshot = check(DEMO_HOUSEHOLD);
        assert!(snapshot.sittings.is_sorted_by_key(|sitting| sitting.at));
        assert!(snapshot.sessions.is_sorted_by_key(|session| session.from));
    }

    #[test]
    fn every_unknown_name_is_told_at_once() {
        let mut household = parse_household(EXAMPLE_HOUSEHOLD).expect("the example is well formed");
        household.stock.push(StockItem {
            food: "carot".into(),
            state: StockState::Have,
        });
        household.wishes.off_meals.insert("soup-super".into());
        let problems = unknown_names(&household, built_in().expect("the larder is whole"));
        let messages: Vec<&str> = problems.iter().map(|problem| problem.message.as_str()).collect();
        assert_eq!(
            messages,
            ["there is no food `carot`", "there is no meal `soup-super`"]
        );
        assert!(problems[1].help.contains("soup-supper"));
    }

    #[test]
    fn a_food_of_its_own_can_be_named_everywhere() {
        let text = format!(
            "{}\n[[food]]\nname = \"Smoked tofu\"\ndepartment = \"chilled\"\npack = \"200 g\"\n\
             [[standing]]\nfood = \"smoked-tofu\"\namount = \"400 g\"\n[[par]]\nfood = \"smoked-tofu\"\nlevel = \"200 g\"\n",
            EXAMPLE_HOUSEHOLD
                .replace("\"olive-oil\", ", "\"olive-oil\", \"smoked-tofu\", ")
                .replace("[\"capers\"]", "[\"capers\", \"smoked-tofu\"]")
        );
        let snapshot = check(&text);
        assert!(snapshot.foods.contains_key(&"smoked-tofu".into()));
        let json = larderwright_records::snapshot::snapshot_to_json(&snapshot);
        let read =
            larderwright_records::snapshot::snapshot_from_json(&json).expect("it was written just now");
        assert_eq!(read, snapshot);
    }

    #[test]
    fn a_problem_is_found_on_its_line() {
        let text = "name = \"x\"\n\n[[stock]]\nfood = \"carot\"\n";
        let problem = unknown_food(&"carot".into(), "stock").expect("unknown");
        assert_eq!(locate(text, vec![problem])[0].line, 4);
    }
}
