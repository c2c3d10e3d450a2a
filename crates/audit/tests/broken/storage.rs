//! Breaches of storage.

use larderwright_model::{Keep, Place, Snapshot, StoredLot};
use larderwright_quantity::{Length, Mass, Volume};

use crate::good::at;

crate::breaks! {
    a_box_nobody_owns_is_found: STORAGE_BOXES, |_snapshot, plan| {
        plan.lots[3].boxes[0].0 = "huge".into();
    }
    a_lot_without_a_box_is_found: STORAGE_BOXES, |_snapshot, plan| {
        plan.lots[3].boxes.clear();
    }
    more_boxes_than_there_are_is_found: STORAGE_BOX_COUNT, |snapshot, _plan| {
        snapshot.household.kitchen.boxes[1].count = 4;
    }
    a_box_filled_to_the_brim_is_found: STORAGE_FILL, |snapshot, plan| {
        // One box instead of two holds the carrots, deeper: these are boiled and come out of cold water.
        let carrots = snapshot.components.get_mut(&"carrots".into()).expect("there are carrots");
        for input in &mut carrots.ways[0].inputs {
            input.drained = true;
        }
        plan.lots[2].boxes[0].1 = 1;
        plan.lots[2].cooling = larderwright_model::CoolingMethod::ColdWater;
        plan.lots[2].depth = Length::from_mm(60);
    }
    a_frozen_box_without_headspace_is_found: STORAGE_HEADSPACE, |snapshot, _plan| {
        snapshot.household.kitchen.boxes[1].depth = Length::from_mm(45);
    }
    a_layer_too_deep_to_cool_is_found: STORAGE_DEPTH, |_snapshot, plan| {
        plan.lots[2].depth = Length::from_mm(51);
    }
    a_depth_that_the_boxes_belie_is_found: STORAGE_DEPTH_TRUE, |_snapshot, plan| {
        plan.lots[2].depth = Length::from_mm(20);
    }
    a_box_that_may_not_freeze_is_found: STORAGE_FREEZER_BOX, |snapshot, _plan| {
        snapshot.household.kitchen.boxes[1].freezes = false;
    }
    a_fridge_too_small_is_found: STORAGE_FRIDGE_ROOM, |snapshot, _plan| {
        snapshot.household.kitchen.fridge = Volume::from_ml(4249);
    }
    a_freezer_too_small_is_found: STORAGE_FREEZER_ROOM, |snapshot, _plan| {
        snapshot.household.kitchen.freezer = Volume::from_ml(999);
    }
    an_old_lot_that_leaves_too_few_boxes_is_found: STORAGE_BOX_COUNT, |snapshot, _plan| {
        hold(snapshot, Place::Fridge, ("litre", 2), "2026-11-29T12:00");
        snapshot.household.kitchen.fridge = Volume::from_ml(8000);
    }
    an_old_lot_that_leaves_too_little_fridge_is_found: STORAGE_FRIDGE_ROOM, |snapshot, _plan| {
        snapshot.household.kitchen.fridge = Volume::from_ml(5249);
        hold(snapshot, Place::Fridge, ("litre", 1), "2026-11-29T12:00");
    }
    an_old_lot_that_leaves_too_little_freezer_is_found: STORAGE_FREEZER_ROOM, |snapshot, _plan| {
        snapshot.household.kitchen.freezer = Volume::from_ml(1999);
        hold(snapshot, Place::Freezer, ("litre", 1), "2026-12-20T12:00");
    }
    old_food_of_which_nobody_knows_the_box_takes_its_own_room: STORAGE_FRIDGE_ROOM, |snapshot, _plan| {
        snapshot.household.kitchen.fridge = Volume::from_ml(4300);
        hold(snapshot, Place::Fridge, ("litre", 1), "2026-11-29T12:00");
        snapshot.lots[0].boxes.clear();
    }
}

#[test]
fn a_fridge_that_just_holds_the_boxes_is_large_enough() {
    crate::expect_silence(|snapshot, _plan| {
        snapshot.household.kitchen.fridge = Volume::from_ml(4250);
        snapshot.household.kitchen.freezer = Volume::from_ml(1000);
        snapshot.household.kitchen.boxes[1].count = 5;
    });
}

/// Something in the fridge or freezer before the week, which nobody eats.
fn in_the_house(place: Place, boxes: (&str, u32), until: &str) -> StoredLot {
    let made = at("2026-11-28T12:00");
    StoredLot {
        id: "old".into(),
        component: "dip".into(),
        foods: ["peanut".into()].into(),
        mass: Mass::from_g(100),
        place,
        made,
        stored: made,
        keep: Keep {
            best_by: at(until),
            use_by: at(until),
            rule: "sauce-cooked".into(),
            source: "a test".to_owned(),
        },
        boxes: vec![(boxes.0.into(), boxes.1)],
        reheated: false,
    }
}

fn hold(snapshot: &mut Snapshot, place: Place, boxes: (&str, u32), until: &str) {
    snapshot.lots.push(in_the_house(place, boxes, until));
}

#[test]
fn what_is_gone_before_the_session_is_in_nobodys_way() {
    crate::expect_silence(|snapshot, _plan| {
        snapshot.household.kitchen.fridge = Volume::from_ml(4250);
        hold(snapshot, Place::Fridge, ("litre", 5), "2026-11-29T11:30");
    });
}

#[test]
fn a_house_that_is_fuller_than_it_says_is_not_the_plans_fault() {
    crate::expect_silence(|snapshot, _plan| {
        hold(snapshot, Place::Fridge, ("litre", 9), "2026-11-29T11:29");
    });
}

/// Ana's dip is in a litre box in the freezer until it is pulled on Wednesday and eaten on Thursday.
#[test]
fn what_is_pulled_and_eaten_up_gives_its_room_back() {
    crate::expect_silence(|snapshot, plan| {
        crate::carried::second_dip(snapshot, plan);
        snapshot.lots[0].mass = Mass::from_g(25);
        snapshot.lots[0].boxes = vec![("litre".into(), 1)];
        snapshot.household.kitchen.freezer = Volume::from_ml(2000);
    });
}
