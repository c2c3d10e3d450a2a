//! Breaches around lots that were in the house before.

use larderwright_model::{
    Carried, Cover, Element, ElementOption, Finish, Item, Keep, Need, Pick, Place, Portion, PortionSource,
    Scales, ServiceStep, ServiceVerb, Snapshot, StoredLot, Supply, WeekPlan,
};
use larderwright_quantity::{Mass, Seconds};
use larderwright_safety::{KeepClass, thawed};

use crate::good::at;

const LUNCH: &str = "2026-12-03-lunch";

fn keep(snapshot: &Snapshot) -> Keep {
    let [made, pull] = ["2026-11-20T12:00", "2026-12-02T18:00"].map(at);
    thawed(
        snapshot.household.profile,
        KeepClass::SauceCooked,
        made,
        made,
        pull,
    )
}

fn stored(snapshot: &Snapshot) -> StoredLot {
    StoredLot {
        id: "old".into(),
        component: "dip".into(),
        foods: ["peanut".into()].into(),
        mass: Mass::from_g(100),
        place: Place::Freezer,
        made: at("2026-11-20T12:00"),
        stored: at("2026-11-20T12:00"),
        keep: Keep {
            best_by: at("2027-02-20T12:00"),
            use_by: at("2027-02-20T12:00"),
            ..keep(snapshot)
        },
        boxes: Vec::new(),
        reheated: false,
    }
}

/// Ana gets a second dip at lunch, from a frozen lot of the week before.
pub(crate) fn second_dip(snapshot: &mut Snapshot, plan: &mut WeekPlan) {
    let option = ElementOption {
        item: Item::Component("dip".into()),
        portion: Mass::from_g(25),
        finish: Finish::Cold,
    };
    let element = Element {
        id: "second".into(),
        portion: option.portion,
        scales: Scales::Appetite,
        need: Need::Optional,
        options: vec![option],
    };
    let meal = snapshot.meals.get_mut(&"bowl".into()).expect("there is a bowl");
    meal.elements.push(element);
    let lot = stored(snapshot);
    snapshot.lots.push(lot);
    let item = Item::Component("dip".into());
    let mass = Mass::from_g(25);
    let ana = Cover::Eater("ana".into());
    for plate in plan
        .plates
        .iter_mut()
        .filter(|plate| plate.sitting == LUNCH.into() && plate.cover == ana)
    {
        plate.portions.push(Portion {
            element: "second".into(),
            item: item.clone(),
            mass,
            source: PortionSource::Lot("old".into()),
            finish: Finish::Cold,
        });
    }
    for cover in plan.menu.choices[1]
        .covers
        .iter_mut()
        .filter(|cover| cover.cover == ana)
    {
        cover.picks.push(Pick {
            element: "second".into(),
            item: item.clone(),
            portion: mass,
            scales: Scales::Appetite,
            finish: Finish::Cold,
            supply: Supply::Stored { lot: "old".into() },
        });
    }
    take_out(plan);
    plan.carried.push(Carried {
        lot: "old".into(),
        component: "dip".into(),
        mass,
        pull: Some(at("2026-12-02T18:00")),
        keep: keep(snapshot),
        sittings: vec![LUNCH.into()],
    });
}

/// One more box is taken out before lunch.
fn take_out(plan: &mut WeekPlan) {
    let lunch = &mut plan.services[1];
    let last = lunch.steps.len() - 1;
    lunch.steps[last].start = Seconds::from_secs(120);
    lunch.length = Seconds::from_secs(420);
    lunch.steps.insert(
        last,
        ServiceStep {
            verb: ServiceVerb::TakeOut("old".into()),
            start: Seconds::from_secs(90),
            length: Seconds::from_secs(30),
            hands: 1,
            appliance: None,
            covers: Vec::new(),
        },
    );
}

#[test]
fn a_lot_of_the_week_before_may_be_eaten() {
    crate::expect_silence(second_dip);
}

crate::breaks! {
    drawing_more_than_is_left_is_found: CARRIED_MASS, |snapshot, plan| {
        second_dip(snapshot, plan);
        snapshot.lots[0].mass = Mass::from_g(20);
    }
    stating_less_than_is_drawn_is_found: CARRIED_STATED, |snapshot, plan| {
        second_dip(snapshot, plan);
        plan.carried[0].mass = Mass::from_g(20);
    }
    eating_it_after_its_date_is_found: CARRIED_USE_BY, |snapshot, plan| {
        second_dip(snapshot, plan);
        snapshot.lots[0].place = Place::Fridge;
        snapshot.lots[0].keep = keep(snapshot);
        snapshot.lots[0].keep.use_by = at("2026-12-02T23:59");
        plan.carried[0].pull = None;
        plan.carried[0].keep.use_by = at("2026-12-02T23:59");
    }
    a_pull_too_late_to_thaw_is_found: CARRIED_PULL, |snapshot, plan| {
        second_dip(snapshot, plan);
        let made = at("2026-11-20T12:00");
        let pull = at("2026-12-02T20:31");
        plan.carried[0].pull = Some(pull);
        plan.carried[0].keep = thawed(snapshot.household.profile, KeepClass::SauceCooked, made, made, pull);
    }
    warming_a_lot_again_is_found: CARRIED_REHEATED, |snapshot, plan| {
        second_dip(snapshot, plan);
        snapshot.lots[0].reheated = true;
        let meal = snapshot.meals.get_mut(&"bowl".into()).expect("there is a bowl");
        meal.elements[5].options[0].finish = Finish::Reheat;
        for portion in plan.plates.iter_mut().flat_map(|plate| &mut plate.portions) {
            if portion.source == PortionSource::Lot("old".into()) {
                portion.finish = Finish::Reheat;
            }
        }
        for pick in plan.menu.choices[1].covers.iter_mut().flat_map(|cover| &mut cover.picks) {
            if pick.element == "second".into() {
                pick.finish = Finish::Reheat;
            }
        }
    }
}
