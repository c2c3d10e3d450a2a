//! Mass: what comes out against what went in, how much water a dry food gets, and how much of it it drinks.

use larderwright_model::{Family, FoodId};
use larderwright_reference::{Nutrient, food};

use super::batch::{Batch, is_liquid, permille};
use super::rules;
use crate::notes::Notes;

/// Water per thousand of dry food that is taken up whole.
const DRUNK: std::ops::RangeInclusive<i64> = 1000..=5000;
/// Water per thousand of dry food that is poured away in part, soaking included.
const POURED: std::ops::RangeInclusive<i64> = 2500..=15_000;
/// Steam and what clings, per thousand of what stays in the pot.
const LOST_MAX: i64 = 500;

pub(super) fn check(batch: &Batch<'_>, notes: &mut Notes) {
    let (kept, output) = (batch.kept(), batch.output());
    let most = kept + batch.poured();
    if batch
        .way
        .yields
        .high
        .of(batch.x, larderwright_quantity::Rounding::Down)
        > most
    {
        let says = "the high end of the yield is more than all that went in";
        notes.say(&rules::MASS, batch.subject(), says).evidence =
            format!("{} ‰ of the driver went in", permille(most, batch.x));
    }
    let lost = permille(kept.saturating_sub(output), kept);
    if lost > LOST_MAX {
        notes
            .say(&rules::EVAPORATION, batch.subject(), "much gets lost on the way")
            .evidence = format!("{lost} ‰ of what stays in the pot, at most {LOST_MAX}");
    }
    if dry(batch) {
        liquid(batch, notes);
        water_balance(batch, notes);
    }
}

/// Whether the driver is a dry grain or pulse.
fn dry(batch: &Batch<'_>) -> bool {
    matches!(batch.component.family, Family::Grain | Family::Pulse)
        && batch.way.driver.as_str().ends_with("-dry")
}

fn liquid(batch: &Batch<'_>, notes: &mut Notes) {
    let water = permille(batch.liquid(), batch.x);
    let poured = batch
        .way
        .inputs
        .iter()
        .any(|input| input.drained && is_liquid(&input.food));
    let band = if poured { POURED } else { DRUNK };
    if !band.contains(&water) {
        notes
            .say(&rules::LIQUID, batch.subject(), "an odd amount of water")
            .evidence = format!(
            "{water} ‰ of the dry food, usual {} to {}",
            band.start(),
            band.end()
        );
    }
}

fn water_balance(batch: &Batch<'_>, notes: &mut Notes) {
    let Some((bound, cooked)) = balance(&batch.way.driver) else {
        return;
    };
    let likely = batch.way.yields.likely.permille();
    let plain = batch.kept() - batch.liquid() - batch.x;
    let others = permille(plain.max(larderwright_quantity::Mass::ZERO), batch.x);
    if likely * 100 < bound * 70 || likely * 100 > (bound + others) * 101 {
        notes
            .say(
                &rules::YIELD,
                batch.subject(),
                "the yield is far from the water balance",
            )
            .evidence = format!("{likely} ‰ likely, {bound} ‰ by the water of `{cooked}`");
    }
}

/// Output per thousand of a dry food if nothing but water went in, and the cooked food it was computed from.
fn balance(dry: &FoodId) -> Option<(i64, &'static str)> {
    let dry = food(dry.as_str())?;
    let cooked = dry.other_states().find(|row| row.state == "cooked")?;
    let solids = |row: &larderwright_reference::FoodRow| {
        let water = i64::from(row.nutrient(Nutrient::Water)?);
        (water < 100_000).then_some(100_000 - water)
    };
    Some((solids(dry)? * 1000 / solids(cooked)?, cooked.id))
}
