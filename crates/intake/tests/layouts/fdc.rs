//! FoodData Central tables, small ones written by us in the published columns; all figures are invented.

use crate::shown::{food, problems};
use larderwright_intake::{Composition, Nutrient, SourceFile, read_composition};

const FOOD: &str = r#""fdc_id","data_type","description","food_category_id","publication_date"
"101","sr_legacy_food","Beans, speckled, raw","16","2019-04-01"
"102","foundation_food","Apples, tart, ""rough"" skin, raw","9","2024-04-18"
"103","sample_food","Apples, one sample","9","2024-04-18"
"104","branded_food","Apples in a bag","","2024-04-18"
"#;

const NUTRIENT: &str = r#""id","name","unit_name","nutrient_nbr","rank"
"1003","Protein","G","203","600.0"
"1008","Energy","KCAL","208","300.0"
"1062","Energy","kJ","268","400.0"
"1079","Fiber, total dietary","G","291","1200.0"
"1093","Sodium, Na","MG","307","5800.0"
"2047","Energy (Atwater General Factors)","KCAL","957","280.0"
"2048","Energy (Atwater Specific Factors)","KCAL","958","290.0"
"#;

const FIGURES: &str = r#""id","fdc_id","nutrient_id","amount","data_points","derivation_id","min","max","median","footnote","min_year_acquired"
"1","101","1003","21.5","4","1","","","","",""
"2","101","1008","340","0","49","","","","",""
"3","101","1062","1423","0","49","","","","",""
"4","101","1079","","0","49","","","","",""
"5","102","1093","0.0","4","1","","","","",""
"6","102","2047","60","","49","","","","",""
"7","102","2048","57.25","","49","","","","",""
"8","103","1003","0.3","1","1","","","","",""
"#;

const UNITS: &str = "\"id\",\"name\"\n\"1000\",\"cup\"\n\"9999\",\"undetermined\"\n";

const PORTIONS: &str = r#""id","fdc_id","seq_num","amount","measure_unit_id","portion_description","modifier","gram_weight","data_points","footnote","min_year_acquired"
"1","101","2","1","9999","","tbsp, heaped","12.5","","",""
"2","101","1","1","9999","","cup","184","","",""
"3","102","1","0.5","1000","","sliced","55","8","",""
"#;

fn files() -> Vec<(&'static str, String)> {
    let file = |name, text: &str| (name, text.to_owned());
    vec![
        file("food.csv", FOOD),
        file("nutrient.csv", NUTRIENT),
        file("food_nutrient.csv", FIGURES),
        file("measure_unit.csv", UNITS),
        file("food_portion.csv", PORTIONS),
    ]
}

fn read(files: &[(&'static str, String)]) -> Composition {
    let files: Vec<SourceFile<'_>> = files
        .iter()
        .map(|(name, text)| SourceFile { name, text })
        .collect();
    read_composition(&files)
}

/// The whole of one food after one replacement in one file, and the problems.
fn check(name: &str, from: &str, to: &str) -> Composition {
    let mut files = files();
    let file = files
        .iter_mut()
        .find(|(file, _)| *file == name)
        .expect("the file is one of ours");
    assert!(file.1.contains(from), "{from}");
    file.1 = file.1.replacen(from, to, 1);
    read(&files)
}

#[test]
fn both_kinds_of_foods_are_read_with_figures_and_measures() {
    let read = read(&files());
    assert_eq!(problems(&read), [""; 0]);
    assert_eq!((read.foods.len(), read.left_out), (2, 2));
    assert_eq!(
        food(&read, "fdc-101"),
        "Beans, speckled, raw / USDA FoodData Central, SR Legacy, FDC 101, published 2019-04-01 / \
         Energy 340000 (208) Protein 21500 (203) / 1000 cup = 184000, 1000 tbsp, heaped = 12500"
    );
    assert_eq!(
        food(&read, "fdc-102"),
        "Apples, tart, \"rough\" skin, raw / USDA FoodData Central, Foundation, FDC 102, published 2024-04-18 / \
         Energy 57250 (958) Sodium 0 (307) / 500 cup, sliced = 55000"
    );
}

#[test]
fn a_blank_figure_is_not_known_and_a_nought_is_nothing() {
    let read = read(&files());
    assert_eq!(read.foods[0].nutrients.get(&Nutrient::Fibre), None);
    assert_eq!(
        read.foods[1]
            .nutrients
            .get(&Nutrient::Sodium)
            .map(|it| it.thousandths),
        Some(0)
    );
}

#[test]
fn the_order_of_rows_does_not_choose_between_two_energies() {
    let mut lines: Vec<&str> = FIGURES.lines().collect();
    lines[1..].reverse();
    let mut files = files();
    files[2].1 = lines.join("\n");
    assert_eq!(read(&files).foods, read(&self::files()).foods);
}

/// The file, what is replaced in it by what, and the problem.
const DAMAGE: &[(&str, &str, &str, &str)] = &[
    (
        "food.csv",
        "\"104\",",
        "\"104,",
        "food.csv:5 text follows a closing quote",
    ),
    (
        "food.csv",
        "\"104\",\"branded_food\"",
        "\"1o4\",\"branded_food\"",
        "food.csv:5 `1o4` is no number of a food",
    ),
    (
        "food_nutrient.csv",
        "\"21.5\"",
        "\"much\"",
        "food_nutrient.csv:2 `much` is no figure",
    ),
    (
        "food_nutrient.csv",
        "\"21.5\"",
        "\"-1\"",
        "food_nutrient.csv:2 `-1` is less than nothing",
    ),
    (
        "food_nutrient.csv",
        "\"21.5\"",
        "\"215\"",
        "food_nutrient.csv:2 `215` is more than 100 g of food can hold",
    ),
    (
        "food_nutrient.csv",
        "\"3\",\"101\",\"1062\",\"1423\",\"0\"",
        "\"3\",\"101\",\"1062\"",
        "food_nutrient.csv:4 the row has 9 cells where 11 are wanted",
    ),
    (
        "food_nutrient.csv",
        "\"3\",\"101\",\"1062\"",
        "\"3\",\"999\",\"1062\"",
        "food_nutrient.csv:4 a row speaks of food `999`, which is in no file",
    ),
    (
        "food_nutrient.csv",
        "\"1062\",\"1423\"",
        "\"9\",\"1423\"",
        "food_nutrient.csv:4 a row speaks of nutrient `9`, which is in no file",
    ),
    (
        "food_nutrient.csv",
        "\"3\",\"101\",\"1062\"",
        "\"3\",\"101\",\"1003\"",
        "food_nutrient.csv:4 `1423` is more than 100 g of food can hold",
    ),
    (
        "food_portion.csv",
        "\"cup\",\"184\"",
        "\"cup\",\"\"",
        "food_portion.csv:3 `` is no weight in grams",
    ),
    (
        "food_portion.csv",
        "\"0.5\",\"1000\"",
        "\"0.5\",\"77\"",
        "food_portion.csv:4 a row speaks of measure `77`, which is in no file",
    ),
];

#[test]
fn a_malformed_row_is_told_with_its_line_and_the_rest_is_kept() {
    for (name, from, to, problem) in DAMAGE {
        let read = check(name, from, to);
        assert_eq!(problems(&read), [*problem], "{from} -> {to}");
        assert_eq!(read.foods.len(), 2, "{from} -> {to}");
    }
}

#[test]
fn a_second_figure_that_differs_is_refused() {
    let read = check(
        "food_nutrient.csv",
        "\"3\",\"101\",\"1062\",\"1423\"",
        "\"3\",\"101\",\"1003\",\"22\"",
    );
    assert_eq!(
        problems(&read),
        ["food_nutrient.csv:4 nutrient 203 of `fdc-101` has another figure already"]
    );
    assert_eq!(read.foods[0].nutrients[&Nutrient::Protein].thousandths, 21_500);
}

#[test]
fn a_nutrient_in_another_unit_stays_unknown() {
    let read = check("nutrient.csv", "\"Sodium, Na\",\"MG\"", "\"Sodium, Na\",\"G\"");
    assert_eq!(
        problems(&read),
        ["nutrient.csv:6 nutrient 307 is counted in `G` and not in `MG`"]
    );
    assert_eq!(read.foods[1].nutrients.get(&Nutrient::Sodium), None);
}

#[test]
fn a_file_that_is_not_there_is_told() {
    let without = |name: &str| {
        let mut files = files();
        files.retain(|(file, _)| *file != name);
        read(&files)
    };
    let no_foods = without("food.csv");
    assert_eq!(
        (problems(&no_foods), no_foods.foods.len()),
        (vec!["food.csv:0 is missing".to_owned()], 0)
    );
    for name in ["nutrient.csv", "food_nutrient.csv"] {
        let read = without(name);
        assert_eq!(problems(&read), [format!("{name}:0 is missing")]);
        assert!(read.foods.iter().all(|food| food.nutrients.is_empty()), "{name}");
    }
    let no_portions = without("food_portion.csv");
    assert_eq!(problems(&no_portions), [""; 0]);
}

#[test]
fn a_column_that_is_not_there_leaves_the_file_out() {
    let read = check("food_portion.csv", "\"modifier\"", "\"mood\"");
    assert_eq!(
        problems(&read),
        ["food_portion.csv:1 there is no column `modifier`"]
    );
    assert!(read.foods.iter().all(|food| food.portions.is_empty()));
}

#[test]
fn a_file_of_something_else_is_told() {
    let mut files = files();
    files.push(("letter.txt", "Dear aunt".into()));
    assert_eq!(
        problems(&read(&files)),
        ["letter.txt:0 is no file of food composition that is known"]
    );
}
