//! The tables written by hand: one file per department under `data/foods`, and the small tables beside it.
//! Every word is checked here, so that later steps can rely on it.

use std::collections::BTreeSet;
use std::path::Path;

use super::keeping;
use super::text::{read, tab_rows};

/// Departments in the order of the model, with the file each is written in.
pub(super) const DEPARTMENTS: [(&str, &str); 14] = [
    ("Produce", "produce"),
    ("Bakery", "bakery"),
    ("Meat", "meat"),
    ("Fish", "fish"),
    ("Dairy", "dairy"),
    ("Chilled", "chilled"),
    ("Dry", "dry"),
    ("Cans", "cans"),
    ("Spices", "spices"),
    ("OilsSauces", "oils-sauces"),
    ("Baking", "baking"),
    ("Snacks", "snacks"),
    ("Drinks", "drinks"),
    ("Frozen", "frozen"),
];

const KINDS: [(&str, &str); 15] = [
    ("plant", "Plant"),
    ("mineral", "Mineral"),
    ("dairy", "Dairy"),
    ("egg", "Egg"),
    ("honey", "Honey"),
    ("fish", "Fish"),
    ("crustacean", "Crustacean"),
    ("mollusc", "Mollusc"),
    ("poultry", "Poultry"),
    ("beef", "Beef"),
    ("pork", "Pork"),
    ("lamb", "Lamb"),
    ("other-meat", "OtherMeat"),
    ("gelatine", "Gelatine"),
    ("alcohol", "Alcohol"),
];

const ALLERGENS: [(&str, &str); 15] = [
    ("gluten", "Gluten"),
    ("wheat", "Wheat"),
    ("crustaceans", "Crustaceans"),
    ("eggs", "Eggs"),
    ("fish", "Fish"),
    ("peanuts", "Peanuts"),
    ("soy", "Soy"),
    ("milk", "Milk"),
    ("tree-nuts", "TreeNuts"),
    ("celery", "Celery"),
    ("mustard", "Mustard"),
    ("sesame", "Sesame"),
    ("sulphites", "Sulphites"),
    ("lupin", "Lupin"),
    ("molluscs", "Molluscs"),
];

const STORAGE: [(&str, &str); 6] = [
    ("cupboard", "Cupboard"),
    ("counter", "Counter"),
    ("fridge", "Fridge"),
    ("fridge-short", "FridgeShort"),
    ("freezer", "Freezer"),
    ("tap", "Tap"),
];

/// States in which the same thing is bought or kept.
const STATES: [&str; 12] = [
    "fresh", "raw", "dry", "dried", "cooked", "canned", "frozen", "ground", "smoked", "pickled", "juice",
    "whole",
];

/// Columns of a food file, in order.
pub(super) const HEADING: &str =
    "id\tname\tname_us\tsynonyms\tkinds\tallergens\tsr\tedible\tmeasure\tunit\tfamily\tstorage\tprice\tpacks";

/// An allergen word of Rust and whether the food contains it for certain.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct AllergenMark {
    pub(super) order: usize,
    pub(super) variant: &'static str,
    pub(super) contains: bool,
}

/// One food as written by hand.
pub(super) struct Food {
    pub(super) id: String,
    pub(super) name: String,
    pub(super) name_us: String,
    pub(super) synonyms: Vec<String>,
    pub(super) department: &'static str,
    pub(super) kinds: Vec<&'static str>,
    pub(super) allergens: Option<Vec<AllergenMark>>,
    pub(super) read_label: bool,
    /// How to find the figures: sr, edible, measure, unit and price, as written.
    pub(super) sr: String,
    pub(super) edible: String,
    pub(super) measure: String,
    pub(super) unit: String,
    pub(super) price: String,
    pub(super) family: String,
    pub(super) state: String,
    pub(super) storage: &'static str,
    pub(super) keeping: String,
    pub(super) packs: String,
}

impl Food {
    /// What the figures were derived from; when it changes, the compiled row is stale.
    pub(super) fn inputs(&self) -> String {
        [&self.sr, &self.edible, &self.measure, &self.unit, &self.price]
            .map(String::as_str)
            .join(" | ")
    }
}

/// One food that can stand in for another.
pub(super) struct Substitute {
    pub(super) food: String,
    pub(super) instead: String,
    pub(super) permille: i64,
    pub(super) note: String,
    pub(super) source: String,
}

/// All tables written by hand.
pub(super) struct Authored {
    /// Foods in the order of their ids.
    pub(super) foods: Vec<Food>,
    pub(super) keeping: keeping::Kinds,
    pub(super) substitutes: Vec<Substitute>,
}

/// Reads and checks the hand-written tables.
pub(super) fn load(data: &Path) -> Result<Authored, String> {
    let mut foods = Vec::new();
    for (department, file) in DEPARTMENTS {
        let path = data.join(format!("foods/{file}.tsv"));
        let content = read(&path)?;
        if content.lines().find(|line| !line.starts_with('#')) != Some(HEADING) {
            return Err(format!("{file}.tsv does not begin with the agreed heading"));
        }
        for (line, cells) in tab_rows(&content, 14).map_err(|error| format!("{file}.tsv {error}"))? {
            let food =
                food(department, &cells).map_err(|error| format!("{file}.tsv line {line}: {error}"))?;
            foods.push(food);
        }
    }
    foods.sort_by(|a, b| a.id.cmp(&b.id));
    if let Some(pair) = foods.windows(2).find(|pair| pair[0].id == pair[1].id) {
        return Err(format!("food `{}` is written twice", pair[0].id));
    }
    let authored = Authored {
        keeping: keeping::parse(&read(&data.join("keeping.tsv"))?)?,
        substitutes: substitutes(&read(&data.join("substitutes.tsv"))?)?,
        foods,
    };
    check_references(&authored)?;
    Ok(authored)
}

fn food(department: &'static str, cells: &[String]) -> Result<Food, String> {
    let id = cells[0].clone();
    if id.is_empty()
        || !id
            .chars()
            .all(|letter| letter.is_ascii_lowercase() || letter.is_ascii_digit() || letter == '-')
    {
        return Err(format!(
            "`{id}` is not an id of small letters, digits and hyphens"
        ));
    }
    let (allergens, read_label) = allergens(&cells[5])?;
    let (family, state) = cells[10].split_once('/').unwrap_or((&cells[10], ""));
    if !state.is_empty() && !STATES.contains(&state) {
        return Err(format!("`{state}` is not a state of food"));
    }
    let (class, keeping) = cells[11].split_once(':').unwrap_or((&cells[11], ""));
    Ok(Food {
        name: cells[1].clone(),
        name_us: cells[2].clone(),
        synonyms: list(&cells[3], ';'),
        department,
        kinds: list(&cells[4], '+')
            .iter()
            .map(|word| lookup(word, &KINDS, "kind"))
            .collect::<Result<_, _>>()?,
        allergens,
        read_label,
        sr: cells[6].clone(),
        edible: cells[7].clone(),
        measure: cells[8].clone(),
        unit: cells[9].clone(),
        family: family.to_owned(),
        state: state.to_owned(),
        storage: lookup(class, &STORAGE, "storage class")?,
        keeping: keeping.to_owned(),
        price: cells[12].clone(),
        packs: cells[13].clone(),
        id,
    })
}

fn list(cell: &str, separator: char) -> Vec<String> {
    cell.split(separator)
        .map(str::trim)
        .filter(|part| !part.is_empty())
        .map(str::to_owned)
        .collect()
}

fn lookup(word: &str, table: &[(&str, &'static str)], what: &str) -> Result<&'static str, String> {
    table
        .iter()
        .find(|(name, _)| *name == word)
        .map(|(_, variant)| *variant)
        .ok_or_else(|| format!("`{word}` is not a {what}"))
}

/// Reads the allergen cell: `-` none, `?` not known, else words, `?milk` for may contain, `label` for
/// foods whose label differs by brand. Wheat brings gluten with it.
fn allergens(cell: &str) -> Result<(Option<Vec<AllergenMark>>, bool), String> {
    let mut read_label = false;
    let mut known = true;
    let mut marks = BTreeSet::new();
    for word in cell.split_whitespace() {
        match word {
            "-" => {}
            "?" => known = false,
            "label" => read_label = true,
            _ => {
                let (name, contains) = word.strip_prefix('?').map_or((word, true), |name| (name, false));
                lookup(name, &ALLERGENS, "allergen")?;
                let names = if name == "wheat" {
                    &["gluten", "wheat"][..]
                } else {
                    std::slice::from_ref(&name)
                };
                for name in names {
                    let order = ALLERGENS
                        .iter()
                        .position(|(word, _)| word == name)
                        .expect("the name was found above");
                    marks.insert(AllergenMark {
                        order,
                        variant: ALLERGENS[order].1,
                        contains,
                    });
                }
            }
        }
    }
    if cell.is_empty() {
        return Err("the allergen cell is empty: write `-` for none or `?` for not known".to_owned());
    }
    // A food that contains an allergen does not also "may contain" it.
    let certain: BTreeSet<usize> = marks
        .iter()
        .filter(|mark| mark.contains)
        .map(|mark| mark.order)
        .collect();
    let marks = marks
        .into_iter()
        .filter(|mark| mark.contains || !certain.contains(&mark.order))
        .collect();
    Ok((known.then_some(marks), read_label))
}

fn substitutes(content: &str) -> Result<Vec<Substitute>, String> {
    tab_rows(content, 5)?
        .into_iter()
        .map(|(line, cells)| {
            Ok(Substitute {
                food: cells[0].clone(),
                instead: cells[1].clone(),
                permille: cells[2].parse().map_err(|_| {
                    format!("substitutes.tsv line {line}: `{}` is not per thousand", cells[2])
                })?,
                note: cells[3].clone(),
                source: cells[4].clone(),
            })
        })
        .collect()
}

fn check_references(authored: &Authored) -> Result<(), String> {
    let ids: BTreeSet<&str> = authored.foods.iter().map(|food| food.id.as_str()).collect();
    for food in &authored.foods {
        if !food.keeping.is_empty() && !authored.keeping.contains_key(&food.keeping) {
            return Err(format!(
                "food `{}`: `{}` is not in keeping.tsv",
                food.id, food.keeping
            ));
        }
    }
    for row in &authored.substitutes {
        for id in [&row.food, &row.instead] {
            if !ids.contains(id.as_str()) {
                return Err(format!("substitutes.tsv: `{id}` is not a food"));
            }
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(cell: &str) -> Vec<(&'static str, bool)> {
        let (marks, _) = allergens(cell).expect("the cell is readable");
        marks
            .expect("the allergens are known")
            .iter()
            .map(|mark| (mark.variant, mark.contains))
            .collect()
    }

    #[test]
    fn wheat_brings_gluten_with_it() {
        assert_eq!(
            words("wheat ?milk"),
            [("Gluten", true), ("Wheat", true), ("Milk", false)]
        );
    }

    #[test]
    fn contains_outranks_may_contain() {
        assert_eq!(words("?soy soy"), [("Soy", true)]);
    }

    #[test]
    fn not_known_is_neither_none_nor_some() {
        assert!(allergens("?").expect("the cell is readable").0.is_none());
        assert!(allergens("").is_err());
        assert!(allergens("nuts").is_err());
    }
}
