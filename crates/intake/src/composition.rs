//! Foods read from official files of composition, whatever their layout, with everything that could not be read.

use std::collections::BTreeMap;

use larderwright_quantity::Mass;
use larderwright_reference::Nutrient;

use crate::figure::Known;
use crate::log::{Log, Problem, Trouble, row_out};
use crate::part::{Layout, Part};
use crate::{fdc, figure, sr};

/// A file as text.
#[derive(Clone, Copy, Debug)]
pub struct SourceFile<'a> {
    /// Its name, as problems shall tell it.
    pub name: &'a str,
    /// What stands in it.
    pub text: &'a str,
}

/// What was read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Composition {
    /// The foods, by their identifier in the source.
    pub foods: Vec<ImportedFood>,
    /// What could not be read, by file and line.
    pub problems: Vec<Problem>,
    /// Rows of kinds that are not read: single samples, market purchases, brands, survey recipes.
    pub left_out: u64,
}

/// A food with its published composition.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ImportedFood {
    /// Its identifier in the source: `fdc-171688`, `ndb-16057`.
    pub id: String,
    /// The source's words for it.
    pub description: String,
    /// Which publication, and which row of it.
    pub source: String,
    /// What is thrown away of what is purchased, in percent, where the source says.
    pub refuse_percent: Option<i64>,
    /// Figures per 100 g of edible portion; a nutrient that is not here is not known.
    pub nutrients: BTreeMap<Nutrient, Figure>,
    /// Household measures, in the source's order.
    pub portions: Vec<Portion>,
}

/// One figure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figure {
    /// Thousandths of [`Nutrient::unit`] per 100 g, half away from zero.
    pub thousandths: i64,
    /// The source's number of the nutrient: energy may be `208` or computed as `958`.
    pub number: String,
}

/// So much of a household measure, and what it weighs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Portion {
    /// Thousandths of the measure.
    pub amount_thousandths: i64,
    /// The measure: `cup, sliced`.
    pub text: String,
    /// Mass of edible portion.
    pub mass: Mass,
}

/// Reads the files of one or several publications together. Files that are no part of a known layout are told as
/// problems. Never fails: with nothing but problems there are no foods.
#[must_use]
pub fn read_composition(files: &[SourceFile<'_>]) -> Composition {
    let mut log = Log::default();
    let mut parts = Parts::default();
    for file in files {
        match Part::of(file.name, file.text) {
            Some(part) => parts.0.entry(part).or_default().push(*file),
            None => log.unknown_layout(file.name),
        }
    }
    let mut read = Read::default();
    if parts.has(Layout::FdcCsv) {
        fdc::read(&parts, &mut read, &mut log);
    }
    if parts.has(Layout::SrAscii) {
        sr::read(&parts, &mut read, &mut log);
    }
    Composition {
        foods: read.foods.into_values().map(Draft::finish).collect(),
        problems: log.into_problems(),
        left_out: read.left_out,
    }
}

impl ImportedFood {
    /// The same food read once more: what the newer reading says counts, and what only the older one knew is kept.
    #[must_use]
    pub fn renewed(self, newer: Self) -> Self {
        let mut nutrients = self.nutrients;
        for (nutrient, figure) in newer.nutrients {
            let older = nutrients.get(&nutrient).map(|older| figure::rank(&older.number));
            if older.is_none_or(|older| figure::rank(&figure.number) <= older) {
                nutrients.insert(nutrient, figure);
            }
        }
        let portions = if newer.portions.is_empty() {
            self.portions
        } else {
            newer.portions
        };
        Self {
            refuse_percent: newer.refuse_percent.or(self.refuse_percent),
            nutrients,
            portions,
            ..newer
        }
    }
}

/// Files by the part they are.
#[derive(Debug, Default)]
pub(crate) struct Parts<'a>(BTreeMap<Part, Vec<SourceFile<'a>>>);

impl<'a> Parts<'a> {
    pub(crate) fn all(&self, part: Part) -> &[SourceFile<'a>] {
        self.0.get(&part).map(Vec::as_slice).unwrap_or_default()
    }

    pub(crate) fn lacks(&self, part: Part) -> bool {
        !self.0.contains_key(&part)
    }

    fn has(&self, layout: Layout) -> bool {
        self.0.keys().any(|part| part.layout() == layout)
    }
}

/// Foods so far.
#[derive(Debug, Default)]
pub(crate) struct Read {
    pub(crate) foods: BTreeMap<String, Draft>,
    pub(crate) left_out: u64,
}

impl Read {
    /// Adds a food that has no figures yet. A row that repeats another one is no mistake.
    pub(crate) fn add_food(&mut self, id: String, description: &str, source: String) -> Result<(), Trouble> {
        if description.is_empty() {
            return Err(row_out("the food has no description"));
        }
        if let Some(known) = self.foods.get(&id) {
            let same = known.food.description == description;
            let twice = || row_out(format!("`{id}` has another description already"));
            return if same { Ok(()) } else { Err(twice()) };
        }
        let food = ImportedFood {
            id: id.clone(),
            description: description.to_owned(),
            source,
            refuse_percent: None,
            nutrients: BTreeMap::new(),
            portions: Vec::new(),
        };
        let portions = Vec::new();
        self.foods.insert(id, Draft { food, portions });
        Ok(())
    }
}

/// A food that is being read.
#[derive(Debug)]
pub(crate) struct Draft {
    pub(crate) food: ImportedFood,
    /// Household measures with their place in the source's order.
    pub(crate) portions: Vec<(i64, Portion)>,
}

impl Draft {
    /// Adds a figure; a blank one is not known. Of two numbers for one nutrient the one of lower rank counts.
    pub(crate) fn add_figure(&mut self, known: Known, text: &str) -> Result<(), Trouble> {
        let Some(thousandths) = figure::amount(text, known.nutrient)? else {
            return Ok(());
        };
        let new = Figure {
            thousandths,
            number: known.number.to_owned(),
        };
        match self.food.nutrients.get(&known.nutrient) {
            Some(old) if old.number == new.number && *old != new => {
                let id = &self.food.id;
                return Err(row_out(format!(
                    "nutrient {} of `{id}` has another figure already",
                    new.number
                )));
            }
            Some(old) if figure::rank(&old.number) < known.rank => {}
            _ => drop(self.food.nutrients.insert(known.nutrient, new)),
        }
        Ok(())
    }

    fn finish(mut self) -> ImportedFood {
        self.portions.sort_by_key(|(place, _)| *place);
        self.food.portions = self.portions.into_iter().map(|(_, portion)| portion).collect();
        self.food
    }
}
