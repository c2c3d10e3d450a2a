//! Breaches of storage.

use larderwright_quantity::{Length, Volume};

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
    a_box_filled_to_the_brim_is_found: STORAGE_FILL, |_snapshot, plan| {
        // One box instead of two holds the carrots, deeper.
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
}

#[test]
fn a_fridge_that_just_holds_the_boxes_is_large_enough() {
    crate::expect_silence(|snapshot, _plan| {
        snapshot.household.kitchen.fridge = Volume::from_ml(4250);
        snapshot.household.kitchen.freezer = Volume::from_ml(1000);
        snapshot.household.kitchen.boxes[1].count = 5;
    });
}
