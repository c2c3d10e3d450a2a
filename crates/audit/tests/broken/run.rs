//! Breaches of runs.

use larderwright_model::{
    Act, ActKind, Component, FoodKind, Hygiene, Snapshot, StepSafety, StorageClass, WeekPlan,
};
use larderwright_quantity::{Mass, Seconds, Temperature, Volume};

use crate::good::at;

fn act<'a>(plan: &'a mut WeekPlan, id: &str) -> &'a mut Act {
    let act = plan.runs[0].acts.iter_mut().find(|act| act.id.as_str() == id);
    act.expect("the act is known")
}

fn component<'a>(snapshot: &'a mut Snapshot, id: &str) -> &'a mut Component {
    snapshot
        .components
        .get_mut(&id.into())
        .expect("the component is known")
}

/// Puts an act at other times of the session's day.
fn put(plan: &mut WeekPlan, id: &str, start: &str, end: &str) {
    let act = act(plan, id);
    act.start = at(&format!("2026-11-29T{start}"));
    act.end = at(&format!("2026-11-29T{end}"));
}

/// The dip is chopped before the carrots, and counts as made then.
fn dip_first(plan: &mut WeekPlan) {
    put(plan, "chop", "10:05", "10:08");
    plan.lots[3].made = at("2026-11-29T10:08");
    plan.lots[3].stored = at("2026-11-29T11:30");
}

fn clean_down() -> Act {
    Act {
        id: "clean-down".into(),
        kind: ActKind::CleanDown,
        title: String::new(),
        text: String::new(),
        cue: String::new(),
        batches: Vec::new(),
        step: None,
        load: 1,
        start: at("2026-11-29T10:08"),
        end: at("2026-11-29T10:10"),
        who: vec!["ana".into()],
        stations: vec!["board 1".to_owned()],
        oven: None,
    }
}

fn rename(snapshot: &mut Snapshot, plan: &mut WeekPlan, from: &str, to: &str) {
    let mut food = snapshot.foods.remove(&from.into()).expect("the food is known");
    food.id = to.into();
    snapshot.foods.insert(to.into(), food);
    for way in snapshot
        .components
        .values_mut()
        .flat_map(|component| &mut component.ways)
    {
        if way.driver.as_str() == from {
            way.driver = to.into();
        }
        for input in way.inputs.iter_mut().filter(|input| input.food.as_str() == from) {
            input.food = to.into();
        }
    }
    for input in plan.batches.iter_mut().flat_map(|batch| &mut batch.inputs) {
        if input.food.as_str() == from {
            input.food = to.into();
        }
    }
    for line in plan
        .order
        .lines
        .iter_mut()
        .filter(|line| line.food.as_str() == from)
    {
        line.food = to.into();
    }
}

fn poultry(snapshot: &mut Snapshot) {
    let food = snapshot
        .foods
        .get_mut(&"chickpea-dry".into())
        .expect("there are chickpeas");
    food.kinds = [FoodKind::Poultry].into();
    food.storage = StorageClass::FridgeShort;
}

fn core(degrees: i64) -> StepSafety {
    StepSafety {
        core: Some(Temperature::from_c(degrees)),
        boil: None,
        note: String::new(),
    }
}

fn safety(snapshot: &mut Snapshot, core_c: Option<i64>, boil_min: Option<i64>) {
    component(snapshot, "chickpeas").ways[0].steps[2].safety = Some(StepSafety {
        core: core_c.map(Temperature::from_c),
        boil: boil_min.map(Seconds::from_mins),
        note: String::new(),
    });
}

crate::breaks! {
    a_step_left_out_is_found: RUN_STEPS, |snapshot, plan| {
        // Nothing waits for the spreading any more.
        component(snapshot, "carrots").ways[0].steps[3].after.clear();
        plan.runs[0].acts.retain(|act| act.id.as_str() != "spread");
    }
    a_load_numbered_wrongly_is_found: RUN_STEPS, |_snapshot, plan| {
        act(plan, "chop").load = 2;
    }
    a_lead_step_without_a_reminder_is_found: RUN_LEADS, |_snapshot, plan| {
        plan.runs[0].leads.clear();
    }
    a_soak_too_late_is_found: RUN_LEAD_TIME, |_snapshot, plan| {
        plan.runs[0].leads[0].latest = at("2026-11-29T02:11");
    }
    a_soak_in_the_past_is_found: RUN_LEAD_TIME, |snapshot, _plan| {
        snapshot.now = at("2026-11-28T22:01");
    }
    a_step_before_its_turn_is_found: RUN_PRECEDENCE, |_snapshot, plan| {
        put(plan, "roast", "10:27", "11:00");
        put(plan, "preheat", "10:10", "10:27");
    }
    a_step_that_waited_too_long_is_found: RUN_PRECEDENCE, |snapshot, _plan| {
        component(snapshot, "carrots").ways[0].steps[3].after[0].max = Some(Seconds::from_mins(1));
    }
    a_load_that_waits_for_another_is_named: RUN_LOAD_WAITS, |snapshot, plan| {
        two_loads(snapshot, plan);
        component(snapshot, "chickpeas").ways[0].steps[2].after[0].max = Some(Seconds::ZERO);
        put(plan, "simmer-2", "10:13", "10:45");
    }
    a_visit_outside_its_act_is_found: RUN_VISITS, |_snapshot, plan| {
        put(plan, "visit-2", "10:45", "10:46");
    }
    a_visit_left_out_is_found: RUN_VISITS, |_snapshot, plan| {
        plan.runs[0].acts.retain(|act| act.id.as_str() != "visit-2");
    }
    an_act_shorter_than_its_law_is_found: RUN_DURATION, |_snapshot, plan| {
        put(plan, "peel", "10:12", "10:17");
    }
    a_cooler_oven_wants_more_time: RUN_DURATION, |_snapshot, plan| {
        act(plan, "roast").oven = Some(Temperature::from_c(190));
        plan.runs[0].oven[0].temperature = Temperature::from_c(190);
    }
    meat_in_moist_heat_wants_more_time_in_the_mountains: RUN_DURATION, |snapshot, plan| {
        // At the sea the act is just long enough.
        let length = act(plan, "cut").length();
        let step = &mut component(snapshot, "carrots").ways[0].steps[1];
        step.law.fixed = length;
        step.law.per_kg = Seconds::ZERO;
        step.safety = Some(core(74));
        step.boil = Some(larderwright_model::Boil {
            fixed: Mass::ZERO,
            per_kg: Mass::from_g(100),
        });
        snapshot.household.altitude_m = 1600;
    }
    a_pot_too_small_is_found: RUN_LOAD, |snapshot, _plan| {
        snapshot.household.kitchen.pots[0].volume = Volume::from_ml(2000);
    }
    a_tray_too_full_is_found: RUN_LOAD, |snapshot, _plan| {
        component(snapshot, "carrots").ways[0].steps[3].tray = Some(Mass::from_g(500));
    }
    a_load_too_large_for_its_step_is_found: RUN_LOAD, |snapshot, _plan| {
        component(snapshot, "chickpeas").ways[0].steps[2].load = Some(Mass::from_g(499));
    }
    a_roast_without_a_tray_is_found: RUN_EQUIPMENT, |_snapshot, plan| {
        act(plan, "roast").stations = vec!["rack 1".to_owned()];
    }
    a_third_burner_of_two_is_found: RUN_STATION, |_snapshot, plan| {
        act(plan, "simmer").stations[0] = "burner 3".to_owned();
    }
    two_acts_on_one_board_are_found: RUN_STATION_CLASH, |_snapshot, plan| {
        act(plan, "roast").stations.push("board 1".to_owned());
    }
    one_pair_of_hands_at_two_places_is_found: RUN_HANDS, |_snapshot, plan| {
        put(plan, "visit-1", "10:26", "10:27");
    }
    a_step_without_hands_is_found: RUN_HANDS_COUNT, |_snapshot, plan| {
        act(plan, "cut").who.clear();
    }
    a_pack_out_by_nobody_is_found: RUN_HANDS_COUNT, |_snapshot, plan| {
        act(plan, "pack-out").who.clear();
    }
    a_cook_of_another_day_is_found: RUN_COOK, |_snapshot, plan| {
        act(plan, "spread").who = vec!["ben".into()];
    }
    a_cook_without_the_skill_is_found: RUN_SKILL, |snapshot, plan| {
        snapshot.sessions[0].cooks.push("ben".into());
        act(plan, "peel").who = vec!["ben".into()];
    }
    a_run_past_its_window_is_found: RUN_WINDOW, |snapshot, _plan| {
        snapshot.sessions[0].to = at("2026-11-29T11:44");
    }
    a_finish_before_the_last_act_is_found: RUN_FINISH, |_snapshot, plan| {
        plan.runs[0].finish = at("2026-11-29T11:30");
    }
    a_bound_after_the_finish_is_found: RUN_FINISH, |_snapshot, plan| {
        plan.runs[0].bound = at("2026-11-29T11:46");
    }
    a_run_without_its_preflight_is_found: RUN_FRAME, |_snapshot, plan| {
        plan.runs[0].acts.remove(0);
    }
    a_clear_down_before_boxing_is_found: RUN_FRAME, |_snapshot, plan| {
        put(plan, "clear-down", "11:00", "11:15");
        plan.runs[0].finish = at("2026-11-29T11:30");
    }
    a_batch_boxed_before_it_is_cooked_is_found: RUN_PACK_OUT, |_snapshot, plan| {
        // The dip has a boxing of its own, too early.
        act(plan, "pack-out").batches.pop();
        let mut early = act(plan, "pack-out").clone();
        early.id = "pack-dip".into();
        early.batches = vec!["dip".into()];
        early.start = at("2026-11-29T10:29");
        early.end = at("2026-11-29T10:31");
        plan.runs[0].acts.push(early);
    }
    a_batch_boxed_while_it_is_hot_is_found: RUN_COOL, |_snapshot, plan| {
        put(plan, "cool", "10:50", "11:20");
    }
    an_oven_too_hot_for_its_step_is_found: RUN_OVEN_RANGE, |_snapshot, plan| {
        act(plan, "roast").oven = Some(Temperature::from_c(230));
        plan.runs[0].oven[0].temperature = Temperature::from_c(230);
    }
    an_oven_that_cannot_get_so_hot_is_found: RUN_OVEN_RANGE, |snapshot, _plan| {
        if let Some(oven) = &mut snapshot.household.kitchen.oven {
            oven.max = Temperature::from_c(190);
        }
    }
    an_oven_at_two_temperatures_is_found: RUN_OVEN_SETTING, |_snapshot, plan| {
        let mut other = plan.runs[0].oven[0];
        other.temperature = Temperature::from_c(180);
        other.from = at("2026-11-29T10:50");
        plan.runs[0].oven.push(other);
    }
    an_oven_switched_off_too_soon_is_found: RUN_OVEN_SETTING, |_snapshot, plan| {
        plan.runs[0].oven[0].to = at("2026-11-29T10:59");
    }
    a_cold_oven_is_found: RUN_PREHEAT, |_snapshot, plan| {
        put(plan, "preheat", "10:10", "10:31");
    }
    carrots_on_a_board_after_raw_meat_are_found: RUN_CLEAN_DOWN, |snapshot, _plan| {
        component(snapshot, "carrots").ways[0].steps[0].hygiene = Hygiene::RawMeat;
    }
    garnish_on_a_board_after_the_meat_it_goes_with_is_found: RUN_CLEAN_DOWN, |snapshot, _plan| {
        let steps = &mut component(snapshot, "carrots").ways[0].steps;
        steps[0].hygiene = Hygiene::RawMeat;
        steps[1].hygiene = Hygiene::Ready;
        steps[3].safety = Some(core(74));
        // The dip would lie on the same board later.
        component(snapshot, "dip").ways[0].steps[0].hygiene = Hygiene::RawMeat;
    }
    carrots_on_a_board_after_peanuts_are_found: RUN_ALLERGEN_CONTACT, |_snapshot, plan| {
        dip_first(plan);
    }
    kidney_beans_without_the_boil_are_found: RUN_BEAN_BOIL, |snapshot, plan| {
        rename(snapshot, plan, "chickpea-dry", "kidney-bean-dry");
    }
    kidney_beans_boiled_too_briefly_in_the_mountains_are_found: RUN_BEAN_BOIL, |snapshot, plan| {
        rename(snapshot, plan, "chickpea-dry", "kidney-bean-dry");
        safety(snapshot, None, Some(10));
        snapshot.household.altitude_m = 1600;
    }
    poultry_without_a_core_temperature_is_found: RUN_CORE, |snapshot, _plan| {
        poultry(snapshot);
    }
    poultry_cooked_like_beef_is_found: RUN_CORE, |snapshot, _plan| {
        poultry(snapshot);
        safety(snapshot, Some(63), None);
    }
}

#[test]
fn a_clean_down_lets_carrots_follow_peanuts() {
    crate::expect_silence(|_snapshot, plan| {
        dip_first(plan);
        plan.runs[0].acts.push(clean_down());
    });
}

#[test]
fn kidney_beans_with_the_boil_pass() {
    crate::expect_silence(|snapshot, plan| {
        rename(snapshot, plan, "chickpea-dry", "kidney-bean-dry");
        safety(snapshot, None, Some(10));
    });
}

#[test]
fn poultry_cooked_through_passes() {
    crate::expect_silence(|snapshot, _plan| {
        poultry(snapshot);
        safety(snapshot, Some(74), None);
    });
}

#[test]
fn vegetables_may_follow_the_meat_they_are_cooked_through_with() {
    crate::expect_silence(|snapshot, _plan| {
        let steps = &mut component(snapshot, "carrots").ways[0].steps;
        steps[0].hygiene = Hygiene::RawMeat;
        steps[3].safety = Some(core(74));
        component(snapshot, "dip").ways[0].steps[0].hygiene = Hygiene::RawMeat;
    });
}

#[test]
fn two_loads_take_half_each() {
    crate::expect_silence(two_loads);
}

/// The chickpeas simmer in two pots.
fn two_loads(snapshot: &mut Snapshot, plan: &mut WeekPlan) {
    component(snapshot, "chickpeas").ways[0].steps[2].load = Some(Mass::from_g(250));
    let mut second = act(plan, "simmer").clone();
    second.id = "simmer-2".into();
    second.load = 2;
    second.stations = vec!["burner 2".to_owned(), "pot 2".to_owned()];
    let looked: Vec<Act> = ["visit-1", "visit-2"]
        .map(|id| {
            let mut visit = act(plan, id).clone();
            visit.id = format!("{id}-2").as_str().into();
            visit.kind = ActKind::Visit {
                of: "simmer-2".into(),
            };
            visit
        })
        .into();
    let [mut first, mut last] = <[Act; 2]>::try_from(looked).expect("there are two visits");
    first.start = at("2026-11-29T10:28");
    first.end = at("2026-11-29T10:29");
    last.start = at("2026-11-29T10:38");
    last.end = at("2026-11-29T10:39");
    plan.runs[0].acts.extend([second, first, last]);
}

#[test]
fn joint_work_serves_both_batches() {
    crate::expect_silence(joint_work);
}

#[test]
fn joint_work_takes_all_its_parts() {
    crate::expect(&larderwright_audit::rules::RUN_DURATION, |snapshot, plan| {
        joint_work(snapshot, plan);
        // Each alone still fits into the act; both together do not.
        for (id, step) in [("carrots", 1), ("dip", 0)] {
            let law = &mut component(snapshot, id).ways[0].steps[step].law;
            law.per_kg = larderwright_quantity::Seconds::ZERO;
            law.fixed = larderwright_quantity::Seconds::ZERO;
            law.per_load = larderwright_quantity::Seconds::from_mins(6);
        }
    });
}

/// Carrots and dip are cut in one go.
fn joint_work(snapshot: &mut Snapshot, plan: &mut WeekPlan) {
    for (id, step) in [("carrots", 1), ("dip", 0)] {
        component(snapshot, id).ways[0].steps[step].merge = Some("cut:all".to_owned());
    }
    plan.runs[0].acts.retain(|act| act.id.as_str() != "chop");
    act(plan, "cut").batches.push("dip".into());
    plan.lots[3].made = at("2026-11-29T10:24");
    snapshot.household.eaters[1].allergies.clear();
}
