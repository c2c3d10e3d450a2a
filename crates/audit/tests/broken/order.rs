//! Breaches of the order.

use larderwright_model::{Allergen, Purpose, StockState};
use larderwright_quantity::{Mass, Money};

crate::breaks! {
    a_pack_nobody_sells_is_found: ORDER_PACK, |_snapshot, plan| {
        plan.order.lines[6].pack = "family tub".to_owned();
    }
    a_wrong_price_is_found: ORDER_PRICE, |_snapshot, plan| {
        plan.order.lines[6].price = Money::from_minor(199);
    }
    a_food_bought_after_it_is_needed_is_found: ORDER_IN_TIME, |_snapshot, plan| {
        plan.order.lines[6].shop = "2026-12-02".into();
    }
    beans_bought_after_the_soak_are_found: ORDER_IN_TIME, |snapshot, plan| {
        // The second trip is before the session but after the soak starts.
        snapshot.shops[1].at = crate::good::at("2026-11-29T09:00");
        plan.order.lines[2].shop = "2026-12-02".into();
    }
    more_from_home_than_there_is_is_found: ORDER_STOCK, |snapshot, _plan| {
        snapshot.household.stock[0].state = StockState::Amount(Mass::from_g(4));
    }
    counting_on_what_runs_low_is_found: ORDER_STOCK, |snapshot, _plan| {
        snapshot.household.stock[1].state = StockState::Low;
    }
    a_line_for_something_else_is_found: ORDER_PURPOSE, |_snapshot, plan| {
        plan.order.lines[6].purposes = vec![Purpose::Par];
    }
    a_line_for_nothing_is_found: ORDER_PURPOSE, |_snapshot, plan| {
        plan.order.lines[6].purposes.clear();
    }
    a_label_to_read_is_found: ORDER_READ_LABEL, |snapshot, _plan| {
        let yoghurt = snapshot.foods.get_mut(&"yoghurt".into()).expect("there is yoghurt");
        yoghurt.read_label = true;
    }
    an_order_above_the_budget_is_found: ORDER_BUDGET, |snapshot, _plan| {
        snapshot.household.wishes.budget = Some(Money::from_minor(1399));
    }
}

#[test]
fn a_label_nobody_needs_read_is_no_matter() {
    crate::expect_silence(|snapshot, plan| {
        // Ben does not eat the dip; the yoghurt's line tells him.
        let peanut = snapshot
            .foods
            .get_mut(&"peanut".into())
            .expect("there are peanuts");
        peanut.read_label = true;
        let yoghurt = snapshot
            .foods
            .get_mut(&"yoghurt".into())
            .expect("there is yoghurt");
        yoghurt.read_label = true;
        plan.order.lines[6].read_label = vec![Allergen::Peanuts];
        snapshot.household.wishes.budget = Some(Money::from_minor(1400));
    });
}
