//! Breaches of mass.

use larderwright_quantity::Mass;

crate::breaks! {
    a_yield_above_the_law_is_found: MASS_YIELD_LAW, |_snapshot, plan| {
        plan.batches[0].yields[2] += Mass::from_mg(1);
    }
    a_yield_law_that_the_plan_ignored_is_found: MASS_YIELD_LAW, |snapshot, _plan| {
        let component = snapshot.components.get_mut(&"carrots".into()).expect("there are carrots");
        component.ways[0].yields.low = larderwright_quantity::Permille::from_permille(600);
    }
    an_input_off_its_law_is_found: MASS_INPUTS_LAW, |_snapshot, plan| {
        let water = &mut plan.batches[0].inputs[1];
        water.ap += Mass::from_g(300);
        water.ep += Mass::from_g(300);
    }
    too_little_oil_is_found: MASS_INPUTS_LAW, |_snapshot, plan| {
        // 24.9 g by law: a scale may say 22.5 g, not less.
        let oil = &mut plan.batches[1].inputs[1];
        oil.ap = Mass::from_g(22);
        oil.ep = Mass::from_g(22);
        plan.order.from_stock[1].mass = Mass::from_g(22);
    }
    an_input_left_out_is_found: MASS_INPUTS_LAW, |_snapshot, plan| {
        plan.batches[0].inputs.remove(1);
    }
    peelings_that_vanish_are_found: MASS_TRIM, |snapshot, _plan| {
        let carrot = snapshot.foods.get_mut(&"carrot".into()).expect("there are carrots");
        carrot.edible.value = larderwright_quantity::Permille::from_permille(700);
    }
    a_batch_below_its_smallest_size_is_found: MASS_BATCH_SIZE, |snapshot, _plan| {
        let dip = snapshot.components.get_mut(&"dip".into()).expect("there is a dip");
        dip.ways[0].size.min = Mass::from_g(150);
    }
    a_batch_off_its_step_is_found: MASS_BATCH_SIZE, |snapshot, _plan| {
        let dip = snapshot.components.get_mut(&"dip".into()).expect("there is a dip");
        dip.ways[0].size.step = larderwright_model::SizeStep::Mass(Mass::from_g(30));
    }
    a_batch_of_part_of_a_pack_is_found: MASS_BATCH_SIZE, |snapshot, _plan| {
        let dip = snapshot.components.get_mut(&"dip".into()).expect("there is a dip");
        dip.ways[0].size.step = larderwright_model::SizeStep::Pack;
    }
    lots_short_of_the_yield_are_found: MASS_LOTS_SUM, |_snapshot, plan| {
        plan.lots[0].mass -= Mass::from_mg(1);
    }
    a_lot_overdrawn_is_found: MASS_LOT_DRAWN, |_snapshot, plan| {
        // What one lot loses the other gains: only the plates of the first are short.
        plan.lots[0].mass = Mass::from_g(355);
        plan.lots[1].mass = Mass::from_g(755);
        plan.lots[1].boxes[0].1 = 2;
    }
    a_demand_that_plates_do_not_draw_is_found: MASS_DEMAND, |_snapshot, plan| {
        plan.batches[0].demand += Mass::from_mg(1);
    }
    a_portion_without_mass_is_found: MASS_PORTION, |_snapshot, plan| {
        let mut nothing = plan.plates[0].portions[0].clone();
        nothing.mass = Mass::ZERO;
        plan.plates[0].portions.push(nothing);
    }
    a_line_that_uses_more_than_it_buys_is_found: MASS_USED, |_snapshot, plan| {
        plan.order.lines[2].used += Mass::from_g(1);
        plan.order.lines.push(plan.order.lines[2].clone());
        plan.order.lines[7].used = Mass::from_g(-1);
    }
    a_food_used_without_need_is_found: MASS_FOOD_BALANCE, |_snapshot, plan| {
        plan.order.lines[6].used += Mass::from_mg(1);
    }
    a_par_that_nobody_restores_is_found: MASS_FOOD_BALANCE, |snapshot, _plan| {
        snapshot.household.pars[0].level += Mass::from_g(1);
    }
}

#[test]
fn a_pinch_is_measured_to_a_quarter_of_a_gram() {
    crate::expect_silence(|snapshot, plan| {
        // 0.1 g by law, a quarter of a gram in practice.
        let chickpeas = snapshot
            .components
            .get_mut(&"chickpeas".into())
            .expect("there are chickpeas");
        chickpeas.ways[0].inputs[2].per_kg = Mass::from_mg(200);
        let pinch = Mass::from_mg(250);
        plan.batches[0].inputs[2].ap = pinch;
        plan.batches[0].inputs[2].ep = pinch;
        plan.order.from_stock[0].mass = pinch;
    });
}
