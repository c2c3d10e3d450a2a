//! Plates: mass, energy, protein and money of a usual adult's plate, for the first options of a meal and for
//! every other option in the place of the first.

use larderwright_model::{ElementOption, Item, Meal, Need};
use larderwright_quantity::{Mass, Rounding, mul_div};
use larderwright_reference::{Nutrient, food};

use super::band::{Band, plate};
use super::batch::Batch;
use super::worth::{figure, micro_minor, minor_per_100_g};
use super::{Pantry, rules};
use crate::notes::Notes;
use crate::rules::Rule;

/// What is on a plate; `None` is not known.
#[derive(Clone, Copy)]
struct Plate {
    mass: Mass,
    kcal_thousandths: Option<i64>,
    protein_mg: Option<i64>,
    minor_millionths: Option<i64>,
}

impl Plate {
    const EMPTY: Self = Self {
        mass: Mass::ZERO,
        kcal_thousandths: Some(0),
        protein_mg: Some(0),
        minor_millionths: Some(0),
    };

    fn with(self, more: Self) -> Self {
        let sum = |one: Option<i64>, other: Option<i64>| Some(one? + other?);
        Self {
            mass: self.mass + more.mass,
            kcal_thousandths: sum(self.kcal_thousandths, more.kcal_thousandths),
            protein_mg: sum(self.protein_mg, more.protein_mg),
            minor_millionths: sum(self.minor_millionths, more.minor_millionths),
        }
    }
}

pub(super) fn check(meal: &Meal, pantry: Pantry<'_>, notes: &mut Notes) {
    let filled: Vec<_> = meal
        .elements
        .iter()
        .filter(|element| element.need != Need::Optional)
        .collect();
    for (at, element) in filled.iter().enumerate() {
        for option in &element.options {
            let options = filled.iter().enumerate().filter_map(|(other, element)| {
                if at == other {
                    Some(option)
                } else {
                    element.options.first()
                }
            });
            let plate = options.fold(Plate::EMPTY, |sum, option| sum.with(on_plate(option, pantry)));
            let subject = format!("{}/{}/{}", meal.id, element.id, option.item.as_str());
            judge(meal, &plate, &subject, notes);
        }
    }
}

fn judge(meal: &Meal, plate_now: &Plate, subject: &str, notes: &mut Notes) {
    let usual = plate(&meal.at);
    let mut look = |rule: &Rule, value: Option<i64>, band: Band, of: &str| {
        if let Some(value) = value.filter(|value| !band.holds(*value)) {
            notes
                .say(rule, subject, format!("an unusual amount of {of} on the plate"))
                .evidence = format!("{value}, usual {} to {}", band.low, band.high);
        }
    };
    let down = |value: Option<i64>, by: i64| value.map(|value| mul_div(value, 1, by, Rounding::Nearest));
    let grams = plate_now.mass.g(Rounding::Nearest);
    look(&rules::PLATE, Some(grams), usual.grams, "food, in g");
    look(
        &rules::PLATE_ENERGY,
        down(plate_now.kcal_thousandths, 1000),
        usual.kcal,
        "energy, in kcal",
    );
    let protein = Band {
        low: usual.protein_g,
        high: 100,
    };
    look(
        &rules::PLATE_PROTEIN,
        down(plate_now.protein_mg, 1000),
        protein,
        "protein, in g",
    );
    look(
        &rules::PLATE_COST,
        down(plate_now.minor_millionths, 1_000_000),
        usual.minor,
        "money, in hundredths",
    );
}

fn on_plate(option: &ElementOption, pantry: Pantry<'_>) -> Plate {
    let of = |per_100_g: Option<i64>| {
        per_100_g.map(|value| mul_div(value, option.portion.mg(), 100_000, Rounding::Nearest))
    };
    let (energy, protein, money) = match &option.item {
        Item::Food(id) => {
            let row = food(id.as_str());
            let read = |nutrient| row.and_then(|row| row.nutrient(nutrient)).map(i64::from);
            let bought = pantry.foods.get(id);
            (
                of(read(Nutrient::Energy)),
                of(read(Nutrient::Protein)),
                bought.and_then(|food| micro_minor(food, option.portion)),
            )
        }
        Item::Component(id) => match pantry
            .components
            .get(id)
            .and_then(|it| Some((it, it.ways.first()?)))
        {
            None => (None, None, None),
            Some((component, way)) => {
                let batch = Batch {
                    component,
                    way,
                    x: way.size.max,
                    foods: pantry.foods,
                };
                let money = minor_per_100_g(&batch).map(|minor| minor * 1_000_000);
                (
                    of(figure(&batch, Nutrient::Energy)),
                    of(figure(&batch, Nutrient::Protein)),
                    of(money),
                )
            }
        },
    };
    Plate {
        mass: option.portion,
        kcal_thousandths: energy,
        protein_mg: protein,
        minor_millionths: money,
    }
}
