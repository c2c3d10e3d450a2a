//! A small but complete week that the judge has nothing to say about: two eaters, one of them severely
//! allergic to peanuts, three components, one meal at two sittings, one session. All figures are invented.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::DateTime;
use larderwright_model::{
    Allergen, Appetite, BoxKind, Component, Contact, Cook, CountUnit, Department, Diet, Eater, Element,
    ElementOption, Equipment, Family, Finish, Food, FoodId, FoodKind, Freezing, Household, Hygiene, Input,
    Item, Kitchen, Law, Meal, Need, Occasion, Oven, OvenRange, Pack, PackSize, Packed, ParItem, Pot,
    Presence, PriceBasis, Profile, Region, Scales, Serving, Session, Shop, Sitting, SizeLimits, SizeStep,
    Skill, Snapshot, Sourced, Spread, StandingItem, Station, Step, StepAfter, StockItem, StockState,
    StorageClass, Tray, Visit, Way, Where, Wishes, Yield,
};
use larderwright_quantity::{
    Currency, Density, Length, Mass, Money, Permille, Seconds, System, Temperature, Volume,
};

/// Reads `2026-11-29T10:00`.
pub(crate) fn at(text: &str) -> DateTime {
    text.parse().expect("the tests write times well")
}

fn sourced<T>(value: T) -> Sourced<T> {
    Sourced {
        value,
        source: "invented".to_owned(),
    }
}

/// Everything the plan depends on.
pub(crate) fn snapshot() -> Snapshot {
    Snapshot {
        now: at("2026-11-27T18:00"),
        monday: at("2026-11-30T00:00").date(),
        household: household(),
        sittings: sittings(),
        sessions: vec![Session {
            id: "2026-11-29".into(),
            from: at("2026-11-29T10:00"),
            to: at("2026-11-29T13:00"),
            cooks: vec!["ana".into()],
        }],
        shops: vec![
            Shop {
                id: "2026-11-28".into(),
                at: at("2026-11-28T11:00"),
            },
            Shop {
                id: "2026-12-02".into(),
                at: at("2026-12-02T18:00"),
            },
        ],
        foods: foods(),
        components: [chickpeas(), carrots(), dip()]
            .map(|component| (component.id.clone(), component))
            .into(),
        meals: [meal()].map(|meal| (meal.id.clone(), meal)).into(),
        lots: Vec::new(),
        habits: BTreeMap::new(),
        learnt: Vec::new(),
        eaten_lately: Vec::new(),
        tables: "test".to_owned(),
        seed: 1,
        menu_work: 1,
        session_work: 1,
        parent: None,
    }
}

fn sittings() -> Vec<Sitting> {
    let eaters = || vec!["ana".into(), "ben".into()];
    vec![
        Sitting {
            id: "2026-11-30-dinner".into(),
            at: at("2026-11-30T19:00"),
            occasion: Occasion::Dinner,
            minutes: 20,
            eaters: eaters(),
            guests: 0,
            place: Where::Home,
        },
        Sitting {
            id: "2026-12-03-lunch".into(),
            at: at("2026-12-03T12:30"),
            occasion: Occasion::Lunch,
            minutes: 15,
            eaters: eaters(),
            guests: 0,
            place: Where::Packed(Packed {
                hours: 4,
                ice_pack: true,
                fridge: false,
                microwave: true,
            }),
        },
    ]
}

fn eater(id: &str) -> Eater {
    Eater {
        id: id.into(),
        name: id.to_owned(),
        appetite: Appetite::Usual,
        diet: Diet::Everything,
        avoid: BTreeSet::new(),
        allergies: BTreeMap::new(),
        dislikes: BTreeSet::new(),
        cautions: BTreeSet::new(),
    }
}

fn household() -> Household {
    let mut ben = eater("ben");
    ben.allergies.insert(Allergen::Peanuts, Contact::Severe);
    let cook = |id: &str, may: &[Skill]| Cook {
        id: id.into(),
        name: id.to_owned(),
        may: may.iter().copied().collect(),
    };
    Household {
        name: "Two at home".to_owned(),
        region: Region::Us,
        profile: Profile::UsHome,
        system: System::Metric,
        currency: Currency::parse("USD").expect("USD is a currency"),
        zone: "America/New_York".to_owned(),
        altitude_m: 0,
        eaters: vec![eater("ana"), ben],
        cooks: vec![cook("ana", &[Skill::Knife, Skill::Stove]), cook("ben", &[])],
        kitchen: kitchen(),
        sittings: Vec::new(),
        sessions: Vec::new(),
        shops: Vec::new(),
        foods: Vec::new(),
        stock: vec![
            StockItem {
                food: "salt".into(),
                state: StockState::Amount(Mass::from_g(100)),
            },
            StockItem {
                food: "oil".into(),
                state: StockState::Have,
            },
        ],
        pars: vec![ParItem {
            food: "milk".into(),
            level: Mass::from_g(1500),
            on_hand: Mass::from_g(500),
        }],
        standing: vec![StandingItem {
            food: "apple".into(),
            mass: Mass::from_g(500),
        }],
        prices: Vec::new(),
        wishes: wishes(),
    }
}

fn wishes() -> Wishes {
    Wishes {
        fixed: BTreeMap::new(),
        off_meals: BTreeSet::new(),
        off_components: BTreeSet::new(),
        components_max: 6,
        priorities: Vec::new(),
        budget: None,
    }
}

fn kitchen() -> Kitchen {
    Kitchen {
        oven: Some(Oven {
            racks: 2,
            min: Temperature::from_c(50),
            max: Temperature::from_c(250),
            fan: false,
            preheat_min: 15,
        }),
        burners: 2,
        burner_watts: 1500,
        microwaves: 1,
        toaster: false,
        boards: 1,
        blender: false,
        pressure_cooker: None,
        pots: [3, 5]
            .map(|litres| Pot {
                volume: Volume::from_ml(litres * 1000),
                count: 1,
            })
            .into(),
        trays: vec![Tray {
            area_cm2: 46 * 33,
            count: 2,
        }],
        boxes: vec![
            box_kind("small", (250, 50), 2),
            BoxKind {
                freezes: true,
                ..box_kind("litre", (1000, 60), 6)
            },
        ],
        fridge: Volume::from_ml(6000),
        freezer: Volume::from_ml(2000),
    }
}

fn box_kind(id: &str, size: (i64, i64), count: u32) -> BoxKind {
    BoxKind {
        id: id.into(),
        name: id.to_owned(),
        volume: Volume::from_ml(size.0),
        depth: Length::from_mm(size.1),
        count,
        material: "glass".to_owned(),
        freezes: false,
    }
}

fn foods() -> BTreeMap<FoodId, Food> {
    let mut carrot = food("carrot", FoodKind::Plant, StorageClass::Fridge, Some(1000));
    carrot.edible.value = Permille::from_permille(830);
    carrot.unit = Some(CountUnit {
        singular: "carrot".to_owned(),
        plural: "carrots".to_owned(),
        mass: Mass::from_g(100),
        source: "invented".to_owned(),
    });
    let mut parsley = food("parsley", FoodKind::Plant, StorageClass::FridgeShort, Some(30));
    parsley.edible.value = Permille::from_permille(800);
    let mut peanut = food("peanut", FoodKind::Plant, StorageClass::Cupboard, Some(200));
    peanut.allergens = Some([(Allergen::Peanuts, Presence::Contains)].into());
    let mut yoghurt = food("yoghurt", FoodKind::Dairy, StorageClass::Fridge, Some(500));
    yoghurt.allergens = Some([(Allergen::Milk, Presence::Contains)].into());
    let all = [
        food("apple", FoodKind::Plant, StorageClass::Counter, Some(500)),
        carrot,
        food("chickpea-dry", FoodKind::Plant, StorageClass::Cupboard, Some(500)),
        food("milk", FoodKind::Dairy, StorageClass::Fridge, Some(1030)),
        food("oil", FoodKind::Plant, StorageClass::Cupboard, Some(500)),
        parsley,
        peanut,
        food("salt", FoodKind::Mineral, StorageClass::Cupboard, Some(500)),
        food("water", FoodKind::Mineral, StorageClass::Tap, None),
        yoghurt,
    ];
    all.map(|food| (food.id.clone(), food)).into()
}

fn food(id: &str, kind: FoodKind, storage: StorageClass, pack_g: Option<i64>) -> Food {
    Food {
        id: id.into(),
        name: id.to_owned(),
        department: Department::Dry,
        kinds: [kind].into(),
        allergens: Some(BTreeMap::new()),
        read_label: false,
        edible: sourced(Permille::ONE),
        density: None,
        unit: None,
        packs: pack_g
            .map(|grams| Pack {
                size: PackSize {
                    label: format!("{grams} g"),
                    mass: Mass::from_g(grams),
                },
                price: Money::from_minor(200),
                basis: PriceBasis::Estimate,
            })
            .into_iter()
            .collect(),
        storage,
        source: "invented".to_owned(),
    }
}

fn component(id: &str, keep: &str, bulk: i64, way: Way) -> Component {
    Component {
        id: id.into(),
        name: id.to_owned(),
        family: Family::Vegetable,
        keep: keep.into(),
        freeze: Freezing::Good,
        serve: Serving::Either,
        bulk: sourced(Density::from_g_per_l(bulk)),
        season: Vec::new(),
        trouble: String::new(),
        ways: vec![way],
    }
}

fn way(driver: &str, permille: [i64; 3], size: [i64; 3]) -> Way {
    let [low, likely, high] = permille.map(Permille::from_permille);
    let [min, step, max] = size.map(Mass::from_g);
    Way {
        id: "plain".into(),
        name: "plain".to_owned(),
        driver: driver.into(),
        size: SizeLimits {
            min,
            step: SizeStep::Mass(step),
            max,
        },
        yields: Yield {
            low,
            likely,
            high,
            source: "invented".to_owned(),
        },
        needs: Vec::new(),
        inputs: vec![input(driver, 0, 1000)],
        steps: Vec::new(),
    }
}

fn input(food: &str, fixed_g: i64, per_kg_g: i64) -> Input {
    Input {
        food: food.into(),
        fixed: Mass::from_g(fixed_g),
        per_kg: Mass::from_g(per_kg_g),
        drained: food == "water",
        prep: String::new(),
    }
}

fn step(id: &str, station: Station, law_s: (i64, i64)) -> Step {
    Step {
        id: id.into(),
        title: id.to_owned(),
        text: String::new(),
        cue: String::new(),
        lead: false,
        lead_min: None,
        station,
        hands: 1,
        skill: Skill::Any,
        after: Vec::new(),
        uses: Vec::new(),
        pot_fixed: Volume::ZERO,
        pot_per_kg: Volume::ZERO,
        load: None,
        tray: None,
        law: Law {
            fixed: Seconds::from_secs(law_s.0),
            per_kg: Seconds::from_secs(law_s.1),
            per_load: Seconds::ZERO,
            load: None,
            spread: Spread::NONE,
            source: "invented".to_owned(),
        },
        boil: None,
        visit: None,
        oven: None,
        hygiene: Hygiene::Plain,
        safety: None,
        merge: None,
    }
}

fn after(step: &str, max_s: Option<i64>) -> Vec<StepAfter> {
    vec![StepAfter {
        step: step.into(),
        min: Seconds::ZERO,
        max: max_s.map(Seconds::from_secs),
    }]
}

fn chickpeas() -> Component {
    let mut way = way("chickpea-dry", [2000, 2220, 2600], [250, 50, 1500]);
    way.inputs.push(input("water", 500, 3000));
    way.inputs.push(input("salt", 0, 10));
    way.steps = vec![
        Step {
            lead: true,
            lead_min: Some(Seconds::from_hours(8)),
            hands: 0,
            ..step("soak", Station::Fridge, (43_200, 0))
        },
        Step {
            after: after("soak", None),
            ..step("drain", Station::Sink, (60, 30))
        },
        Step {
            hands: 0,
            after: after("drain", Some(1800)),
            uses: vec![Equipment::Burner, Equipment::Pot],
            pot_per_kg: Volume::from_ml(5000),
            load: Some(Mass::from_g(1000)),
            visit: Some(Visit {
                every: Seconds::from_mins(10),
                hands: Seconds::from_mins(1),
                text: String::new(),
            }),
            ..step("simmer", Station::Stove, (1200, 300))
        },
    ];
    component("chickpeas", "pulse-cooked", 690, way)
}

fn carrots() -> Component {
    let mut way = way("carrot", [650, 700, 800], [230, 100, 2030]);
    way.inputs.push(input("oil", 0, 30));
    way.steps = vec![
        Step {
            skill: Skill::Knife,
            uses: vec![Equipment::Board],
            ..step("peel", Station::Board, (60, 300))
        },
        Step {
            skill: Skill::Knife,
            after: after("peel", None),
            uses: vec![Equipment::Board],
            ..step("cut", Station::Board, (120, 0))
        },
        Step {
            after: after("cut", None),
            ..step("spread", Station::Counter, (120, 0))
        },
        Step {
            hands: 0,
            after: after("spread", Some(900)),
            uses: vec![Equipment::Rack, Equipment::Tray],
            tray: Some(Mass::from_g(900)),
            oven: Some(OvenRange {
                best: Temperature::from_c(200),
                min: Temperature::from_c(180),
                max: Temperature::from_c(220),
                per_degree: Seconds::from_secs(-12),
            }),
            ..step("roast", Station::Oven, (1800, 0))
        },
    ];
    component("carrots", "vegetable-cooked", 600, way)
}

fn dip() -> Component {
    let mut way = way("peanut", [950, 1000, 1000], [50, 50, 500]);
    way.steps = vec![Step {
        skill: Skill::Knife,
        uses: vec![Equipment::Board],
        hygiene: Hygiene::Allergen,
        ..step("chop", Station::Board, (120, 0))
    }];
    component("dip", "sauce-cooked", 1000, way)
}

fn element(id: &str, need: Need, option: (Item, Finish, i64)) -> Element {
    let (item, finish, grams) = option;
    Element {
        id: id.into(),
        portion: Mass::from_g(grams),
        scales: Scales::Appetite,
        need,
        options: vec![ElementOption {
            item,
            portion: Mass::from_g(grams),
            finish,
        }],
    }
}

fn meal() -> Meal {
    let made = |id: &str| Item::Component(id.into());
    let bought = |id: &str| Item::Food(id.into());
    Meal {
        id: "bowl".into(),
        name: "Bowl".to_owned(),
        cuisine: "invented".to_owned(),
        kind: "bowl".to_owned(),
        at: vec![Occasion::Dinner, Occasion::PackedHot],
        assemble_fixed: Seconds::from_secs(180),
        assemble_per_cover: Seconds::from_secs(60),
        text: String::new(),
        elements: vec![
            element("base", Need::One, (made("chickpeas"), Finish::Reheat, 180)),
            element("vegetable", Need::One, (made("carrots"), Finish::Reheat, 130)),
            element("sauce", Need::One, (bought("yoghurt"), Finish::Cold, 50)),
            element("fresh", Need::Some, (bought("parsley"), Finish::Raw, 5)),
            element("dip", Need::Optional, (made("dip"), Finish::Cold, 25)),
        ],
        rules: Vec::new(),
    }
}
