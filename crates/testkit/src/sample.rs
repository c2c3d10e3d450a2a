//! A small week written by hand: one session, four dinners, three eaters of whom one may have no
//! sesame. Grams on plates, in boxes, in pots and on the order add up.

mod foods;
mod household;
mod larder;
mod week;

use jiff::civil::{Date, DateTime, date};
use larderwright_model::{Session, Shop, Sitting, Snapshot, Where};

pub use week::plan;

/// Monday of the sample week.
pub const MONDAY: Date = date(2026, 11, 30);

/// The dinners' dates.
const DINNERS: [Date; 4] = [
    date(2026, 11, 30),
    date(2026, 12, 1),
    date(2026, 12, 2),
    date(2026, 12, 4),
];

/// The sample snapshot.
#[must_use]
pub fn snapshot() -> Snapshot {
    let household = household::household();
    let eaters: Vec<_> = household.eaters.iter().map(|eater| eater.id.clone()).collect();
    let sitting = |day: Date| Sitting {
        id: format!("{day}-dinner").as_str().into(),
        at: day.at(18, 30, 0, 0),
        occasion: larderwright_model::Occasion::Dinner,
        minutes: 30,
        eaters: eaters.clone(),
        guests: 0,
        place: Where::Home,
    };
    Snapshot {
        now: date(2026, 11, 27).at(18, 0, 0, 0),
        monday: MONDAY,
        sittings: DINNERS.into_iter().map(sitting).collect(),
        sessions: vec![Session {
            id: "2026-11-29".into(),
            from: sunday(13, 0),
            to: sunday(17, 0),
            cooks: household.cooks.iter().map(|cook| cook.id.clone()).collect(),
        }],
        shops: vec![Shop {
            id: "2026-11-28".into(),
            at: date(2026, 11, 28).at(10, 0, 0, 0),
        }],
        foods: foods::foods()
            .into_iter()
            .map(|food| (food.id.clone(), food))
            .collect(),
        components: larder::components()
            .into_iter()
            .map(|component| (component.id.clone(), component))
            .collect(),
        meals: [larder::meal()]
            .into_iter()
            .map(|meal| (meal.id.clone(), meal))
            .collect(),
        lots: Vec::new(),
        habits: std::collections::BTreeMap::new(),
        learnt: Vec::new(),
        eaten_lately: Vec::new(),
        tables: "sample".into(),
        seed: 1,
        menu_work: 1000,
        session_work: 100,
        parent: None,
        household,
    }
}

/// A time on the Sunday on which the sample week is cooked.
fn sunday(hour: i8, minute: i8) -> DateTime {
    date(2026, 11, 29).at(hour, minute, 0, 0)
}
