//! Whole weeks from household files: what must hold of every plan, and what is said when there is none.

use jiff::civil::date;
use larderwright_app::catalogue::built_in;
use larderwright_app::{Options, Refusal, Threads, build_snapshot, plan};
use larderwright_model::{
    Allergen, Conflict, Contact, Element, Household, Item, Need, Presence, Severity, Snapshot, Stage,
};
use larderwright_records::household::{DEMO_HOUSEHOLD, EXAMPLE_HOUSEHOLD, parse_household};

fn household(text: &str) -> Household {
    parse_household(text).expect("the household file can be read")
}

fn snapshot(household: Household, menu_work: u64) -> Snapshot {
    let options = Options {
        menu_work,
        ..Options::default()
    };
    let now = date(2026, 11, 25).at(8, 0, 0, 0);
    build_snapshot(household, date(2026, 11, 30), now, options).expect("every name is known")
}

/// The household with every meal switched off that can be put together from bought foods alone: what is left wants
/// a session and boxes.
fn cooked_only(mut household: Household) -> Household {
    let meals = &built_in().expect("the larder is whole").meals;
    let bought = |element: &Element| {
        element
            .options
            .iter()
            .any(|option| matches!(option.item, Item::Food(_)))
    };
    let idle = meals.values().filter(|meal| {
        meal.elements
            .iter()
            .filter(|element| element.need != Need::Optional)
            .all(bought)
    });
    household
        .wishes
        .off_meals
        .extend(idle.map(|meal| meal.id.clone()));
    household
}

fn conflict(household: Household) -> Conflict {
    match plan(&snapshot(household, 2000), Threads::One) {
        Err(Refusal::Conflict(conflict)) => conflict,
        Err(Refusal::Fatal(findings)) => panic!("planned, but {findings:?}"),
        Ok(planned) => panic!("planned: {:?}", planned.plan.menu),
    }
}

#[test]
fn the_demo_week_is_planned_and_nothing_fatal_is_found() {
    let planned =
        plan(&snapshot(household(DEMO_HOUSEHOLD), 6000), Threads::Two).expect("the demo week can be planned");
    assert!(
        planned
            .plan
            .findings
            .iter()
            .all(|finding| finding.severity < Severity::Warning),
        "{:?}",
        planned.plan.findings
    );
}

#[test]
fn the_example_week_is_planned_and_nothing_fatal_is_found() {
    let planned = plan(&snapshot(household(EXAMPLE_HOUSEHOLD), 6000), Threads::Two);
    planned.expect("the example week can be planned");
}

#[test]
fn one_thread_and_two_give_the_same_bytes() {
    let snapshot = snapshot(household(DEMO_HOUSEHOLD), 3000);
    let one = plan(&snapshot, Threads::One).expect("the demo week can be planned");
    let two = plan(&snapshot, Threads::Two).expect("the demo week can be planned");
    assert_eq!(one.json, two.json);
}

#[test]
fn another_seed_may_differ_but_is_as_sound() {
    for seed in 2..6 {
        let mut other = snapshot(household(DEMO_HOUSEHOLD), 2000);
        other.seed = seed;
        plan(&other, Threads::Two).expect("the demo week can be planned");
    }
}

#[test]
fn a_session_shorter_than_one_unavoidable_step_is_named() {
    let mut short = cooked_only(household(EXAMPLE_HOUSEHOLD));
    for session in &mut short.sessions {
        session.to = session.from.saturating_add(jiff::Span::new().minutes(10));
    }
    let conflict = conflict(short);
    assert_eq!(conflict.stage, Stage::Menu);
    assert!(
        conflict.wishes.iter().any(|wish| wish.starts_with("session")),
        "{conflict}"
    );
    assert!(
        conflict.mends.iter().any(|mend| mend.contains("longer")),
        "{conflict}"
    );
}

#[test]
fn an_eater_for_whom_no_meal_is_left_is_named_alone() {
    let mut strict = household(EXAMPLE_HOUSEHOLD);
    let eater = &mut strict.eaters[0];
    eater.allergies = [(Allergen::Sulphites, Contact::Plate)].into();
    let name = eater.name.clone();
    let mut snapshot = snapshot(strict, 2000);
    for food in snapshot.foods.values_mut() {
        food.allergens
            .get_or_insert_default()
            .insert(Allergen::Sulphites, Presence::Contains);
    }
    let Err(Refusal::Conflict(conflict)) = plan(&snapshot, Threads::One) else {
        panic!("a week that somebody may not eat was planned")
    };
    assert!(conflict.message.contains(&name), "{conflict}");
    let others = snapshot
        .household
        .eaters
        .iter()
        .skip(1)
        .filter(|eater| eater.allergies.is_empty());
    for other in others {
        assert!(
            !conflict.wishes.iter().any(|wish| wish.starts_with(&other.name)),
            "{conflict}"
        );
    }
}

#[test]
fn nothing_is_planned_without_a_trip_to_the_shop() {
    let mut idle = household(EXAMPLE_HOUSEHOLD);
    idle.shops.clear();
    idle.stock.clear();
    assert_eq!(conflict(idle).stage, Stage::Order);
}

#[test]
fn a_household_without_boxes_is_told_that_boxes_are_missing() {
    let mut bare = cooked_only(household(EXAMPLE_HOUSEHOLD));
    bare.kitchen.boxes.clear();
    let conflict = conflict(bare);
    assert!(
        conflict.mends.iter().any(|mend| mend.contains("boxes")),
        "{conflict}"
    );
}

#[test]
fn a_week_in_which_nobody_eats_is_refused() {
    let mut empty = household(EXAMPLE_HOUSEHOLD);
    empty.sittings.clear();
    assert!(conflict(empty).message.contains("nobody"));
}
