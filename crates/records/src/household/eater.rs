//! Who eats and who cooks.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_model::{
    Allergen, Appetite, Contact, Cook, CookId, Diet, Eater, EaterId, Physique, Sex, Skill,
};

use super::{id_from, measure, refuse_twins};
use crate::reader::{Fields, Value};
use crate::words::Word;

pub(crate) const EATER_KEYS: &[&str] = &[
    "id",
    "name",
    "appetite",
    "body",
    "diet",
    "avoid",
    "allergies",
    "dislikes",
    "cautions",
];
pub(crate) const BODY_KEYS: &[&str] = &["age", "sex", "height", "weight", "activity"];
pub(crate) const COOK_KEYS: &[&str] = &["id", "name", "may"];

/// How active somebody is, in the order of the energy equations' levels.
const ACTIVITIES: &[&str] = &["sedentary", "low-active", "active", "very-active"];

pub(super) fn eaters(fields: &Fields<'_>) -> Vec<Eater> {
    let groups = fields.need_tables("eater");
    let eaters: Vec<Eater> = groups.iter().map(eater).collect();
    refuse_twins(&groups, eaters.iter().map(|eater| eater.id.as_str()));
    eaters
}

pub(super) fn cooks(fields: &Fields<'_>) -> Vec<Cook> {
    let groups = fields.need_tables("cook");
    let cooks: Vec<Cook> = groups.iter().map(cook).collect();
    refuse_twins(&groups, cooks.iter().map(|cook| cook.id.as_str()));
    cooks
}

/// The written identifier, or one made from the name.
fn id_or_name(fields: &Fields<'_>) -> (String, String) {
    let name = fields.text("name");
    if fields.has("id") {
        return (fields.id("id"), name);
    }
    let id = id_from(&name);
    if id.is_empty() && !name.trim().is_empty() {
        let help = "Add a line `id = ...` in lower-case letters, by which sittings can name this person.";
        fields.problem_at("name", format!("`{name}` makes no id"), help);
    }
    (id, name)
}

fn cook(fields: &Fields<'_>) -> Cook {
    fields.only(COOK_KEYS);
    let (id, name) = id_or_name(fields);
    let mut may: BTreeSet<Skill> = fields.words("may").into_iter().collect();
    may.insert(Skill::Any);
    Cook {
        id: CookId::new(&id),
        name,
        may,
    }
}

fn eater(fields: &Fields<'_>) -> Eater {
    fields.only(EATER_KEYS);
    let (id, name) = id_or_name(fields);
    let dislikes = fields.list("dislikes");
    Eater {
        id: EaterId::new(&id),
        name,
        appetite: appetite(fields),
        diet: fields.word_or("diet", Diet::Everything),
        avoid: fields.words("avoid").into_iter().collect(),
        allergies: allergies(fields),
        dislikes: dislikes.iter().filter_map(Value::id).collect(),
        cautions: fields.words("cautions").into_iter().collect(),
    }
}

fn appetite(fields: &Fields<'_>) -> Appetite {
    if fields.has("appetite") && fields.has("body") {
        fields.problem_at("body", "stands beside appetite", "Keep the one that shall count.");
    }
    if let Some(body) = fields.table("body") {
        return physique(&body).map_or(Appetite::Usual, Appetite::Computed);
    }
    let Some(value) = fields.get("appetite") else {
        return Appetite::Usual;
    };
    match value.text() {
        Some("small") => Appetite::Small,
        Some("usual") | None => Appetite::Usual,
        Some("big") => Appetite::Big,
        Some(typed) => {
            value.unknown("appetite", typed, ["small", "usual", "big"].into_iter());
            Appetite::Usual
        }
    }
}

fn physique(fields: &Fields<'_>) -> Option<Physique> {
    fields.only(BODY_KEYS);
    let age = fields.need("age").and_then(|value| value.whole(&(0..=120)));
    let sex: Sex = fields.word("sex");
    let height_cm = fields.need("height").and_then(|value| measure::height_cm(&value));
    let weight_hg = fields
        .need("weight")
        .and_then(|value| measure::body_weight_hg(&value));
    let activity = fields.need("activity").and_then(|value| activity(&value));
    Some(Physique {
        age: age?,
        sex,
        height_cm: height_cm?,
        weight_hg: weight_hg?,
        activity: activity?,
    })
}

fn activity(value: &Value<'_>) -> Option<u8> {
    let typed = value.text()?;
    let level = ACTIVITIES.iter().position(|word| *word == typed);
    if level.is_none() {
        value.unknown("level of activity", typed, ACTIVITIES.iter().copied());
    }
    level.and_then(|level| u8::try_from(level).ok())
}

fn allergies(fields: &Fields<'_>) -> BTreeMap<Allergen, Contact> {
    let Some(group) = fields.table("allergies") else {
        return BTreeMap::new();
    };
    let pairs = group.pairs().into_iter().filter_map(|(name, value)| {
        let allergen = Allergen::parse(&name);
        if allergen.is_none() {
            value.unknown("allergen", &name, Allergen::WORDS.iter().map(|(word, _)| *word));
        }
        let contact: Option<Contact> = value.word();
        Some((allergen?, contact?))
    });
    pairs.collect()
}
