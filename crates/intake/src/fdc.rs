//! USDA FoodData Central as tables separated by commas. Columns as in the publication's "Download Field Descriptions"
//! (October 2020) and the headers of the SR Legacy and Foundation downloads. Other kinds of foods are left out.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_quantity::Mass;

use crate::composition::{Draft, Parts, Portion, Read};
use crate::figure::{Known, decimal, known, measure, short, unit_word};
use crate::log::{Log, Strays, Trouble, row_out};
use crate::part::Part;
use crate::rows::each_row;

/// The kinds of foods that are read, and what they are called.
const KINDS: [(&str, &str); 2] = [("sr_legacy_food", "SR Legacy"), ("foundation_food", "Foundation")];

/// The unit of a household measure whose name stands elsewhere in the row: `undetermined`.
const NO_UNIT: &str = "9999";

pub(crate) fn read(parts: &Parts<'_>, read: &mut Read, log: &mut Log) {
    if parts.lacks(Part::FdcFood) {
        log.missing(
            Part::FdcFood.file_name(),
            "Add it: it names the foods of the other files.",
        );
        return;
    }
    let others = foods(parts, read, log);
    let mut foods = Foods { read, others };
    let needed = "Add it: without it no figure is known.";
    for part in [Part::FdcFoodNutrient, Part::FdcNutrient] {
        if parts.lacks(part) {
            log.missing(part.file_name(), needed);
        }
    }
    if !parts.lacks(Part::FdcNutrient) {
        figures(parts, &mut foods, log);
    }
    portions(parts, &mut foods, log);
}

/// Foods that are read, and the identifiers of those that are left out on purpose.
struct Foods<'a> {
    read: &'a mut Read,
    others: BTreeSet<u64>,
}

impl Foods<'_> {
    /// The food a row speaks of; `None` when it is left out on purpose or, then noted, nowhere.
    fn find(&mut self, cell: &str, line: u32, strays: &mut Strays) -> Option<&mut Draft> {
        let number = number(cell);
        if number.is_some_and(|number| self.others.contains(&number)) {
            return None;
        }
        let draft = number.and_then(|number| self.read.foods.get_mut(&id(number)));
        if draft.is_none() {
            strays.add(format!("food `{}`", short(cell)), line);
        }
        draft
    }
}

fn number(cell: &str) -> Option<u64> {
    let digits = !cell.is_empty() && cell.bytes().all(|byte| byte.is_ascii_digit());
    digits.then(|| cell.parse().ok())?
}

fn id(number: u64) -> String {
    format!("fdc-{number}")
}

fn foods(parts: &Parts<'_>, read: &mut Read, log: &mut Log) -> BTreeSet<u64> {
    let mut others = BTreeSet::new();
    let columns = ["fdc_id", "data_type", "description", "publication_date"];
    for file in parts.all(Part::FdcFood) {
        each_row(*file, columns, log, |_, [cell, kind, description, published]| {
            let number =
                number(cell).ok_or_else(|| row_out(format!("`{}` is no number of a food", short(cell))))?;
            let Some((_, kind)) = KINDS.iter().find(|(word, _)| *word == kind) else {
                read.left_out += u64::from(others.insert(number));
                return Ok(());
            };
            let mut source = format!("USDA FoodData Central, {kind}, FDC {number}");
            if !published.is_empty() {
                source.push_str(&format!(", published {}", short(published)));
            }
            read.add_food(id(number), description, source)
        });
    }
    others
}

/// What each `nutrient_id` stands for: `None` for those that are none of ours.
fn meanings(parts: &Parts<'_>, log: &mut Log) -> BTreeMap<String, Option<Known>> {
    let mut meanings = BTreeMap::new();
    for file in parts.all(Part::FdcNutrient) {
        each_row(
            *file,
            ["id", "unit_name", "nutrient_nbr"],
            log,
            |_, [id, unit, number]| {
                let known = known(number);
                let counted = known.filter(|known| unit.eq_ignore_ascii_case(unit_word(known.nutrient)));
                meanings.insert(id.to_owned(), counted);
                match known {
                    Some(known) if counted.is_none() => Err(Trouble {
                        message: format!(
                            "nutrient {number} is counted in `{}` and not in `{}`",
                            short(unit),
                            unit_word(known.nutrient)
                        ),
                        help: "Its figures are left out and count as not known.",
                    }),
                    _ => Ok(()),
                }
            },
        );
    }
    meanings
}

fn figures(parts: &Parts<'_>, foods: &mut Foods<'_>, log: &mut Log) {
    let meanings = meanings(parts, log);
    let columns = ["fdc_id", "nutrient_id", "amount"];
    for file in parts.all(Part::FdcFoodNutrient) {
        let mut strays = Strays::default();
        each_row(*file, columns, log, |line, [food, nutrient, amount]| {
            let Some(draft) = foods.find(food, line, &mut strays) else {
                return Ok(());
            };
            match meanings.get(nutrient) {
                Some(Some(known)) => draft.add_figure(*known, amount),
                Some(None) => Ok(()),
                None => {
                    strays.add(format!("nutrient `{}`", short(nutrient)), line);
                    Ok(())
                }
            }
        });
        log.add_strays(file.name, strays);
    }
}

fn portions(parts: &Parts<'_>, foods: &mut Foods<'_>, log: &mut Log) {
    let mut units = BTreeMap::from([(NO_UNIT.to_owned(), String::new())]);
    for file in parts.all(Part::FdcMeasureUnit) {
        each_row(*file, ["id", "name"], log, |_, [id, name]| {
            if id != NO_UNIT {
                units.insert(id.to_owned(), name.to_owned());
            }
            Ok(())
        });
    }
    let columns = [
        "fdc_id",
        "seq_num",
        "amount",
        "measure_unit_id",
        "portion_description",
        "modifier",
        "gram_weight",
    ];
    for file in parts.all(Part::FdcFoodPortion) {
        let mut strays = Strays::default();
        each_row(
            *file,
            columns,
            log,
            |line, [food, place, amount, unit, text, modifier, grams]| {
                let Some(draft) = foods.find(food, line, &mut strays) else {
                    return Ok(());
                };
                let Some(unit) = units.get(unit) else {
                    strays.add(format!("measure `{}`", short(unit)), line);
                    return Ok(());
                };
                let (amount_thousandths, mg) = measure(amount, grams)?;
                let words: Vec<&str> = [unit, text, modifier]
                    .into_iter()
                    .filter(|word| !word.is_empty())
                    .collect();
                if words.is_empty() {
                    return Err(row_out("the measure has no name"));
                }
                let portion = Portion {
                    amount_thousandths,
                    text: words.join(", "),
                    mass: Mass::from_mg(mg),
                };
                draft
                    .portions
                    .push((decimal(place, 0).unwrap_or(i64::MAX), portion));
                Ok(())
            },
        );
        log.add_strays(file.name, strays);
    }
}
