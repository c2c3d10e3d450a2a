//! What the household measures of the table mean: `cup, chopped` is a cup, `stalk, large (11" long)` a large stalk.

use larderwright_quantity::Unit;

use super::Piece;
use super::rate::Rate;
use crate::food::{FoodRow, Measure};
use crate::search::words;

/// Words for sizes, smallest first, as they are compared.
pub(super) const SIZES: [&str; 8] = [
    "tiny",
    "extra small",
    "small",
    "medium",
    "large",
    "extra large",
    "jumbo",
    "big",
];

/// Words that mean the whole of what a food's name says.
pub(super) const WHOLE: [&str; 9] = [
    "fruit", "whole", "unit", "item", "each", "piece", "head", "root", "bulb",
];

/// Words for parts that stay parts where a name of the food has them: `garlic clove`.
pub(super) const PARTS: [&str; 7] = ["clove", "slice", "stick", "leaf", "stalk", "cube", "sprig"];

/// A measure of volume: milligrams per microlitre, the unit, and how the food is cut or filled.
#[derive(Clone, Debug)]
pub(super) struct Poured {
    pub(super) unit: Unit,
    pub(super) forms: Vec<String>,
    pub(super) rate: Rate,
    pub(super) measure: Measure,
}

/// A measure of pieces: milligrams per thousandth of one.
#[derive(Clone, Debug)]
pub(super) struct Counted {
    pub(super) piece: Piece,
    pub(super) rate: Rate,
    pub(super) measure: Measure,
}

/// The US unit that a unit stands for among measures: a metric cup is a cup.
pub(super) fn measure_unit(unit: Unit) -> Unit {
    match unit {
        Unit::CupMetric => Unit::CupUs,
        Unit::TbspMetric => Unit::TbspUs,
        Unit::TspMetric => Unit::TspUs,
        other => other,
    }
}

/// The measures of volume of a food. Measures of what yields less, of shells, of foam and of brine are left out:
/// they are not the food as it goes into a pot.
pub(super) fn poured(food: &FoodRow) -> Vec<Poured> {
    food.measures.iter().filter_map(poured_one).collect()
}

fn poured_one(measure: &Measure) -> Option<Poured> {
    const LEFT_OUT: [&str; 6] = ["yields", "purchased", "shell,", "hulls", "whipped", "undrained"];
    if LEFT_OUT.iter().any(|word| measure.text.contains(word)) {
        return None;
    }
    let text = measure.text.to_lowercase();
    let end = text.find([',', '(']).unwrap_or(text.len());
    let (head, _) = text.split_at(end);
    let unit = ["fl oz", head.split(' ').next()?].into_iter().find_map(|name| {
        let named = text.starts_with(name).then(|| Unit::parse(name))?;
        named
            .filter(|unit| unit.to_volume(1, 1).is_some())
            .map(|unit| (unit, name.len()))
    });
    let (unit, length) = unit?;
    // A million of the unit, so that the exact size of cups and spoons is kept.
    let million = i128::from(unit.to_volume(1_000_000, 1)?.ul());
    let rate = Rate::new(
        i128::from(measure.mg) * 1_000_000_000,
        i128::from(measure.amount_thousandths) * million,
    )?;
    Some(Poured {
        unit,
        forms: words(&text[length..]),
        rate,
        measure: *measure,
    })
}

/// The measures of pieces of a food.
pub(super) fn counted(food: &FoodRow) -> Vec<Counted> {
    food.measures
        .iter()
        .filter_map(|measure| counted_one(food, measure))
        .collect()
}

fn counted_one(food: &FoodRow, measure: &Measure) -> Option<Counted> {
    const LEFT_OUT: [&str; 8] = [
        "serving",
        "oz",
        "lb",
        "cubic",
        "yields",
        "purchased",
        "package",
        "refuse",
    ];
    let text = measure.text.to_lowercase();
    let end = text.find(['(', '/']).unwrap_or(text.len());
    if poured_one(measure).is_some() || LEFT_OUT.iter().any(|word| text[..end].contains(word)) {
        return None;
    }
    let piece = piece_of(&words(&text[..end]), food);
    let rate = Rate::new(measure.mg.into(), measure.amount_thousandths.into())?;
    Some(Counted {
        piece: piece?,
        rate,
        measure: *measure,
    })
}

/// Reads the words of a piece: at most a size and a noun that is not the food itself.
pub(super) fn piece_of(words: &[String], food: &FoodRow) -> Option<Piece> {
    let own = own_nouns(food);
    let mut piece = Piece::default();
    let mut rest = Vec::new();
    let mut sizes = Vec::new();
    for word in words {
        if matches!(
            word.as_str(),
            "tiny" | "extra" | "small" | "medium" | "large" | "jumbo" | "big"
        ) {
            sizes.push(word.as_str());
        } else if !own.contains(word) {
            rest.push(word.clone());
        }
    }
    let size = match sizes.join(" ").as_str() {
        "" => None,
        other if SIZES.contains(&other) => Some(other.to_owned()),
        _ => return None,
    };
    piece.size = size;
    piece.noun = match rest.len() {
        0 => None,
        1 => rest.pop(),
        _ => return None,
    };
    Some(piece)
}

/// The words that mean one whole of a food: those of its names, and those that mean any whole.
pub(super) fn own_nouns(food: &FoodRow) -> Vec<String> {
    let names = [food.name, food.name_us, food.id];
    let mut own: Vec<String> = names
        .into_iter()
        .chain(food.synonyms.iter().copied())
        .flat_map(words)
        .filter(|word| !PARTS.contains(&word.as_str()))
        .collect();
    own.extend(WHOLE.map(str::to_owned));
    own
}

/// The fact of a measure: `1 cup, chopped = 160 g`.
pub(super) fn fact(measure: &Measure) -> String {
    let number = decimal(measure.amount_thousandths);
    format!("{number} {} = {} g", measure.text, decimal(measure.mg))
}

/// Thousandths as a decimal without trailing zeros.
pub(super) fn decimal(thousandths: i64) -> String {
    let (whole, rest) = (thousandths / 1000, thousandths % 1000);
    if rest == 0 {
        return whole.to_string();
    }
    let digits = format!("{rest:03}");
    format!("{whole}.{}", digits.trim_end_matches('0'))
}

/// Where the measures of a food were read: the row of its composition.
pub(super) fn source(food: &FoodRow) -> String {
    let row = food.source.split(" (").next().unwrap_or(food.source);
    format!("{row}, household measures")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::food::food;

    #[test]
    fn a_measure_says_its_unit_and_its_cut() {
        let onion = food("onion").expect("onions are in the table");
        let cups: Vec<_> = poured(onion)
            .into_iter()
            .map(|poured| (poured.unit, poured.forms.concat()))
            .collect();
        assert!(cups.contains(&(Unit::CupUs, "chopped".to_owned())), "{cups:?}");
        assert!(cups.contains(&(Unit::TbspUs, "chopped".to_owned())), "{cups:?}");
    }

    #[test]
    fn a_piece_says_its_size_and_its_noun() {
        let onion = food("onion").expect("onions are in the table");
        let read = |text: &str| piece_of(&words(text), onion);
        let piece = |size: Option<&str>, noun: Option<&str>| {
            Some(Piece {
                size: size.map(str::to_owned),
                noun: noun.map(str::to_owned),
            })
        };
        assert_eq!(read("medium onions"), piece(Some("medium"), None));
        assert_eq!(read("slice, large"), piece(Some("large"), Some("slice")));
        assert_eq!(read("extra large whole"), piece(Some("extra large"), None));
        assert_eq!(read("small medium"), None);
        assert_eq!(read("ring wedge"), None);
    }

    #[test]
    fn decimals_have_no_needless_noughts() {
        assert_eq!(decimal(1_000), "1");
        assert_eq!(decimal(14_200), "14.2");
        assert_eq!(decimal(330), "0.33");
    }
}
