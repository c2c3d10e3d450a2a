//! The good plan for the snapshot of `good`: what the judge is silent about.

use larderwright_model::{
    Act, ActKind, Answer, Appliance, Batch, BatchInput, CoolingMethod, Cover, CoverChoice, Department, Fate,
    Finish, Item, Keep, Lead, Lot, Menu, MenuChoice, Order, OrderLine, OvenSetting, Pick, Place, Plate,
    Portion, PortionSource, PriceBasis, Profile, Purpose, Report, Run, Scales, Service, ServiceStep,
    ServiceVerb, Stage, Standing, StockUse, Supply, WeekPlan, Work,
};
use larderwright_quantity::{Length, Mass, Money, Permille, Seconds, Temperature};
use larderwright_safety::{KeepClass, fridge, thawed};

use super::good::at;

const SESSION: &str = "2026-11-29";
const DINNER: &str = "2026-11-30-dinner";
const LUNCH: &str = "2026-12-03-lunch";

/// The plan.
pub(crate) fn plan() -> WeekPlan {
    WeekPlan {
        snapshot_hash: String::new(),
        parent: None,
        tables: "test".to_owned(),
        profile: Profile::UsHome,
        monday: at("2026-11-30T00:00").date(),
        work: Work::default(),
        menu: Menu {
            choices: [DINNER, LUNCH].map(choice).into(),
        },
        batches: batches(),
        lots: lots(),
        carried: Vec::new(),
        order: order(),
        runs: vec![run()],
        plates: [DINNER, LUNCH]
            .into_iter()
            .flat_map(|sitting| ["ana", "ben"].map(|eater| plate(sitting, eater)))
            .collect(),
        services: services(),
        reports: vec![Report {
            stage: Stage::Menu,
            answer: Answer::Computed,
            chosen: Vec::new(),
            rejected: Vec::new(),
        }],
        findings: Vec::new(),
    }
}

/// What one eater gets at one sitting.
fn portions(sitting: &str, eater: &str) -> Vec<Portion> {
    let made = |element: &str, item: &str, finish, grams, lot: &str| Portion {
        element: element.into(),
        item: Item::Component(item.into()),
        mass: Mass::from_g(grams),
        source: PortionSource::Lot(lot.into()),
        finish,
    };
    let bought = |element: &str, item: &str, finish, grams| Portion {
        element: element.into(),
        item: Item::Food(item.into()),
        mass: Mass::from_g(grams),
        source: PortionSource::Food(item.into()),
        finish,
    };
    let base = if sitting == DINNER {
        "chickpeas/1"
    } else {
        "chickpeas/2"
    };
    let mut portions = vec![
        made("base", "chickpeas", Finish::Reheat, 180, base),
        made("vegetable", "carrots", Finish::Reheat, 130, "carrots/1"),
        bought("sauce", "yoghurt", Finish::Cold, 50),
        bought("fresh", "parsley", Finish::Raw, 5),
    ];
    if eater == "ana" {
        portions.push(made("dip", "dip", Finish::Cold, 25, "dip/1"));
    }
    portions
}

fn plate(sitting: &str, eater: &str) -> Plate {
    Plate {
        sitting: sitting.into(),
        cover: Cover::Eater(eater.into()),
        meal: "bowl".into(),
        portions: portions(sitting, eater),
    }
}

fn choice(sitting: &str) -> MenuChoice {
    let pick = |portion: Portion| Pick {
        element: portion.element,
        portion: portion.mass,
        scales: Scales::Appetite,
        finish: portion.finish,
        supply: match portion.item {
            Item::Food(_) => Supply::Bought,
            Item::Component(_) => Supply::Made {
                session: SESSION.into(),
                fate: Fate::Fridge,
            },
        },
        item: portion.item,
    };
    MenuChoice {
        sitting: sitting.into(),
        meal: "bowl".into(),
        covers: ["ana", "ben"]
            .map(|eater| CoverChoice {
                cover: Cover::Eater(eater.into()),
                picks: portions(sitting, eater).into_iter().map(pick).collect(),
            })
            .into(),
    }
}

fn batch(component: &str, grams: [i64; 4], demand: i64) -> Batch {
    let [x, low, likely, high] = grams;
    Batch {
        id: component.into(),
        component: component.into(),
        way: "plain".into(),
        session: SESSION.into(),
        x: Mass::from_g(x),
        inputs: Vec::new(),
        yields: [Mass::from_mg(low), Mass::from_mg(likely), Mass::from_mg(high)],
        demand: Mass::from_g(demand),
        confidence: Permille::from_permille(900),
        loads: 1,
    }
}

fn input(food: &str, ap_mg: i64, ep_mg: i64) -> BatchInput {
    BatchInput {
        food: food.into(),
        ap: Mass::from_mg(ap_mg),
        ep: Mass::from_mg(ep_mg),
        drained: food == "water",
        prep: String::new(),
    }
}

fn batches() -> Vec<Batch> {
    let mut chickpeas = batch("chickpeas", [500, 1_000_000, 1_110_000, 1_300_000], 720);
    chickpeas.inputs = vec![
        input("chickpea-dry", 500_000, 500_000),
        input("water", 2_000_000, 2_000_000),
        input("salt", 5_000, 5_000),
    ];
    let mut carrots = batch("carrots", [830, 539_500, 581_000, 664_000], 520);
    carrots.inputs = vec![input("carrot", 1_000_000, 830_000), input("oil", 24_900, 24_900)];
    let mut dip = batch("dip", [100, 95_000, 100_000, 100_000], 50);
    dip.inputs = vec![input("peanut", 100_000, 100_000)];
    vec![chickpeas, carrots, dip]
}

fn lot(id: &str, grams: i64, boxes: (&str, u32), depth_mm: i64, made: &str) -> Lot {
    let component = id.split('/').next().expect("a lot is named after its component");
    let made = at(made);
    let stored = at("2026-11-29T11:30");
    Lot {
        id: id.into(),
        origin: component.into(),
        mass: Mass::from_g(grams),
        boxes: vec![(boxes.0.into(), boxes.1)],
        depth: Length::from_mm(depth_mm),
        cooling: CoolingMethod::Shallow,
        place: Place::Fridge,
        fate: Fate::Fridge,
        made,
        stored,
        pull: None,
        keep: keep(component, made, stored),
        sittings: [DINNER, LUNCH].map(Into::into).into(),
    }
}

fn keep(component: &str, made: jiff::civil::DateTime, stored: jiff::civil::DateTime) -> Keep {
    let class = match component {
        "chickpeas" => KeepClass::PulseCooked,
        "carrots" => KeepClass::VegetableCooked,
        _ => KeepClass::SauceCooked,
    };
    fridge(Profile::UsHome, class, made, stored)
}

fn lots() -> Vec<Lot> {
    let mut fridge_lot = lot("chickpeas/1", 600, ("litre", 2), 27, "2026-11-29T10:45");
    fridge_lot.sittings.truncate(1);
    let mut frozen = lot("chickpeas/2", 510, ("litre", 1), 45, "2026-11-29T10:45");
    // Thick as it is, it takes more than a day to thaw.
    let pull = at("2026-12-01T18:00");
    frozen.place = Place::Freezer;
    frozen.fate = Fate::Freezer;
    frozen.pull = Some(pull);
    frozen.keep = thawed(
        Profile::UsHome,
        KeepClass::PulseCooked,
        frozen.made,
        frozen.stored,
        pull,
    );
    frozen.sittings.remove(0);
    let carrots = lot("carrots/1", 581, ("litre", 2), 30, "2026-11-29T11:00");
    let mut dip = lot("dip/1", 100, ("small", 1), 20, "2026-11-29T10:38");
    dip.cooling = CoolingMethod::None;
    vec![fridge_lot, frozen, carrots, dip]
}

fn line(food: &str, pack_g: i64, used_mg: i64, purposes: &[Purpose]) -> OrderLine {
    OrderLine {
        shop: "2026-11-28".into(),
        department: Department::Dry,
        food: food.into(),
        pack: format!("{pack_g} g"),
        pack_mass: Mass::from_g(pack_g),
        count: 1,
        price: Money::from_minor(200),
        basis: PriceBasis::Estimate,
        purposes: purposes.to_vec(),
        used: Mass::from_mg(used_mg),
        read_label: Vec::new(),
    }
}

fn order() -> Order {
    let plates = [DINNER, LUNCH].map(|id| Purpose::Sitting(id.into()));
    let cooked = |id: &str| [Purpose::Batch(id.into())];
    Order {
        lines: vec![
            line("apple", 500, 500_000, &[Purpose::Standing]),
            line("carrot", 1000, 1_000_000, &cooked("carrots")),
            line("chickpea-dry", 500, 500_000, &cooked("chickpeas")),
            line("milk", 1030, 1_000_000, &[Purpose::Par]),
            line("parsley", 30, 25_000, &plates),
            line("peanut", 200, 100_000, &cooked("dip")),
            line("yoghurt", 500, 200_000, &plates),
        ],
        from_stock: vec![
            StockUse {
                food: "salt".into(),
                mass: Mass::from_g(5),
            },
            StockUse {
                food: "oil".into(),
                mass: Mass::from_mg(24_900),
            },
        ],
    }
}

fn act(id: &str, kind: ActKind, times: (&str, &str)) -> Act {
    let day = |clock: &str| at(&format!("2026-11-29T{clock}"));
    Act {
        id: id.into(),
        kind,
        title: id.to_owned(),
        text: String::new(),
        cue: String::new(),
        batches: Vec::new(),
        step: None,
        load: 1,
        start: day(times.0),
        end: day(times.1),
        who: vec!["ana".into()],
        stations: Vec::new(),
        oven: None,
    }
}

fn step(batch: &str, step: &str, times: (&str, &str), stations: &[&str]) -> Act {
    Act {
        batches: vec![batch.into()],
        step: Some(step.into()),
        stations: stations.iter().map(|station| (*station).to_owned()).collect(),
        ..act(step, ActKind::Step, times)
    }
}

fn visit(id: &str, times: (&str, &str)) -> Act {
    let kind = ActKind::Visit { of: "simmer".into() };
    Act {
        batches: vec!["chickpeas".into()],
        step: Some("simmer".into()),
        ..act(id, kind, times)
    }
}

fn acts() -> Vec<Act> {
    let nobody = |act: Act| Act {
        who: Vec::new(),
        ..act
    };
    let mut roast = nobody(step(
        "carrots",
        "roast",
        ("10:30", "11:00"),
        &["rack 1", "tray 1"],
    ));
    roast.oven = Some(Temperature::from_c(200));
    let mut cool = nobody(act("cool", ActKind::Cool, ("11:00", "11:20")));
    cool.batches = ["chickpeas", "carrots"].map(Into::into).into();
    let mut pack_out = act("pack-out", ActKind::PackOut, ("11:20", "11:30"));
    pack_out.batches = ["chickpeas", "carrots", "dip"].map(Into::into).into();
    vec![
        act("preflight", ActKind::Preflight, ("10:00", "10:05")),
        step("chickpeas", "drain", ("10:10", "10:12"), &[]),
        nobody(act("preheat", ActKind::Preheat, ("10:10", "10:30"))),
        step("carrots", "peel", ("10:12", "10:20"), &["board 1"]),
        nobody(step(
            "chickpeas",
            "simmer",
            ("10:12", "10:45"),
            &["burner 1", "pot 1"],
        )),
        step("carrots", "cut", ("10:20", "10:24"), &["board 1"]),
        visit("visit-1", ("10:24", "10:25")),
        step("carrots", "spread", ("10:25", "10:28"), &[]),
        roast,
        visit("visit-2", ("10:34", "10:35")),
        step("dip", "chop", ("10:35", "10:38"), &["board 1"]),
        cool,
        pack_out,
        act("clear-down", ActKind::ClearDown, ("11:30", "11:45")),
    ]
}

fn run() -> Run {
    Run {
        session: SESSION.into(),
        acts: acts(),
        leads: vec![Lead {
            batch: "chickpeas".into(),
            step: "soak".into(),
            title: "Soak".to_owned(),
            text: String::new(),
            at: at("2026-11-28T22:00"),
            latest: at("2026-11-29T02:00"),
        }],
        oven: vec![OvenSetting {
            from: at("2026-11-29T10:10"),
            to: at("2026-11-29T11:00"),
            temperature: Temperature::from_c(200),
        }],
        finish: at("2026-11-29T11:45"),
        bound: at("2026-11-29T11:00"),
        decided_by: "the oven".to_owned(),
        standing: Standing::Likely,
    }
}

fn service_step(verb: ServiceVerb, start: i64, length: i64) -> ServiceStep {
    let warming = matches!(verb, ServiceVerb::Reheat(..));
    ServiceStep {
        verb,
        start: Seconds::from_secs(start),
        length: Seconds::from_secs(length),
        hands: u32::from(!warming),
        appliance: warming.then_some(Appliance::Microwave),
        covers: Vec::new(),
    }
}

fn services() -> Vec<Service> {
    let out = |lot: &str, start| service_step(ServiceVerb::TakeOut(lot.into()), start, 30);
    let warm = |item: &str, grams, start| {
        let item = Item::Component(item.into());
        service_step(ServiceVerb::Reheat(item, Mass::from_g(grams)), start, 240)
    };
    let dinner = Service {
        sitting: DINNER.into(),
        steps: vec![
            out("chickpeas/1", 0),
            out("carrots/1", 30),
            out("dip/1", 60),
            warm("chickpeas", 360, 90),
            warm("carrots", 260, 330),
            service_step(ServiceVerb::Assemble, 570, 300),
        ],
        length: Seconds::from_secs(870),
    };
    let lunch = Service {
        sitting: LUNCH.into(),
        steps: vec![
            out("chickpeas/2", 0),
            out("carrots/1", 30),
            out("dip/1", 60),
            service_step(ServiceVerb::Assemble, 90, 300),
        ],
        length: Seconds::from_secs(390),
    };
    vec![dinner, lunch]
}
