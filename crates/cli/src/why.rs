//! `why`: what the other meals of a sitting would cost the week, and what is gained by giving way a little.

use larderwright_app::home::{Now, Week};
use larderwright_app::{Account, Threads, Why};
use larderwright_model::{MealId, Sitting};
use larderwright_quantity::Money;
use larderwright_views::Words;
use serde_json::{Value, json};

use crate::failure::Failure;
use crate::memory::Memory;
use crate::progress::while_working;

/// So many other meals are listed for people.
const LISTED: usize = 6;

/// Weighs the meals of a sitting; the answer for people and for programs.
///
/// # Errors
/// When no plan at hand has such a sitting.
pub(crate) fn answer(
    memory: &Memory,
    sitting: Option<&str>,
    now: &Now,
    words: &Words,
) -> Result<(String, Value), Failure> {
    let answer = while_working("weighing", || {
        memory.wait(memory.home.why(sitting, Threads::Two, now))
    })?;
    Ok((text(&answer, words), value(&answer)))
}

/// The answer for people.
fn text((week, sitting, why): &(Week, Sitting, Why), words: &Words) -> String {
    let name = |id: &MealId| {
        let meal = week.snapshot.meals.get(id);
        meal.map_or_else(|| id.to_string(), |meal| meal.name.clone())
    };
    let mut lines = vec![format!(
        "{} at {}: the rest of the week fits around it for the least. Instead of it the week would ask for",
        name(&why.meal),
        words.when(sitting.at)
    )];
    let others = why.others.iter().take(LISTED);
    lines.extend(others.map(|(meal, more)| format!("  {}: {}", name(meal), difference(*more, words))));
    if why.others.is_empty() {
        lines.push("  nothing else: no other meal fits what is wished".into());
    }
    if !why.impossible.is_empty() {
        lines.push(format!(
            "{} more meals fit no week that was found.",
            why.impossible.len()
        ));
    }
    if !why.relaxed.is_empty() {
        lines.push("The whole week would ask for".into());
        let relaxed = why.relaxed.iter();
        lines.extend(relaxed.map(|(wish, more)| format!("  with {wish}: {}", difference(*more, words))));
    }
    lines.join("\n") + "\n"
}

/// What a week asks for beyond another, in words.
fn difference(more: Account, words: &Words) -> String {
    let signed = |amount: i64, text: String| {
        let sign = if amount > 0 { "+" } else { "\u{2212}" };
        format!("{sign}{text}")
    };
    let mut parts = Vec::new();
    let money = |amount: i64| words.money(Money::from_minor(amount.abs()));
    if more.money != 0 {
        parts.push(signed(more.money, money(more.money)));
    }
    let minutes = |seconds: i64, at: &str| {
        let minutes = (seconds.abs() + 30) / 60;
        (minutes > 0).then(|| signed(seconds, format!("{minutes}\u{a0}min {at}")))
    };
    parts.extend(minutes(more.table_seconds, "at the table"));
    parts.extend(minutes(more.session_seconds, "in the sessions"));
    if more.waste != 0 {
        parts.push(signed(more.waste, format!("{} left to spoil", money(more.waste))));
    }
    match more.sameness {
        0 => {}
        points if points > 0 => parts.push("less variety".into()),
        _ => parts.push("more variety".into()),
    }
    if parts.is_empty() {
        parts.push("the same".into());
    }
    parts.join(", ")
}

/// The answer for programs.
fn value((_, sitting, why): &(Week, Sitting, Why)) -> Value {
    let others = why.others.iter();
    let relaxed = why.relaxed.iter();
    json!({
        "sitting": sitting.id.as_str(),
        "meal": why.meal.as_str(),
        "week": account(why.week),
        "others": others.map(|(meal, more)| json!({ "meal": meal.as_str(), "more": account(*more) })).collect::<Vec<_>>(),
        "impossible": why.impossible.iter().map(MealId::as_str).collect::<Vec<_>>(),
        "relaxed": relaxed.map(|(wish, more)| json!({ "wish": wish, "more": account(*more) })).collect::<Vec<_>>(),
    })
}

fn account(account: Account) -> Value {
    json!({
        "points": account.points,
        "money_minor": account.money,
        "table_seconds": account.table_seconds,
        "session_seconds": account.session_seconds,
        "waste_minor": account.waste,
        "sameness": account.sameness,
        "batches": account.batches,
    })
}
