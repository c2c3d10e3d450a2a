//! Breaches of keeping.

use larderwright_model::{Fate, Freezing, Item, Place, Snapshot, StorageClass, Where};
use larderwright_safety::{KeepClass, cupboard};

use crate::good::at;

/// The packed lunch goes without cold.
fn warm_lunch(snapshot: &mut Snapshot) {
    if let Where::Packed(packed) = &mut snapshot.sittings[1].place {
        packed.ice_pack = false;
    }
}

crate::breaks! {
    a_class_nobody_knows_is_found: KEEPING_CLASS, |snapshot, _plan| {
        let dip = snapshot.components.get_mut(&"dip".into()).expect("there is a dip");
        dip.keep = "moon-cheese".into();
    }
    a_sitting_after_the_use_by_is_found: KEEPING_USE_BY, |_snapshot, plan| {
        plan.lots[2].keep.use_by = at("2026-12-02T23:59");
    }
    a_use_by_later_than_the_rule_is_found: KEEPING_RULE, |_snapshot, plan| {
        plan.lots[0].keep.use_by = at("2026-12-05T23:59");
    }
    a_thawed_lot_given_a_fresh_life_is_found: KEEPING_RULE, |_snapshot, plan| {
        plan.lots[1].keep.use_by = at("2026-12-06T23:59");
    }
    freezing_what_does_not_freeze_is_found: KEEPING_FATE, |snapshot, _plan| {
        let chickpeas = snapshot.components.get_mut(&"chickpeas".into()).expect("there are chickpeas");
        chickpeas.freeze = Freezing::No;
    }
    keeping_a_dip_in_the_cupboard_is_found: KEEPING_FATE, |_snapshot, plan| {
        plan.lots[3].fate = Fate::Cupboard;
        plan.lots[3].place = Place::Cupboard;
        for service in &mut plan.services {
            service.steps.retain(|step| step.start.secs() != 60);
        }
    }
    a_lot_left_out_too_long_is_found: KEEPING_CHILL, |_snapshot, plan| {
        plan.lots[3].stored = at("2026-11-29T12:39");
    }
    a_lot_made_later_than_it_cooked_is_found: KEEPING_TIMES, |_snapshot, plan| {
        plan.lots[3].made = at("2026-11-29T10:39");
    }
    a_lot_stored_before_it_is_packed_is_found: KEEPING_TIMES, |_snapshot, plan| {
        plan.lots[3].stored = at("2026-11-29T11:29");
    }
    a_pull_too_late_to_thaw_is_found: KEEPING_THAW, |snapshot, plan| {
        let pull = at("2026-12-02T20:31");
        plan.lots[1].pull = Some(pull);
        plan.lots[1].keep = larderwright_safety::thawed(
            snapshot.household.profile,
            KeepClass::PulseCooked,
            plan.lots[1].made,
            plan.lots[1].stored,
            pull,
        );
    }
    eating_before_cooking_is_found: KEEPING_MADE_FIRST, |snapshot, _plan| {
        snapshot.sittings[0].at = at("2026-11-29T10:40");
    }
    a_sitting_the_lot_does_not_list_is_found: KEEPING_SITTINGS, |_snapshot, plan| {
        plan.lots[2].sittings.swap(0, 1);
    }
    a_packed_component_without_cold_is_found: KEEPING_PACKED_LOT, |snapshot, _plan| {
        warm_lunch(snapshot);
        for food in ["yoghurt", "parsley"] {
            let food = snapshot.foods.get_mut(&food.into()).expect("the food is known");
            food.storage = StorageClass::Counter;
        }
    }
    packed_yoghurt_without_cold_is_found: KEEPING_PACKED_FOOD, |snapshot, plan| {
        warm_lunch(snapshot);
        let parsley = snapshot.foods.get_mut(&"parsley".into()).expect("there is parsley");
        parsley.storage = StorageClass::Counter;
        everything_is_bread(snapshot, plan);
    }
    packed_greens_without_cold_are_found: KEEPING_PACKED_GREENS, |snapshot, plan| {
        warm_lunch(snapshot);
        let yoghurt = snapshot.foods.get_mut(&"yoghurt".into()).expect("there is yoghurt");
        yoghurt.storage = StorageClass::Counter;
        everything_is_bread(snapshot, plan);
    }
}

/// Every component keeps as bread does, which needs no cold.
fn everything_is_bread(snapshot: &mut Snapshot, plan: &mut larderwright_model::WeekPlan) {
    for component in snapshot.components.values_mut() {
        component.keep = "bread".into();
    }
    // Bread from the freezer keeps two days after the pull: still past the lunch, sooner than the pulse's limit.
    plan.lots[1].keep.use_by = at("2026-12-03T18:00");
    plan.lots[1].keep.best_by = at("2026-12-03T18:00");
}

#[test]
fn bread_may_lie_in_the_cupboard() {
    crate::expect_silence(|snapshot, plan| {
        let dip = snapshot
            .components
            .get_mut(&"dip".into())
            .expect("there is a dip");
        dip.keep = "bread".into();
        let lot = &mut plan.lots[3];
        lot.fate = Fate::Cupboard;
        lot.place = Place::Cupboard;
        lot.keep =
            cupboard(snapshot.household.profile, KeepClass::Bread, lot.made).expect("bread keeps there");
        for service in &mut plan.services {
            service.steps.retain(|step| step.start.secs() != 60);
        }
        only_at_dinner(plan);
    });
}

/// Ana eats her whole share of the dip at dinner.
fn only_at_dinner(plan: &mut larderwright_model::WeekPlan) {
    let is_dip = |item: &Item| item.as_str() == "dip";
    plan.plates[2].portions.retain(|portion| !is_dip(&portion.item));
    plan.menu.choices[1].covers[0]
        .picks
        .retain(|pick| !is_dip(&pick.item));
    for portion in &mut plan.plates[0].portions {
        if is_dip(&portion.item) {
            portion.mass = larderwright_quantity::Mass::from_g(50);
        }
    }
    plan.lots[3].sittings.truncate(1);
}
