//! Foods with their published composition as they are kept: one record that stands alone, versioned, hashed, without
//! loss. What was imported before stays; what is imported again is renewed.

use std::collections::BTreeMap;

use larderwright_intake::{Figure, ImportedFood, Nutrient, Portion};
use larderwright_quantity::Mass;

use crate::error::RecordError;
use crate::wire::{Document, document, from_json, record, to_json, version};

/// Imported foods, by their identifier in the source.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FoodBook {
    /// The foods, in the order of their identifiers, each once.
    pub foods: Vec<ImportedFood>,
}

/// What an import did to a book.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Merged {
    /// Foods that were not there before.
    pub added: usize,
    /// Foods that were there and have been read again.
    pub renewed: usize,
}

impl FoodBook {
    /// Takes in foods that were read: none of the earlier ones is lost, and of a food read again the newer figures
    /// count while those that only the older reading had are kept.
    #[must_use]
    pub fn merge(self, read: Vec<ImportedFood>) -> (Self, Merged) {
        let mut book: BTreeMap<String, ImportedFood> = self
            .foods
            .into_iter()
            .map(|food| (food.id.clone(), food))
            .collect();
        let mut merged = Merged { added: 0, renewed: 0 };
        for food in read {
            let food = match book.remove(&food.id) {
                Some(older) => {
                    merged.renewed += 1;
                    older.renewed(food)
                }
                None => {
                    merged.added += 1;
                    food
                }
            };
            book.insert(food.id.clone(), food);
        }
        let foods = book.into_values().collect();
        (Self { foods }, merged)
    }
}

document! {
    /// Imported foods with their published composition.
    FoodsRecord = FoodBook "food record" upgrades [] {
        /// The foods, in the order of their identifiers.
        foods: Vec<ImportedFood>,
    }
}

record! {
    /// A food with its published composition.
    ImportedFoodRecord = ImportedFood {
        /// Its identifier in the source: `fdc-` or `ndb-` and its number there.
        id: String,
        /// The source's words for it.
        description: String,
        /// Which publication, and which row of it.
        source: String,
        /// What is thrown away of what is purchased, in percent; null when the source does not say.
        refuse_percent: Option<i64>,
        /// Figures per 100 g of edible portion. A nutrient that is not here is not known; it is not zero.
        nutrients: BTreeMap<Nutrient, Figure>,
        /// Household measures.
        portions: Vec<Portion>,
    }
}

record! {
    /// One figure. Energy in kilocalories; water, protein, fat and its kinds, carbohydrate, fibre, sugars and alcohol
    /// in grams; vitamins A (retinol activity equivalents), D, K, B12 and folate (dietary folate equivalents) in
    /// micrograms; the rest in milligrams.
    FigureRecord = Figure {
        /// Thousandths of the unit per 100 g.
        thousandths: i64,
        /// The source's number of the nutrient.
        number: String,
    }
}

record! {
    /// So much of a household measure, and what it weighs.
    PortionRecord = Portion {
        /// Thousandths of the measure.
        amount_thousandths: i64,
        /// The measure.
        text: String,
        /// Milligrams of edible portion.
        #[serde(rename = "mg")]
        mass: Mass,
    }
}

/// The version that this program writes; earlier ones are read too.
pub const FOODS_VERSION: u32 = version(<FoodsRecord as Document>::UPGRADES);

/// The canonical text of a book.
#[must_use]
pub fn foods_to_json(book: &FoodBook) -> String {
    to_json(FoodsRecord::from(book))
}

/// Reads a book.
///
/// # Errors
/// When the text is no such record, of another version, or changed after it was written.
pub fn foods_from_json(text: &str) -> Result<FoodBook, RecordError> {
    from_json::<FoodsRecord>(text).map(FoodBook::from)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn food(id: &str, energy: i64) -> ImportedFood {
        let figure = Figure {
            thousandths: energy,
            number: "208".into(),
        };
        ImportedFood {
            id: id.into(),
            description: "Beans, speckled".into(),
            source: "invented".into(),
            refuse_percent: Some(3),
            nutrients: [(Nutrient::Energy, figure)].into(),
            portions: vec![Portion {
                amount_thousandths: 500,
                text: "cup".into(),
                mass: Mass::from_g(92),
            }],
        }
    }

    #[test]
    fn a_book_is_read_as_it_was_written() {
        let (book, _) = FoodBook::default().merge(vec![food("ndb-2", 2), food("ndb-1", 1)]);
        let text = foods_to_json(&book);
        assert_eq!(foods_from_json(&text).expect("it was written just now"), book);
        assert!(text.contains("\"energy\": {"), "{text}");
        let changed = text.replacen("\"thousandths\": 2", "\"thousandths\": 3", 1);
        assert!(matches!(foods_from_json(&changed), Err(RecordError::Hash { .. })));
    }

    #[test]
    fn a_later_import_loses_nothing() {
        let (book, first) = FoodBook::default().merge(vec![food("ndb-1", 1), food("ndb-2", 2)]);
        assert_eq!(first, Merged { added: 2, renewed: 0 });
        let mut again = food("ndb-2", 5);
        again.portions.clear();
        again.refuse_percent = None;
        let (book, second) = book.merge(vec![again, food("fdc-9", 9)]);
        assert_eq!(second, Merged { added: 1, renewed: 1 });
        let ids: Vec<&str> = book.foods.iter().map(|food| food.id.as_str()).collect();
        assert_eq!(ids, ["fdc-9", "ndb-1", "ndb-2"]);
        assert_eq!(
            book.foods[2],
            food("ndb-2", 5),
            "measures and refuse of the first reading are kept"
        );
    }
}
