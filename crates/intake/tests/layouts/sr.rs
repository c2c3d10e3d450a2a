//! The Standard Reference's ASCII files, small ones written by us in the published places; all figures are invented.

use crate::shown::{food, problems};
use larderwright_intake::{Composition, SourceFile, read_composition};

const FOOD_DES: &str = "\
~90001~^~1600~^~Beans, speckled, raw~^~BEANS,SPECKLED,RAW~^~~^~~^~~^~~^0^~Phaseolus~^6.25^3.47^8.37^4.07\r
~90002~^~0900~^~Apples, tart, raw~^~APPLES,TART,RAW~^~~^~~^~Y~^~Core and jalape\u{f1}o stem~^10^~Malus~^6.25^3.36^8.37^3.60\r
";

const NUT_DATA: &str = "\
~90001~^~203~^21.50^4^0.2^~1~^~A~^~~^~~^1^21.1^21.9^3^20.8^22.2^~~^05/2010^~~\r
~90001~^~208~^340^0^^~4~^~NC~^~~^~~^^^^^^^~~^08/2010^~~\r
~90001~^~268~^1423^0^^~4~^~NC~^~~^~~^^^^^^^~~^08/2010^~~\r
~90002~^~307~^1^0^^~4~^~~^~~^~~^^^^^^^~~^08/2010^~~\r
";

const WEIGHT: &str = "\
~90001~^1^1^~cup~^184^^\r
~90002~^2^1^~large (3-1/4\" dia)~^223^^\r
~90002~^1^0.5^~cup, sliced~^55.5^8^1.2\r
";

fn read(food_des: &str, nut_data: &str, weight: &str) -> Composition {
    let file = |name, text| SourceFile { name, text };
    read_composition(&[
        file("FOOD_DES.txt", food_des),
        file("NUT_DATA.txt", nut_data),
        file("WEIGHT.txt", weight),
    ])
}

#[test]
fn foods_are_read_with_refuse_figures_and_measures() {
    let read = read(FOOD_DES, NUT_DATA, WEIGHT);
    assert_eq!(problems(&read), [""; 0]);
    let source = "USDA National Nutrient Database for Standard Reference, NDB";
    assert_eq!(
        food(&read, "ndb-90001"),
        format!(
            "Beans, speckled, raw / {source} 90001 / Energy 340000 (208) Protein 21500 (203) / 1000 cup = 184000 / 0 % refuse"
        )
    );
    assert_eq!(
        food(&read, "ndb-90002"),
        format!(
            "Apples, tart, raw / {source} 90002 / Sodium 1000 (307) / 500 cup, sliced = 55500, \
             1000 large (3-1/4\" dia) = 223000 / 10 % refuse"
        )
    );
}

#[test]
fn a_malformed_row_is_told_with_its_line_and_the_rest_is_kept() {
    let check = |from: &str, to: &str, problem: &str| {
        let change = |text: &str| text.replacen(from, to, 1);
        let read = read(&change(FOOD_DES), &change(NUT_DATA), &change(WEIGHT));
        assert_eq!(problems(&read), [problem], "{from} -> {to}");
        assert_eq!(read.foods.len(), 2, "{from} -> {to}");
    };
    check(
        "^10^~Malus~",
        "^half^~Malus~",
        "FOOD_DES.txt:2 `half` is no share of refuse in percent",
    );
    check("~208~^340", "~208~^34O", "NUT_DATA.txt:2 `34O` is no figure");
    check(
        "~90001~^~268~",
        "~90001^~268~",
        "NUT_DATA.txt:3 a tilde is not closed",
    );
    check(
        "~90001~^~208~",
        "~99999~^~208~",
        "NUT_DATA.txt:2 a row speaks of food `99999`, which is in no file",
    );
    check(
        "~90001~^1^1^~cup~^184^^",
        "~90001~^1^1",
        "WEIGHT.txt:1 the row has 3 cells where 5 are wanted",
    );
    check("~cup~^184", "~cup~^", "WEIGHT.txt:1 `` is no weight in grams");
    check("~cup~^184", "~~^184", "WEIGHT.txt:1 the measure has no name");
}

#[test]
fn a_food_that_is_lost_loses_its_rows_with_one_line_for_each_file() {
    let read = read(&FOOD_DES.replacen("~90001~", "~9000I~", 1), NUT_DATA, WEIGHT);
    assert_eq!(
        problems(&read),
        [
            "FOOD_DES.txt:1 `9000I` is no number of a food",
            "NUT_DATA.txt:1 2 rows speak of food `90001`, which is in no file",
            "WEIGHT.txt:1 a row speaks of food `90001`, which is in no file",
        ]
    );
    assert_eq!(read.foods.len(), 1);
}

#[test]
fn a_food_read_again_keeps_what_only_the_first_reading_knew() {
    let first = read(FOOD_DES, NUT_DATA, "").foods.remove(0);
    let changed = NUT_DATA
        .replacen("^21.50^", "^22.00^", 1)
        .replacen("~208~", "~999~", 1);
    let second = read(FOOD_DES, &changed, WEIGHT).foods.remove(0);
    let both = first.clone().renewed(second);
    let figures: Vec<i64> = both.nutrients.values().map(|figure| figure.thousandths).collect();
    assert_eq!(figures, [340_000, 22_000]);
    assert_eq!(both.portions.len(), 1);
    let again = both.clone().renewed(first);
    assert_eq!(
        again.portions, both.portions,
        "a reading without measures takes none away"
    );
}
