//! The table against USDA SR28: composition and household measures of foods across the departments, read
//! straight from the release by other means than the chore that compiles the table.

use larderwright_reference::food::food;
use larderwright_reference::{FoodRow, Nutrient};

/// Rows below the heading of a test table, cells by tab.
fn rows(table: &'static str) -> impl Iterator<Item = Vec<&'static str>> {
    table
        .lines()
        .filter(|line| !line.starts_with('#'))
        .skip(1)
        .map(|line| line.split('\t').collect())
}

fn cited(id: &str, ndb: &str) -> &'static FoodRow {
    let row = food(id).unwrap_or_else(|| panic!("`{id}` is a food"));
    assert!(
        row.source.starts_with(&format!("USDA SR28 NDB {ndb}")),
        "{id} cites {}",
        row.source
    );
    row
}

/// A decimal of the release in thousandths.
fn thousandths(text: &str) -> i64 {
    let (whole, fraction) = text.split_once('.').unwrap_or((text, ""));
    let digits = format!("{whole}{fraction:0<3}");
    assert!(fraction.len() <= 3, "{text} has no more than three decimals");
    digits.parse().expect("the release prints plain decimals")
}

#[test]
fn composition_agrees_with_the_release() {
    let mut checked = 0;
    for cells in rows(include_str!("published_usda_sr28/nutrients.tsv")) {
        let [id, ndb, name, figure] = cells[..] else {
            panic!("{cells:?}")
        };
        let nutrient = Nutrient::ALL
            .into_iter()
            .find(|nutrient| format!("{nutrient:?}") == name)
            .unwrap_or_else(|| panic!("`{name}` is a nutrient"));
        let expected = (figure != "unknown").then(|| thousandths(figure));
        assert_eq!(
            cited(id, ndb).nutrient(nutrient).map(i64::from),
            expected,
            "{id} {name}"
        );
        checked += 1;
    }
    assert!(checked >= 100);
}

#[test]
fn household_measures_agree_with_the_release() {
    let mut checked = 0;
    for cells in rows(include_str!("published_usda_sr28/measures.tsv")) {
        let [id, ndb, amount, text, grams] = cells[..] else {
            panic!("{cells:?}")
        };
        let published = (thousandths(amount), text, thousandths(grams));
        assert!(
            cited(id, ndb).measures.iter().any(|measure| (
                measure.amount_thousandths,
                measure.text,
                measure.mg
            ) == published),
            "{id}: {published:?}"
        );
        checked += 1;
    }
    assert!(checked >= 200);
}

/// Grams in one US cup of 236.588 ml, to the nearest gram.
fn cup_grams(id: &str) -> i64 {
    let row = food(id).unwrap_or_else(|| panic!("`{id}` is a food"));
    let density = row.density.unwrap_or_else(|| panic!("{id} has a density"));
    (density.g_per_l * 236_588 + 500_000) / 1_000_000
}

#[test]
fn a_cup_weighs_what_the_release_says() {
    // SR28 WEIGHT rows, read by hand: NDB 11090, 11282, 11124, 11507, 11821, 11260, 11457, 11109 chopped,
    // 16014, 16032, 16037, 16056, 16069, 20044, 20036, 20035, 20005, 20012, 20028, 08120, 19335, 19296, 04053.
    for (id, grams) in [
        ("broccoli", 91),
        ("onion", 160),
        ("carrot", 128),
        ("sweet-potato", 133),
        ("bell-pepper-red", 149),
        ("mushroom", 70),
        ("spinach", 30),
        ("cabbage-white", 89),
        ("black-bean-dry", 194),
        ("kidney-bean-dry", 184),
        ("haricot-bean-dry", 208),
        ("chickpea-dry", 200),
        ("lentil-brown-dry", 192),
        ("rice-white-long-dry", 185),
        ("rice-brown-long-dry", 185),
        ("quinoa-dry", 170),
        ("pearl-barley-dry", 200),
        ("bulgur-dry", 140),
        ("couscous-dry", 173),
        ("oats-rolled", 81),
        ("sugar", 200),
        ("honey", 339),
        ("olive-oil", 216),
    ] {
        assert!(
            (cup_grams(id) - grams).abs() <= 1,
            "{id}: {} g, not {grams} g",
            cup_grams(id)
        );
    }
}

#[test]
fn what_is_eaten_of_a_can_is_what_the_release_weighed_drained() {
    // SR28 WEIGHT rows: NDB 16358 253 g of 448 g, 16145 266 g of 436 g, 16146 277 g of 442 g.
    for (id, drained, can) in [
        ("chickpea-canned", 253, 448),
        ("kidney-bean-canned", 266, 436),
        ("pinto-bean-canned", 277, 442),
    ] {
        let permille = food(id).expect("the pulse is a food").edible.permille;
        assert!((permille * can - drained * 1000).abs() <= can, "{id}: {permille}");
    }
}
