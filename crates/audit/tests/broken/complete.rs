//! Breaches of completeness.

crate::breaks! {
    a_plan_for_another_week_is_found: COMPLETE_SAME_WEEK, |_snapshot, plan| {
        plan.monday = crate::good::at("2026-12-07T00:00").date();
    }
    a_name_that_leads_nowhere_is_found: COMPLETE_REFERENCE, |_snapshot, plan| {
        plan.order.from_stock.push(larderwright_model::StockUse {
            food: "unicorn".into(),
            mass: larderwright_quantity::Mass::from_g(1),
        });
    }
    two_acts_of_one_name_are_found: COMPLETE_UNIQUE, |_snapshot, plan| {
        let last = plan.runs[0].acts.len() - 1;
        plan.runs[0].acts[last].id = "pack-out".into();
    }
    a_sitting_without_a_choice_is_found: COMPLETE_MENU, |_snapshot, plan| {
        plan.menu.choices.remove(0);
    }
    a_batch_whose_session_has_no_run_is_found: COMPLETE_RUN, |_snapshot, plan| {
        plan.batches[2].session = "2026-12-05".into();
    }
    a_sitting_without_its_minutes_is_found: COMPLETE_SERVICE, |_snapshot, plan| {
        plan.services.remove(0);
    }
    a_plate_unlike_the_menu_is_found: COMPLETE_MENU_KEPT, |_snapshot, plan| {
        plan.menu.choices[0].covers[0].picks.pop();
    }
}
