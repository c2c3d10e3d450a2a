//! Breaches of the minutes before a sitting.

use larderwright_quantity::{Mass, Seconds};

crate::breaks! {
    two_things_in_one_microwave_are_found: SERVICE_APPLIANCES, |_snapshot, plan| {
        plan.services[0].steps[4].start = Seconds::from_secs(300);
    }
    four_hands_are_found: SERVICE_HANDS, |_snapshot, plan| {
        plan.services[0].steps[2].start = Seconds::from_secs(45);
    }
    a_sitting_too_late_is_found: SERVICE_IN_TIME, |snapshot, _plan| {
        snapshot.sittings[0].minutes = 14;
    }
    a_step_after_the_end_is_found: SERVICE_IN_TIME, |_snapshot, plan| {
        plan.services[0].length = Seconds::from_secs(869);
    }
    a_cold_portion_is_found: SERVICE_WARMED, |_snapshot, plan| {
        if let larderwright_model::ServiceVerb::Reheat(_, mass) = &mut plan.services[0].steps[3].verb {
            *mass = Mass::from_g(180);
        }
    }
    a_lot_left_in_the_fridge_is_found: SERVICE_TAKE_OUT, |_snapshot, plan| {
        plan.services[1].steps.remove(1);
    }
    plates_put_together_too_fast_are_found: SERVICE_ASSEMBLE, |_snapshot, plan| {
        plan.services[1].steps[3].length = Seconds::from_secs(299);
    }
    warming_without_a_microwave_is_found: SERVICE_AWAY, |snapshot, _plan| {
        if let larderwright_model::Where::Packed(packed) = &mut snapshot.sittings[1].place {
            packed.microwave = false;
        }
        let meal = snapshot.meals.get_mut(&"bowl".into()).expect("the meal is known");
        meal.at.push(larderwright_model::Occasion::PackedCold);
    }
}
