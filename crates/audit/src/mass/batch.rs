//! The mass of batches, lots and portions.

use std::collections::BTreeMap;

use larderwright_model::{Batch, Food, FoodId, Item, PortionSource, SizeStep, Way};
use larderwright_quantity::{Mass, Rounding};

use crate::book::Book;
use crate::notes::Notes;
use crate::rules;

/// Trim is computed with rounding on both sides; this much is rounding.
const TRIM_SLACK: Mass = Mass::from_mg(100);
/// Spoons and small scales measure to half of this at best.
const SPOON: Mass = Mass::from_mg(250);
/// Half the step of a kitchen scale that shows five grams.
const SCALE: Mass = Mass::from_mg(2_500);
/// From here on a cook reads the scale in steps of five grams.
const SCALE_FROM: Mass = Mass::from_g(20);

pub(super) fn check(book: &Book<'_>, notes: &mut Notes) {
    for batch in &book.plan.batches {
        if let Some(way) = book.way(batch) {
            yields(batch, way, notes);
            inputs(book, batch, way, notes);
            size(book, batch, way, notes);
        }
        trim(book, batch, notes);
        lots(book, batch, notes);
    }
    for lot in &book.plan.lots {
        let drawn = book.drawn(&lot.id);
        if drawn > lot.mass {
            notes
                .say(
                    &rules::MASS_LOT_DRAWN,
                    &lot.id,
                    "plates take more than the lot holds",
                )
                .evidence = pair("drawn", drawn, "in the lot", lot.mass);
        }
    }
    portions(book, notes);
}

fn yields(batch: &Batch, way: &Way, notes: &mut Notes) {
    let law = [way.yields.low, way.yields.likely, way.yields.high];
    for (said, part) in batch.yields.iter().zip(law) {
        let due = part.of(batch.x, Rounding::Down);
        if *said != due {
            notes
                .say(&rules::MASS_YIELD_LAW, &batch.id, "the yield is not the law's")
                .evidence = pair("stated", *said, "by law", due);
        }
    }
}

fn inputs(book: &Book<'_>, batch: &Batch, way: &Way, notes: &mut Notes) {
    let mut due: BTreeMap<&FoodId, Mass> = BTreeMap::new();
    for input in &way.inputs {
        let mass = input.fixed + input.per_kg.scale(batch.x.mg(), 1_000_000, Rounding::Nearest);
        *due.entry(&input.food).or_default() += mass;
    }
    let mut put: BTreeMap<&FoodId, Mass> = BTreeMap::new();
    for input in &batch.inputs {
        *put.entry(&input.food).or_default() += input.ep;
        due.entry(&input.food).or_default();
    }
    for (food, law) in due {
        let mass = put.get(food).copied().unwrap_or_default();
        let slack = book.food(food).map_or(Mass::ZERO, |food| slack(food, way, law));
        if (mass - law).abs() > slack || (law.is_positive() && !put.contains_key(food)) {
            notes
                .say(
                    &rules::MASS_INPUTS_LAW,
                    &batch.id,
                    format!("`{food}` does not follow its law"),
                )
                .evidence = pair("goes in", mass, "by law", law);
        }
    }
}

/// How far an input may stray: a tenth, what a spoon or scale cannot tell, one counted unit, one pack of a driver
/// sold by the pack.
fn slack(food: &Food, way: &Way, law: Mass) -> Mass {
    let tenth = law.scale(1, 10, Rounding::Up);
    let unit = food.unit_edible().unwrap_or_default();
    let by_pack = way.driver == food.id && way.size.step == SizeStep::Pack;
    let pack = food
        .packs
        .first()
        .filter(|_| by_pack)
        .map(|pack| food.edible.value.of(pack.size.mass, Rounding::Up));
    let measured = if law < SCALE_FROM { SPOON } else { SCALE };
    tenth.max(measured).max(unit).max(pack.unwrap_or_default())
}

fn size(book: &Book<'_>, batch: &Batch, way: &Way, notes: &mut Notes) {
    let limits = way.size;
    let inside = limits.min <= batch.x && batch.x <= limits.max;
    let driver = book.food(&way.driver);
    let on_step = match limits.step {
        SizeStep::Mass(step) => on_grid(batch.x, step) || on_grid(batch.x - limits.min, step),
        SizeStep::Unit => driver
            .and_then(Food::unit_edible)
            .is_some_and(|unit| on_grid(batch.x, unit)),
        SizeStep::Pack => driver.is_some_and(|food| whole_packs(food, batch.x)),
    };
    if !inside || !on_step {
        notes
            .say(
                &rules::MASS_BATCH_SIZE,
                &batch.id,
                "the batch has a size that its way does not have",
            )
            .evidence = format!(
            "{} mg, allowed {} to {} mg in steps",
            batch.x.mg(),
            limits.min.mg(),
            limits.max.mg()
        );
    }
}

fn on_grid(mass: Mass, step: Mass) -> bool {
    step.is_positive() && mass.mg() % step.mg() == 0
}

fn whole_packs(food: &Food, x: Mass) -> bool {
    food.packs.iter().any(|pack| {
        let count = food
            .edible
            .value
            .undo(x, Rounding::Up)
            .div_ceil_by(pack.size.mass);
        let one = food.edible.value.of(pack.size.mass, Rounding::Down);
        let all = food.edible.value.of(pack.size.mass.times(count), Rounding::Down);
        on_grid(x, one) || x == all
    })
}

fn trim(book: &Book<'_>, batch: &Batch, notes: &mut Notes) {
    for input in &batch.inputs {
        let Some(food) = book.food(&input.food) else {
            continue;
        };
        let due = food.edible.value.undo(input.ep, Rounding::Up);
        let slack = food
            .unit
            .as_ref()
            .map_or(TRIM_SLACK, |unit| unit.mass.max(TRIM_SLACK));
        if (input.ap - due).abs() > slack || input.ap < input.ep {
            notes
                .say(
                    &rules::MASS_TRIM,
                    &batch.id,
                    format!("`{}` has not the trim of the food", input.food),
                )
                .evidence = pair("as purchased", input.ap, "by its edible portion", due);
        }
    }
}

fn lots(book: &Book<'_>, batch: &Batch, notes: &mut Notes) {
    let own: Vec<_> = book
        .plan
        .lots
        .iter()
        .filter(|lot| lot.origin == batch.id)
        .collect();
    let sum: Mass = own.iter().map(|lot| lot.mass).sum();
    if sum != batch.yields[1] || own.iter().any(|lot| !lot.mass.is_positive()) {
        notes
            .say(
                &rules::MASS_LOTS_SUM,
                &batch.id,
                "the lots do not add up to the yield",
            )
            .evidence = pair("lots", sum, "yield", batch.yields[1]);
    }
    let drawn: Mass = own.iter().map(|lot| book.drawn(&lot.id)).sum();
    if drawn != batch.demand {
        notes
            .say(
                &rules::MASS_DEMAND,
                &batch.id,
                "the demand is not what plates draw",
            )
            .evidence = pair("stated", batch.demand, "drawn", drawn);
    }
}

fn portions(book: &Book<'_>, notes: &mut Notes) {
    for (plate, portion) in book.portions() {
        let own = match (&portion.source, &portion.item) {
            (PortionSource::Food(food), Item::Food(item)) => food == item,
            (PortionSource::Lot(lot), Item::Component(item)) => {
                let batch = book.lot(lot).and_then(|lot| book.batch(&lot.origin));
                batch.is_none_or(|batch| batch.component == *item)
            }
            _ => false,
        };
        if !own || !portion.mass.is_positive() {
            notes
                .say(
                    &rules::MASS_PORTION,
                    &plate.sitting,
                    format!(
                        "the portion of `{}` has no mass or comes from something else",
                        portion.item.as_str()
                    ),
                )
                .evidence = format!("{} mg", portion.mass.mg());
        }
    }
}

/// Two masses as evidence, to the milligram.
pub(super) fn pair(first: &str, measured: Mass, second: &str, allowed: Mass) -> String {
    format!("{first} {} mg, {second} {} mg", measured.mg(), allowed.mg())
}
