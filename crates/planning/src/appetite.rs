//! Appetite: how much an eater eats relative to a usual adult.
//!
//! Computed appetites rest on the estimated energy requirement (EER) of the Institute of Medicine,
//! Dietary Reference Intakes for Energy (2005), relative to 2,000 kcal. The coefficients are the
//! published decimals times a hundred, so that whole numbers do.

use larderwright_model::{Appetite, Eater, Physique, Sex, Snapshot};
use larderwright_quantity::{Permille, Rounding, mul_div};

/// The energy that a usual adult portion stands for.
const USUAL_KCAL: i64 = 2000;

/// The estimated energy requirement in kcal a day, to the nearest.
///
/// Source: IOM 2005, chapter 5: adults from 19, boys and girls 9-18 and 3-8. Below three years the
/// equation for 13-35 months is used: `89 w - 100 + 20`.
#[must_use]
pub fn energy_kcal(body: &Physique) -> i64 {
    let level = usize::from(body.activity.min(3));
    // Terms below are in kcal * 10,000: coefficient * 100 times activity * 100.
    let weight = |per_kg: i64| per_kg * body.weight_hg / 10;
    let height = |per_m: i64| per_m * body.height_cm / 100;
    let equation = |fixed: i64, per_year: i64, activity: i64, body_part: i64| {
        mul_div(
            fixed * 100 - per_year * body.age * 100 + activity * body_part,
            1,
            10_000,
            Rounding::Nearest,
        )
    };
    match (body.sex, body.age) {
        (_, ..3) => mul_div(89 * body.weight_hg, 1, 10, Rounding::Nearest) - 100 + 20,
        (Sex::Male, 3..=18) => {
            let growth = if body.age < 9 { 20 } else { 25 };
            equation(
                8850 + growth * 100,
                6190,
                [100, 113, 126, 142][level],
                weight(2670) + height(90_300),
            )
        }
        (Sex::Female, 3..=18) => {
            let growth = if body.age < 9 { 20 } else { 25 };
            equation(
                13_530 + growth * 100,
                3080,
                [100, 116, 131, 156][level],
                weight(1000) + height(93_400),
            )
        }
        (Sex::Male, _) => equation(
            66_200,
            953,
            [100, 111, 125, 148][level],
            weight(1591) + height(53_960),
        ),
        (Sex::Female, _) => equation(
            35_400,
            691,
            [100, 112, 127, 145][level],
            weight(936) + height(72_600),
        ),
    }
}

/// The factor on a usual adult portion, as the household's own sittings have corrected it.
#[must_use]
pub fn factor_here(snapshot: &Snapshot, eater: &Eater) -> Permille {
    let habit = snapshot.habits.get(&eater.id).copied().unwrap_or(Permille::ONE);
    Permille::from_permille(mul_div(
        factor(eater).permille(),
        habit.permille(),
        1000,
        Rounding::Nearest,
    ))
}

/// The factor on a usual adult portion.
#[must_use]
pub fn factor(eater: &Eater) -> Permille {
    match &eater.appetite {
        Appetite::Computed(body) => {
            Permille::from_permille(mul_div(energy_kcal(body), 1000, USUAL_KCAL, Rounding::Nearest))
        }
        stated => stated.stated().expect("an appetite is either stated or computed"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn body(sex: Sex, age: i64, height_cm: i64, weight_hg: i64, activity: u8) -> Physique {
        Physique {
            age,
            sex,
            height_cm,
            weight_hg,
            activity,
        }
    }

    /// IOM 2005, table of EER for men and women 30 years of age: rows 1.50, 1.65 and 1.80 m at
    /// BMI 18.5, columns sedentary to very active.
    #[test]
    fn the_published_table_for_thirty_years_is_met_within_three_kcal() {
        let rows = [
            (150, 416, [1848, 2009, 2215, 2554], [1625, 1803, 2025, 2291]),
            (165, 504, [2068, 2254, 2490, 2880], [1816, 2016, 2267, 2567]),
            (180, 599, [2301, 2513, 2782, 3225], [2015, 2239, 2519, 2855]),
        ];
        for (height, weight, men, women) in rows {
            for activity in 0..4u8 {
                let man = energy_kcal(&body(Sex::Male, 30, height, weight, activity));
                let woman = energy_kcal(&body(Sex::Female, 30, height, weight, activity));
                assert!(
                    (man - men[usize::from(activity)]).abs() <= 3,
                    "man {height} cm: {man}"
                );
                assert!(
                    (woman - women[usize::from(activity)]).abs() <= 3,
                    "woman {height} cm: {woman}"
                );
            }
        }
    }

    /// Worked example for the 2005 equations: woman, 30 years, 65 kg, 1.65 m, low active: 2,169.8 kcal.
    #[test]
    fn the_worked_example_is_met() {
        assert_eq!(energy_kcal(&body(Sex::Female, 30, 165, 650, 1)), 2170);
    }

    #[test]
    fn a_child_eats_less_than_a_grown_man() {
        let child = energy_kcal(&body(Sex::Female, 6, 115, 200, 1));
        let man = energy_kcal(&body(Sex::Male, 40, 180, 800, 1));
        assert!(child * 10 < man * 7, "{child} against {man}");
    }
}
