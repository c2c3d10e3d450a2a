//! The household of the sample week.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::{Weekday, time};
use larderwright_model::{
    Allergen, Appetite, BoxKind, Contact, Cook, CookId, DayRef, Diet, Eater, EaterId, FoodId, Household,
    Kitchen, Occasion, Oven, Pot, Profile, Region, SessionPattern, ShopPattern, SittingPattern, Skill,
    StandingItem, StockItem, StockState, Tray, Where, Wishes,
};
use larderwright_quantity::{Currency, Length, Mass, System, Temperature, Volume};

/// The sample household.
pub(super) fn household() -> Household {
    let before = DayRef::Before;
    Household {
        name: "Sample house".into(),
        region: Region::Eu,
        profile: Profile::UsHome,
        system: System::Metric,
        currency: Currency::parse("EUR").expect("EUR is a currency code"),
        zone: "Europe/Berlin".into(),
        altitude_m: 50,
        eaters: eaters(),
        cooks: vec![
            cook("ana", "Ana", &[Skill::Knife, Skill::Stove]),
            cook("ben", "Ben", &[Skill::Stove]),
        ],
        kitchen: kitchen(),
        sittings: [
            Weekday::Monday,
            Weekday::Tuesday,
            Weekday::Wednesday,
            Weekday::Friday,
        ]
        .map(dinner)
        .into(),
        sessions: vec![SessionPattern {
            day: before(Weekday::Sunday),
            from: time(13, 0, 0, 0),
            to: time(17, 0, 0, 0),
            cooks: vec!["ana".into(), "ben".into()],
        }],
        shops: vec![ShopPattern {
            day: before(Weekday::Saturday),
            at: time(10, 0, 0, 0),
        }],
        foods: Vec::new(),
        stock: ["salt", "olive-oil"].map(have).into(),
        pars: Vec::new(),
        standing: vec![StandingItem {
            food: "milk-whole".into(),
            mass: Mass::from_g(1030),
        }],
        prices: Vec::new(),
        wishes: Wishes {
            fixed: BTreeMap::new(),
            off_meals: BTreeSet::new(),
            off_components: BTreeSet::new(),
            components_max: 8,
            priorities: Vec::new(),
            budget: None,
        },
    }
}

fn eaters() -> Vec<Eater> {
    let eater = |id: &str, name: &str, appetite, allergies| Eater {
        id: EaterId::new(id),
        name: name.into(),
        appetite,
        diet: Diet::Everything,
        avoid: BTreeSet::new(),
        allergies,
        dislikes: BTreeSet::new(),
        cautions: BTreeSet::new(),
    };
    vec![
        eater("ana", "Ana", Appetite::Usual, BTreeMap::new()),
        eater(
            "ben",
            "Ben",
            Appetite::Big,
            BTreeMap::from([(Allergen::Peanuts, Contact::Plate)]),
        ),
        eater(
            "cleo",
            "Cleo",
            Appetite::Small,
            BTreeMap::from([(Allergen::Sesame, Contact::Traces)]),
        ),
    ]
}

fn cook(id: &str, name: &str, may: &[Skill]) -> Cook {
    Cook {
        id: CookId::new(id),
        name: name.into(),
        may: may.iter().copied().collect(),
    }
}

fn dinner(day: Weekday) -> SittingPattern {
    SittingPattern {
        day: DayRef::In(day),
        occasion: Occasion::Dinner,
        at: time(18, 30, 0, 0),
        minutes: 30,
        eaters: vec!["ana".into(), "ben".into(), "cleo".into()],
        guests: 0,
        place: Where::Home,
    }
}

fn have(food: &str) -> StockItem {
    StockItem {
        food: FoodId::new(food),
        state: StockState::Have,
    }
}

fn kitchen() -> Kitchen {
    let boxed = |id: &str, name: &str, ml, mm, count| BoxKind {
        id: id.into(),
        name: name.into(),
        volume: Volume::from_ml(ml),
        depth: Length::from_mm(mm),
        count,
        material: "glass".into(),
        freezes: true,
    };
    let oven = Oven {
        racks: 2,
        min: Temperature::from_c(50),
        max: Temperature::from_c(250),
        fan: true,
        preheat_min: 12,
    };
    Kitchen {
        oven: Some(oven),
        burners: 4,
        burner_watts: 1200,
        microwaves: 1,
        toaster: true,
        boards: 2,
        blender: true,
        pressure_cooker: None,
        pots: vec![
            Pot {
                volume: Volume::from_ml(3000),
                count: 1,
            },
            Pot {
                volume: Volume::from_ml(5000),
                count: 1,
            },
        ],
        trays: vec![Tray {
            area_cm2: 46 * 33,
            count: 2,
        }],
        boxes: vec![
            boxed("half", "half-litre box", 500, 50, 8),
            boxed("litre", "one-litre box", 1000, 60, 12),
        ],
        fridge: Volume::from_ml(20_000),
        freezer: Volume::from_ml(10_000),
    }
}
