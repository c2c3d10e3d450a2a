//! The components and the meal of the sample week. Yields and times are invented for tests.

use larderwright_model::{
    Component, Element, ElementOption, Equipment, Family, Finish, Freezing, Hygiene, Input, Item, Law, Meal,
    Need, Occasion, OvenRange, Scales, Serving, SizeLimits, SizeStep, Skill, Sourced, Spread, Station, Step,
    Visit, Way, Yield,
};
use larderwright_quantity::{Density, Mass, Permille, Seconds, Temperature, Volume};

const SOURCE: &str = "invented for tests";

/// Every component of the sample.
pub(super) fn components() -> Vec<Component> {
    vec![chickpeas(), rice(), carrots(), sauce()]
}

fn chickpeas() -> Component {
    let mut soak = step(
        "soak",
        "Soak chickpeas",
        "Cover with plenty of cold water.",
        Station::Sink,
    );
    soak.lead = true;
    soak.law.fixed = Seconds::from_hours(12);
    let drain = Step {
        hands: 1,
        ..step("drain-soak", "Drain chickpeas", "Drain and rinse.", Station::Sink)
    };
    let mut simmer = step(
        "simmer",
        "Simmer chickpeas",
        "Cover with fresh water. Set the lid ajar.",
        Station::Stove,
    );
    simmer.cue = "crushes between two fingers".into();
    simmer.uses = vec![Equipment::Burner, Equipment::Pot];
    simmer.pot_per_kg = Volume::from_ml(8000);
    let (every, hands) = (Seconds::from_mins(30), Seconds::from_mins(1));
    simmer.visit = Some(Visit {
        every,
        hands,
        text: "Skim the foam.".into(),
    });
    let salt = Step {
        hands: 1,
        ..step(
            "drain",
            "Drain and salt",
            "Drain. Toss with the salt while hot.",
            Station::Sink,
        )
    };
    let inputs = vec![
        input("chickpea-dry", 0, 1_000_000),
        drained("water", 1_500_000, 6_000_000),
        input("salt", 0, 18_000),
    ];
    let way = way(
        ("dry", "from dry"),
        "chickpea-dry",
        [2000, 2220, 2600],
        inputs,
        vec![soak, drain, simmer, salt],
    );
    component("chickpeas", "Chickpeas", Family::Pulse, 690, way)
}

fn rice() -> Component {
    let rinse = Step {
        hands: 1,
        ..step(
            "rinse",
            "Rinse rice",
            "Rinse the rice until the water runs clear.",
            Station::Sink,
        )
    };
    let mut simmer = step(
        "simmer",
        "Simmer rice",
        "Bring to the boil with the water. Lid on, low.",
        Station::Stove,
    );
    simmer.uses = vec![Equipment::Burner, Equipment::Pot];
    simmer.pot_per_kg = Volume::from_ml(3500);
    let inputs = vec![
        input("rice-white-long-dry", 0, 1_000_000),
        input("water", 0, 1_800_000),
    ];
    let way = way(
        ("pot", "in a pot"),
        "rice-white-long-dry",
        [2600, 2700, 2800],
        inputs,
        vec![rinse, simmer],
    );
    component("white-rice", "White rice", Family::Grain, 660, way)
}

fn carrots() -> Component {
    let mut peel = step(
        "peel",
        "Peel carrots",
        "Peel. Cut into batons as thick as a finger.",
        Station::Board,
    );
    peel.hands = 1;
    peel.skill = Skill::Knife;
    peel.uses = vec![Equipment::Board];
    peel.merge = Some("peel:carrot".into());
    let spread = Step {
        hands: 1,
        ..step(
            "spread",
            "Spread on trays",
            "Toss with oil and salt. One layer.",
            Station::Counter,
        )
    };
    let mut roast = step(
        "roast",
        "Roast carrots",
        "Roast until the edges brown.",
        Station::Oven,
    );
    roast.cue = "a knife meets no resistance".into();
    roast.uses = vec![Equipment::Rack, Equipment::Tray];
    roast.tray = Some(Mass::from_g(700));
    let celsius = Temperature::from_c;
    let per_degree = Seconds::from_secs(-12);
    roast.oven = Some(OvenRange {
        best: celsius(220),
        min: celsius(200),
        max: celsius(230),
        per_degree,
    });
    let mut cut = input("carrot", 0, 1_000_000);
    cut.prep = "batons".into();
    let inputs = vec![cut, input("olive-oil", 0, 30_000), input("salt", 0, 8_000)];
    let way = way(
        ("oven", "in the oven"),
        "carrot",
        [620, 700, 780],
        inputs,
        vec![peel, spread, roast],
    );
    component("roast-carrots", "Roast carrots", Family::Vegetable, 500, way)
}

fn sauce() -> Component {
    let mut whisk = step(
        "whisk",
        "Whisk sauce",
        "Whisk tahini with lemon juice, salt and water.",
        Station::Counter,
    );
    whisk.hands = 1;
    whisk.cue = "runs off the spoon".into();
    whisk.hygiene = Hygiene::Allergen;
    let inputs = vec![
        input("tahini", 0, 1_000_000),
        input("lemon", 0, 400_000),
        input("water", 0, 600_000),
        input("salt", 0, 12_000),
    ];
    let way = way(
        ("bowl", "in a bowl"),
        "tahini",
        [1900, 2000, 2100],
        inputs,
        vec![whisk],
    );
    Component {
        freeze: Freezing::No,
        serve: Serving::Cold,
        ..component("tahini-sauce", "Tahini sauce", Family::Sauce, 1000, way)
    }
}

fn component(id: &str, name: &str, family: Family, g_per_l: i64, way: Way) -> Component {
    Component {
        id: id.into(),
        name: name.into(),
        family,
        keep: "leftovers".into(),
        freeze: Freezing::Good,
        serve: Serving::Either,
        bulk: Sourced {
            value: Density::from_g_per_l(g_per_l),
            source: SOURCE.into(),
        },
        season: Vec::new(),
        trouble: String::new(),
        ways: vec![way],
    }
}

fn way(
    (id, name): (&str, &str),
    driver: &str,
    permille: [i64; 3],
    inputs: Vec<Input>,
    steps: Vec<Step>,
) -> Way {
    let [low, likely, high] = permille.map(Permille::from_permille);
    let size = SizeLimits {
        min: Mass::from_g(100),
        step: SizeStep::Mass(Mass::from_g(50)),
        max: Mass::from_g(2000),
    };
    Way {
        id: id.into(),
        name: name.into(),
        driver: driver.into(),
        size,
        yields: Yield {
            low,
            likely,
            high,
            source: SOURCE.into(),
        },
        needs: Vec::new(),
        inputs,
        steps,
    }
}

fn input(food: &str, fixed_mg: i64, per_kg_mg: i64) -> Input {
    Input {
        food: food.into(),
        fixed: Mass::from_mg(fixed_mg),
        per_kg: Mass::from_mg(per_kg_mg),
        drained: false,
        prep: String::new(),
    }
}

fn drained(food: &str, fixed_mg: i64, per_kg_mg: i64) -> Input {
    Input {
        drained: true,
        ..input(food, fixed_mg, per_kg_mg)
    }
}

fn step(id: &str, title: &str, text: &str, station: Station) -> Step {
    let law = Law {
        fixed: Seconds::from_mins(5),
        per_kg: Seconds::from_secs(0),
        per_load: Seconds::from_secs(0),
        load: None,
        spread: Spread::NONE,
        source: SOURCE.into(),
    };
    Step {
        id: id.into(),
        title: title.into(),
        text: text.into(),
        cue: String::new(),
        lead: false,
        lead_min: None,
        station,
        hands: 0,
        skill: Skill::Any,
        after: Vec::new(),
        uses: Vec::new(),
        pot_fixed: Volume::from_ml(0),
        pot_per_kg: Volume::from_ml(0),
        load: None,
        tray: None,
        law,
        boil: None,
        visit: None,
        oven: None,
        hygiene: Hygiene::Plain,
        safety: None,
        merge: None,
    }
}

/// The one meal of the sample.
pub(super) fn meal() -> Meal {
    let made = |id: &str, grams, finish| ElementOption {
        item: Item::Component(id.into()),
        portion: Mass::from_g(grams),
        finish,
    };
    let yogurt = ElementOption {
        item: Item::Food("yogurt-plain".into()),
        portion: Mass::from_g(40),
        finish: Finish::Raw,
    };
    let element = |id: &str, need, scales, options: Vec<ElementOption>| Element {
        id: id.into(),
        portion: options[0].portion,
        scales,
        need,
        options,
    };
    Meal {
        id: "grain-plate".into(),
        name: "Grain plate".into(),
        cuisine: "levantine".into(),
        kind: "plate".into(),
        at: vec![Occasion::Dinner],
        assemble_fixed: Seconds::from_mins(3),
        assemble_per_cover: Seconds::from_mins(1),
        text: "Rice first. Chickpeas and carrots beside it. Sauce over the top.".into(),
        elements: vec![
            element(
                "base",
                Need::One,
                Scales::Appetite,
                vec![made("white-rice", 180, Finish::Reheat)],
            ),
            element(
                "protein",
                Need::One,
                Scales::Appetite,
                vec![made("chickpeas", 90, Finish::Reheat)],
            ),
            element(
                "vegetable",
                Need::Optional,
                Scales::Appetite,
                vec![made("roast-carrots", 100, Finish::Reheat)],
            ),
            element(
                "sauce",
                Need::One,
                Scales::Fixed,
                vec![made("tahini-sauce", 40, Finish::Cold), yogurt],
            ),
        ],
        rules: Vec::new(),
    }
}
