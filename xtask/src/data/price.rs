//! Published average prices in US dollars: USDA ERS Fruit and Vegetable Prices 2022 and the average prices
//! of the US Bureau of Labor Statistics. Whatever has no row there is an invented estimate and says so.

use std::collections::BTreeMap;
use std::path::Path;

use super::decimal::{parse_scaled, scale_nearest};
use super::text::{comma_cells, read};

/// Milligrams in one pound: 453.59237 g, exact to the milligram below.
const POUND_MG: i64 = 453_592;
/// Microlitres in one US pint and one US gallon.
const PINT_UL: i64 = 473_176;
const GALLON_UL: i64 = 3_785_412;

/// What a published price is for.
enum Per {
    Mass { mg: i64 },
    Volume { ul: i64 },
    Dozen,
}

struct Published {
    per: Per,
    /// Hundredths of a US cent.
    price: i64,
    source: String,
}

/// A price per kilogram as purchased.
#[derive(Clone, Default, PartialEq, Eq)]
pub(super) struct KiloPrice {
    /// Thousandths of a US dollar.
    pub(super) milli_usd: i64,
    /// The source; empty for an invented estimate.
    pub(super) source: String,
}

/// What converts a price per piece or per volume into one per kilogram.
pub(super) struct Weights {
    pub(super) unit_mg: Option<i64>,
    pub(super) g_per_l: Option<i64>,
}

/// The published prices by the key used in the food tables.
pub(super) struct Prices(BTreeMap<String, Published>);

/// Reads the published price files.
pub(super) fn load(folder: &Path) -> Result<Prices, String> {
    let mut prices = BTreeMap::new();
    for (letter, file) in [("V", "Vegetable-Prices-2022.csv"), ("F", "Fruit-Prices-2022.csv")] {
        for line in read(&folder.join("prices").join(file))?.lines().skip(1) {
            let cells = comma_cells(line);
            let published = ers(&cells).ok_or_else(|| format!("{file}: cannot read `{line}`"))?;
            prices.insert(format!("{letter}:{}/{}", cells[1], cells[2]), published);
        }
    }
    let bls = read(&folder.join("prices/bls_average_prices_us_city.csv"))?;
    for line in bls.lines().filter(|line| line.contains(",2022,8,")) {
        let cells = comma_cells(line);
        let published = labor(&cells).ok_or_else(|| format!("average prices: cannot read `{line}`"))?;
        prices.insert(format!("B:{}", cells[0]), published);
    }
    Ok(Prices(prices))
}

fn ers(cells: &[String]) -> Option<Published> {
    let per = match cells[4].as_str() {
        "per pound" => Per::Mass { mg: POUND_MG },
        "per pint" => Per::Volume { ul: PINT_UL },
        _ => return None,
    };
    Some(Published {
        per,
        price: parse_scaled(&cells[3], 4)?,
        source: format!(
            "USDA ERS 2022, {} ({}), ${} {}",
            cells[1], cells[2], cells[3], cells[4]
        ),
    })
}

fn labor(cells: &[String]) -> Option<Published> {
    let item = &cells[1];
    let per = if item.contains("per doz") {
        Per::Dozen
    } else if item.contains("per gal") {
        Per::Volume { ul: GALLON_UL }
    } else if item.contains("1/2 gal") {
        Per::Volume { ul: GALLON_UL / 2 }
    } else if item.contains("per 16 oz. (473.2 ml)") {
        Per::Volume { ul: PINT_UL }
    } else if item.contains("(340.2 gm)") {
        Per::Mass { mg: 340_194 }
    } else if item.contains("per lb") || item.contains("per 16 oz") {
        Per::Mass { mg: POUND_MG }
    } else {
        return None;
    };
    Some(Published {
        per,
        price: parse_scaled(&cells[4], 4)?,
        source: format!("BLS average price 2022-08, {}, {item}, ${}", cells[0], cells[4]),
    })
}

impl Prices {
    /// The price per kilogram named by a price cell: a key of a published row, or dollars per kilogram.
    pub(super) fn per_kilo(&self, cell: &str, weights: &Weights) -> Result<KiloPrice, String> {
        if let Some(milli_usd) = parse_scaled(cell, 3) {
            return Ok(KiloPrice {
                milli_usd,
                source: String::new(),
            });
        }
        let published = self
            .0
            .get(cell)
            .ok_or_else(|| format!("`{cell}` is neither dollars per kilogram nor a published price"))?;
        let missing = |what: &str| format!("price `{cell}` needs a {what}, which the food does not have");
        let mg = match published.per {
            Per::Mass { mg } => mg,
            Per::Volume { ul } => scale_nearest(ul, weights.g_per_l.ok_or_else(|| missing("measure"))?, 1000),
            Per::Dozen => 12 * weights.unit_mg.ok_or_else(|| missing("unit"))?,
        };
        Ok(KiloPrice {
            milli_usd: scale_nearest(published.price, 100_000, mg),
            source: published.source.clone(),
        })
    }
}
