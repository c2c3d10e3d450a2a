//! Sessions of built-in recipes: like work is done once, and a joint act takes as long as all its parts.

use jiff::civil::date;
use larderwright_app::{Options, Threads, build_snapshot};
use larderwright_model::{
    ActKind, Batch, BatchId, ComponentId, Cover, Demand, Draw, Fate, Finish, Item, Run, Snapshot, Supply,
};
use larderwright_planning::{batches, session};
use larderwright_quantity::Mass;
use larderwright_records::household::{DEMO_HOUSEHOLD, parse_household};

fn snapshot() -> Snapshot {
    let household = parse_household(DEMO_HOUSEHOLD).expect("the demo is well formed");
    let now = date(2026, 11, 25).at(8, 0, 0, 0);
    build_snapshot(household, date(2026, 11, 30), now, Options::default()).expect("every name is known")
}

/// Two kilograms of each component, cooked in the first session.
fn cooked(snapshot: &Snapshot, components: &[&str]) -> (Vec<Batch>, Run) {
    let session = &snapshot.sessions[0];
    let draw = |id: &&str| Draw {
        sitting: snapshot.sittings[0].id.clone(),
        cover: Cover::Guest(1),
        element: "base".into(),
        item: Item::Component(ComponentId::new(id)),
        mass: Mass::from_g(2000),
        finish: Finish::Cold,
        supply: Supply::Made {
            session: session.id.clone(),
            fate: Fate::Fridge,
        },
    };
    let mut demand = Demand {
        draws: components.iter().map(draw).collect(),
    };
    demand.draws.sort_by(|one, other| one.item.cmp(&other.item));
    let sized = batches::size(snapshot, &demand).expect("the kitchen has room");
    let result = session::schedule(snapshot, session, &sized.batches, &[], Threads::Two);
    (sized.batches, result.expect("it can be put in order").run)
}

#[test]
fn onions_for_two_pots_are_diced_once() {
    let snapshot = snapshot();
    let (batches, run) = cooked(&snapshot, &["red-lentil-dal", "tomato-sauce"]);
    let joint: Vec<_> = run.acts.iter().filter(|act| act.batches.len() > 1).collect();
    assert!(
        !joint.is_empty(),
        "onions or garlic are cut once: {:#?}",
        run.acts
    );
    for act in joint {
        assert_eq!(act.kind, ActKind::Step);
        let step = act.step.as_ref().expect("a step of a recipe");
        let length = |id: &BatchId| {
            let batch = batches
                .iter()
                .find(|batch| batch.id == *id)
                .expect("it is cooked");
            let component = &snapshot.components[&batch.component];
            let way = component.way(&batch.way).expect("in one of its ways");
            let own = way.steps.iter().find(|own| own.id == *step);
            own.map(|own| own.law.likely(batch.x))
        };
        for part in act.batches.iter().filter_map(length) {
            assert!(
                act.length() > part,
                "{} takes longer than each of its parts",
                act.title
            );
        }
    }
}

#[test]
fn a_session_of_one_batch_has_nothing_to_share() {
    let snapshot = snapshot();
    let (_, run) = cooked(&snapshot, &["tomato-sauce"]);
    assert!(run.acts.iter().all(|act| act.batches.len() <= 1));
}
