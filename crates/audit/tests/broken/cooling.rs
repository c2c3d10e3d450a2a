//! Breaches of cooling: ways that do not suit, that lack what they need, and what physics advises.

use larderwright_model::{ActKind, CoolingMethod, WeekPlan};
use larderwright_quantity::Length;

use crate::good::at;

fn cool(plan: &mut WeekPlan) -> &mut larderwright_model::Act {
    let mut acts = plan.runs[0].acts.iter_mut();
    acts.find(|act| act.kind == ActKind::Cool)
        .expect("something is cooled")
}

crate::breaks! {
    hot_food_that_goes_into_the_cold_as_it_is_is_found: COOLING_HOT, |_snapshot, plan| {
        plan.lots[2].cooling = CoolingMethod::None;
    }
    a_bath_for_what_cannot_be_stirred_is_found: COOLING_METHOD, |_snapshot, plan| {
        plan.lots[2].cooling = CoolingMethod::IceBath;
        cool(plan).who = vec!["ana".into()];
    }
    trays_that_nobody_holds_are_found: COOLING_ACT, |_snapshot, plan| {
        plan.lots[2].cooling = CoolingMethod::Trays;
    }
    cold_water_for_what_is_roasted_is_found: COOLING_METHOD, |_snapshot, plan| {
        plan.lots[2].cooling = CoolingMethod::ColdWater;
    }
    half_an_hour_in_the_freezer_is_found: COOLING_ACT, |_snapshot, plan| {
        plan.lots[2].cooling = CoolingMethod::FreezerFirst;
    }
    a_layer_that_stays_warm_for_hours_is_advised_against: COOLING_SLOW, |_snapshot, plan| {
        plan.lots[2].depth = Length::from_mm(50);
    }
    a_thick_lot_that_is_pulled_late_is_advised_against: COOLING_THAW, |_snapshot, plan| {
        plan.lots[1].pull = Some(at("2026-12-02T18:00"));
    }
}

#[test]
fn trays_that_are_held_and_suit_are_silent() {
    crate::expect_silence(|_snapshot, plan| {
        plan.lots[2].cooling = CoolingMethod::Trays;
        cool(plan).stations = vec!["tray 1".into()];
    });
}
