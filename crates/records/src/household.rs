//! The household file: who eats and cooks, the kitchen, the usual week, what is at home and what is wished for,
//! in TOML that a person can write. Whether foods, components and meals exist is for the reader of the larder to
//! say; everything that the file alone can decide is checked here.

mod eater;
mod foods;
mod kitchen;
mod measure;
mod moment;
mod patterns;
mod stores;
mod week;
mod wishes;

use std::collections::BTreeSet;

use larderwright_model::{Household, Profile, Region, Wishes};
use larderwright_quantity::{Currency, System};

use crate::problem::Problem;
use crate::reader::{Fields, read_file};

pub use patterns::{PATTERNS, Pattern, pattern};

#[cfg(test)]
pub(crate) use eater::{BODY_KEYS, COOK_KEYS, EATER_KEYS};
#[cfg(test)]
pub(crate) use foods::{FOOD_KEYS, UNIT_KEYS};
#[cfg(test)]
pub(crate) use kitchen::{BOX_KEYS, KITCHEN_KEYS, OVEN_KEYS};
#[cfg(test)]
pub(crate) use stores::{PAR_KEYS, PRICE_KEYS, STANDING_KEYS, STOCK_KEYS};
#[cfg(test)]
pub(crate) use week::{PACKED_KEYS, SESSION_KEYS, SITTING_KEYS};
#[cfg(test)]
pub(crate) use wishes::{FIXED_KEYS, WISHES_KEYS};

/// A small household file with comments, to start from.
pub const EXAMPLE_HOUSEHOLD: &str = include_str!("../data/example-household.toml");

/// The invented household that the demonstration plans for.
pub const DEMO_HOUSEHOLD: &str = include_str!("../data/demo-household.toml");

pub(crate) const HOUSEHOLD_KEYS: &[&str] = &[
    "name",
    "region",
    "guidance",
    "units",
    "currency",
    "time_zone",
    "altitude_m",
    "eater",
    "cook",
    "kitchen",
    "sitting",
    "session",
    "shops",
    "food",
    "stock",
    "par",
    "standing",
    "price",
    "wishes",
];

/// Reads a household file.
///
/// Fixed meals are keyed by the sitting's identifier when a date is written (`2026-12-04-dinner`), and by weekday
/// and occasion (`fri-dinner`) when not; who dates the week turns the latter into the former.
///
/// # Errors
/// Every problem of the file, by line.
pub fn parse_household(text: &str) -> Result<Household, Vec<Problem>> {
    read_file(text, household)
}

fn household(fields: &Fields<'_>) -> Household {
    fields.only(HOUSEHOLD_KEYS);
    let system: System = fields.word("units");
    let eaters = eater::eaters(fields);
    let cooks = eater::cooks(fields);
    let sittings = week::sittings(fields, &eaters);
    let wishes = fields
        .table("wishes")
        .map_or_else(no_wishes, |group| wishes::read(&group, &sittings));
    Household {
        name: fields.text("name"),
        region: fields.word("region"),
        profile: fields.word::<Profile>("guidance"),
        system,
        currency: currency(fields),
        zone: zone(fields),
        altitude_m: fields.whole_if("altitude_m", -400..=5000).unwrap_or(0),
        kitchen: kitchen::read(fields, system),
        sessions: week::sessions(fields, &cooks),
        shops: week::shops(fields),
        foods: foods::read(fields),
        stock: stores::stock(fields),
        pars: stores::pars(fields),
        standing: stores::standing(fields),
        prices: stores::prices(fields),
        eaters,
        cooks,
        sittings,
        wishes,
    }
}

/// What holds when nothing is wished for.
fn no_wishes() -> Wishes {
    Wishes {
        fixed: std::collections::BTreeMap::new(),
        off_meals: BTreeSet::new(),
        off_components: BTreeSet::new(),
        components_max: wishes::COMPONENTS_MAX_USUAL,
        priorities: Vec::new(),
        budget: None,
    }
}

fn currency(fields: &Fields<'_>) -> Currency {
    let usual = match fields.word_or("region", Region::Us) {
        Region::Us => "USD",
        Region::Uk => "GBP",
        Region::Eu => "EUR",
    };
    let usual = Currency::parse(usual).expect("the usual currencies are well formed");
    let Some(value) = fields.need("currency") else {
        return usual;
    };
    let Some(code) = value.text() else { return usual };
    let parsed = Currency::parse(code);
    if parsed.is_none() {
        value.problem(
            format!("`{code}` is no currency code"),
            "Write three capital letters, as in `USD`.",
        );
    }
    parsed.unwrap_or(usual)
}

fn zone(fields: &Fields<'_>) -> String {
    let zone = fields.text("time_zone");
    let good = |part: &str| {
        !part.is_empty()
            && part
                .chars()
                .all(|c| c.is_ascii_alphanumeric() || "/_+-".contains(c))
    };
    let named = zone
        .split_once('/')
        .is_some_and(|(area, place)| good(area) && good(place));
    if !(zone.is_empty() || named || zone == "UTC") {
        let help = "Write an area and a place, as in `Europe/Vienna`.";
        fields.problem_at("time_zone", format!("`{zone}` is no time zone"), help);
    }
    zone
}

/// The identifier that a name makes; empty when it has no plain letter or digit.
fn id_from(name: &str) -> String {
    let parts = name
        .split(|c: char| !c.is_ascii_alphanumeric())
        .filter(|part| !part.is_empty());
    parts.collect::<Vec<_>>().join("-").to_ascii_lowercase()
}

/// Refuses an identifier that occurs twice in the same list, at the group that repeats it.
fn refuse_twins<'i>(groups: &[Fields<'_>], ids: impl Iterator<Item = &'i str>) {
    let mut seen = BTreeSet::new();
    for (group, id) in groups.iter().zip(ids) {
        if !id.is_empty() && !seen.insert(id) {
            group.problem(
                format!("the id `{id}` is used twice"),
                "Add a line `id = ...` with another one.",
            );
        }
    }
}
