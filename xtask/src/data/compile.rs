//! Pulls the figures of every food out of the published files into a committed text table, and reads that
//! table back where the published files are absent. Every figure leaves with its source.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

use super::author::{Authored, Food};
use super::decimal::{parse_scaled, scale_nearest};
use super::price::{self, KiloPrice, Prices, Weights};
use super::sr28::{self, NUTRIENTS, Release, SrFood, SrMeasure};
use super::text::{read, tab_rows};

const HEADING: &str = "id\tname\tinputs\tsr_description\tsource\tedible_permille\tedible_source\tg_per_l\tdensity_source\tunit_mg\tunit_singular\tunit_plural\tunit_source\tmilli_usd_per_kg\tprice_source\twater_mg\tenergy_cal\tprotein_mg\tfat_mg\tcarbohydrate_mg\tfibre_mg\tsugars_mg\tsaturates_mg\tmonounsaturates_mg\tpolyunsaturates_mg\ttrans_mg\tcholesterol_ug\tsodium_ug\tpotassium_ug\tcalcium_ug\tiron_ug\tmagnesium_ug\tphosphorus_ug\tzinc_ug\tvitamin_a_ng\tvitamin_c_ug\tvitamin_d_ng\tvitamin_e_ug\tvitamin_k_ng\tthiamin_ug\triboflavin_ug\tniacin_ug\tvitamin_b6_ug\tfolate_ng\tvitamin_b12_ng\tcholine_ug\talcohol_mg";
const FIXED_COLUMNS: usize = 15;
/// One US cup in microlitres: 236.588 ml.
const CUP_UL: i64 = 236_588;
/// A household measure heavier than this for its volume is a misprint of the release.
const G_PER_L_MAX: i64 = 1_700;

/// A figure and where it was read.
#[derive(Clone, Default)]
pub(super) struct Sourced {
    pub(super) value: i64,
    pub(super) source: String,
}

/// What one of a counted food weighs as purchased.
#[derive(Clone, Default)]
pub(super) struct Unit {
    pub(super) mg: i64,
    pub(super) singular: String,
    pub(super) plural: String,
    pub(super) source: String,
}

/// The figures of one food.
pub(super) struct Figures {
    name: String,
    inputs: String,
    description: String,
    pub(super) source: String,
    pub(super) edible: Sourced,
    pub(super) density: Option<Sourced>,
    pub(super) unit: Option<Unit>,
    pub(super) price: KiloPrice,
    pub(super) nutrients: Vec<Option<i64>>,
    pub(super) measures: Vec<SrMeasure>,
}

/// The figures of every food, by id.
pub(super) type Compiled = BTreeMap<String, Figures>;

/// Compiles all foods from the published files.
pub(super) fn from_published(authored: &Authored, folder: &Path) -> Result<Compiled, String> {
    let release = sr28::load(folder)?;
    let prices = price::load(folder)?;
    let mut compiled = Compiled::new();
    let mut problems = Vec::new();
    for food in &authored.foods {
        match figures(food, &release, &prices) {
            Ok(figures) => {
                compiled.insert(food.id.clone(), figures);
            }
            Err(error) => problems.push(format!("food `{}`: {error}", food.id)),
        }
    }
    if problems.is_empty() {
        Ok(compiled)
    } else {
        Err(problems.join("\n"))
    }
}

fn figures(food: &Food, release: &Release, prices: &Prices) -> Result<Figures, String> {
    let near = food.sr.starts_with('~');
    let ndb = food.sr.trim_start_matches('~');
    let row = match ndb {
        "-" => None,
        _ => Some(
            release
                .foods
                .get(ndb)
                .ok_or_else(|| format!("NDB `{ndb}` is not in SR28"))?,
        ),
    };
    let edible = edible(food, ndb, row, release)?;
    let density = density(&food.measure, ndb, release)?;
    let unit = unit(&food.unit, ndb, &edible, release)?;
    let weights = Weights {
        unit_mg: unit.as_ref().map(|unit| unit.mg),
        g_per_l: density.as_ref().map(|density| density.value),
    };
    Ok(Figures {
        name: food.name.clone(),
        inputs: food.inputs(),
        description: row.map_or_else(String::new, |row| row.description.clone()),
        source: match (row, near) {
            (None, _) => "common practice, no source".to_owned(),
            (Some(_), false) => format!("USDA SR28 NDB {ndb}"),
            (Some(row), true) => format!("USDA SR28 NDB {ndb} ({}), a near food", row.description),
        },
        price: prices.per_kilo(&food.price, &weights)?,
        nutrients: row.map_or_else(|| vec![None; NUTRIENTS], |row| row.nutrients.clone()),
        measures: release.measures.get(ndb).cloned().unwrap_or_default(),
        edible,
        density,
        unit,
    })
}

/// Reads the edible cell: empty for the refuse of the food's own row, `all`, `refuse:NDB`, or
/// `permille source`.
fn edible(food: &Food, ndb: &str, row: Option<&SrFood>, release: &Release) -> Result<Sourced, String> {
    let refuse = |ndb: &str, row: &SrFood| Sourced {
        value: 1000 - 10 * row.refuse_percent,
        source: format!("USDA SR28 NDB {ndb} refuse {} %", row.refuse_percent),
    };
    let cell = food.edible.as_str();
    match (cell, row) {
        ("", Some(row)) if row.refuse_percent > 0 => Ok(refuse(ndb, row)),
        ("" | "all", _) => Ok(Sourced {
            value: 1000,
            source: "common practice, no source: used whole".to_owned(),
        }),
        _ if cell.starts_with("refuse:") => {
            let other = cell.trim_start_matches("refuse:");
            let row = release
                .foods
                .get(other)
                .ok_or_else(|| format!("NDB `{other}` is not in SR28"))?;
            Ok(refuse(other, row))
        }
        _ => {
            let (permille, source) = cell
                .split_once(' ')
                .ok_or_else(|| format!("edible `{cell}` has no source"))?;
            Ok(Sourced {
                value: parse_scaled(permille, 0)
                    .ok_or_else(|| format!("edible `{permille}` is not a number"))?,
                source: source.to_owned(),
            })
        }
    }
}

/// Reads the measure cell: empty to take the best household measure of the food's own row, `-` for none,
/// the text of a measure, `NDB:text` of another row, or `=g_per_l source`.
fn density(cell: &str, ndb: &str, release: &Release) -> Result<Option<Sourced>, String> {
    if cell == "-" {
        return Ok(None);
    }
    if let Some(stated) = cell.strip_prefix('=') {
        let (figure, source) = stated
            .split_once(' ')
            .ok_or_else(|| format!("measure `{cell}` has no source"))?;
        return Ok(Some(Sourced {
            value: parse_scaled(figure, 0).ok_or_else(|| format!("`{figure}` is not grams per litre"))?,
            source: source.to_owned(),
        }));
    }
    let (ndb, wanted) = elsewhere(cell, ndb);
    let rows = release.measures.get(ndb).map_or(&[][..], Vec::as_slice);
    let chosen = rows
        .iter()
        .filter_map(|row| Some((rank(&row.text, wanted)?, density_of(row)?, row)))
        .min_by_key(|(rank, ..)| *rank);
    match chosen {
        Some((_, value, row)) => Ok(Some(Sourced {
            value,
            source: format!("USDA SR28 NDB {ndb}, {}", measure_text(row)),
        })),
        None if wanted.is_empty() => Ok(None),
        None => Err(no_measure(ndb, wanted, rows)),
    }
}

/// Splits `NDB:text`, or leaves the text with the food's own number.
fn elsewhere<'a>(cell: &'a str, own: &'a str) -> (&'a str, &'a str) {
    match cell.split_once(':') {
        Some((ndb, text)) if ndb.len() == 5 => (ndb, text),
        _ => (own, cell),
    }
}

/// How well a household measure fits: the wanted text, or the least surprising measure of volume.
fn rank(text: &str, wanted: &str) -> Option<usize> {
    if !wanted.is_empty() {
        return (text == wanted).then_some(0);
    }
    const ORDER: [&str; 10] = [
        "cup",
        "cup, chopped",
        "cup chopped",
        "cup, diced",
        "cup, sliced",
        "cup sliced",
        "tbsp",
        "tablespoon",
        "fl oz",
        "tsp",
    ];
    let exact = ORDER.iter().position(|known| *known == text);
    let loose = ORDER
        .iter()
        .position(|known| text.starts_with(known))
        .map(|position| position + ORDER.len());
    exact.or(loose)
}

/// Grams per litre of a household measure of volume, if that is what it is and it is plausible.
fn density_of(row: &SrMeasure) -> Option<i64> {
    if row.text.contains("yields") {
        return None;
    }
    let word = row.text.split([' ', ',']).next()?;
    // Thousandths of a cup, so that the US spoons stay exact: 16 tablespoons, 48 teaspoons, 8 fluid ounces.
    let (num, den) = match word {
        "cup" => (1, 1),
        "tbsp" | "tablespoon" => (1, 16),
        "tsp" | "teaspoon" => (1, 48),
        "fl" => (1, 8),
        "pint" => (2, 1),
        "quart" => (4, 1),
        _ => return None,
    };
    let ul = scale_nearest(CUP_UL * num, row.amount_thousandths, 1000 * den);
    let g_per_l = scale_nearest(row.mg, 1000, ul.max(1));
    (g_per_l > 0 && g_per_l <= G_PER_L_MAX).then_some(g_per_l)
}

/// The mass of one as purchased from a household measure. Measures are of the edible part and are divided by
/// it, except where the text begins with `whole:`, for foods weighed with the skin that is then thrown away.
fn published_unit(
    wanted: &str,
    ndb: &str,
    edible: &Sourced,
    release: &Release,
) -> Result<(i64, String), String> {
    let (wanted, permille, part) = match wanted.strip_prefix("whole:") {
        Some(rest) => (rest, 1000, "whole"),
        None => (wanted, edible.value, "edible"),
    };
    let (ndb, wanted) = elsewhere(wanted, ndb);
    let rows = release.measures.get(ndb).map_or(&[][..], Vec::as_slice);
    let row = rows
        .iter()
        .find(|row| row.text == wanted)
        .or_else(|| rows.iter().find(|row| row.text.starts_with(wanted)))
        .ok_or_else(|| no_measure(ndb, wanted, rows))?;
    let mg = scale_nearest(
        scale_nearest(row.mg, 1000, row.amount_thousandths),
        1000,
        permille,
    );
    Ok((mg, format!("USDA SR28 NDB {ndb}, {} {part}", measure_text(row))))
}

fn no_measure(ndb: &str, wanted: &str, rows: &[SrMeasure]) -> String {
    let known: Vec<&str> = rows.iter().map(|row| row.text.as_str()).collect();
    format!("NDB `{ndb}` has no measure `{wanted}`, only {known:?}")
}

/// `1 cup, chopped = 160 g`.
fn measure_text(row: &SrMeasure) -> String {
    format!(
        "{} {} = {} g",
        thousandths(row.amount_thousandths),
        row.text,
        thousandths(row.mg)
    )
}

fn thousandths(value: i64) -> String {
    let text = format!("{}.{:03}", value / 1000, value % 1000);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Reads the unit cell: empty for foods that are not counted, `onion/onions@text of a measure` of the
/// food's own row or another, or `onion/onions=120 g` as purchased, common practice.
fn unit(cell: &str, ndb: &str, edible: &Sourced, release: &Release) -> Result<Option<Unit>, String> {
    if cell.is_empty() {
        return Ok(None);
    }
    let bad = || format!("unit `{cell}` is neither `one/many@measure` nor `one/many=grams g`");
    let (words, mg, source) = if let Some((words, wanted)) = cell.split_once('@') {
        let (mg, source) = published_unit(wanted, ndb, edible, release)?;
        (words, mg, source)
    } else {
        let (words, grams) = cell.split_once('=').ok_or_else(bad)?;
        let grams = grams.strip_suffix(" g").ok_or_else(bad)?;
        let mg = parse_scaled(grams, 3).ok_or_else(bad)?;
        (words, mg, "common practice, no source".to_owned())
    };
    let (singular, plural) = words.split_once('/').ok_or_else(bad)?;
    Ok(Some(Unit {
        mg,
        singular: singular.to_owned(),
        plural: plural.to_owned(),
        source,
    }))
}

/// The committed text of all figures except the household measures.
pub(super) fn render_foods(compiled: &Compiled) -> String {
    let mut text = format!(
        "# @generated by cargo xtask data; published figures with their sources, per 100 g of edible portion\n{HEADING}\n"
    );
    for (id, row) in compiled {
        let figure = |sourced: Option<&Sourced>| match sourced {
            Some(sourced) => format!("{}\t{}", sourced.value, sourced.source),
            None => "\t".to_owned(),
        };
        let unit = row.unit.as_ref().map_or_else(
            || "\t\t\t".to_owned(),
            |unit| format!("{}\t{}\t{}\t{}", unit.mg, unit.singular, unit.plural, unit.source),
        );
        let cells = [
            id.clone(),
            row.name.clone(),
            row.inputs.clone(),
            row.description.clone(),
            row.source.clone(),
            figure(Some(&row.edible)),
            figure(row.density.as_ref()),
            unit,
            row.price.milli_usd.to_string(),
            row.price.source.clone(),
        ];
        text.push_str(&cells.join("\t"));
        for figure in &row.nutrients {
            match figure {
                Some(figure) => write!(text, "\t{figure}").expect("writing to a string cannot fail"),
                None => text.push('\t'),
            }
        }
        text.push('\n');
    }
    text
}

/// The committed text of the household measures.
pub(super) fn render_measures(compiled: &Compiled) -> String {
    let mut text = "# @generated by cargo xtask data; USDA SR28 household measures of edible portion\nid\tamount_thousandths\tmeasure\tmg\n".to_owned();
    for (id, row) in compiled {
        for measure in &row.measures {
            writeln!(
                text,
                "{id}\t{}\t{}\t{}",
                measure.amount_thousandths, measure.text, measure.mg
            )
            .expect("writing to a string cannot fail");
        }
    }
    text
}

/// Reads the committed tables back, and refuses them if a food was changed by hand since.
pub(super) fn read_committed(authored: &Authored, foods: &Path, measures: &Path) -> Result<Compiled, String> {
    let mut compiled = Compiled::new();
    for (line, cells) in tab_rows(&read(foods)?, FIXED_COLUMNS + NUTRIENTS)? {
        let figures = committed(&cells)
            .ok_or_else(|| format!("{} line {line} is not a compiled food", foods.display()))?;
        compiled.insert(cells[0].clone(), figures);
    }
    for (line, cells) in tab_rows(&read(measures)?, 4)? {
        let bad = || format!("{} line {line} is not a measure", measures.display());
        let measure = SrMeasure {
            amount_thousandths: cells[1].parse().map_err(|_| bad())?,
            text: cells[2].clone(),
            mg: cells[3].parse().map_err(|_| bad())?,
        };
        compiled
            .get_mut(&cells[0])
            .ok_or_else(bad)?
            .measures
            .push(measure);
    }
    for food in &authored.foods {
        let current = compiled
            .get(&food.id)
            .is_some_and(|row| row.inputs == food.inputs() && row.name == food.name);
        if !current {
            return Err(format!(
                "food `{}` changed by hand; its figures need the published files to be compiled again",
                food.id
            ));
        }
    }
    if compiled.len() != authored.foods.len() {
        return Err("the compiled table holds a food that is no longer written by hand".to_owned());
    }
    Ok(compiled)
}

fn committed(cells: &[String]) -> Option<Figures> {
    let sourced = |value: usize| {
        Some(Sourced {
            value: cells[value].parse().ok()?,
            source: cells[value + 1].clone(),
        })
    };
    let unit = (!cells[9].is_empty()).then(|| Unit {
        mg: cells[9].parse().unwrap_or(0),
        singular: cells[10].clone(),
        plural: cells[11].clone(),
        source: cells[12].clone(),
    });
    Some(Figures {
        name: cells[1].clone(),
        inputs: cells[2].clone(),
        description: cells[3].clone(),
        source: cells[4].clone(),
        edible: sourced(5)?,
        density: if cells[7].is_empty() {
            None
        } else {
            Some(sourced(7)?)
        },
        unit,
        price: KiloPrice {
            milli_usd: cells[13].parse().ok()?,
            source: cells[14].clone(),
        },
        nutrients: cells[FIXED_COLUMNS..]
            .iter()
            .map(|cell| {
                if cell.is_empty() {
                    Some(None)
                } else {
                    cell.parse().ok().map(Some)
                }
            })
            .collect::<Option<_>>()?,
        measures: Vec::new(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn measure(amount_thousandths: i64, text: &str, mg: i64) -> SrMeasure {
        SrMeasure {
            amount_thousandths,
            text: text.to_owned(),
            mg,
        }
    }

    fn release(measures: Vec<SrMeasure>) -> Release {
        let food = SrFood {
            description: "Onions, raw".to_owned(),
            refuse_percent: 10,
            nutrients: vec![None; NUTRIENTS],
        };
        Release {
            foods: BTreeMap::from([("11282".to_owned(), food)]),
            measures: BTreeMap::from([("11282".to_owned(), measures)]),
        }
    }

    #[test]
    fn a_cup_a_spoon_and_a_part_of_a_cup_give_grams_per_litre() {
        for (amount, text, mg, g_per_l) in [
            (1000, "cup, chopped", 160_000, Some(676)),
            (250, "cup", 4_000, Some(68)),
            (1000, "tbsp", 14_200, Some(960)),
            (1000, "fl oz", 29_400, Some(994)),
            (1000, "medium (2-1/2\" dia)", 110_000, None),
            (1000, "cup, dry, yields", 528_000, None),
            (1000, "tsp", 12_000, None),
        ] {
            assert_eq!(density_of(&measure(amount, text, mg)), g_per_l, "{text}");
        }
    }

    #[test]
    fn the_plainest_measure_of_volume_is_taken_unless_another_is_asked_for() {
        let release = release(vec![
            measure(1000, "tbsp chopped", 10_000),
            measure(1000, "cup, sliced", 115_000),
            measure(1000, "cup, chopped", 160_000),
        ]);
        let taken = |cell| {
            density(cell, "11282", &release)
                .expect("the measure exists")
                .map(|density| density.source)
        };
        assert_eq!(
            taken("").as_deref(),
            Some("USDA SR28 NDB 11282, 1 cup, chopped = 160 g")
        );
        assert_eq!(
            taken("cup, sliced").as_deref(),
            Some("USDA SR28 NDB 11282, 1 cup, sliced = 115 g")
        );
        assert_eq!(taken("-"), None);
        assert!(density("cup, grated", "11282", &release).is_err());
    }

    #[test]
    fn a_counted_unit_as_purchased_weighs_its_refuse_too() {
        let release = release(vec![measure(1000, "medium (2-1/2\" dia)", 110_000)]);
        let edible = Sourced {
            value: 900,
            source: String::new(),
        };
        let mg = |cell| {
            unit(cell, "11282", &edible, &release)
                .expect("the unit is readable")
                .map(|unit| unit.mg)
        };
        assert_eq!(mg("onion/onions@medium"), Some(122_222));
        assert_eq!(mg("onion/onions@whole:medium"), Some(110_000));
        assert_eq!(mg("onion/onions=120 g"), Some(120_000));
        assert_eq!(mg(""), None);
        for cell in [
            "onion@medium",
            "onion/onions@huge",
            "onion/onions=120",
            "onion/onions",
        ] {
            assert!(unit(cell, "11282", &edible, &release).is_err(), "{cell}");
        }
    }
}
