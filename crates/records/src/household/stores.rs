//! What is at home, what is always kept there, what is bought every week, and what things cost.

use std::collections::BTreeSet;

use larderwright_model::{FoodId, ParItem, PriceEntry, StandingItem, StockItem, StockState};
use larderwright_quantity::{Mass, Money};

use super::{measure, refuse_twins};
use crate::reader::{Fields, Value};

pub(crate) const STOCK_KEYS: &[&str] = &["have", "low", "amounts"];
pub(crate) const PAR_KEYS: &[&str] = &["food", "level", "have"];
pub(crate) const STANDING_KEYS: &[&str] = &["food", "amount"];
pub(crate) const PRICE_KEYS: &[&str] = &["food", "pack", "label", "price"];

/// The tick list, by food.
pub(super) fn stock(fields: &Fields<'_>) -> Vec<StockItem> {
    let Some(group) = fields.table("stock") else {
        return Vec::new();
    };
    group.only(STOCK_KEYS);
    let mut lines: Vec<(Value<'_>, String, StockState)> = Vec::new();
    for (key, state) in [("have", StockState::Have), ("low", StockState::Low)] {
        for value in group.list(key) {
            if let Some(id) = value.id() {
                lines.push((value, id, state));
            }
        }
    }
    for (food, value) in group
        .table("amounts")
        .map(|amounts| amounts.pairs())
        .unwrap_or_default()
    {
        if let Some(mass) = measure::mass(&value) {
            lines.push((value, food, StockState::Amount(mass)));
        }
    }
    let mut seen = BTreeSet::new();
    for (value, food, _) in &lines {
        if !seen.insert(food.as_str()) {
            value.problem(
                format!("`{food}` stands twice on the tick list"),
                "Drop one of them.",
            );
        }
    }
    let mut items: Vec<StockItem> = lines
        .iter()
        .map(|(_, food, state)| StockItem {
            food: FoodId::new(food),
            state: *state,
        })
        .collect();
    items.sort_by(|a, b| a.food.cmp(&b.food));
    items
}

fn amount(fields: &Fields<'_>, key: &str) -> Mass {
    fields
        .need(key)
        .and_then(|value| measure::mass(&value))
        .unwrap_or(Mass::ZERO)
}

/// Par levels, in the order of the file.
pub(super) fn pars(fields: &Fields<'_>) -> Vec<ParItem> {
    let groups = fields.tables("par");
    let pars: Vec<ParItem> = groups.iter().map(par).collect();
    refuse_twins(&groups, pars.iter().map(|par| par.food.as_str()));
    pars
}

fn par(fields: &Fields<'_>) -> ParItem {
    fields.only(PAR_KEYS);
    let on_hand = fields.get("have").and_then(|value| measure::mass(&value));
    ParItem {
        food: FoodId::new(&fields.id("food")),
        level: amount(fields, "level"),
        on_hand: on_hand.unwrap_or(Mass::ZERO),
    }
}

/// Standing items, in the order of the file.
pub(super) fn standing(fields: &Fields<'_>) -> Vec<StandingItem> {
    let groups = fields.tables("standing");
    let items: Vec<StandingItem> = groups.iter().map(standing_item).collect();
    refuse_twins(&groups, items.iter().map(|item| item.food.as_str()));
    items
}

fn standing_item(fields: &Fields<'_>) -> StandingItem {
    fields.only(STANDING_KEYS);
    StandingItem {
        food: FoodId::new(&fields.id("food")),
        mass: amount(fields, "amount"),
    }
}

/// Known prices, in the order of the file.
pub(super) fn prices(fields: &Fields<'_>) -> Vec<PriceEntry> {
    fields.tables("price").iter().map(price).collect()
}

fn price(fields: &Fields<'_>) -> PriceEntry {
    fields.only(PRICE_KEYS);
    let pack = amount(fields, "pack");
    if pack == Mass::ZERO && fields.get("pack").is_some_and(|value| value.is_text()) {
        fields.problem_at(
            "pack",
            "weighs nothing",
            "Write what one pack weighs, as in `1 kg`.",
        );
    }
    PriceEntry {
        food: FoodId::new(&fields.id("food")),
        pack,
        label: fields.text("label"),
        price: fields
            .need("price")
            .and_then(|value| measure::money(&value))
            .unwrap_or(Money::ZERO),
    }
}
