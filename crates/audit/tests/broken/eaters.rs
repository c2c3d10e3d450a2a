//! Breaches of what eaters may and wish to eat.

use larderwright_model::{
    Allergen, Avoid, Caution, Contact, Cover, Diet, Finish, Food, FoodKind, Meal, MealRule, Need, Occasion,
    Presence, Snapshot,
};

fn food<'a>(snapshot: &'a mut Snapshot, id: &str) -> &'a mut Food {
    snapshot.foods.get_mut(&id.into()).expect("the food is known")
}

fn meal(snapshot: &mut Snapshot) -> &mut Meal {
    snapshot.meals.get_mut(&"bowl".into()).expect("the meal is known")
}

fn parsley_peanuts(snapshot: &mut Snapshot, presence: Presence) {
    food(snapshot, "parsley").allergens = Some([(Allergen::Peanuts, presence)].into());
}

crate::breaks! {
    a_plate_for_somebody_else_is_found: EATERS_ONE_PLATE, |_snapshot, plan| {
        plan.plates[1].cover = Cover::Guest(1);
        plan.menu.choices[0].covers[1].cover = Cover::Guest(1);
    }
    an_empty_element_is_found: EATERS_ELEMENTS, |snapshot, _plan| {
        meal(snapshot).elements[4].need = Need::One;
    }
    an_item_that_is_no_option_is_found: EATERS_OPTIONS, |snapshot, _plan| {
        meal(snapshot).elements[2].options[0].item = larderwright_model::Item::Food("milk".into());
    }
    an_option_finished_otherwise_is_found: EATERS_OPTIONS, |snapshot, _plan| {
        meal(snapshot).elements[2].options[0].finish = Finish::Raw;
    }
    a_meal_on_the_wrong_occasion_is_found: EATERS_OCCASION, |snapshot, _plan| {
        snapshot.sittings[0].occasion = Occasion::Breakfast;
    }
    a_combination_not_offered_is_found: EATERS_NOT_TOGETHER, |snapshot, _plan| {
        meal(snapshot).rules.push(MealRule {
            not: vec![("base".into(), "chickpeas".to_owned()), ("dip".into(), "dip".to_owned())],
        });
    }
    a_vegan_with_yoghurt_is_found: EATERS_DIET, |snapshot, _plan| {
        snapshot.household.eaters[0].diet = Diet::Vegan;
    }
    a_vegetarian_with_gelatine_in_a_component_is_found: EATERS_DIET, |snapshot, _plan| {
        snapshot.household.eaters[0].diet = Diet::Vegetarian;
        food(snapshot, "peanut").kinds.insert(FoodKind::Gelatine);
    }
    milk_for_who_avoids_dairy_is_found: EATERS_AVOID, |snapshot, _plan| {
        snapshot.household.eaters[1].avoid.insert(Avoid::Dairy);
    }
    an_allergen_on_the_plate_is_found: EATERS_ALLERGEN, |snapshot, _plan| {
        parsley_peanuts(snapshot, Presence::Contains);
    }
    wheat_for_who_must_not_have_gluten_is_found: EATERS_ALLERGEN, |snapshot, _plan| {
        snapshot.household.eaters[0].allergies.insert(Allergen::Gluten, Contact::Plate);
        food(snapshot, "peanut").allergens = Some([(Allergen::Wheat, Presence::Contains)].into());
    }
    traces_for_a_severe_allergy_are_found: EATERS_TRACES, |snapshot, plan| {
        parsley_peanuts(snapshot, Presence::MayContain);
        plan.order.lines[4].read_label.push(Allergen::Peanuts);
    }
    unknown_allergens_for_a_severe_allergy_are_found: EATERS_UNKNOWN, |snapshot, plan| {
        food(snapshot, "parsley").allergens = None;
        plan.order.lines[4].read_label.push(Allergen::Peanuts);
    }
    unknown_allergens_for_a_mild_allergy_are_found: EATERS_UNKNOWN_PLATE, |snapshot, plan| {
        snapshot.household.eaters[1].allergies = [(Allergen::Peanuts, Contact::Plate)].into();
        food(snapshot, "parsley").allergens = None;
        plan.order.lines[4].read_label.push(Allergen::Peanuts);
    }
    a_guest_nobody_asked_is_found: EATERS_GUESTS, |snapshot, plan| {
        snapshot.sittings[0].eaters.pop();
        snapshot.sittings[0].guests = 1;
        plan.plates[1].cover = Cover::Guest(1);
        plan.menu.choices[0].covers[1].cover = Cover::Guest(1);
    }
    honey_for_an_infant_is_found: EATERS_FORBIDDEN, |snapshot, plan| {
        snapshot.household.eaters[0].cautions.insert(Caution::Infant);
        food(snapshot, "peanut").kinds.insert(FoodKind::Honey);
        // The infant eats only on the day after cooking.
        give_lunch_to_cleo(snapshot, plan);
    }
    cold_food_of_some_days_for_the_pregnant_is_found: EATERS_CAUTION, |snapshot, _plan| {
        snapshot.household.eaters[0].cautions.insert(Caution::Pregnant);
    }
    a_disliked_food_is_found: EATERS_DISLIKE, |snapshot, _plan| {
        snapshot.household.eaters[0].dislikes.insert("parsley".to_owned());
    }
    another_meal_than_the_fixed_one_is_found: EATERS_FIXED, |snapshot, _plan| {
        snapshot.household.wishes.fixed.insert("2026-11-30-dinner".into(), "soup".into());
    }
    a_component_switched_off_is_found: EATERS_OFF, |snapshot, _plan| {
        snapshot.household.wishes.off_components.insert("dip".into());
    }
    a_meal_switched_off_is_found: EATERS_OFF, |snapshot, _plan| {
        snapshot.household.wishes.off_meals.insert("bowl".into());
    }
}

/// A third eater takes over Ana's packed lunch.
fn give_lunch_to_cleo(snapshot: &mut Snapshot, plan: &mut larderwright_model::WeekPlan) {
    let mut other = snapshot.household.eaters[0].clone();
    other.id = "cleo".into();
    other.cautions.clear();
    snapshot.household.eaters.push(other);
    snapshot.sittings[1].eaters[0] = "cleo".into();
    plan.plates[2].cover = Cover::Eater("cleo".into());
    plan.menu.choices[1].covers[0].cover = Cover::Eater("cleo".into());
}

#[test]
fn may_contain_is_accepted_by_who_avoids_only_the_plate() {
    crate::expect_silence(|snapshot, plan| {
        snapshot.household.eaters[1].allergies = [(Allergen::Peanuts, Contact::Plate)].into();
        parsley_peanuts(snapshot, Presence::MayContain);
        plan.order.lines[4].read_label.push(Allergen::Peanuts);
    });
}

#[test]
fn a_pescatarian_eats_fish_and_a_vegetarian_yoghurt() {
    crate::expect_silence(|snapshot, _plan| {
        snapshot.household.eaters[0].diet = Diet::Pescatarian;
        snapshot.household.eaters[1].diet = Diet::Vegetarian;
        food(snapshot, "peanut").kinds.insert(FoodKind::Fish);
    });
}
