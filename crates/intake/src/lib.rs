//! Texts from elsewhere into our nouns: official files of food composition. Whatever cannot be read is told with its
//! file and line, and the rest is kept. Where the texts come from and where the foods are kept is not known here.

mod composition;
mod fdc;
mod figure;
mod log;
mod part;
mod rows;
mod sr;

pub use composition::{Composition, Figure, ImportedFood, Portion, SourceFile, read_composition};
pub use larderwright_reference::{Nutrient, NutrientUnit};
pub use log::Problem;
pub use part::{Layout, Part};
