//! The USDA National Nutrient Database for Standard Reference in its ASCII files. Places of cells in
//! `WEIGHT` were read in the file of Release 28, those of `FOOD_DES` and `NUT_DATA` are from memory of its
//! documentation; cells that later releases added at a row's end may be absent.

use larderwright_quantity::Mass;

use crate::composition::{Parts, Portion, Read};
use crate::figure::{decimal, known, measure, short};
use crate::log::{Log, Strays, row_out};
use crate::part::Part;
use crate::rows::each_line;

/// Cells of a row of foods when it says what is thrown away.
const FOOD_CELLS: usize = 14;

pub(crate) fn read(parts: &Parts<'_>, read: &mut Read, log: &mut Log) {
    if parts.lacks(Part::SrFoodDes) {
        log.missing(
            Part::SrFoodDes.file_name(),
            "Add it: it names the foods of the other files.",
        );
        return;
    }
    foods(parts, read, log);
    if parts.lacks(Part::SrNutData) {
        log.missing(
            Part::SrNutData.file_name(),
            "Add it: without it no figure is known.",
        );
    }
    figures(parts, read, log);
    portions(parts, read, log);
}

fn id(number: &str) -> String {
    format!("ndb-{number}")
}

/// Five digits, as every number of the database; fewer lost their noughts in a spreadsheet.
fn number(cell: &str) -> Option<String> {
    let digits = (1..=5).contains(&cell.len()) && cell.bytes().all(|byte| byte.is_ascii_digit());
    digits.then(|| format!("{cell:0>5}"))
}

/// NDB_No, FdGrp_Cd, Long_Desc, Shrt_Desc, ComName, ManufacName, Survey, Ref_desc, Refuse, ...
fn foods(parts: &Parts<'_>, read: &mut Read, log: &mut Log) {
    for file in parts.all(Part::SrFoodDes) {
        each_line(*file, 3, log, |_, cells| {
            let number = number(&cells[0])
                .ok_or_else(|| row_out(format!("`{}` is no number of a food", short(&cells[0]))))?;
            let source = format!("USDA National Nutrient Database for Standard Reference, NDB {number}");
            read.add_food(id(&number), &cells[2], source)?;
            let refuse = cells
                .get(8)
                .filter(|cell| cells.len() == FOOD_CELLS && !cell.is_empty());
            let Some(refuse) = refuse else { return Ok(()) };
            let percent = decimal(refuse, 0).filter(|percent| (0..=100).contains(percent));
            let percent = percent.ok_or_else(|| {
                crate::log::figure_out(format!("`{}` is no share of refuse in percent", short(refuse)))
            })?;
            if let Some(draft) = read.foods.get_mut(&id(&number)) {
                draft.food.refuse_percent = Some(percent);
            }
            Ok(())
        });
    }
}

/// NDB_No, Nutr_No, Nutr_Val, ...
fn figures(parts: &Parts<'_>, read: &mut Read, log: &mut Log) {
    for file in parts.all(Part::SrNutData) {
        let mut strays = Strays::default();
        each_line(*file, 3, log, |line, cells| {
            let Some(known) = known(&cells[1]) else {
                return Ok(());
            };
            match number(&cells[0]).and_then(|number| read.foods.get_mut(&id(&number))) {
                Some(draft) => draft.add_figure(known, &cells[2]),
                None => {
                    strays.add(stray(&cells[0]), line);
                    Ok(())
                }
            }
        });
        log.add_strays(file.name, strays);
    }
}

/// NDB_No, Seq, Amount, Msre_Desc, Gm_Wgt, ...
fn portions(parts: &Parts<'_>, read: &mut Read, log: &mut Log) {
    for file in parts.all(Part::SrWeight) {
        let mut strays = Strays::default();
        each_line(*file, 5, log, |line, cells| {
            let draft = number(&cells[0]).and_then(|number| read.foods.get_mut(&id(&number)));
            let Some(draft) = draft else {
                strays.add(stray(&cells[0]), line);
                return Ok(());
            };
            let (amount_thousandths, mg) = measure(&cells[2], &cells[4])?;
            if cells[3].is_empty() {
                return Err(row_out("the measure has no name"));
            }
            let portion = Portion {
                amount_thousandths,
                text: cells[3].to_string(),
                mass: Mass::from_mg(mg),
            };
            draft
                .portions
                .push((decimal(&cells[1], 0).unwrap_or(i64::MAX), portion));
            Ok(())
        });
        log.add_strays(file.name, strays);
    }
}

fn stray(cell: &str) -> String {
    format!("food `{}`", short(cell))
}
