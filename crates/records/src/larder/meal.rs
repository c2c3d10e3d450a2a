//! Meals: the places on a plate, what may fill them, and combinations that are not offered.

use larderwright_model::{
    ComponentId, Element, ElementId, ElementOption, FoodId, Item, Meal, MealId, MealRule, Scales,
};
use larderwright_quantity::{Mass, Seconds};

use super::component::refuse_twins;
use super::explain;
use crate::reader::{Fields, Value};

pub(crate) const MEAL_KEYS: &[&str] = &[
    "name", "cuisine", "at", "kind", "assemble", "text", "explain", "element", "rule",
];
pub(crate) const ASSEMBLE_KEYS: &[&str] = &["fixed_s", "per_cover_s"];
pub(crate) const ELEMENT_KEYS: &[&str] = &["id", "portion_g", "scales", "need", "option"];
pub(crate) const OPTION_KEYS: &[&str] = &["component", "food", "portion_g", "finish"];
pub(crate) const RULE_KEYS: &[&str] = &["not"];

const KINDS: &[&str] = &[
    "bowl", "plate", "soup", "salad", "wrap", "bake", "pasta", "porridge", "sandwich", "curry",
];

pub(super) fn read(id: &str, fields: &Fields<'_>) -> Meal {
    fields.only(MEAL_KEYS);
    explain::read(fields);
    let at = fields.words("at");
    if fields.need("at").is_some_and(|value| value.list().is_empty()) {
        fields.problem_at("at", "is empty", "Say when the meal is eaten: at = [\"dinner\"].");
    }
    let elements: Vec<Element> = fields.need_tables("element").iter().map(element).collect();
    refuse_twins(fields, elements.iter().map(|element| element.id.as_str()));
    let rules = fields
        .tables("rule")
        .iter()
        .map(|rule| meal_rule(rule, &elements))
        .collect();
    let (assemble_fixed, assemble_per_cover) = assemble(fields);
    Meal {
        id: MealId::new(id),
        name: fields.text("name"),
        cuisine: fields.text("cuisine"),
        kind: kind(fields),
        at,
        assemble_fixed,
        assemble_per_cover,
        text: fields.text("text"),
        elements,
        rules,
    }
}

fn kind(fields: &Fields<'_>) -> String {
    let kind = fields.text("kind");
    if let Some(value) = fields.get("kind")
        && !kind.is_empty()
        && !KINDS.contains(&kind.as_str())
    {
        value.unknown("kind of meal", &kind, KINDS.iter().copied());
    }
    kind
}

fn assemble(fields: &Fields<'_>) -> (Seconds, Seconds) {
    let none = Seconds::from_secs(0);
    let Some(fields) = fields.need_table("assemble") else {
        return (none, none);
    };
    fields.only(ASSEMBLE_KEYS);
    let seconds = |key: &str| Seconds::from_secs(fields.whole(key, 0..=36_000));
    (seconds("fixed_s"), seconds("per_cover_s"))
}

fn element(fields: &Fields<'_>) -> Element {
    fields.only(ELEMENT_KEYS);
    let portion = Mass::from_g(fields.whole("portion_g", 1..=5000));
    Element {
        id: ElementId::new(&fields.id("id")),
        portion,
        scales: fields.word_or("scales", Scales::Appetite),
        need: fields.word("need"),
        options: fields
            .need_tables("option")
            .iter()
            .map(|fields| option(fields, portion))
            .collect(),
    }
}

fn option(fields: &Fields<'_>, usual: Mass) -> ElementOption {
    fields.only(OPTION_KEYS);
    let item = match (fields.has("component"), fields.has("food")) {
        (true, false) => Item::Component(ComponentId::new(&fields.id("component"))),
        (false, true) => Item::Food(FoodId::new(&fields.id("food"))),
        _ => {
            let help = "Write exactly one of component = \"...\" and food = \"...\".";
            fields.problem("does not say what it is", help);
            Item::Food(FoodId::new(""))
        }
    };
    let portion = fields.whole_if("portion_g", 1..=5000).map_or(usual, Mass::from_g);
    ElementOption {
        item,
        portion,
        finish: fields.word("finish"),
    }
}

fn meal_rule(fields: &Fields<'_>, elements: &[Element]) -> MealRule {
    fields.only(RULE_KEYS);
    let parts = fields.need("not").map(|value| value.list()).unwrap_or_default();
    MealRule {
        not: parts
            .iter()
            .filter_map(|part| rule_part(part, elements))
            .collect(),
    }
}

fn rule_part(value: &Value<'_>, elements: &[Element]) -> Option<(ElementId, String)> {
    let text = value.text()?;
    let known = text.split_once(':').and_then(|(element, item)| {
        let element = elements.iter().find(|known| known.id.as_str() == element)?;
        let offers = element.options.iter().any(|option| option.item.as_str() == item);
        offers.then(|| (element.id.clone(), item.to_owned()))
    });
    if known.is_none() {
        let help = "Write an element and one of its options, as in \"base:quinoa\".";
        value.problem(format!("`{text}` is no option of this meal"), help);
    }
    known
}
