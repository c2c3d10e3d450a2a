//! The plan of the sample week: batches, lots, order and plates. Its run stands in `run`.

mod run;

use jiff::civil::date;
use larderwright_model::{
    Answer, Appliance, Batch, BatchInput, CoolingMethod, Cover, CoverChoice, Department, Fate, Finish, Item,
    Keep, Lot, Menu, MenuChoice, Order, OrderLine, Pick, Place, Plate, Portion, PortionSource, PriceBasis,
    Profile, Purpose, Report, Scales, Service, ServiceStep, ServiceVerb, Stage, StockUse, Supply, WeekPlan,
    Work,
};
use larderwright_quantity::{Length, Mass, Money, Permille, Rounding, Seconds};

use super::{DINNERS, MONDAY, sunday};

const SESSION: &str = "2026-11-29";

/// The sample plan, made for the sample snapshot.
#[must_use]
pub fn plan() -> WeekPlan {
    let plates = plates();
    WeekPlan {
        snapshot_hash: String::new(),
        parent: None,
        tables: "sample".into(),
        profile: Profile::UsHome,
        monday: MONDAY,
        work: Work::default(),
        menu: menu(&plates),
        batches: batches(),
        lots: lots(),
        carried: Vec::new(),
        order: order(),
        runs: vec![run::run()],
        services: services(&plates),
        plates,
        reports: vec![Report {
            stage: Stage::Menu,
            answer: Answer::Found,
            chosen: vec!["Grain plate four times: it is the only meal there is".into()],
            rejected: Vec::new(),
        }],
        findings: Vec::new(),
    }
}

fn batch_id(component: &str) -> String {
    format!("{component}@{SESSION}")
}

fn batches() -> Vec<Batch> {
    let made = |component: &str, way: &str, x: i64, yields: [i64; 3], demand: i64, inputs| Batch {
        id: batch_id(component).as_str().into(),
        component: component.into(),
        way: way.into(),
        session: SESSION.into(),
        x: Mass::from_mg(x),
        inputs,
        yields: yields.map(Mass::from_mg),
        demand: Mass::from_g(demand),
        confidence: Permille::from_permille(900),
        loads: 1,
    };
    let plain = |food: &str, mg| input(food, mg, mg, "");
    let poured = |food: &str, mg| BatchInput {
        drained: true,
        ..plain(food, mg)
    };
    vec![
        made(
            "chickpeas",
            "dry",
            500_000,
            [1_000_000, 1_110_000, 1_300_000],
            1080,
            vec![
                plain("chickpea-dry", 500_000),
                poured("water", 4_500_000),
                plain("salt", 9_000),
            ],
        ),
        made(
            "roast-carrots",
            "oven",
            925_600,
            [573_872, 647_920, 721_968],
            600,
            vec![
                input("carrot", 1_040_000, 925_600, "batons"),
                plain("olive-oil", 27_768),
                plain("salt", 7_404),
            ],
        ),
        made(
            "tahini-sauce",
            "bowl",
            120_000,
            [228_000, 240_000, 252_000],
            240,
            vec![
                plain("tahini", 120_000),
                input("lemon", 200_000, 86_000, ""),
                plain("water", 72_000),
                plain("salt", 1_440),
            ],
        ),
        made(
            "white-rice",
            "pot",
            800_000,
            [2_080_000, 2_160_000, 2_240_000],
            2160,
            vec![plain("rice-white-long-dry", 800_000), plain("water", 1_440_000)],
        ),
    ]
}

fn input(food: &str, ap: i64, ep: i64, prep: &str) -> BatchInput {
    BatchInput {
        food: food.into(),
        ap: Mass::from_mg(ap),
        ep: Mass::from_mg(ep),
        drained: false,
        prep: prep.into(),
    }
}

/// When a batch is cooked through, by the clock of the run.
fn made_at(component: &str) -> jiff::civil::DateTime {
    match component {
        "chickpeas" => sunday(14, 43),
        "roast-carrots" => sunday(14, 10),
        "tahini-sauce" => sunday(14, 8),
        _ => sunday(14, 15),
    }
}

fn lots() -> Vec<Lot> {
    let lot = |component: &str, number: i64, mg: i64, boxes: &str, count: u32| {
        let frozen = number == 2;
        let days = if frozen { &DINNERS[3..] } else { &DINNERS[..3] };
        let made = made_at(component);
        let cold = component == "tahini-sauce";
        Lot {
            id: lot_id(component, frozen).as_str().into(),
            origin: batch_id(component).as_str().into(),
            mass: Mass::from_mg(mg),
            boxes: vec![(boxes.into(), count)],
            depth: Length::from_mm(40),
            cooling: if cold {
                CoolingMethod::None
            } else {
                CoolingMethod::Shallow
            },
            place: if frozen { Place::Freezer } else { Place::Fridge },
            fate: if frozen { Fate::Freezer } else { Fate::Fridge },
            made,
            stored: sunday(15, 10),
            pull: frozen.then(|| date(2026, 12, 3).at(18, 30, 0, 0)),
            keep: keep(frozen),
            sittings: days
                .iter()
                .map(|day| format!("{day}-dinner").as_str().into())
                .collect(),
        }
    };
    let mut lots = vec![
        lot("chickpeas", 1, 840_000, "litre", 2),
        lot("chickpeas", 2, 270_000, "half", 1),
        lot("roast-carrots", 1, 647_920, "litre", 2),
        lot("tahini-sauce", 1, 240_000, "half", 1),
        lot("white-rice", 1, 1_620_000, "litre", 3),
        lot("white-rice", 2, 540_000, "litre", 1),
    ];
    lots[2].sittings.truncate(2);
    lots
}

fn lot_id(component: &str, frozen: bool) -> String {
    format!("{}/{}", batch_id(component), if frozen { 2 } else { 1 })
}

fn keep(frozen: bool) -> Keep {
    let (best, last) = if frozen {
        (date(2026, 12, 5), date(2026, 12, 6))
    } else {
        (date(2026, 12, 2), date(2026, 12, 3))
    };
    Keep {
        best_by: best.at(23, 59, 0, 0),
        use_by: last.at(23, 59, 0, 0),
        rule: "us-home-leftovers".into(),
        source: "invented for tests".into(),
    }
}

// long: a table of rows, one below the other
fn order() -> Order {
    let line =
        |department, food: &str, pack: (&str, i64), count, price: i64, used: i64, purposes: Vec<Purpose>| {
            OrderLine {
                shop: "2026-11-28".into(),
                department,
                food: food.into(),
                pack: pack.0.into(),
                pack_mass: Mass::from_mg(pack.1),
                count,
                price: Money::from_minor(price),
                basis: PriceBasis::Estimate,
                purposes,
                used: Mass::from_mg(used),
                read_label: Vec::new(),
            }
        };
    let batch = |component: &str| vec![Purpose::Batch(batch_id(component).as_str().into())];
    let dinners = DINNERS
        .iter()
        .map(|day| Purpose::Sitting(format!("{day}-dinner").as_str().into()))
        .collect();
    let (rice, chickpeas) = (("1 kg bag", 1_000_000), ("500 g bag", 500_000));
    let mut lines = vec![
        line(
            Department::Produce,
            "carrot",
            ("each", 80_000),
            13,
            156,
            1_040_000,
            batch("roast-carrots"),
        ),
        line(
            Department::Produce,
            "lemon",
            ("each", 100_000),
            2,
            90,
            200_000,
            batch("tahini-sauce"),
        ),
        line(
            Department::Dairy,
            "milk-whole",
            ("1 l carton", 1_030_000),
            1,
            130,
            1_030_000,
            vec![Purpose::Standing],
        ),
        line(
            Department::Dairy,
            "yogurt-plain",
            ("500 g pot", 500_000),
            1,
            160,
            240_000,
            dinners,
        ),
        line(
            Department::Dry,
            "chickpea-dry",
            chickpeas,
            1,
            180,
            500_000,
            batch("chickpeas"),
        ),
        line(
            Department::Dry,
            "rice-white-long-dry",
            rice,
            1,
            230,
            800_000,
            batch("white-rice"),
        ),
        line(
            Department::OilsSauces,
            "tahini",
            ("300 g jar", 300_000),
            1,
            350,
            120_000,
            batch("tahini-sauce"),
        ),
    ];
    lines[6].read_label = vec![larderwright_model::Allergen::Peanuts];
    let stock = |food: &str, mg| StockUse {
        food: food.into(),
        mass: Mass::from_mg(mg),
    };
    Order {
        lines,
        from_stock: vec![stock("olive-oil", 27_768), stock("salt", 9_000 + 7_404 + 1_440)],
    }
}

fn plates() -> Vec<Plate> {
    let eaters = [("ana", 1000), ("ben", 1250), ("cleo", 750)];
    let one = |at: usize, (eater, appetite): (&str, i64)| {
        let frozen = at == 3;
        let component = |element: &str, id: &str, grams: i64, finish| Portion {
            element: element.into(),
            item: Item::Component(id.into()),
            mass: Mass::from_g(grams),
            source: PortionSource::Lot(lot_id(id, frozen).as_str().into()),
            finish,
        };
        let scaled = |element, id, grams| {
            let mass = Permille::from_permille(appetite).of(Mass::from_g(grams), Rounding::Down);
            Portion {
                mass,
                ..component(element, id, grams, Finish::Reheat)
            }
        };
        let mut portions = vec![
            scaled("base", "white-rice", 180),
            scaled("protein", "chickpeas", 90),
        ];
        if at < 2 {
            portions.push(scaled("vegetable", "roast-carrots", 100));
        }
        portions.push(if frozen || eater == "cleo" {
            yogurt()
        } else {
            component("sauce", "tahini-sauce", 40, Finish::Cold)
        });
        Plate {
            sitting: format!("{}-dinner", DINNERS[at]).as_str().into(),
            cover: Cover::Eater(eater.into()),
            meal: "grain-plate".into(),
            portions,
        }
    };
    (0..DINNERS.len())
        .flat_map(|at| eaters.map(|eater| one(at, eater)))
        .collect()
}

fn yogurt() -> Portion {
    Portion {
        element: "sauce".into(),
        item: Item::Food("yogurt-plain".into()),
        mass: Mass::from_g(40),
        source: PortionSource::Food("yogurt-plain".into()),
        finish: Finish::Raw,
    }
}

fn menu(plates: &[Plate]) -> Menu {
    let pick = |portion: &Portion| {
        let (usual, scales) = match portion.element.as_str() {
            "base" => (180, Scales::Appetite),
            "protein" => (90, Scales::Appetite),
            "vegetable" => (100, Scales::Appetite),
            _ => (40, Scales::Fixed),
        };
        let supply = match &portion.source {
            PortionSource::Food(_) => Supply::Bought,
            PortionSource::Lot(lot) => {
                let fate = if lot.as_str().ends_with("/2") {
                    Fate::Freezer
                } else {
                    Fate::Fridge
                };
                Supply::Made {
                    session: SESSION.into(),
                    fate,
                }
            }
        };
        Pick {
            element: portion.element.clone(),
            item: portion.item.clone(),
            portion: Mass::from_g(usual),
            scales,
            finish: portion.finish,
            supply,
        }
    };
    let choice = |of: &[Plate]| MenuChoice {
        sitting: of[0].sitting.clone(),
        meal: of[0].meal.clone(),
        covers: of
            .iter()
            .map(|plate| CoverChoice {
                cover: plate.cover.clone(),
                picks: plate.portions.iter().map(pick).collect(),
            })
            .collect(),
    };
    Menu {
        choices: plates.chunks(3).map(choice).collect(),
    }
}

fn services(plates: &[Plate]) -> Vec<Service> {
    plates.chunks(3).map(service).collect()
}

fn service(plates: &[Plate]) -> Service {
    let step = |verb, start, length, hands, appliance| ServiceStep {
        verb,
        start: Seconds::from_secs(start),
        length: Seconds::from_secs(length),
        hands,
        appliance,
        covers: Vec::new(),
    };
    let mut lots: Vec<_> = plates
        .iter()
        .flat_map(|plate| &plate.portions)
        .filter_map(|portion| match &portion.source {
            PortionSource::Lot(lot) => Some(lot.clone()),
            PortionSource::Food(_) => None,
        })
        .collect();
    lots.sort();
    lots.dedup();
    let mut steps = Vec::new();
    let mut clock = 0;
    for lot in lots {
        steps.push(step(ServiceVerb::TakeOut(lot), clock, 20, 1, None));
        clock += 20;
    }
    let begin = clock;
    for (item, appliance) in [
        ("white-rice", Appliance::Microwave),
        ("chickpeas", Appliance::Burner),
    ] {
        let item = Item::Component(item.into());
        let portions = plates
            .iter()
            .flat_map(|plate| &plate.portions)
            .filter(|portion| portion.item == item);
        let mass = portions.map(|portion| portion.mass).sum();
        steps.push(step(
            ServiceVerb::Reheat(item, mass),
            begin,
            360,
            0,
            Some(appliance),
        ));
    }
    steps.push(step(ServiceVerb::Assemble, begin + 360, 360, 1, None));
    Service {
        sitting: plates[0].sitting.clone(),
        steps,
        length: Seconds::from_secs(begin + 720),
    }
}
