//! Figures and what their published numbers mean: which number is which nutrient of ours, in which unit, and exact
//! reading of decimals. A number that stands for none of ours is left out.

use larderwright_reference::{Nutrient, NutrientUnit};

use crate::log::{Trouble, figure_out, row_out};

/// The published number of a nutrient. Where two numbers mean nearly the same, the first of them counts when both
/// are given. Numbers as in NUTR_DEF of the USDA National Nutrient Database for Standard Reference, Release 28;
/// 957 and 958 as in the Foundation foods of FoodData Central; 269.3 and 293 of its `nutrient.csv` from memory.
const NUMBERS: &[(&str, Nutrient)] = &[
    ("255", Nutrient::Water),
    ("208", Nutrient::Energy),
    ("958", Nutrient::Energy),
    ("957", Nutrient::Energy),
    ("203", Nutrient::Protein),
    ("204", Nutrient::Fat),
    ("205", Nutrient::Carbohydrate),
    ("291", Nutrient::Fibre),
    ("293", Nutrient::Fibre),
    ("269", Nutrient::Sugars),
    ("269.3", Nutrient::Sugars),
    ("606", Nutrient::Saturates),
    ("645", Nutrient::Monounsaturates),
    ("646", Nutrient::Polyunsaturates),
    ("605", Nutrient::TransFat),
    ("601", Nutrient::Cholesterol),
    ("307", Nutrient::Sodium),
    ("306", Nutrient::Potassium),
    ("301", Nutrient::Calcium),
    ("303", Nutrient::Iron),
    ("304", Nutrient::Magnesium),
    ("305", Nutrient::Phosphorus),
    ("309", Nutrient::Zinc),
    ("320", Nutrient::VitaminA),
    ("401", Nutrient::VitaminC),
    ("328", Nutrient::VitaminD),
    ("323", Nutrient::VitaminE),
    ("430", Nutrient::VitaminK),
    ("404", Nutrient::Thiamin),
    ("405", Nutrient::Riboflavin),
    ("406", Nutrient::Niacin),
    ("415", Nutrient::VitaminB6),
    ("435", Nutrient::Folate),
    ("418", Nutrient::VitaminB12),
    ("421", Nutrient::Choline),
    ("221", Nutrient::Alcohol),
];

/// A published number with the nutrient it stands for; a lower rank goes before a higher one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Known {
    pub(crate) nutrient: Nutrient,
    pub(crate) number: &'static str,
    pub(crate) rank: usize,
}

/// What a published number stands for; `None` when it is none of ours.
pub(crate) fn known(number: &str) -> Option<Known> {
    let number = number.strip_suffix(".0").unwrap_or(number);
    let at = NUMBERS.iter().position(|(listed, _)| *listed == number)?;
    let (number, nutrient) = NUMBERS[at];
    Some(Known {
        nutrient,
        number,
        rank: at,
    })
}

/// The rank of a number that we wrote ourselves; the last one when we did not.
pub(crate) fn rank(number: &str) -> usize {
    known(number).map_or(NUMBERS.len(), |known| known.rank)
}

/// The unit of a nutrient as FoodData Central writes it.
pub(crate) fn unit_word(nutrient: Nutrient) -> &'static str {
    match nutrient.unit() {
        NutrientUnit::Kilocalorie => "KCAL",
        NutrientUnit::Gram => "G",
        NutrientUnit::Milligram => "MG",
        NutrientUnit::Microgram => "UG",
    }
}

/// A figure per 100 g in thousandths of the nutrient's unit; `None` when the cell is blank: not known.
pub(crate) fn amount(text: &str, nutrient: Nutrient) -> Result<Option<i64>, Trouble> {
    if text.is_empty() {
        return Ok(None);
    }
    let value = decimal(text, 3).ok_or_else(|| figure_out(format!("`{}` is no figure", short(text))))?;
    if value < 0 {
        return Err(figure_out(format!("`{}` is less than nothing", short(text))));
    }
    if value > most(nutrient) {
        return Err(figure_out(format!(
            "`{}` is more than 100 g of food can hold",
            short(text)
        )));
    }
    Ok(Some(value))
}

/// The most that 100 g can hold, in thousandths: 105 g, because analyses and roundings do not add up to 100 exactly,
/// and 1000 kcal, more than pure fat has.
fn most(nutrient: Nutrient) -> i64 {
    match nutrient.unit() {
        NutrientUnit::Kilocalorie => 1_000_000,
        NutrientUnit::Gram => 105_000,
        NutrientUnit::Milligram => 105_000_000,
        NutrientUnit::Microgram => 105_000_000_000,
    }
}

/// How many of a measure weigh how much: thousandths and milligrams.
pub(crate) fn measure(amount: &str, grams: &str) -> Result<(i64, i64), Trouble> {
    let positive = |text: &str, most: i64| decimal(text, 3).filter(|value| (1..=most).contains(value));
    let count = positive(amount, 10_000_000);
    let count = count.ok_or_else(|| row_out(format!("`{}` is no number of measures", short(amount))))?;
    let weight = positive(grams, 100_000_000);
    let weight = weight.ok_or_else(|| row_out(format!("`{}` is no weight in grams", short(grams))))?;
    Ok((count, weight))
}

/// A decimal as a whole number of `10^-places`, half away from zero; `None` for anything else.
pub(crate) fn decimal(text: &str, places: usize) -> Option<i64> {
    let (negative, digits) = text.strip_prefix('-').map_or((false, text), |rest| (true, rest));
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    let all_digits = whole
        .bytes()
        .chain(part.bytes())
        .all(|byte| byte.is_ascii_digit());
    if whole.len() + part.len() == 0 || whole.len() > 12 || !all_digits {
        return None;
    }
    let kept = &part[..part.len().min(places)];
    let value: i64 = format!("0{whole}{kept:0<places$}").parse().ok()?;
    let up = part.as_bytes().get(places).is_some_and(|next| *next >= b'5');
    let value = value + i64::from(up);
    Some(if negative { -value } else { value })
}

/// A text as far as a message has room for it.
pub(crate) fn short(text: &str) -> String {
    let start: String = text.chars().filter(|c| !c.is_control()).take(40).collect();
    if start.len() < text.len() {
        format!("{start}...")
    } else {
        start
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_nutrient_of_ours_has_a_number_and_no_number_two() {
        for nutrient in Nutrient::ALL {
            assert!(
                NUMBERS.iter().any(|(_, listed)| *listed == nutrient),
                "{nutrient:?}"
            );
        }
        for (at, (number, _)) in NUMBERS.iter().enumerate() {
            assert_eq!(rank(number), at);
        }
    }

    #[test]
    fn a_number_may_carry_a_decimal_nought() {
        assert_eq!(known("208.0").map(|it| it.nutrient), Some(Nutrient::Energy));
        assert_eq!(known("269.3").map(|it| it.nutrient), Some(Nutrient::Sugars));
        assert_eq!(known("268"), None, "kilojoules are no kilocalories");
    }

    #[test]
    fn decimals_are_read_exactly() {
        for (text, value) in [
            ("1.5", 1500),
            ("0.0005", 1),
            ("0.0004", 0),
            (".25", 250),
            ("7.", 7000),
            ("-0.25", -250),
        ] {
            assert_eq!(decimal(text, 3), Some(value), "{text}");
        }
        for text in ["", ".", "-", "1e3", "1,5", "+1", "1.2.3", "9999999999999", "٣"] {
            assert_eq!(decimal(text, 3), None, "{text}");
        }
    }

    #[test]
    fn blank_is_not_known_and_not_nothing() {
        assert_eq!(amount("", Nutrient::Fibre).expect("no trouble"), None);
        assert_eq!(amount("0", Nutrient::Fibre).expect("no trouble"), Some(0));
    }

    #[test]
    fn figures_that_cannot_be_are_left_out() {
        for (text, nutrient) in [
            ("106", Nutrient::Fat),
            ("-0.3", Nutrient::Carbohydrate),
            ("1001", Nutrient::Energy),
            ("trace", Nutrient::Sodium),
        ] {
            assert!(amount(text, nutrient).is_err(), "{text}");
        }
    }
}
