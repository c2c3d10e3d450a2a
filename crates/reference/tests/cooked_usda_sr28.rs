//! Computed nutrients against analysed ones: raw foods of the table cooked by the program, and the rows of the
//! same foods that USDA SR28 had analysed after cooking. The report must stand in `docs/nutrients.md` as it is.

use std::fmt::Write as _;

use larderwright_quantity::Mass;
use larderwright_reference::cooked::{Ingredient, Input, Nutrients, cooked};
use larderwright_reference::retention::Method;
use larderwright_reference::{FoodRow, Nutrient, food};

const PAIRS: &str = include_str!("cooked_usda_sr28/pairs.tsv");
const DOCUMENT: &str = include_str!("../../../docs/nutrients.md");

/// The nutrients compared, with 2 % of the daily value of the United States (21 CFR 101.9(c)) in thousandths of
/// their unit, for sugars 2 % of 50 g: smaller figures than that are compared with it, since near nothing every difference
/// is large and none matters.
const COMPARED: [(Nutrient, &str, i64); 19] = [
    (Nutrient::Energy, "energy", 40_000),
    (Nutrient::Protein, "protein", 1_000),
    (Nutrient::Fat, "fat", 1_560),
    (Nutrient::Carbohydrate, "carbohydrate", 5_500),
    (Nutrient::Fibre, "fibre", 560),
    (Nutrient::Sodium, "sodium", 46_000),
    (Nutrient::Potassium, "potassium", 94_000),
    (Nutrient::Calcium, "calcium", 26_000),
    (Nutrient::Iron, "iron", 360),
    (Nutrient::Magnesium, "magnesium", 8_400),
    (Nutrient::Phosphorus, "phosphorus", 25_000),
    (Nutrient::Zinc, "zinc", 220),
    (Nutrient::VitaminA, "vitamin A", 18_000),
    (Nutrient::VitaminC, "vitamin C", 1_800),
    (Nutrient::Thiamin, "thiamin", 24),
    (Nutrient::Riboflavin, "riboflavin", 26),
    (Nutrient::Niacin, "niacin", 320),
    (Nutrient::VitaminB6, "vitamin B6", 34),
    (Nutrient::Folate, "folate", 8_000),
];

struct Pair {
    raw: &'static FoodRow,
    cooked: &'static FoodRow,
    method: Method,
    permille: i64,
}

/// Computed less analysed, in percent of the analysed figure.
struct Difference {
    food: &'static str,
    nutrient: Nutrient,
    name: &'static str,
    computed: i64,
    analysed: i64,
    percent: i64,
}

fn row(id: &str, ndb: &str) -> &'static FoodRow {
    let row = food(id).unwrap_or_else(|| panic!("`{id}` is not in the table"));
    assert_eq!(row.source, format!("USDA SR28 NDB {ndb}"), "{id}");
    row
}

fn pairs() -> Vec<Pair> {
    let rows = PAIRS.lines().filter(|line| !line.starts_with('#')).skip(1);
    rows.map(|line| {
        let cells: Vec<&str> = line.split('\t').collect();
        let (raw, cooked) = (row(cells[0], cells[1]), row(cells[2], cells[3]));
        let method = Method::ALL
            .into_iter()
            .find(|method| method.words() == cells[4])
            .expect("a method has words");
        Pair {
            raw,
            cooked,
            method,
            permille: permille(raw, cooked, cells[5], cells[6]),
        }
    })
    .collect()
}

fn permille(raw: &FoodRow, cooked: &FoodRow, cell: &str, source: &str) -> i64 {
    if let Ok(permille) = cell.parse() {
        assert!(!source.is_empty(), "{}: a yield has a source", raw.id);
        return permille;
    }
    assert_eq!(cell, "solids", "{}", raw.id);
    let solids =
        |row: &FoodRow| 100_000 - i64::from(row.nutrient(Nutrient::Water).expect("water is analysed"));
    let ratio = solids(raw) * 1000 / solids(cooked);
    if raw.id.ends_with("-dry") || raw.id == "oats-rolled" {
        ratio
    } else {
        ratio.min(1000)
    }
}

fn compute(pair: &Pair) -> Nutrients {
    let input = Input {
        ingredient: Ingredient::of_row(pair.raw),
        mass: Mass::from_g(1000),
        drained: false,
    };
    cooked(&[input], Mass::from_g(pair.permille), pair.method).expect("the pair has a yield")
}

fn differences() -> Vec<Difference> {
    let mut differences = Vec::new();
    for pair in pairs() {
        let nutrients = compute(&pair);
        for (nutrient, name, floor) in COMPARED {
            let (Some(computed), Some(analysed)) =
                (nutrients.figure(nutrient).value(), pair.cooked.nutrient(nutrient))
            else {
                continue;
            };
            let analysed = i64::from(analysed);
            let base = analysed.max(floor);
            differences.push(Difference {
                food: pair.cooked.id,
                nutrient,
                name,
                computed,
                analysed,
                percent: ((computed - analysed) * 200 + base * (computed - analysed).signum()) / (2 * base),
            });
        }
    }
    differences
}

/// Of one nutrient: the differences without their sign, smallest first.
fn sizes(differences: &[Difference], nutrient: Nutrient) -> Vec<i64> {
    let of = differences
        .iter()
        .filter(|difference| difference.nutrient == nutrient);
    let mut sizes: Vec<i64> = of.map(|difference| difference.percent.abs()).collect();
    sizes.sort_unstable();
    sizes
}

fn worst<'a>(differences: impl Iterator<Item = &'a Difference>) -> Vec<&'a Difference> {
    let mut worst: Vec<&Difference> = differences.collect();
    worst.sort_by_key(|difference| (-difference.percent.abs(), difference.food, difference.name));
    worst
}

fn summary(differences: &[Difference]) -> String {
    let mut text = String::from(
        "| nutrient | pairs | median | nine in ten within | worst |\n|---|---:|---:|---:|---|\n",
    );
    for (nutrient, name, _) in COMPARED {
        let sizes = sizes(differences, nutrient);
        let of = differences
            .iter()
            .filter(|difference| difference.nutrient == nutrient);
        let worst = worst(of)[0];
        writeln!(
            text,
            "| {name} | {} | {} % | {} % | {:+} % {} |",
            sizes.len(),
            sizes[sizes.len() / 2],
            sizes[sizes.len() * 9 / 10],
            worst.percent,
            worst.food
        )
        .expect("writing to a string cannot fail");
    }
    text
}

/// Of each pair its largest difference, the ten largest of them.
fn worst_ten(differences: &[Difference]) -> Vec<&Difference> {
    let mut ten: Vec<&Difference> = Vec::new();
    for difference in worst(differences.iter()) {
        if ten.len() < 10 && ten.iter().all(|worse| worse.food != difference.food) {
            ten.push(difference);
        }
    }
    ten
}

fn line(difference: &Difference) -> String {
    format!(
        "| {} | {} | {} | {} | {:+} % |",
        difference.food,
        difference.name,
        decimal(difference.computed),
        decimal(difference.analysed),
        difference.percent
    )
}

fn decimal(thousandths: i64) -> String {
    format!("{}.{:03}", thousandths / 1000, thousandths % 1000)
}

#[test]
fn the_pairs_span_the_kitchen() {
    let pairs = pairs();
    assert!(pairs.len() >= 25, "{} pairs", pairs.len());
    for method in [
        Method::BoiledDrained,
        Method::BoiledWaterUsed,
        Method::Roasted,
        Method::Fried,
    ] {
        assert!(pairs.iter().any(|pair| pair.method == method), "{method:?}");
    }
}

#[test]
fn what_is_computed_agrees_with_what_was_analysed() {
    let differences = differences();
    println!("{}", summary(&differences));
    // Percent: the median, and the band that nine pairs in ten keep to.
    for (nutrient, median, most) in [
        (Nutrient::Energy, 3, 15),
        (Nutrient::Protein, 6, 25),
        (Nutrient::Fat, 10, 30),
        (Nutrient::Carbohydrate, 3, 10),
        (Nutrient::Iron, 20, 60),
        (Nutrient::Potassium, 15, 50),
    ] {
        let sizes = sizes(&differences, nutrient);
        let (is_median, is_most) = (sizes[sizes.len() / 2], sizes[sizes.len() * 9 / 10]);
        assert!(is_median <= median, "{nutrient:?}: median {is_median} %");
        assert!(is_most <= most, "{nutrient:?}: nine in ten {is_most} %");
    }
}

#[test]
fn factors_come_nearer_to_the_analysis_than_mass_alone() {
    let with = differences();
    let total = |nutrient, differences: &[Difference]| sizes(differences, nutrient).iter().sum::<i64>();
    for nutrient in [
        Nutrient::Potassium,
        Nutrient::VitaminC,
        Nutrient::Thiamin,
        Nutrient::Folate,
    ] {
        let mut without = 0;
        for pair in pairs() {
            let (Some(raw), Some(analysed)) = (pair.raw.nutrient(nutrient), pair.cooked.nutrient(nutrient))
            else {
                continue;
            };
            let floor = COMPARED.iter().find(|(compared, ..)| *compared == nutrient);
            let base = i64::from(analysed).max(floor.expect("the nutrient is compared").2);
            let by_mass = i64::from(raw) * 1000 / pair.permille;
            without += ((by_mass - i64::from(analysed)) * 100 / base).abs();
        }
        let with = total(nutrient, &with);
        assert!(
            with < without,
            "{nutrient:?}: {with} with factors, {without} without"
        );
    }
}

#[test]
fn the_document_repeats_the_report_and_explains_the_worst_ten() {
    let differences = differences();
    let summary = summary(&differences);
    assert!(
        DOCUMENT.contains(&summary),
        "docs/nutrients.md should hold\n{summary}"
    );
    for line in worst_ten(&differences).into_iter().map(line) {
        let start = line.trim_end_matches('|');
        let told = DOCUMENT.lines().any(|told| {
            told.strip_prefix(start)
                .is_some_and(|reason| reason.trim_matches(['|', ' ']).len() > 20)
        });
        assert!(told, "docs/nutrients.md should explain\n{line}");
    }
}
