//! Nothing is lost on paper: any plan and any snapshot made of odd texts, far dates and extreme numbers comes back
//! as it was.

use jiff::civil::DateTime;
use larderwright_model::{
    Act, ActKind, Allergen, Answer, Appetite, Avoid, Batch, BatchInput, Contact, CoolingMethod, Cover,
    DayRef, Diet, Fate, Finding, Item, Keep, Lot, OrderLine, Packed, Physique, Place, Plate, Portion,
    PortionSource, PriceBasis, Purpose, Report, ServiceStep, ServiceVerb, Severity, Sex, SizeStep, Snapshot,
    Stage, StockItem, StockState, WeekPlan, Where,
};
use larderwright_model::{Department, Finish};
use larderwright_quantity::{Length, Mass, Money, Permille, Seconds, Temperature};
use larderwright_records::larder::{component_to_json, meal_to_json, parse_component, parse_meal};
use larderwright_records::plan::{plan_from_json, plan_to_json};
use larderwright_records::snapshot::{snapshot_from_json, snapshot_to_json};
use proptest::collection::{btree_map, btree_set, vec};
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;

fn plan() -> WeekPlan {
    plan_from_json(include_str!("golden/plan.json")).expect("the golden plan is well formed")
}

fn snapshot() -> Snapshot {
    snapshot_from_json(include_str!("golden/snapshot.json")).expect("the golden snapshot is well formed")
}

fn text() -> impl Strategy<Value = String> {
    "[\\PC\n\"\\\\]{0,8}"
}

fn id<T: for<'a> From<&'a str> + std::fmt::Debug>() -> impl Strategy<Value = T> {
    text().prop_map(|text| T::from(text.as_str()))
}

fn mass() -> impl Strategy<Value = Mass> {
    any::<i64>().prop_map(Mass::from_mg)
}

fn when() -> impl Strategy<Value = DateTime> {
    let day = (-9999_i16..=9999, 1_i8..=12, 1_i8..=28);
    let time = (0_i8..24, 0_i8..60, 0_i8..60, 0_i32..1_000_000_000);
    (day, time).prop_map(|((year, month, day), (hour, minute, second, nano))| {
        DateTime::new(year, month, day, hour, minute, second, nano).expect("a date of the calendar")
    })
}

fn item() -> impl Strategy<Value = Item> {
    prop_oneof![id().prop_map(Item::Component), id().prop_map(Item::Food)]
}

fn cover() -> impl Strategy<Value = Cover> {
    prop_oneof![id().prop_map(Cover::Eater), any::<u32>().prop_map(Cover::Guest)]
}

fn finish() -> impl Strategy<Value = Finish> {
    select(vec![
        Finish::Reheat,
        Finish::Cold,
        Finish::Raw,
        Finish::Toast,
        Finish::Fry,
    ])
}

fn batch() -> impl Strategy<Value = Batch> {
    let input =
        (id(), mass(), mass(), any::<bool>(), text()).prop_map(|(food, ap, ep, drained, prep)| BatchInput {
            food,
            ap,
            ep,
            drained,
            prep,
        });
    let amounts = (
        mass(),
        [mass(), mass(), mass()],
        mass(),
        any::<i64>(),
        any::<i64>(),
    );
    (id(), id(), id(), id(), vec(input, 0..3), amounts).prop_map(
        |(id, component, way, session, inputs, it)| {
            let (x, yields, demand, confidence, loads) = it;
            let confidence = Permille::from_permille(confidence);
            Batch {
                id,
                component,
                way,
                session,
                x,
                inputs,
                yields,
                demand,
                confidence,
                loads,
            }
        },
    )
}

fn lot() -> impl Strategy<Value = Lot> {
    let keep = (when(), when(), id(), text()).prop_map(|(best_by, use_by, rule, source)| Keep {
        best_by,
        use_by,
        rule,
        source,
    });
    let cooling = select(vec![
        CoolingMethod::None,
        CoolingMethod::Shallow,
        CoolingMethod::Trays,
        CoolingMethod::ColdWater,
        CoolingMethod::IceBath,
    ]);
    let place = select(vec![Place::Fridge, Place::Freezer, Place::Cupboard]);
    let fate = select(vec![Fate::Fridge, Fate::Freezer, Fate::Cupboard]);
    let boxes = vec((id(), any::<u32>()), 0..3);
    let head = (id(), id(), mass(), boxes, any::<i64>());
    let tail = (when(), when(), option::of(when()), keep, vec(id(), 0..3));
    (head, (cooling, place, fate), tail).prop_map(|(head, (cooling, place, fate), tail)| {
        let (id, origin, mass, boxes, depth) = head;
        let (made, stored, pull, keep, sittings) = tail;
        let depth = Length::from_um(depth);
        Lot {
            id,
            origin,
            mass,
            boxes,
            depth,
            cooling,
            place,
            fate,
            made,
            stored,
            pull,
            keep,
            sittings,
        }
    })
}

fn act() -> impl Strategy<Value = Act> {
    let kind = prop_oneof![
        select(vec![
            ActKind::Preflight,
            ActKind::Preheat,
            ActKind::Step,
            ActKind::CleanDown
        ]),
        select(vec![ActKind::Cool, ActKind::PackOut, ActKind::ClearDown]),
        id().prop_map(|of| ActKind::Visit { of }),
    ];
    let words = (id(), kind, text(), text(), text());
    let links = (
        vec(id(), 0..3),
        option::of(id()),
        any::<i64>(),
        vec(id(), 0..2),
        vec(text(), 0..2),
    );
    (words, links, when(), when(), option::of(any::<i64>())).prop_map(|(words, links, start, end, oven)| {
        let (id, kind, title, text, cue) = words;
        let (batches, step, load, who, stations) = links;
        let oven = oven.map(Temperature::from_deci_c);
        Act {
            id,
            kind,
            title,
            text,
            cue,
            batches,
            step,
            load,
            start,
            end,
            who,
            stations,
            oven,
        }
    })
}

fn plate() -> impl Strategy<Value = Plate> {
    let source = prop_oneof![
        id().prop_map(PortionSource::Lot),
        id().prop_map(PortionSource::Food)
    ];
    let portion =
        (id(), item(), mass(), source, finish()).prop_map(|(element, item, mass, source, finish)| Portion {
            element,
            item,
            mass,
            source,
            finish,
        });
    (id(), cover(), id(), vec(portion, 0..3)).prop_map(|(sitting, cover, meal, portions)| Plate {
        sitting,
        cover,
        meal,
        portions,
    })
}

fn service_step() -> impl Strategy<Value = ServiceStep> {
    let verb = prop_oneof![
        id().prop_map(ServiceVerb::TakeOut),
        (item(), mass()).prop_map(|(item, mass)| ServiceVerb::Reheat(item, mass)),
        (item(), mass()).prop_map(|(item, mass)| ServiceVerb::Toast(item, mass)),
        (item(), mass()).prop_map(|(item, mass)| ServiceVerb::Fry(item, mass)),
        Just(ServiceVerb::Assemble),
    ];
    (verb, any::<i64>(), any::<i64>(), any::<u32>(), vec(cover(), 0..3)).prop_map(
        |(verb, start, length, hands, covers)| ServiceStep {
            verb,
            start: Seconds::from_secs(start),
            length: Seconds::from_secs(length),
            hands,
            appliance: None,
            covers,
        },
    )
}

fn order_line() -> impl Strategy<Value = OrderLine> {
    let purpose = prop_oneof![
        id().prop_map(Purpose::Batch),
        id().prop_map(Purpose::Sitting),
        select(vec![Purpose::Par, Purpose::Standing]),
    ];
    let basis = prop_oneof![
        select(vec![PriceBasis::Household, PriceBasis::Estimate]),
        text().prop_map(PriceBasis::Published),
    ];
    let labels = vec(select(Allergen::ALL.to_vec()), 0..3);
    let pack = (text(), mass(), any::<i64>(), any::<i64>());
    (id(), id(), pack, basis, vec(purpose, 0..3), mass(), labels).prop_map(|it| {
        let (shop, food, (pack, pack_mass, count, price), basis, purposes, used, read_label) = it;
        let (department, price) = (Department::OilsSauces, Money::from_minor(price));
        OrderLine {
            shop,
            department,
            food,
            pack,
            pack_mass,
            count,
            price,
            basis,
            purposes,
            used,
            read_label,
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn any_food_made_comes_back(batches in vec(batch(), 0..3), lots in vec(lot(), 0..3)) {
        let plan = WeekPlan { batches, lots, ..plan() };
        prop_assert_eq!(plan_from_json(&plan_to_json(&plan)).expect("what was written is read"), plan);
    }

    #[test]
    fn any_work_comes_back(acts in vec(act(), 0..4), steps in vec(service_step(), 0..3), plates in vec(plate(), 0..3)) {
        let mut plan = WeekPlan { plates, ..plan() };
        plan.runs[0].acts = acts;
        plan.services[0].steps = steps;
        prop_assert_eq!(plan_from_json(&plan_to_json(&plan)).expect("what was written is read"), plan);
    }

    #[test]
    fn any_order_and_report_comes_back(
        lines in vec(order_line(), 0..3),
        within in any::<i64>(),
        words in vec(text(), 4),
        parent in option::of(text()),
    ) {
        let mut plan = WeekPlan { parent, ..plan() };
        plan.order.lines = lines;
        let [chosen, rejected, subject, message]: [String; 4] = words.try_into().expect("four texts");
        let answer = Answer::Within(within);
        plan.reports.push(Report { stage: Stage::Packing, answer, chosen: vec![chosen], rejected: vec![rejected] });
        plan.findings.push(Finding {
            rule: "any".into(),
            severity: Severity::Fatal,
            subject,
            message,
            evidence: String::new(),
            source: String::new(),
        });
        prop_assert_eq!(plan_from_json(&plan_to_json(&plan)).expect("what was written is read"), plan);
    }

    #[test]
    fn any_household_comes_back(
        name in text(),
        body in (any::<i64>(), any::<i64>(), any::<i64>(), any::<u8>()),
        allergies in btree_map(
            select(Allergen::ALL.to_vec()),
            select(vec![Contact::Plate, Contact::Traces, Contact::Severe]),
            0..4,
        ),
        dislikes in btree_set(text(), 0..3),
        stock in mass(),
        fixed in btree_map(id(), id(), 0..3),
        numbers in (any::<u64>(), any::<usize>(), any::<i64>(), any::<u32>()),
    ) {
        let mut snapshot = snapshot();
        let (age, height_cm, weight_hg, activity) = body;
        let eater = &mut snapshot.household.eaters[0];
        eater.appetite = Appetite::Computed(Physique { age, sex: Sex::Female, height_cm, weight_hg, activity });
        eater.diet = Diet::Pescatarian;
        eater.avoid = [Avoid::Gluten, Avoid::Pork].into();
        (eater.name, eater.allergies, eater.dislikes) = (name, allergies, dislikes);
        snapshot.household.stock.push(StockItem { food: "x".into(), state: StockState::Amount(stock) });
        snapshot.household.wishes.fixed = fixed;
        let (seed, components_max, hours, guests) = numbers;
        snapshot.seed = seed;
        snapshot.household.wishes.components_max = components_max;
        let sitting = &mut snapshot.household.sittings[0];
        sitting.day = DayRef::Before(jiff::civil::Weekday::Thursday);
        sitting.guests = guests;
        sitting.place = Where::Packed(Packed { hours, ice_pack: false, fridge: true, microwave: false });
        let way = &mut snapshot.components.values_mut().next().expect("one component").ways[0];
        way.size.step = if guests % 2 == 0 { SizeStep::Pack } else { SizeStep::Unit };
        prop_assert_eq!(snapshot_from_json(&snapshot_to_json(&snapshot)).expect("what was written is read"), snapshot);
    }
}

#[test]
fn the_golden_component_means_what_stands_beside_it() {
    let component = parse_component("beans", include_str!("golden/component.toml")).expect("well formed");
    assert_eq!(
        component_to_json(&component),
        include_str!("golden/component.json")
    );
    let mut holder = snapshot();
    holder.components.insert(component.id.clone(), component);
    assert_eq!(
        snapshot_from_json(&snapshot_to_json(&holder)).expect("what was written is read"),
        holder
    );
}

#[test]
fn the_golden_meal_means_what_stands_beside_it() {
    let meal = parse_meal("bowl", include_str!("golden/meal.toml")).expect("well formed");
    assert_eq!(meal_to_json(&meal), include_str!("golden/meal.json"));
}
