//! Contact in the kitchen: what somebody with a severe allergy eats, and what is eaten as it is, touches no board or blender
//! after what it must not meet; and labels name every allergen of what is in the box.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_app::{Threads, plan};
use larderwright_audit::judge;
use larderwright_model::{
    Act, ActKind, Allergen, BatchId, Component, ComponentId, Contact, Cover, Demand, Draw, Equipment, Fate,
    Finish, FoodId, Hygiene, Item, Plate, Portion, PortionSource, Presence, Run, Snapshot, Supply, WeekPlan,
};
use larderwright_planning::{batches, facts, packing, session};
use larderwright_quantity::Mass;
use larderwright_testkit::random;
use larderwright_views::labels::labels;

/// The allergens that the households of these tests react to severely, by seed.
const SEVERE: [Allergen; 6] = [
    Allergen::Sesame,
    Allergen::Peanuts,
    Allergen::Milk,
    Allergen::Eggs,
    Allergen::Gluten,
    Allergen::Mustard,
];

/// A household in which one or two eaters have a severe allergy.
fn allergic(seed: u64) -> Snapshot {
    let mut snapshot = random::snapshot(seed);
    let eaters = snapshot.household.eaters.len();
    let at = usize::try_from(seed).expect("a small seed");
    let mut give = |eater: usize, allergen: Allergen| {
        let allergies = &mut snapshot.household.eaters[eater % eaters].allergies;
        allergies.insert(allergen, Contact::Severe);
    };
    give(0, SEVERE[at % SEVERE.len()]);
    if at % 3 == 0 {
        give(1, SEVERE[(at / 3 + 1) % SEVERE.len()]);
    }
    snapshot
}

/// The foods of a batch.
fn foods<'a>(plan: &'a WeekPlan, id: &BatchId) -> impl Iterator<Item = &'a FoodId> + use<'a> {
    let batch = plan.batches.iter().find(|batch| batch.id == *id);
    batch
        .into_iter()
        .flat_map(|batch| batch.inputs.iter().map(|input| &input.food))
}

fn holds(snapshot: &Snapshot, plan: &WeekPlan, id: &BatchId, allergen: Allergen) -> bool {
    foods(plan, id).any(|food| {
        let listed = snapshot.foods[food].allergens.as_ref();
        listed.is_some_and(|all| all.get(&allergen) == Some(&Presence::Contains))
    })
}

/// The batches that an eater has on some plate.
fn eaten<'a>(plan: &'a WeekPlan, eater: &Cover) -> BTreeSet<&'a BatchId> {
    let own = plan.plates.iter().filter(|plate| plate.cover == *eater);
    let lots = own
        .flat_map(|plate| &plate.portions)
        .filter_map(|portion| match &portion.source {
            PortionSource::Lot(lot) => plan.lots.iter().find(|known| known.id == *lot),
            PortionSource::Food(_) => None,
        });
    lots.map(|lot| &lot.origin).collect()
}

/// The acts on each board and blender in their order.
fn on_boards(run: &Run) -> BTreeMap<&str, Vec<&Act>> {
    let mut boards: BTreeMap<&str, Vec<&Act>> = BTreeMap::new();
    for act in &run.acts {
        let shared = |station: &&String| station.starts_with("board ") || station.starts_with("blender");
        if matches!(act.kind, ActKind::Step | ActKind::CleanDown) {
            for station in act.stations.iter().filter(shared) {
                boards.entry(station).or_default().push(act);
            }
        }
    }
    for acts in boards.values_mut() {
        acts.sort_by_key(|act| act.start);
    }
    boards
}

fn hygiene(snapshot: &Snapshot, plan: &WeekPlan, act: &Act) -> Option<Hygiene> {
    let batch = plan
        .batches
        .iter()
        .find(|batch| act.batches.first() == Some(&batch.id))?;
    let way = snapshot.components[&batch.component].way(&batch.way)?;
    let step = way
        .steps
        .iter()
        .find(|step| Some(&step.id) == act.step.as_ref())?;
    Some(step.hygiene)
}

/// What meets what it must not, and how often a board was shared at all.
fn meetings(snapshot: &Snapshot, plan: &WeekPlan) -> (Vec<String>, usize) {
    let (mut met, mut shared) = (Vec::new(), 0);
    for acts in plan.runs.iter().flat_map(on_boards).map(|(_, acts)| acts) {
        let mut raw = false;
        for act in &acts {
            match hygiene(snapshot, plan, act) {
                _ if act.kind == ActKind::CleanDown => raw = false,
                Some(Hygiene::RawMeat) => raw = true,
                Some(Hygiene::Ready) if raw => met.push(format!("{} after raw meat", act.id)),
                _ => {}
            }
        }
        for eater in &snapshot.household.eaters {
            let own = eaten(plan, &Cover::Eater(eater.id.clone()));
            let severe = eater
                .allergies
                .iter()
                .filter(|(_, contact)| **contact == Contact::Severe);
            for allergen in severe.map(|(allergen, _)| *allergen) {
                let mut soiled = false;
                for act in &acts {
                    let carries = act.batches.iter().any(|id| holds(snapshot, plan, id, allergen));
                    let theirs = act.batches.iter().any(|id| own.contains(id));
                    shared += usize::from(carries);
                    soiled = (soiled && act.kind != ActKind::CleanDown) || carries;
                    if soiled && theirs {
                        met.push(format!("{} after {allergen:?}", act.id));
                    }
                }
            }
        }
    }
    (met, shared)
}

/// A kitchen in which everything is cooked that must not meet: components with the allergens of two eaters, one of raw meat, and
/// others; each eater has a plate of all that is free of their allergen.
fn kitchen(seed: u64) -> Option<(Snapshot, WeekPlan)> {
    let snapshot = allergic(seed);
    let session = snapshot.sessions.first()?.clone();
    let sitting = snapshot
        .sittings
        .iter()
        .find(|sitting| sitting.at > session.to)?
        .clone();
    let draws = chosen(&snapshot, seed).into_iter().map(|component| Draw {
        sitting: sitting.id.clone(),
        cover: Cover::Eater(snapshot.household.eaters[0].id.clone()),
        element: "part".into(),
        item: Item::Component(component),
        mass: Mass::from_g(400),
        finish: Finish::Cold,
        supply: Supply::Made {
            session: session.id.clone(),
            fate: Fate::Fridge,
        },
    });
    let demand = Demand {
        draws: draws.collect(),
    };
    let batches = batches::size(&snapshot, &demand).ok()?.batches;
    let lots = packing::pack(&snapshot, &demand, &batches, &BTreeSet::new())
        .ok()?
        .lots;
    let run = session::schedule(&snapshot, &session, &batches, &lots, Threads::Two)
        .ok()?
        .run;
    let mut plan = WeekPlan {
        batches,
        lots,
        runs: vec![run],
        plates: Vec::new(),
        ..larderwright_testkit::sample::plan()
    };
    for eater in &snapshot.household.eaters {
        let free = |id: &BatchId| {
            let severe = eater
                .allergies
                .iter()
                .filter(|(_, contact)| **contact == Contact::Severe);
            severe
                .into_iter()
                .all(|(allergen, _)| !holds(&snapshot, &plan, id, *allergen))
        };
        let portions = plan
            .lots
            .iter()
            .filter(|lot| free(&lot.origin))
            .map(|lot| Portion {
                element: "part".into(),
                item: Item::Component(lot.id.as_str().into()),
                mass: lot.mass,
                source: PortionSource::Lot(lot.id.clone()),
                finish: Finish::Cold,
            });
        let portions = portions.collect();
        plan.plates.push(Plate {
            sitting: sitting.id.clone(),
            cover: Cover::Eater(eater.id.clone()),
            meal: "meal".into(),
            portions,
        });
    }
    Some((snapshot, plan))
}

/// Components of a seed that this kitchen can make: every third, and among them raw meat and what somebody must not have.
fn chosen(snapshot: &Snapshot, seed: u64) -> Vec<ComponentId> {
    let kitchen = &snapshot.household.kitchen;
    let makes = |component: &&Component| facts::way_here(component, kitchen).is_some();
    let all: Vec<&Component> = snapshot.components.values().filter(makes).collect();
    let severe: Vec<Allergen> = snapshot
        .household
        .eaters
        .iter()
        .flat_map(|eater| &eater.allergies)
        .filter(|(_, contact)| **contact == Contact::Severe)
        .map(|(allergen, _)| *allergen)
        .collect();
    let boards = |component: &Component| {
        let way = facts::way_here(component, kitchen).expect("it is made here");
        way.steps.iter().any(|step| step.uses.contains(&Equipment::Board))
    };
    let raw = |component: &Component| {
        let way = facts::way_here(component, kitchen).expect("it is made here");
        way.steps.iter().any(|step| step.hygiene == Hygiene::RawMeat)
    };
    let carries = |component: &Component| {
        let way = facts::way_here(component, kitchen).expect("it is made here");
        let foods = way
            .inputs
            .iter()
            .filter_map(|input| snapshot.foods.get(&input.food));
        foods
            .flat_map(|food| food.allergens.iter().flatten())
            .any(|(allergen, presence)| *presence == Presence::Contains && severe.contains(allergen))
    };
    let at = usize::try_from(seed).expect("a small seed");
    let pick = |from: Vec<&Component>, count: usize| -> Vec<ComponentId> {
        let some = from.len().max(1);
        (0..count.min(from.len()))
            .map(|n| from[(at + n * 5) % some].id.clone())
            .collect()
    };
    let of = |wanted: &dyn Fn(&Component) -> bool| all.iter().copied().filter(|one| wanted(one)).collect();
    let mut picked = pick(of(&|one| raw(one)), 1);
    picked.extend(pick(of(&|one| carries(one) && boards(one)), 2));
    picked.extend(pick(of(&|one| boards(one)), 3));
    picked.sort();
    picked.dedup();
    picked
}

/// What the audit says of contact.
fn contact(snapshot: &Snapshot, plan: &WeekPlan) -> Vec<String> {
    let findings = judge(snapshot, plan).into_iter();
    let of_contact = findings
        .filter(|finding| ["run.allergen-contact", "run.clean-down"].contains(&finding.rule.as_str()));
    of_contact
        .map(|finding| format!("{} {}", finding.rule, finding.message))
        .collect()
}

#[test]
fn no_schedule_lets_meet_what_must_not() {
    let (mut kitchens, mut shared, mut cleaned) = (0, 0, 0);
    for seed in 0..150 {
        let Some((snapshot, plan)) = kitchen(seed) else {
            continue;
        };
        let (met, times) = meetings(&snapshot, &plan);
        assert_eq!(met, Vec::<String>::new(), "seed {seed}");
        assert_eq!(contact(&snapshot, &plan), Vec::<String>::new(), "seed {seed}");
        kitchens += 1;
        shared += times;
        cleaned += plan.runs[0]
            .acts
            .iter()
            .filter(|act| act.kind == ActKind::CleanDown)
            .count();
    }
    assert!(
        kitchens > 60 && shared > 50,
        "{kitchens} kitchens, {shared} acts, {cleaned} clean-downs"
    );
}

/// Lets an act end when another begins, on the boards of that one.
fn put_before(plan: &WeekPlan, (earlier, later): (usize, usize)) -> WeekPlan {
    let mut plan = plan.clone();
    let acts = &mut plan.runs[0].acts;
    let length = jiff::SignedDuration::from_secs(acts[earlier].length().secs());
    acts[earlier].stations = acts[later].stations.clone();
    acts[earlier].end = acts[later].start;
    acts[earlier].start = acts[later].start.saturating_sub(length);
    plan
}

#[test]
fn one_act_out_of_order_is_found_in_any_kitchen() {
    let (mut allergens, mut meats) = (0, 0);
    for seed in 0..150 {
        let Some((snapshot, plan)) = kitchen(seed) else {
            continue;
        };
        let acts = &plan.runs[0].acts;
        let board =
            |act: &Act| act.kind == ActKind::Step && act.stations.iter().any(|on| on.starts_with("board "));
        let on_board = || (0..acts.len()).filter(|ix| board(&acts[*ix]));
        let raw = on_board().find(|ix| hygiene(&snapshot, &plan, &acts[*ix]) == Some(Hygiene::RawMeat));
        let other = on_board().find(|ix| raw.is_some_and(|raw| acts[raw].batches != acts[*ix].batches));
        if let (Some(raw), Some(other)) = (raw, other) {
            let said = contact(&snapshot, &put_before(&plan, (raw, other)));
            assert!(
                said.iter().any(|said| said.starts_with("run.clean-down")),
                "seed {seed}: {said:?}"
            );
            meats += 1;
        }
        for (eater, plate) in snapshot.household.eaters.iter().zip(&plan.plates) {
            let own = eaten(&plan, &plate.cover);
            let severe = eater
                .allergies
                .iter()
                .filter(|(_, contact)| **contact == Contact::Severe);
            for (allergen, _) in severe {
                let carries = |ix: &usize| {
                    acts[*ix]
                        .batches
                        .iter()
                        .any(|id| holds(&snapshot, &plan, id, *allergen))
                };
                let theirs = |ix: &usize| acts[*ix].batches.iter().any(|id| own.contains(id));
                let soils = on_board().find(carries);
                let clean = on_board().find(|ix| theirs(ix) && !carries(ix));
                if let (Some(soils), Some(clean)) = (soils, clean) {
                    let said = contact(&snapshot, &put_before(&plan, (soils, clean)));
                    assert!(
                        said.iter().any(|said| said.starts_with("run.allergen-contact")),
                        "seed {seed}: {said:?}"
                    );
                    allergens += 1;
                }
            }
        }
    }
    assert!(
        allergens > 20 && meats > 20,
        "{allergens} allergens, {meats} meats"
    );
}

#[test]
fn labels_name_every_allergen_of_what_is_in_the_box() {
    let (mut contains, mut traces, mut unknown) = (0, 0, 0);
    for seed in 0..30 {
        let mut snapshot = random::snapshot(seed);
        // Salt goes into almost everything and tells of nothing; here it may hold something, and of oil nobody knows.
        if let Some(salt) = snapshot.foods.get_mut(&FoodId::new("salt")) {
            salt.allergens = Some(BTreeMap::from([(Allergen::Mustard, Presence::MayContain)]));
        }
        if let Some(oil) = snapshot.foods.get_mut(&FoodId::new("olive-oil")) {
            oil.allergens = None;
        }
        let Ok(week) = plan(&snapshot, Threads::Two) else {
            continue;
        };
        let sheet = labels(&snapshot, &week.plan);
        let mut sections = sheet.sections.iter();
        for lot in &week.plan.lots {
            let boxes: u32 = lot.boxes.iter().map(|(_, count)| count).sum();
            for section in sections.by_ref().take(boxes as usize) {
                let line = |name: &str| {
                    let row = section.rows.iter().find(|row| row.cells[0] == name);
                    row.map_or_else(String::new, |row| row.cells[1].clone())
                };
                for food in foods(&week.plan, &lot.origin).map(|id| &snapshot.foods[id]) {
                    let Some(listed) = &food.allergens else {
                        assert!(
                            line("allergens").contains(&food.name),
                            "{}: {}",
                            section.title,
                            food.name
                        );
                        unknown += 1;
                        continue;
                    };
                    for (allergen, presence) in listed {
                        let word = allergen.word().to_uppercase();
                        let certain = line("contains").contains(&word);
                        match presence {
                            Presence::Contains => assert!(certain, "{}: {word}", section.title),
                            Presence::MayContain => {
                                assert!(
                                    certain || line("may contain").contains(&word),
                                    "{}: {word}",
                                    section.title
                                );
                            }
                        }
                        contains += usize::from(*presence == Presence::Contains);
                        traces += usize::from(*presence == Presence::MayContain);
                    }
                }
            }
        }
        assert!(sections.next().is_none(), "a label without a box");
    }
    assert!(
        contains > 20 && traces > 20 && unknown > 5,
        "{contains} {traces} {unknown}"
    );
}
