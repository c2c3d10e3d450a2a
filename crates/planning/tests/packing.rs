//! Packing by physics, on households made up from seeds: every batch is brought down by a way that works in time, or it
//! is said that none does; what freezes thaws by its day, or that is said; and the same week is packed alike twice.

use larderwright_model::{ActKind, CoolingMethod, Fate, Lot, Profile, Snapshot, Stage, WeekPlan};
use larderwright_planning::{Threads, plan_week};
use larderwright_quantity::{Length, Seconds, Temperature};
use larderwright_safety::KeepClass;
use larderwright_safety::cooling::actions::{Action, Cold, Hot, within};
use larderwright_testkit::random;

fn hot(snapshot: &Snapshot, plan: &WeekPlan, lot: &Lot) -> (String, Hot) {
    let batch = plan.batches.iter().find(|batch| batch.id == lot.origin);
    let component = &snapshot.components[&batch.expect("a lot comes from a batch").component];
    let class = KeepClass::parse(component.keep.as_str()).expect("a known class");
    (
        component.name.to_lowercase(),
        Hot::of(class, component.bulk.value),
    )
}

/// Whether the packing stage owns up to something about a component.
fn said(plan: &WeekPlan, name: &str) -> bool {
    let packing = plan
        .reports
        .iter()
        .filter(|report| report.stage == Stage::Packing);
    packing
        .flat_map(|report| &report.rejected)
        .any(|line| line.starts_with(&format!("{name}: ")))
}

fn check(snapshot: &Snapshot, plan: &WeekPlan, met: &mut [usize; 5]) {
    for lot in &plan.lots {
        met[3] += usize::from(lot.cooling == CoolingMethod::FreezerFirst);
        met[4] += usize::from(lot.cooling == CoolingMethod::ColdWater);
        let (name, hot) = hot(snapshot, plan, lot);
        let cold = if lot.fate == Fate::Freezer {
            Cold::Freezer
        } else {
            Cold::Fridge
        };
        let action = match lot.cooling {
            CoolingMethod::Shallow => Action::OpenBoxes,
            CoolingMethod::Trays => Action::Trays,
            CoolingMethod::FreezerFirst => Action::FreezerFirst,
            _ => continue,
        };
        met[usize::from(action == Action::Trays)] += 1;
        // A micrometre of rounding in the depth is a second.
        let most = within(snapshot.household.profile) + Seconds::from_secs(5);
        let in_time = hot
            .through(action, lot.depth, cold)
            .is_some_and(|took| took <= most);
        assert!(
            in_time || said(plan, &name) || lot.fate == Fate::Cupboard,
            "{name} {:?} {:?}",
            lot.depth,
            lot.cooling
        );
        let first = lot.sittings.first().and_then(|id| snapshot.sitting(id));
        if let (Some(pull), Some(first)) = (lot.pull, first) {
            met[2] += 1;
            let there = Seconds::from_secs(first.leaves_fridge().duration_since(pull).as_secs());
            let slack = Seconds::from_secs(60);
            let thawed = hot.thaws(lot.depth).is_none_or(|needed| needed <= there + slack);
            assert!(
                thawed || said(plan, &name),
                "{name} {:?} pulled {pull}",
                lot.depth
            );
        }
    }
    let acts = plan.runs.iter().flat_map(|run| &run.acts);
    for act in acts.filter(|act| act.kind == ActKind::Cool) {
        let lots = plan.lots.iter().filter(|lot| act.batches.contains(&lot.origin));
        let ways: Vec<CoolingMethod> = lots.map(|lot| lot.cooling).collect();
        let trays = act
            .stations
            .iter()
            .filter(|station| station.starts_with("tray "))
            .count();
        assert_eq!(ways.contains(&CoolingMethod::Trays), trays > 0, "{act:?}");
        assert_eq!(
            ways.contains(&CoolingMethod::IceBath),
            !act.who.is_empty(),
            "{act:?}"
        );
    }
}

#[test]
fn every_batch_is_cool_in_time_or_it_is_said() {
    let mut met = [0; 5];
    for seed in 0..60 {
        let snapshot = random::snapshot(seed);
        let Ok(plan) = plan_week(&snapshot, Threads::Two) else {
            continue;
        };
        check(&snapshot, &plan, &mut met);
    }
    assert!(
        [met[0], met[1], met[2], met[4]].iter().all(|count| *count > 5),
        "too few to show anything: {met:?}"
    );
}

#[test]
fn without_trays_and_boxes_to_spare_the_freezer_helps_where_there_is_one() {
    let mut met = [0; 5];
    for seed in 0..40 {
        let mut snapshot = random::snapshot(seed);
        let Ok(plan) = plan_week(&snapshot, Threads::Two) else {
            continue;
        };
        let kitchen = &mut snapshot.household.kitchen;
        kitchen.trays.clear();
        for kind in &mut kitchen.boxes {
            let used = plan.lots.iter().flat_map(|lot| &lot.boxes);
            kind.count = used
                .filter(|(id, _)| *id == kind.id)
                .map(|(_, count)| count)
                .sum();
        }
        if let Ok(plan) = plan_week(&snapshot, Threads::Two) {
            let before = met[3];
            check(&snapshot, &plan, &mut met);
            assert!(met[3] == before || snapshot.household.kitchen.freezer.is_positive());
        }
    }
    assert!(met[3] > 0, "the freezer was never asked: {met:?}");
}

/// Cold water would wash off what a recipe has folded in while it was hot: it is for what nothing dresses.
#[test]
fn cold_water_is_for_what_is_drained_and_not_dressed() {
    let mut bathed = 0;
    for seed in 0..30 {
        let dressed = random::snapshot(seed);
        let mut bare = dressed.clone();
        for way in bare
            .components
            .values_mut()
            .flat_map(|component| &mut component.ways)
        {
            let driver = way.driver.clone();
            way.inputs.retain(|input| input.drained || input.food == driver);
        }
        for (snapshot, may) in [(&dressed, false), (&bare, true)] {
            let Ok(plan) = plan_week(snapshot, Threads::Two) else {
                continue;
            };
            for lot in plan
                .lots
                .iter()
                .filter(|lot| lot.cooling == CoolingMethod::ColdWater)
            {
                let batch = plan.batches.iter().find(|batch| batch.id == lot.origin);
                let component = &snapshot.components[&batch.expect("a lot comes from a batch").component];
                let egg = component.keep.as_str() == "egg-hard-cooked";
                assert!(egg || may, "seed {seed}: {}", lot.id);
                bathed += usize::from(!egg);
            }
        }
    }
    assert!(bathed > 0, "nothing was ever cooled in water");
}

/// For the food service the second stage of the curve counts as well; a home hears nothing of it.
#[test]
fn the_second_stage_is_the_food_services_and_no_homes() {
    let five = Temperature::from_c(5);
    let (mut kept, mut owned_up) = (0, 0);
    for seed in 0..24 {
        let mut snapshot = random::snapshot(seed);
        let at_home = snapshot.household.profile != Profile::UsFoodService;
        let home = plan_week(&snapshot, Threads::Two).ok().filter(|_| at_home);
        let reports = |plan: &WeekPlan| -> String {
            let packing = plan
                .reports
                .iter()
                .filter(|report| report.stage == Stage::Packing);
            packing
                .flat_map(|report| [&report.chosen[..], &report.rejected[..]].concat())
                .collect()
        };
        if let Some(home) = home {
            assert!(!reports(&home).contains("to 5 °C"), "seed {seed}");
        }
        snapshot.household.profile = Profile::UsFoodService;
        let Ok(plan) = plan_week(&snapshot, Threads::Two) else {
            continue;
        };
        for lot in plan.lots.iter().filter(|lot| lot.fate == Fate::Fridge) {
            let (name, hot) = hot(&snapshot, &plan, lot);
            let action = match lot.cooling {
                CoolingMethod::Shallow => Action::OpenBoxes,
                CoolingMethod::Trays => Action::Trays,
                CoolingMethod::FreezerFirst => Action::FreezerFirst,
                CoolingMethod::IceBath => Action::IceBath,
                CoolingMethod::None | CoolingMethod::ColdWater => continue,
            };
            let most = Seconds::from_hours(6) + Seconds::from_secs(5);
            let took = hot.down_to(five, action, (lot.depth, Cold::Fridge));
            let in_time = took.is_some_and(|took| took <= most);
            assert!(in_time || said(&plan, &name), "seed {seed}: {name} {took:?}");
            kept += usize::from(in_time);
            owned_up += usize::from(!in_time);
        }
    }
    assert!(kept > 10, "{kept} lots in time, {owned_up} not");
}

#[test]
fn a_kitchen_of_deep_boxes_alone_is_told_and_still_gets_its_week() {
    for seed in [0, 2, 3, 4] {
        let mut snapshot = random::snapshot(seed);
        let kitchen = &mut snapshot.household.kitchen;
        kitchen.trays.clear();
        kitchen.boxes.retain(|kind| kind.depth >= Length::from_mm(80));
        for kind in &mut kitchen.boxes {
            kind.count = 20;
        }
        let Ok(plan) = plan_week(&snapshot, Threads::Two) else {
            continue;
        };
        check(&snapshot, &plan, &mut [0; 5]);
        assert!(plan.lots.iter().all(|lot| lot.cooling != CoolingMethod::Trays));
    }
}
