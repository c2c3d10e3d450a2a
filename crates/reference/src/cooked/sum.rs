//! The arithmetic of [`super::cooked`]: what stays of each input, and the sums. Parts per million inside, so
//! that the only rounding that shows is the last one.

use larderwright_quantity::{Mass, Rounding, mul_div};

use super::{Basis, Figure, Input, NEGLIGIBLE_PERMILLE, NEGLIGIBLE_SODIUM_PERMILLE, Nutrients};
use crate::food::NUTRIENTS;
use crate::nutrient::Nutrient;
use crate::retention::{self, Method};

const MILLION: i128 = 1_000_000;

/// Thousandths per 100 g are parts of this many of the mass, for nutrients counted in grams.
const WHOLE: i128 = 100_000;

/// Energy of a gram of fat and of alcohol, in kilocalories: Regulation (EU) No 1169/2011, Annex XIV, from memory.
const KCAL_PER_G_FAT: i128 = 9;
const KCAL_PER_G_ALCOHOL: i128 = 7;

/// An input of which something stays, with its shares.
struct Part<'a> {
    input: &'a Input,
    basis: Basis,
    /// What stays, in milligrams.
    mg: i128,
    /// Parts per million kept of its fat.
    fat_ppm: i128,
}

pub(super) fn sum(inputs: &[Input], output: Mass, method: Method) -> Nutrients {
    let uptake = Uptake::of(inputs, output);
    let parts: Vec<Part<'_>> = inputs
        .iter()
        .map(|input| part(input, uptake, method))
        .filter(|part| part.mg > 0)
        .collect();
    let mut figures = Nutrient::ALL.map(|nutrient| figure(&parts, nutrient, output));
    if uptake.taken == 0 {
        salt_seeps_in(inputs, &mut figures);
    }
    Nutrients {
        method,
        basis: parts.into_iter().map(|part| part.basis).collect(),
        figures,
    }
}

/// How much of the liquid that is poured away the food has taken up: `taken` of `liquid`.
#[derive(Clone, Copy)]
struct Uptake {
    taken: i64,
    liquid: i64,
}

impl Uptake {
    fn of(inputs: &[Input], output: Mass) -> Self {
        let mass = |wanted: &dyn Fn(&Input) -> bool| -> i64 {
            inputs
                .iter()
                .filter(|input| wanted(input))
                .map(|input| input.mass.mg())
                .sum()
        };
        let kept = mass(&|input| !input.drained);
        let liquid = mass(&|input| input.drained && input.ingredient.group.dissolves());
        Self {
            taken: (output.mg() - kept).clamp(0, liquid),
            liquid,
        }
    }

    fn stays(self, input: &Input) -> Mass {
        match (input.drained, input.ingredient.group.dissolves()) {
            (false, _) => input.mass,
            (true, true) if self.liquid > 0 => Mass::from_mg(mul_div(
                input.mass.mg(),
                self.taken,
                self.liquid,
                Rounding::Nearest,
            )),
            (true, _) => Mass::ZERO,
        }
    }
}

fn part(input: &Input, uptake: Uptake, method: Method) -> Part<'_> {
    let stayed = uptake.stays(input);
    let food = &input.ingredient.food;
    let fat_lost = retention::fat_lost(food.as_str(), method);
    let fat_ppm = match (fat_lost, input.ingredient.composition[Nutrient::Fat as usize]) {
        (Some(lost), Some(fat)) if fat > 0 => {
            let lost_ppm = i128::from(lost.per_10000) * 10 * MILLION / i128::from(fat);
            (MILLION - lost_ppm).max(0)
        }
        _ => MILLION,
    };
    Part {
        input,
        basis: Basis {
            food: food.clone(),
            source: input.ingredient.source.clone(),
            factors: retention::factors(input.ingredient.group, method),
            fat_lost,
            stayed,
        },
        mg: i128::from(stayed.mg()),
        fat_ppm,
    }
}

impl Part<'_> {
    fn raw(&self, nutrient: Nutrient) -> Option<i128> {
        self.input.ingredient.composition[nutrient as usize].map(i128::from)
    }

    /// Parts per million kept of a nutrient.
    fn kept_ppm(&self, nutrient: Nutrient) -> i128 {
        match nutrient {
            Nutrient::Fat
            | Nutrient::Saturates
            | Nutrient::Monounsaturates
            | Nutrient::Polyunsaturates
            | Nutrient::TransFat => self.fat_ppm,
            other => self
                .basis
                .factors
                .and_then(|factors| factors.percent(other))
                .map_or(MILLION, |percent| i128::from(percent) * 10_000),
        }
    }

    /// What leaves the pot of a nutrient counted in grams, in thousandths per 100 g times parts per million.
    fn lost(&self, nutrient: Nutrient) -> i128 {
        self.raw(nutrient).unwrap_or(0) * (MILLION - self.kept_ppm(nutrient))
    }

    /// What it brings per 100 g of itself, in thousandths times parts per million; of water, what it brings
    /// that is not water.
    fn brings(&self, nutrient: Nutrient) -> Option<i128> {
        let raw = self.raw(nutrient)?;
        let (fat, alcohol) = (self.lost(Nutrient::Fat), self.lost(Nutrient::Alcohol));
        Some(match nutrient {
            Nutrient::Energy => {
                let gone = fat * KCAL_PER_G_FAT + alcohol * KCAL_PER_G_ALCOHOL;
                (raw * MILLION - gone).max(0)
            }
            Nutrient::Water => (WHOLE - raw) * MILLION - fat - alcohol,
            other => raw * self.kept_ppm(other),
        })
    }
}

fn figure(parts: &[Part<'_>], nutrient: Nutrient, output: Mass) -> Figure {
    let output = i128::from(output.mg());
    let (mut sum, mut unknown) = (0_i128, 0_i128);
    for part in parts {
        match part.brings(nutrient) {
            Some(brings) => sum += brings * part.mg,
            None => unknown += part.mg,
        }
    }
    let per_100_g = (2 * sum + output * MILLION) / (2 * output * MILLION);
    let per_100_g = match nutrient {
        Nutrient::Water => (WHOLE - per_100_g).max(0),
        _ => per_100_g,
    };
    let limit = match nutrient {
        Nutrient::Sodium => NEGLIGIBLE_SODIUM_PERMILLE,
        _ => NEGLIGIBLE_PERMILLE,
    };
    let value = i64::try_from(per_100_g).expect("a figure per 100 g fits 64 bits");
    match unknown * 1000 {
        0 => Figure::Known(value),
        some if some < i128::from(limit) * output => Figure::AtLeast(value),
        _ => Figure::Unknown,
    }
}

/// Salted water that nothing was taken up of still salts the food.
fn salt_seeps_in(inputs: &[Input], figures: &mut [Figure; NUTRIENTS]) {
    let salted = inputs.iter().any(|input| {
        let sodium = input.ingredient.composition[Nutrient::Sodium as usize];
        input.drained
            && input.mass > Mass::ZERO
            && input.ingredient.group == retention::Group::Soluble
            && sodium != Some(0)
    });
    let sodium = &mut figures[Nutrient::Sodium as usize];
    if let (true, Figure::Known(value)) = (salted, *sodium) {
        *sodium = Figure::AtLeast(value);
    }
}
