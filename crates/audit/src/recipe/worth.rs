//! What 100 g or a kilogram of a component come to: salt, energy, money, minutes of work.

use larderwright_model::Food;
use larderwright_quantity::{Mass, Rounding, mul_div};
use larderwright_reference::Nutrient;
use larderwright_reference::cooked::{Figure, built_in, of_way};

use super::band::{Band, usual};
use super::batch::Batch;
use super::rules;
use crate::notes::Notes;
use crate::rules::Rule;

pub(super) fn check(batch: &Batch<'_>, notes: &mut Notes) {
    let usual = usual(batch.component.family);
    let mut look = |rule: &Rule, value: Option<i64>, band: Band, of: &str| {
        let Some(value) = value.filter(|value| !band.holds(*value)) else {
            return;
        };
        notes
            .say(rule, batch.subject(), format!("an unusual amount of {of}"))
            .evidence = format!("{value}, usual {} to {}", band.low, band.high);
    };
    if let Some((salt, known)) = salt_mg(batch) {
        let low = if known { usual.salt_mg.low } else { i64::MIN };
        let band = Band { low, ..usual.salt_mg };
        look(&rules::SALT, Some(salt), band, "salt, in mg per kg");
    }
    let kcal = figure(batch, Nutrient::Energy).map(|cal| mul_div(cal, 1, 1000, Rounding::Nearest));
    look(&rules::ENERGY, kcal, usual.kcal, "energy, in kcal per 100 g");
    look(
        &rules::COST,
        minor_per_100_g(batch),
        usual.minor,
        "money, in hundredths per 100 g",
    );
    if batch.x == batch.way.size.max {
        let seconds = per_kg(batch.hands().secs(), batch.output());
        look(
            &rules::HANDS,
            Some(seconds),
            usual.hands_s,
            "hands, in seconds per kg",
        );
    }
}

/// A nutrient of 100 g at this size, in thousandths of its unit; `None` when it is not known.
pub(super) fn figure(batch: &Batch<'_>, nutrient: Nutrient) -> Option<i64> {
    of_way(batch.way, batch.x, &built_in)
        .ok()?
        .figure(nutrient)
        .value()
}

/// Salt as sodium times 2.5 (Regulation (EU) 1169/2011, Annex I), in milligrams per kilogram, and whether that is
/// all of it. Sodium is told in thousandths of a milligram per 100 g; from salted water more seeps in.
fn salt_mg(batch: &Batch<'_>) -> Option<(i64, bool)> {
    let salt = |sodium: i64| mul_div(sodium, 25, 1000, Rounding::Nearest);
    match of_way(batch.way, batch.x, &built_in)
        .ok()?
        .figure(Nutrient::Sodium)
    {
        Figure::Known(sodium) => Some((salt(sodium), true)),
        Figure::AtLeast(sodium) => Some((salt(sodium), false)),
        Figure::Unknown => None,
    }
}

fn per_kg(value: i64, mass: Mass) -> i64 {
    mul_div(value, 1_000_000, mass.mg().max(1), Rounding::Nearest)
}

/// Money for 100 g, at the cheapest pack of every input; `None` when an input has no price.
pub(super) fn minor_per_100_g(batch: &Batch<'_>) -> Option<i64> {
    let mut micro = 0;
    for input in &batch.way.inputs {
        let food = batch.foods.get(&input.food)?;
        micro += micro_minor(food, batch.edible(input))?;
    }
    let output = batch.output().mg().max(1);
    Some(mul_div(micro, 100_000, output * 1_000_000, Rounding::Nearest))
}

/// Millionths of a hundredth for so much edible food; nothing for what comes from the tap.
pub(super) fn micro_minor(food: &Food, edible: Mass) -> Option<i64> {
    if food.is_tap() {
        return Some(0);
    }
    let purchased = food.edible.value.undo(edible, Rounding::Up);
    let price = |pack: &larderwright_model::Pack| {
        mul_div(
            purchased.mg(),
            pack.price.minor() * 1_000_000,
            pack.size.mass.mg().max(1),
            Rounding::Nearest,
        )
    };
    food.packs.iter().map(price).min()
}
