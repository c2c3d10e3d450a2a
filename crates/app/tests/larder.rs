//! The built-in larder as a whole: what can be put together from few components, and for whom there is enough change.
//! What an eater may have is derived here from the kinds and allergens of the foods, without the planner.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_app::catalogue::{Larder, built_in};
use larderwright_app::cross::Cross;
use larderwright_model::{
    Allergen, ComponentId, Equipment, Food, FoodId, FoodKind, Item, Meal, Need, Occasion, Presence, Way,
};

fn larder() -> &'static Larder {
    built_in().expect("the larder is whole")
}

fn foods() -> BTreeMap<FoodId, Food> {
    let rows = larderwright_reference::all().iter();
    rows.map(|row| (FoodId::new(row.id), row.to_food())).collect()
}

#[test]
fn any_base_protein_and_two_vegetables_make_five_dinners() {
    let foods = foods();
    let cross = Cross::new(&larder().components, &larder().meals, &foods);
    let mut fours = 0;
    for base in &cross.bases {
        for protein in &cross.proteins {
            for [one, other] in cross.pairs() {
                fours += 1;
                let found = cross.dinners([*base, *protein, one, other]);
                assert!(found.len() >= 5, "{base}, {protein}, {one}, {other}: {found:?}");
            }
        }
    }
    let pairs = cross.vegetables.len() * (cross.vegetables.len() - 1) / 2;
    assert_eq!(fours, cross.bases.len() * cross.proteins.len() * pairs);
    assert!(fours >= 5000, "{fours}");
}

#[test]
fn a_fifth_component_never_loses_a_dinner() {
    // By induction the fours above bound every choice of six.
    let foods = foods();
    let cross = Cross::new(&larder().components, &larder().meals, &foods);
    for base in &cross.bases {
        for protein in &cross.proteins {
            let [one, other] = cross.pairs().next().expect("there are vegetables");
            let four = [*base, *protein, one, other];
            let before = cross.dinners(four);
            for fifth in larder().components.keys() {
                let after = cross.dinners(four.into_iter().chain([fifth]));
                assert!(
                    before.iter().all(|meal| after.contains(meal)),
                    "{four:?} and {fifth}"
                );
            }
        }
    }
}

#[test]
fn a_bowl_wants_what_the_cupboard_does_not_hold() {
    let foods = foods();
    let cross = Cross::new(&larder().components, &larder().meals, &foods);
    let ids = |list: &[&str]| list.iter().map(|id| ComponentId::new(id)).collect::<Vec<_>>();
    let has_bowl = |list: &[&str]| {
        let found = cross.dinners(&ids(list));
        found.iter().any(|id| id.as_str() == "levantine-bowl")
    };
    let four = ["bulgur", "chickpeas", "roast-carrots", "roast-cauliflower"];
    // Its sauce is cooked, its fresh things come from the fridge or the pickle jar.
    assert!(!has_bowl(&four));
    assert!(!has_bowl(&[&four[..], &["tahini-sauce"]].concat()));
    assert!(has_bowl(
        &[&four[..], &["tahini-sauce", "pickled-red-onions"]].concat()
    ));
}

/// Who eats, or in what kitchen.
struct Case {
    name: &'static str,
    may: fn(&Food) -> bool,
    way: fn(&Way) -> bool,
}

fn only(food: &Food, kinds: &[FoodKind]) -> bool {
    let always = [FoodKind::Plant, FoodKind::Mineral, FoodKind::Alcohol];
    food.kinds
        .iter()
        .all(|kind| always.contains(kind) || kinds.contains(kind))
}

fn free_of(food: &Food, allergens: &[Allergen]) -> bool {
    let absent = |marks: &BTreeMap<Allergen, Presence>| {
        allergens.iter().all(|it| {
            marks
                .get(it)
                .is_none_or(|presence| *presence != Presence::Contains)
        })
    };
    food.allergens.as_ref().is_some_and(absent)
}

fn needs_oven(way: &Way) -> bool {
    let heat = [Equipment::Oven, Equipment::Rack];
    let uses = way.steps.iter().flat_map(|step| &step.uses);
    way.needs.iter().chain(uses).any(|it| heat.contains(it))
}

const VEGETARIAN: [FoodKind; 3] = [FoodKind::Dairy, FoodKind::Egg, FoodKind::Honey];
const FISH: [FoodKind; 6] = [
    FoodKind::Dairy,
    FoodKind::Egg,
    FoodKind::Honey,
    FoodKind::Fish,
    FoodKind::Crustacean,
    FoodKind::Mollusc,
];

const CASES: &[Case] = &[
    Case {
        name: "vegan",
        may: |food| only(food, &[]),
        way: |_| true,
    },
    Case {
        name: "vegetarian",
        may: |food| only(food, &VEGETARIAN),
        way: |_| true,
    },
    Case {
        name: "pescatarian",
        may: |food| only(food, &FISH),
        way: |_| true,
    },
    Case {
        name: "no gluten",
        may: |food| free_of(food, &[Allergen::Gluten, Allergen::Wheat]),
        way: |_| true,
    },
    Case {
        name: "no milk",
        may: |food| free_of(food, &[Allergen::Milk]),
        way: |_| true,
    },
    Case {
        name: "no nuts",
        may: |food| free_of(food, &[Allergen::TreeNuts, Allergen::Peanuts]),
        way: |_| true,
    },
    Case {
        name: "vegan without gluten",
        may: |food| only(food, &[]) && free_of(food, &[Allergen::Gluten, Allergen::Wheat]),
        way: |_| true,
    },
    Case {
        name: "no oven",
        may: |_| true,
        way: |way| !needs_oven(way),
    },
    Case {
        name: "vegan, no oven",
        may: |food| only(food, &[]),
        way: |way| !needs_oven(way),
    },
];

/// The items that somebody may have.
fn allowed(case: &Case, foods: &BTreeMap<FoodId, Food>) -> BTreeSet<Item> {
    let may = |id: &FoodId| foods.get(id).is_some_and(case.may);
    let plain = foods.keys().filter(|id| may(id)).map(|id| Item::Food(id.clone()));
    let cooked = larder().components.values().filter(|component| {
        let mut ways = component.ways.iter().filter(|way| (case.way)(way));
        ways.next()
            .is_some_and(|way| way.inputs.iter().all(|input| may(&input.food)))
    });
    plain
        .chain(cooked.map(|it| Item::Component(it.id.clone())))
        .collect()
}

/// Whether every place that has to be filled can be filled.
fn can_be_filled(meal: &Meal, items: &BTreeSet<Item>) -> bool {
    let mut needed = meal
        .elements
        .iter()
        .filter(|element| element.need != Need::Optional);
    needed.all(|element| element.options.iter().any(|option| items.contains(&option.item)))
}

fn meals_at(occasions: &[Occasion]) -> impl Iterator<Item = &'static Meal> {
    let meals = larder().meals.values();
    meals.filter(move |meal| meal.at.iter().any(|at| occasions.contains(at)))
}

/// Different items of an element over some meals.
fn choice<'m>(meals: &[&'m Meal], element: &str, items: &BTreeSet<Item>) -> BTreeSet<&'m Item> {
    let places = meals
        .iter()
        .flat_map(|meal| &meal.elements)
        .filter(|it| it.id.as_str() == element);
    let options = places.flat_map(|place| &place.options).map(|option| &option.item);
    options.filter(|item| items.contains(item)).collect()
}

#[test]
fn everybody_finds_a_varied_week() {
    let foods = foods();
    for case in CASES {
        let items = allowed(case, &foods);
        let open = |occasions: &[Occasion]| -> Vec<&Meal> {
            meals_at(occasions)
                .filter(|meal| can_be_filled(meal, &items))
                .collect()
        };
        let dinners = open(&[Occasion::Dinner]);
        let packed = open(&[Occasion::PackedCold, Occasion::PackedHot]);
        let breakfasts = open(&[Occasion::Breakfast]);
        println!(
            "{}: {} dinners, {} packed, {} breakfasts",
            case.name,
            dinners.len(),
            packed.len(),
            breakfasts.len()
        );
        // Three weeks without the same dinner, so that a week can differ from the one before.
        assert!(dinners.len() >= 21, "{}: {} dinners", case.name, dinners.len());
        assert!(
            packed.len() >= 5,
            "{}: {} packed lunches",
            case.name,
            packed.len()
        );
        assert!(
            breakfasts.len() >= 5,
            "{}: {} breakfasts",
            case.name,
            breakfasts.len()
        );
        for (element, least) in [("protein", 4), ("base", 6), ("vegetable", 6)] {
            let found = choice(&dinners, element, &items);
            assert!(found.len() >= least, "{}: {element}: {found:?}", case.name);
        }
        let cuisines: BTreeSet<&str> = dinners.iter().map(|meal| meal.cuisine.as_str()).collect();
        assert!(cuisines.len() >= 8, "{}: {cuisines:?}", case.name);
    }
}

#[test]
fn seven_dinners_from_components_take_ten_minutes_of_work() {
    // Hands for two at the sitting; pots and microwave work by themselves.
    let quick: Vec<&Meal> = meals_at(&[Occasion::Dinner])
        .filter(|meal| {
            let hands = meal.assemble_fixed + meal.assemble_per_cover.times(2);
            let cooked = meal
                .elements
                .iter()
                .filter(|element| element.need != Need::Optional);
            let cooked = cooked.filter(|element| {
                element
                    .options
                    .iter()
                    .any(|option| matches!(option.item, Item::Component(_)))
            });
            hands.secs() <= 600 && cooked.count() >= 3
        })
        .collect();
    assert!(quick.len() >= 7, "{}", quick.len());
}

#[test]
fn small_children_find_dinners_without_heat() {
    let hot = [
        "chilli-flakes",
        "chilli-powder",
        "harissa",
        "gochujang",
        "hot-sauce",
        "chilli-red",
        "chilli-green",
    ];
    let mild = Case {
        name: "children",
        may: |_| true,
        way: |_| true,
    };
    let foods = foods();
    let fiery = |id: &FoodId| hot.contains(&id.as_str());
    let items: BTreeSet<Item> = allowed(&mild, &foods)
        .into_iter()
        .filter(|item| match item {
            Item::Food(id) => !fiery(id),
            Item::Component(id) => {
                let ways = &larder().components[id].ways;
                !ways
                    .iter()
                    .flat_map(|way| &way.inputs)
                    .any(|input| fiery(&input.food))
            }
        })
        .collect();
    let dinners = meals_at(&[Occasion::Dinner])
        .filter(|meal| can_be_filled(meal, &items))
        .count();
    assert!(dinners >= 21, "{dinners}");
}
