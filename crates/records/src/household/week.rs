//! The usual week: sittings, sessions and trips to the shop.

use std::collections::BTreeSet;

use jiff::civil::{Time, Weekday};
use larderwright_model::{
    Cook, CookId, DayRef, Eater, EaterId, Occasion, Packed, SessionPattern, ShopPattern, SittingPattern,
    Where,
};

use super::moment;
use crate::reader::{Fields, Value};
use crate::words::Word;

pub(crate) const SITTING_KEYS: &[&str] = &["meal", "days", "at", "minutes", "who", "guests", "packed"];
pub(crate) const PACKED_KEYS: &[&str] = &["hours", "ice_pack", "fridge", "microwave"];
pub(crate) const SESSION_KEYS: &[&str] = &["when", "cooks"];

/// The occasions a household writes; packed ones follow from `packed`.
pub(super) const OCCASIONS: &[Occasion] = &[
    Occasion::Breakfast,
    Occasion::Lunch,
    Occasion::Dinner,
    Occasion::Snack,
];

/// Sittings by day and time, one for each day of a group.
pub(super) fn sittings(fields: &Fields<'_>, eaters: &[Eater]) -> Vec<SittingPattern> {
    let mut sittings: Vec<SittingPattern> = Vec::new();
    let mut taken: BTreeSet<(i8, Occasion, EaterId)> = BTreeSet::new();
    for group in fields.need_tables("sitting") {
        for sitting in sitting_group(&group, eaters) {
            if let Some(who) = sitting
                .eaters
                .iter()
                .find(|who| !taken.insert(place_of(&sitting, who)))
            {
                let (day, occasion) = (Word::word(weekday_of(sitting.day)), Word::word(sitting.occasion));
                let message = format!("`{who}` already has another {occasion} on {day}");
                group.problem(message, "Take the day or the person out of one of the two.");
            }
            sittings.push(sitting);
        }
    }
    sittings.sort_by_key(|sitting| (weekday_of(sitting.day).to_monday_zero_offset(), sitting.at));
    sittings
}

fn place_of(sitting: &SittingPattern, who: &EaterId) -> (i8, Occasion, EaterId) {
    (
        weekday_of(sitting.day).to_monday_zero_offset(),
        sitting.occasion,
        who.clone(),
    )
}

/// The weekday, whichever week it lies in.
pub(super) fn weekday_of(day: DayRef) -> Weekday {
    match day {
        DayRef::In(day) | DayRef::Before(day) => day,
    }
}

fn sitting_group(fields: &Fields<'_>, eaters: &[Eater]) -> Vec<SittingPattern> {
    fields.only(SITTING_KEYS);
    let days = fields
        .need("days")
        .map(|value| moment::days(&value))
        .unwrap_or_default();
    let guests = fields.count_or("guests", 0);
    let who = people(fields, eaters);
    if who.is_empty() && guests == 0 && !fields.has("who") {
        fields.problem("nobody sits here", "Add who = [\"all\"] or a list of names.");
    }
    let occasion = fields.need("meal").and_then(|value| occasion(&value));
    let pattern = SittingPattern {
        day: DayRef::In(Weekday::Monday),
        occasion: occasion.unwrap_or(Occasion::Dinner),
        at: fields
            .need("at")
            .and_then(|value| moment::clock(&value))
            .unwrap_or(Time::midnight()),
        minutes: fields.whole("minutes", 1..=600),
        eaters: who,
        guests,
        place: fields
            .table("packed")
            .map_or(Where::Home, |packed| Where::Packed(self::packed(&packed))),
    };
    // A sitting whose meal cannot be read would only clash with others by accident.
    let known = days.into_iter().filter(|_| occasion.is_some());
    known
        .map(|day| SittingPattern {
            day: DayRef::In(day),
            ..pattern.clone()
        })
        .collect()
}

/// One of the occasions a household writes.
pub(super) fn occasion(value: &Value<'_>) -> Option<Occasion> {
    let typed = value.text()?;
    let found = OCCASIONS
        .iter()
        .copied()
        .find(|occasion| Word::word(*occasion) == typed);
    if found.is_none() {
        value.unknown(
            "meal of the day",
            typed,
            OCCASIONS.iter().map(|occasion| Word::word(*occasion)),
        );
    }
    found
}

fn people(fields: &Fields<'_>, eaters: &[Eater]) -> Vec<EaterId> {
    let Some(value) = fields.get("who") else {
        return Vec::new();
    };
    let parts = if value.is_text() {
        vec![value]
    } else {
        value.list()
    };
    let mut who: Vec<EaterId> = Vec::new();
    for part in &parts {
        match part.text() {
            Some("all") => add_all(&mut who, eaters),
            Some(name) => who.extend(person(part, name, eaters)),
            None => {}
        }
    }
    let mut seen = BTreeSet::new();
    if let Some(twice) = who.iter().find(|id| !seen.insert((*id).clone())) {
        fields.problem_at("who", format!("names `{twice}` twice"), "Name everybody once.");
    }
    who
}

/// Adds everybody once, in the order of the file; twins are told elsewhere.
fn add_all(who: &mut Vec<EaterId>, eaters: &[Eater]) {
    let before = who.len();
    for eater in eaters {
        if !who[before..].contains(&eater.id) {
            who.push(eater.id.clone());
        }
    }
}

fn person(value: &Value<'_>, name: &str, eaters: &[Eater]) -> Option<EaterId> {
    let found = eaters
        .iter()
        .find(|eater| eater.id.as_str() == name || eater.name == name);
    if found.is_none() {
        let known = eaters
            .iter()
            .map(|eater| eater.id.as_str())
            .filter(|id| !id.is_empty());
        value.unknown("eater", name, known.chain(["all"]));
    }
    found.map(|eater| eater.id.clone())
}

fn packed(fields: &Fields<'_>) -> Packed {
    fields.only(PACKED_KEYS);
    Packed {
        hours: fields.whole("hours", 0..=24),
        ice_pack: fields.flag("ice_pack"),
        fridge: fields.flag("fridge"),
        microwave: fields.flag("microwave"),
    }
}

/// Sessions in the order of the file.
pub(super) fn sessions(fields: &Fields<'_>, cooks: &[Cook]) -> Vec<SessionPattern> {
    fields
        .need_tables("session")
        .iter()
        .filter_map(|group| session(group, cooks))
        .collect()
}

fn session(fields: &Fields<'_>, cooks: &[Cook]) -> Option<SessionPattern> {
    fields.only(SESSION_KEYS);
    let named = fields.need("cooks").map(|value| value.list()).unwrap_or_default();
    if fields.has("cooks") && named.is_empty() {
        fields.problem_at("cooks", "names nobody", "Name at least one cook.");
    }
    let mut at_work: Vec<CookId> = Vec::new();
    for part in &named {
        let Some(id) = part.text().and_then(|name| cook(part, name, cooks)) else {
            continue;
        };
        if at_work.contains(&id) {
            part.problem(format!("names `{id}` twice"), "Name everybody once.");
        }
        at_work.push(id);
    }
    let (day, from, to) = fields
        .need("when")
        .and_then(|value| moment::day_from_to(&value))?;
    Some(SessionPattern {
        day,
        from,
        to,
        cooks: at_work,
    })
}

fn cook(value: &Value<'_>, name: &str, cooks: &[Cook]) -> Option<CookId> {
    let found = cooks
        .iter()
        .find(|cook| cook.id.as_str() == name || cook.name == name);
    if found.is_none() {
        value.unknown("cook", name, cooks.iter().map(|cook| cook.id.as_str()));
    }
    found.map(|cook| cook.id.clone())
}

/// Trips to the shop in the order of the file.
pub(super) fn shops(fields: &Fields<'_>) -> Vec<ShopPattern> {
    let Some(value) = fields.need("shops") else {
        return Vec::new();
    };
    let parts = value.list();
    if parts.is_empty() && !value.is_text() {
        value.problem(
            "names no day",
            "Write at least one trip: shops = [\"Saturday before 11:00\"].",
        );
    }
    let trips = parts.iter().filter_map(moment::day_at);
    trips.map(|(day, at)| ShopPattern { day, at }).collect()
}
