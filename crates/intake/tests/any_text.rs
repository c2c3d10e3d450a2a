//! No text whatsoever brings the readers down, and damage to one row leaves foods of other rows alone.

use larderwright_intake::{Part, SourceFile, read_composition};
use proptest::prelude::*;

const NAMES: [&str; 9] = [
    "food.csv",
    "nutrient.csv",
    "food_nutrient.csv",
    "measure_unit.csv",
    "food_portion.csv",
    "FOOD_DES.txt",
    "NUT_DATA.txt",
    "WEIGHT.txt",
    "else",
];

const HEADS: [&str; 9] = [
    "fdc_id,data_type,description,publication_date\n",
    "id,unit_name,nutrient_nbr\n",
    "fdc_id,nutrient_id,amount\n",
    "id,name\n",
    "fdc_id,seq_num,amount,measure_unit_id,portion_description,modifier,gram_weight\n",
    "~1~^~0100~^~Food~\n",
    "~1~^~203~^1\n",
    "~1~^1^1^~cup~^1\n",
    "",
];

/// Scraps of which rows that are nearly right are made.
const SCRAPS: &str = "(\"|\"\"|,|\n|\r\n|~|\\^|~\\^~|1|203|208|-|\\.|9{1,20}|sr_legacy_food|sample_food|KCAL|G|é|\u{feff}| |[a-z]{1,3}){0,60}";

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn no_texts_bring_the_reader_down(texts in prop::collection::vec((0..NAMES.len(), SCRAPS, "\\PC{0,40}"), 0..8)) {
        let texts: Vec<(usize, String)> = texts
            .into_iter()
            .map(|(at, scraps, any)| (at, format!("{}{scraps}{any}", HEADS[at])))
            .collect();
        let files: Vec<SourceFile<'_>> =
            texts.iter().map(|(at, text)| SourceFile { name: NAMES[*at], text }).collect();
        let read = read_composition(&files);
        let lines = texts.iter().map(|(_, text)| text.lines().count() + 1).max().unwrap_or(0);
        for problem in &read.problems {
            prop_assert!(usize::try_from(problem.line).is_ok_and(|line| line <= lines), "{problem}");
        }
        for food in &read.foods {
            prop_assert!(food.nutrients.values().all(|figure| figure.thousandths >= 0));
            prop_assert!(food.portions.iter().all(|portion| portion.mass.is_positive()));
        }
    }

    #[test]
    fn no_text_brings_recognition_down(name in "\\PC{0,20}", text in "\\PC{0,80}") {
        let part = Part::of(&name, &text);
        prop_assert!(part.is_none() || text.contains(['~', ',']));
    }

    #[test]
    fn damage_to_a_row_leaves_the_others_alone(row in 0_usize..20, put in "[\",a-z0-9]{1,8}", at in 0_usize..20) {
        let line = |number: usize| format!("\"{}\",\"sr_legacy_food\",\"Food {number}\",\"\"", 100 + number);
        let mut lines: Vec<String> = (0..20).map(line).collect();
        lines[row].insert_str(at, &put);
        let text = format!("{}{}", HEADS[0], lines.join("\n"));
        let read = read_composition(&[SourceFile { name: "food.csv", text: &text }]);
        for number in (0..20).filter(|number| *number != row) {
            let id = format!("fdc-{}", 100 + number);
            // The damaged row may have come to bear another one's number.
            let taken = read.problems.iter().any(|problem| problem.message.contains(&id));
            prop_assert!(taken || read.foods.iter().any(|food| food.id == id), "{id} of {text}");
        }
    }
}
