//! Wishes: meals fixed, things switched off, what matters most.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;
use larderwright_model::{ComponentId, MealId, Occasion, Priority, SittingId, SittingPattern, Wishes};

use super::week::{OCCASIONS, weekday_of};
use super::{measure, moment, week};
use crate::reader::{Fields, Value};
use crate::words::Word;

pub(crate) const WISHES_KEYS: &[&str] = &[
    "components_max",
    "priorities",
    "budget",
    "off_meals",
    "off_components",
    "fixed",
];
pub(crate) const FIXED_KEYS: &[&str] = &["day", "meal", "dish"];

/// How many components a session may hold when nothing is said.
pub(super) const COMPONENTS_MAX_USUAL: usize = 8;

pub(super) fn read(fields: &Fields<'_>, sittings: &[SittingPattern]) -> Wishes {
    fields.only(WISHES_KEYS);
    let (off_meals, off_components) = (fields.list("off_meals"), fields.list("off_components"));
    let components_max = fields.whole_if("components_max", 1..=40);
    Wishes {
        fixed: fixed(fields, sittings),
        off_meals: off_meals
            .iter()
            .filter_map(Value::id)
            .map(|id| MealId::new(&id))
            .collect(),
        off_components: off_components
            .iter()
            .filter_map(Value::id)
            .map(|id| ComponentId::new(&id))
            .collect(),
        components_max: components_max
            .and_then(|it| usize::try_from(it).ok())
            .unwrap_or(COMPONENTS_MAX_USUAL),
        priorities: priorities(fields),
        budget: fields.get("budget").and_then(|value| measure::money(&value)),
    }
}

fn priorities(fields: &Fields<'_>) -> Vec<Priority> {
    let priorities: Vec<Priority> = fields.words("priorities");
    let distinct: BTreeSet<Priority> = priorities.iter().copied().collect();
    if distinct.len() < priorities.len() {
        fields.problem_at(
            "priorities",
            "names one twice",
            "Rank every priority once, the first first.",
        );
    }
    priorities
}

fn fixed(fields: &Fields<'_>, sittings: &[SittingPattern]) -> BTreeMap<SittingId, MealId> {
    let mut fixed = BTreeMap::new();
    for group in fields.tables("fixed") {
        group.only(FIXED_KEYS);
        let dish = MealId::new(&group.id("dish"));
        let occasion = group.need("meal").and_then(|value| week::occasion(&value));
        let day = group.need("day").and_then(|value| day(&value));
        let (Some(occasion), Some(day)) = (occasion, day) else {
            continue;
        };
        if !is_sat_at(&day, occasion, sittings) {
            let message = format!("nobody sits down to {} on `{day}`", Word::word(occasion));
            group.problem(message, "Add a sitting on that day, or fix the dish on another.");
        }
        let id = SittingId::new(&format!("{day}-{}", Word::word(occasion)));
        if fixed.insert(id, dish).is_some() {
            group.problem("fixes a sitting that is already fixed", "Keep one of the two.");
        }
    }
    fixed
}

/// A weekday of every planned week, in three letters, or one date.
fn day(value: &Value<'_>) -> Option<String> {
    let text = value.clock_text()?;
    if let Some(weekday) = moment::weekday(&text) {
        return Some(Word::word(weekday).to_owned());
    }
    let date = text.parse::<Date>().ok().map(|date| date.to_string());
    if date.is_none() {
        let help = "Write a weekday, as in `fri`, or a date, as in `2026-12-04`.";
        value.problem(format!("`{text}` is no day"), help);
    }
    date
}

fn is_sat_at(day: &str, occasion: Occasion, sittings: &[SittingPattern]) -> bool {
    debug_assert!(OCCASIONS.contains(&occasion), "only written occasions are fixed");
    let weekday = moment::weekday(day).or_else(|| day.parse::<Date>().ok().map(Date::weekday));
    sittings
        .iter()
        .any(|it| it.occasion == occasion && Some(weekday_of(it.day)) == weekday)
}
