//! The published food composition table, as far as ours needs it: USDA National Nutrient Database for
//! Standard Reference, Release 28.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use super::decimal::parse_scaled;
use super::text::{comma_cells, read};

/// The first column of figures in the compact file: water.
const FIRST_NUTRIENT: usize = 5;

/// Figures per food, water to alcohol.
pub(super) const NUTRIENTS: usize = 32;

/// One food of the release.
pub(super) struct SrFood {
    pub(super) description: String,
    /// Refuse in percent of what is purchased; absent when the release gives none.
    pub(super) refuse_percent: i64,
    /// Thousandths of the column's unit per 100 g of edible portion; absent is unknown.
    pub(super) nutrients: Vec<Option<i64>>,
}

/// One household measure of a food: so much of the text weighs so much.
#[derive(Clone)]
pub(super) struct SrMeasure {
    pub(super) amount_thousandths: i64,
    pub(super) text: String,
    pub(super) mg: i64,
}

/// The release, by its five-digit number.
pub(super) struct Release {
    pub(super) foods: BTreeMap<String, SrFood>,
    pub(super) measures: BTreeMap<String, Vec<SrMeasure>>,
}

/// Reads the release from the folder of published files.
pub(super) fn load(folder: &Path) -> Result<Release, String> {
    let mut foods = BTreeMap::new();
    for line in read(&folder.join("usda-sr28/sr28_compact.csv"))?.lines().skip(1) {
        let cells = comma_cells(line);
        foods.insert(cells[0].clone(), food(&cells)?);
    }
    let weights = folder.join("usda-sr28/WEIGHT.txt");
    let bytes = fs::read(&weights).map_err(|error| format!("cannot read {}: {error}", weights.display()))?;
    let latin: String = bytes.iter().map(|byte| char::from(*byte)).collect();
    let mut measures: BTreeMap<String, Vec<SrMeasure>> = BTreeMap::new();
    for line in latin.lines() {
        let cells: Vec<&str> = line.split('^').map(|cell| cell.trim_matches('~')).collect();
        let measure =
            measure(&cells).ok_or_else(|| format!("`{line}` is not a row of household measures"))?;
        measures.entry(cells[0].to_owned()).or_default().push(measure);
    }
    Ok(Release { foods, measures })
}

fn food(cells: &[String]) -> Result<SrFood, String> {
    let nutrients: Vec<Option<i64>> = cells[FIRST_NUTRIENT..]
        .iter()
        .map(|cell| parse_scaled(cell, 3))
        .collect();
    if nutrients.len() != NUTRIENTS {
        return Err(format!("NDB {} has {} figures", cells[0], nutrients.len()));
    }
    Ok(SrFood {
        description: cells[2].clone(),
        refuse_percent: parse_scaled(&cells[3], 0).unwrap_or(0),
        nutrients,
    })
}

fn measure(cells: &[&str]) -> Option<SrMeasure> {
    Some(SrMeasure {
        amount_thousandths: parse_scaled(cells.get(2)?, 3)?,
        text: (*cells.get(3)?).to_owned(),
        mg: parse_scaled(cells.get(4)?, 3)?,
    })
}
