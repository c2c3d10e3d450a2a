//! The batches stage: how much of each component to make, and what goes into it.
//!
//! A batch is sized so that the yield covers the demand nine times in ten, on the batch's own step;
//! inputs follow their laws and are rounded to what a cook can measure.

use std::collections::BTreeMap;

use larderwright_model::{
    Answer, Batch, BatchId, BatchInput, Component, ComponentId, Conflict, Demand, Food, Input, Item, Kitchen,
    Report, SessionId, SizeStep, Snapshot, Stage, Supply, Way, Yield,
};
use larderwright_quantity::{Mass, Permille, Rounding, mul_div};

use crate::{allocation, facts};

/// The stated chance that a batch is enough: nine times in ten.
const CONFIDENCE: i64 = 900;

/// What the batches stage hands on.
#[derive(Clone, Debug)]
pub struct BatchesResult {
    /// Batches by session and component.
    pub batches: Vec<Batch>,
    /// Why.
    pub report: Report,
}

/// Sizes all batches.
///
/// # Errors
/// A component whose smallest useful batch no pot or tray here can hold.
pub fn size(snapshot: &Snapshot, demand: &Demand) -> Result<BatchesResult, Conflict> {
    let mut wanted: BTreeMap<(SessionId, ComponentId), Mass> = BTreeMap::new();
    for draw in &demand.draws {
        if let (Item::Component(component), Supply::Made { session, .. }) = (&draw.item, &draw.supply) {
            *wanted
                .entry((session.clone(), component.clone()))
                .or_insert(Mass::ZERO) += draw.mass;
        }
    }
    let mut batches = Vec::new();
    for ((session, id), mass) in &wanted {
        let component = &snapshot.components[id];
        batches.extend(batches_of(snapshot, component, session, *mass)?);
    }
    state_draws(demand, &mut batches)?;
    let report = report(&batches);
    Ok(BatchesResult { batches, report })
}

/// Where a component takes two batches, each states what plates really draw from it.
fn state_draws(demand: &Demand, batches: &mut [Batch]) -> Result<(), Conflict> {
    let allocation = allocation::allocate(demand, batches)?;
    let mut drawn = vec![Mass::ZERO; batches.len()];
    for (draw, batch) in demand.draws.iter().zip(allocation) {
        if let Some(batch) = batch {
            drawn[batch] += draw.mass;
        }
    }
    for (batch, drawn) in batches.iter_mut().zip(drawn) {
        batch.demand = drawn;
    }
    Ok(())
}

fn report(batches: &[Batch]) -> Report {
    let line = |batch: &Batch| {
        let spare = batch.yields[1] - batch.demand;
        format!(
            "{}: {} g wanted, about {} g made, {} g to spare, enough {} times in 100",
            batch.id,
            batch.demand.g(Rounding::Nearest),
            batch.yields[1].g(Rounding::Nearest),
            spare.g(Rounding::Nearest),
            batch.confidence.permille() / 10
        )
    };
    Report {
        stage: Stage::Batches,
        answer: Answer::Computed,
        chosen: batches.iter().map(line).collect(),
        rejected: Vec::new(),
    }
}

fn batches_of(
    snapshot: &Snapshot,
    component: &Component,
    session: &SessionId,
    demand: Mass,
) -> Result<Vec<Batch>, Conflict> {
    let kitchen = &snapshot.household.kitchen;
    let way =
        facts::way_here(component, kitchen).expect("the menu only uses components this kitchen can make");
    let (min, step) = min_and_step(snapshot, way);
    let max = largest(kitchen, way, min, step);
    let quantile = quantile(&way.yields, 1000 - CONFIDENCE);
    let whole = quantile.undo(demand, Rounding::Up);
    let count = whole.div_ceil_by(max).max(1);
    let mut batches = Vec::new();
    let mut left = demand;
    for number in 1..=count {
        let share = if number == count {
            left
        } else {
            demand.scale(1, count, Rounding::Up)
        };
        left -= share;
        let x = quantile
            .undo(share, Rounding::Up)
            .round_to(step, Rounding::Up)
            .max(min);
        let suffix = if number == 1 {
            String::new()
        } else {
            format!("+{number}")
        };
        let id = BatchId::new(&format!("{}@{session}{suffix}", component.id));
        batches.push(batch(snapshot, component, way, (id, session), (x, share))?);
    }
    Ok(batches)
}

fn batch(
    snapshot: &Snapshot,
    component: &Component,
    way: &Way,
    (id, session): (BatchId, &SessionId),
    (x, demand): (Mass, Mass),
) -> Result<Batch, Conflict> {
    let kitchen = &snapshot.household.kitchen;
    let plans: Option<Vec<i64>> = way
        .steps
        .iter()
        .map(|step| step.load_plan(x, kitchen).map(|plan| plan.loads))
        .collect();
    let Some(loads) = plans else {
        return Err(no_room(component, x));
    };
    let inputs = way
        .inputs
        .iter()
        .map(|input| batch_input(snapshot, way, input, x));
    Ok(Batch {
        id,
        component: component.id.clone(),
        way: way.id.clone(),
        session: session.clone(),
        x,
        inputs: inputs.collect(),
        yields: [way.yields.low, way.yields.likely, way.yields.high]
            .map(|permille| permille.of(x, Rounding::Down)),
        demand,
        confidence: confidence(&way.yields, demand, x),
        loads: loads.into_iter().max().unwrap_or(1),
    })
}

fn no_room(component: &Component, x: Mass) -> Conflict {
    Conflict {
        stage: Stage::Batches,
        message: format!(
            "no pot or tray here holds {} g for {}",
            x.g(Rounding::Up),
            component.name.to_lowercase()
        ),
        wishes: vec![format!("{} are on the menu", component.name.to_lowercase())],
        mends: vec![
            "add a larger pot or another tray".into(),
            format!("switch {} off", component.id),
        ],
    }
}

/// The smallest batch and the step it grows by, in edible portion of the driver.
#[must_use]
pub fn min_and_step(snapshot: &Snapshot, way: &Way) -> (Mass, Mass) {
    let step = match way.size.step {
        SizeStep::Mass(step) => step,
        SizeStep::Pack => snapshot
            .foods
            .get(&way.driver)
            .and_then(pack_edible)
            .unwrap_or(way.size.min),
        SizeStep::Unit => snapshot
            .foods
            .get(&way.driver)
            .and_then(Food::unit_edible)
            .unwrap_or(way.size.min),
    };
    let step = if step.is_positive() { step } else { Mass::from_g(1) };
    (way.size.min.round_to(step, Rounding::Up).max(step), step)
}

/// The drained contents of the smallest pack.
fn pack_edible(food: &Food) -> Option<Mass> {
    let pack = food.packs.first()?;
    Some(food.edible.value.of(pack.size.mass, Rounding::Down))
}

/// The largest batch within the recipe's limit for which every step still fits this kitchen.
fn largest(kitchen: &Kitchen, way: &Way, min: Mass, step: Mass) -> Mass {
    let mut x = way.size.max.round_to(step, Rounding::Down).max(min);
    while x > min && !way.steps.iter().all(|each| each.load_plan(x, kitchen).is_some()) {
        x = (x - step).max(min);
    }
    x
}

/// The yield that is reached or passed in all but `short` of a thousand cases, from the triangle
/// low, likely, high.
fn quantile(yields: &Yield, short: i64) -> Permille {
    let (low, likely, high) = (
        yields.low.permille(),
        yields.likely.permille(),
        yields.high.permille(),
    );
    let rise = likely - low;
    // P(Y < low + t) = t^2 / (rise * span), so t = sqrt(short * rise * span).
    let square = mul_div(short * rise, high - low, 1000, Rounding::Down);
    let t = square.max(0).isqrt();
    Permille::from_permille(low + t.min(rise))
}

/// The chance, per thousand, that `x` yields at least `demand`.
fn confidence(yields: &Yield, demand: Mass, x: Mass) -> Permille {
    let (low, likely, high) = (
        yields.low.permille(),
        yields.likely.permille(),
        yields.high.permille(),
    );
    let need = mul_div(demand.mg(), 1000, x.mg().max(1), Rounding::Up);
    let span = (high - low).max(1);
    let chance = if need <= low {
        1000
    } else if need <= likely {
        1000 - mul_div(
            (need - low) * (need - low),
            1000,
            (likely - low).max(1) * span,
            Rounding::Up,
        )
    } else if need < high {
        mul_div(
            (high - need) * (high - need),
            1000,
            (high - likely).max(1) * span,
            Rounding::Down,
        )
    } else {
        0
    };
    Permille::from_permille(chance)
}

fn batch_input(snapshot: &Snapshot, way: &Way, input: &Input, x: Mass) -> BatchInput {
    let food = &snapshot.foods[&input.food];
    let slope = mul_div(input.per_kg.mg(), x.mg(), 1_000_000, Rounding::Nearest);
    let law = input.fixed + Mass::from_mg(slope);
    let (ap, ep) =
        if input.food == way.driver && input.fixed == Mass::ZERO && input.per_kg == Mass::from_g(1000) {
            driver_amount(food, way, x)
        } else {
            measured_amount(food, law)
        };
    BatchInput {
        food: food.id.clone(),
        ap,
        ep,
        drained: input.drained,
        prep: input.prep.clone(),
    }
}

/// The driver goes in exactly; whole packs and units as they are sold.
fn driver_amount(food: &Food, way: &Way, x: Mass) -> (Mass, Mass) {
    let whole = |one_edible: Mass, one: Mass| one.times(x.div_ceil_by(one_edible));
    let ap = match (way.size.step, pack_edible(food), food.unit_edible(), &food.unit) {
        (SizeStep::Pack, Some(edible), _, _) if edible.is_positive() => {
            whole(edible, food.packs[0].size.mass)
        }
        (SizeStep::Unit, _, Some(edible), Some(unit)) if edible.is_positive() => whole(edible, unit.mass),
        _ => food.edible.value.undo(x, Rounding::Up),
    };
    (ap, x)
}

/// Other inputs as a cook measures them: halves of what is counted, round grams of what is weighed.
fn measured_amount(food: &Food, law: Mass) -> (Mass, Mass) {
    if let (Some(unit), Some(edible)) = (&food.unit, food.unit_edible()) {
        let half_counts = unit.mass >= Mass::from_g(40);
        let parts = if half_counts { 2 } else { 1 };
        let count = mul_div(law.mg() * parts, 1, edible.mg().max(1), Rounding::Nearest);
        if count >= 1 && edible.mg() * count <= law.mg() * parts * 3 / 2 {
            let ap = Mass::from_mg(unit.mass.mg() * count / parts);
            return (ap, food.edible.value.of(ap, Rounding::Down));
        }
    }
    let ep = law
        .round_to(measure_step(law), Rounding::Nearest)
        .max(Mass::from_mg(10));
    (food.edible.value.undo(ep, Rounding::Up), ep)
}

/// How finely an amount is measured.
fn measure_step(mass: Mass) -> Mass {
    match mass.mg() {
        1_000_000.. => Mass::from_g(50),
        200_000.. => Mass::from_g(10),
        20_000.. => Mass::from_g(5),
        5_000.. => Mass::from_g(1),
        1_000.. => Mass::from_mg(100),
        _ => Mass::from_mg(10),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn yields(low: i64, likely: i64, high: i64) -> Yield {
        let [low, likely, high] = [low, likely, high].map(Permille::from_permille);
        Yield {
            low,
            likely,
            high,
            source: "common practice, no source".into(),
        }
    }

    #[test]
    fn a_batch_sized_by_the_quantile_is_enough_nine_times_in_ten() {
        for (low, likely, high) in [
            (2000, 2220, 2600),
            (970, 1000, 1020),
            (650, 700, 900),
            (1000, 1000, 1000),
        ] {
            let yields = yields(low, likely, high);
            let quantile = quantile(&yields, 1000 - CONFIDENCE);
            assert!((low..=likely).contains(&quantile.permille()), "{quantile:?}");
            for grams in [90, 735, 2400] {
                let demand = Mass::from_g(grams);
                let x = quantile.undo(demand, Rounding::Up);
                assert!(
                    confidence(&yields, demand, x).permille() >= CONFIDENCE - 2,
                    "{yields:?} {grams}"
                );
                assert!(yields.likely.of(x, Rounding::Down) >= demand);
            }
        }
    }

    #[test]
    fn a_larger_batch_is_never_less_surely_enough() {
        let yields = yields(2000, 2300, 2900);
        let demand = Mass::from_g(1000);
        let chances: Vec<i64> = (300..600)
            .map(|x| confidence(&yields, demand, Mass::from_g(x)).permille())
            .collect();
        assert!(chances.is_sorted());
        assert_eq!((chances[0], chances[chances.len() - 1]), (0, 1000));
    }

    #[test]
    fn small_amounts_are_measured_finer_than_large_ones() {
        let steps: Vec<Mass> = [500, 3_000, 12_000, 80_000, 400_000, 3_000_000]
            .map(Mass::from_mg)
            .map(measure_step)
            .into();
        assert!(steps.is_sorted());
        assert!(steps[0] < steps[5]);
    }
}
