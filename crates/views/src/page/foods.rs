//! Foods: to search and to read, every figure with its source.

use larderwright_model::{Department, Presence, Region, Snapshot, StorageClass, WeekPlan};
use larderwright_reference::diet::{DietFlag, flag, observance_cautions};
use larderwright_reference::keeping::{KeepingLookup, NO_FIGURE};
use larderwright_reference::nutrient::{Nutrient, NutrientUnit};
use larderwright_reference::{FoodRow, all, food, search};

use crate::book::{Book, capital, listed};
use crate::order::department_name;
use crate::page::{Block, Named, Told};

/// How many foods a search shows.
const FOUND_MAX: usize = 60;

/// The list of foods.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FoodList {
    /// Title block.
    pub block: Block,
    /// What was asked for.
    pub query: String,
    /// Foods that fit; those of this week when nothing was asked.
    pub foods: Vec<FoodEntry>,
    /// What the list is.
    pub words: String,
}

/// A food in the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FoodEntry {
    /// Its identifier.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Where it stands in the shop.
    pub words: String,
}

/// A food's page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FoodPage {
    /// Its identifier.
    pub id: String,
    /// Title block.
    pub block: Block,
    /// Figures in groups.
    pub groups: Vec<Group>,
    /// Foods that can stand in for it, with identifiers.
    pub instead: Vec<(String, Told)>,
    /// Other states of it.
    pub states: Vec<FoodEntry>,
}

/// Figures that belong together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Group {
    /// `Per 100 g of edible portion`.
    pub title: &'static str,
    /// Each figure: what, how much, where from.
    pub figures: Vec<Told>,
}

/// The foods that fit a query; with an empty one those this week buys or takes from home.
#[must_use]
pub fn foods(snapshot: &Snapshot, plan: &WeekPlan, query: &str) -> FoodList {
    let region = snapshot.household.region;
    let query = query.trim();
    let (foods, words): (Vec<FoodEntry>, String) = if query.is_empty() {
        let bought = plan.order.lines.iter().map(|line| &line.food);
        let home = plan.order.from_stock.iter().map(|stock| &stock.food);
        let mut ids: Vec<&str> = bought
            .chain(home)
            .map(larderwright_model::FoodId::as_str)
            .collect();
        ids.sort_unstable();
        ids.dedup();
        let rows = ids.into_iter().filter_map(food);
        (
            rows.map(|row| entry(row, region)).collect(),
            "Foods of this week. Search for any other.".into(),
        )
    } else {
        let found = search::find(query, FOUND_MAX);
        let foods: Vec<FoodEntry> = found.iter().map(|found| entry(found.food, region)).collect();
        let words = match foods.len() {
            0 => format!("Nothing in the table is called `{query}`. Try another name, or fewer words."),
            FOUND_MAX => format!("The {FOUND_MAX} that fit best."),
            _ => "Best fit first.".into(),
        };
        (foods, words)
    };
    FoodList {
        block: Block {
            title: "Foods".into(),
            sub: "Figures of the food table, each with its source".into(),
            fields: vec![
                Named::new("In the table", all().len().to_string()),
                Named::new("Shown", foods.len().to_string()),
            ],
        },
        query: query.to_owned(),
        foods,
        words,
    }
}

fn entry(row: &FoodRow, region: Region) -> FoodEntry {
    FoodEntry {
        id: row.id.to_owned(),
        name: capital(row.name_in(region)),
        words: department_name(row.department).to_lowercase(),
    }
}

/// A food's page; `None` when there is no such food.
#[must_use]
pub fn food_page(snapshot: &Snapshot, plan: &WeekPlan, id: &str) -> Option<FoodPage> {
    let row = food(id)?;
    let book = Book::new(snapshot, plan);
    let region = snapshot.household.region;
    let other = if region == Region::Us {
        row.name
    } else {
        row.name_us
    };
    let mut sub: Vec<String> = row.synonyms.iter().map(|name| (*name).to_owned()).collect();
    if !other.is_empty() && other != row.name_in(region) {
        sub.insert(0, other.to_owned());
    }
    let instead = |other: &larderwright_reference::food::Substitute| {
        let name = food(other.food).map_or(other.food, |row| row.name_in(region));
        let told = Told {
            what: format!("{} g of {name} for 1000 g", other.permille),
            why: other.note.to_owned(),
            source: other.source.to_owned(),
        };
        (other.food.to_owned(), told)
    };
    Some(FoodPage {
        id: id.to_owned(),
        block: Block {
            title: capital(row.name_in(region)),
            sub: if sub.is_empty() {
                String::new()
            } else {
                format!("Also {}", listed(&sub))
            },
            fields: vec![
                Named::new("Department", department_word(row.department)),
                Named::new("Kept", storage_word(row.storage)),
            ],
        },
        groups: [
            eaters(row),
            amounts(row),
            packs(book, row),
            keeping(book, row),
            composition(row),
        ]
        .into_iter()
        .filter(|group| !group.figures.is_empty())
        .collect(),
        instead: row.substitutes.iter().map(instead).collect(),
        states: row.other_states().map(|row| entry(row, region)).collect(),
    })
}

fn department_word(department: Department) -> String {
    department_name(department).to_owned()
}

fn storage_word(storage: StorageClass) -> &'static str {
    match storage {
        StorageClass::Cupboard => "in the cupboard",
        StorageClass::Counter => "on the counter",
        StorageClass::Fridge => "in the fridge",
        StorageClass::FridgeShort => "in the fridge, quick to spoil",
        StorageClass::Freezer => "in the freezer",
        StorageClass::Tap => "from the tap",
    }
}

fn told(what: impl Into<String>, why: impl Into<String>, source: &str) -> Told {
    Told {
        what: what.into(),
        why: why.into(),
        source: if source.is_empty() {
            "no source".into()
        } else {
            source.to_owned()
        },
    }
}

/// Allergens and diets: what composition says; the label decides.
fn eaters(row: &FoodRow) -> Group {
    const READING: &str = "our reading of the usual composition; the label decides";
    let with = |presence: Presence| {
        let marks = row.allergens.unwrap_or(&[]).iter();
        let words: Vec<String> = marks
            .filter(|mark| mark.1 == presence)
            .map(|mark| mark.0.word().replace('-', " "))
            .collect();
        if words.is_empty() {
            "none of those the law names".to_owned()
        } else {
            listed(&words)
        }
    };
    let mut figures = if row.allergens.is_some() {
        vec![
            told("Contains", with(Presence::Contains), READING),
            told("May contain", with(Presence::MayContain), READING),
        ]
    } else {
        vec![told(
            "Allergens",
            "not known, so it counts as not cleared",
            READING,
        )]
    };
    if row.read_label {
        figures.push(told(
            "Label",
            "differs by brand: someone with an allergy has to read each one",
            READING,
        ));
    }
    figures.extend(
        DietFlag::ALL
            .into_iter()
            .map(|wanted| told(capital(wanted.word()), flag(row, wanted).word(), READING)),
    );
    figures.extend(
        observance_cautions(row)
            .into_iter()
            .map(|caution| told("Caution", caution, READING)),
    );
    Group {
        title: "For whom",
        figures,
    }
}

/// A number in thousandths as people write it.
fn number(thousandths: i64) -> String {
    let minus = if thousandths < 0 { "-" } else { "" };
    let (whole, rest) = (thousandths.abs() / 1000, thousandths.abs() % 1000);
    let text = format!("{minus}{whole}.{rest:03}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn amounts(row: &FoodRow) -> Group {
    let mut figures = vec![told(
        "Eaten of what is bought",
        format!("{}\u{a0}%", number(row.edible.permille * 100)),
        row.edible.source,
    )];
    if let Some(unit) = row.unit {
        figures.push(told(
            format!("1 {}", unit.singular),
            format!("{}\u{a0}g as purchased", number(unit.mg)),
            unit.source,
        ));
    }
    figures.push(match row.density {
        Some(density) => told("1 l", format!("{}\u{a0}g", density.g_per_l), density.source),
        None => told("1 l", "not known", ""),
    });
    figures.extend(row.measures.iter().map(|measure| {
        told(
            format!("{} {}", number(measure.amount_thousandths), measure.text),
            format!("{}\u{a0}g of edible portion", number(measure.mg)),
            row.source,
        )
    }));
    Group {
        title: "Amounts",
        figures,
    }
}

fn packs(book: Book<'_>, row: &FoodRow) -> Group {
    let region = book.snapshot.household.region;
    let here = row.packs.iter().filter(|pack| pack.regions.contains(&region));
    let line = |pack: &larderwright_reference::food::Pack| {
        let source = if pack.price_source.is_empty() {
            "size: common practice, no source; price: invented estimate".to_owned()
        } else {
            format!("size: common practice, no source; price: {}", pack.price_source)
        };
        told(
            capital(pack.label),
            format!("USD {}.{:02}", pack.usd_minor / 100, pack.usd_minor % 100),
            &source,
        )
    };
    Group {
        title: "Packs and prices",
        figures: here.map(line).collect(),
    }
}

fn keeping(book: Book<'_>, row: &FoodRow) -> Group {
    let figures = match row.keeping_under(book.plan.profile) {
        KeepingLookup::NoFigure { leftovers } => vec![told("How long", NO_FIGURE, leftovers.source)],
        KeepingLookup::Figures(keeping) => {
            let spans = [
                ("In the fridge", keeping.fridge_days),
                ("In the freezer", keeping.freezer_days),
                ("In the cupboard", keeping.cupboard_days),
                ("Opened, in the fridge", keeping.opened_days),
            ];
            let line = |(place, days): (&str, Option<(u16, u16)>)| {
                let (low, high) = days?;
                let span = match high {
                    1 => "1 day".to_owned(),
                    _ if low == high => format!("{high} days"),
                    _ => format!("{low} to {high} days"),
                };
                let why = format!("{span} ({}; {})", keeping.note, keeping.basis.word());
                Some(told(place, why, keeping.source))
            };
            spans.into_iter().filter_map(line).collect()
        }
    };
    Group {
        title: "Keeping, as bought",
        figures,
    }
}

fn composition(row: &FoodRow) -> Group {
    let line = |nutrient: Nutrient| {
        let unit = match nutrient.unit() {
            NutrientUnit::Kilocalorie => "kcal",
            NutrientUnit::Gram => "g",
            NutrientUnit::Milligram => "mg",
            NutrientUnit::Microgram => "µg",
        };
        let figure = row.nutrient(nutrient).map_or_else(
            || "not known".to_owned(),
            |figure| format!("{}\u{a0}{unit}", number(figure.into())),
        );
        told(nutrient_word(nutrient), figure, row.source)
    };
    Group {
        title: "Per 100 g of edible portion",
        figures: Nutrient::ALL.into_iter().map(line).collect(),
    }
}

/// `VitaminB6` as `Vitamin B6`, `TransFat` as `Trans fat`.
fn nutrient_word(nutrient: Nutrient) -> String {
    let mut words = String::new();
    for (at, letter) in format!("{nutrient:?}").chars().enumerate() {
        if at > 0 && letter.is_uppercase() {
            words.push(' ');
        }
        words.push(letter);
    }
    let (first, rest) = words.split_once(' ').unwrap_or((&words, ""));
    if rest.is_empty() {
        first.to_owned()
    } else if first == "Vitamin" {
        format!("{first} {rest}")
    } else {
        format!("{first} {}", rest.to_lowercase())
    }
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;

    #[test]
    fn every_figure_of_every_food_has_words_about_its_source() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        for row in all() {
            let page = food_page(&snapshot, &plan, row.id).expect("it is in the table");
            let figures = page.groups.iter().flat_map(|group| &group.figures);
            for figure in figures {
                assert!(!figure.source.is_empty(), "{}: {}", row.id, figure.what);
            }
        }
    }

    #[test]
    fn a_slip_of_the_pen_still_finds_a_food() {
        let list = foods(&sample::snapshot(), &sample::plan(), "zuchini");
        assert_eq!(list.foods[0].id, "courgette");
    }

    #[test]
    fn nothing_found_says_so() {
        let list = foods(&sample::snapshot(), &sample::plan(), "xylophone");
        assert!(list.foods.is_empty());
        assert!(list.words.contains("xylophone"), "{}", list.words);
    }

    #[test]
    fn nutrients_are_named_as_people_write_them() {
        assert_eq!(nutrient_word(Nutrient::VitaminB6), "Vitamin B6");
        assert_eq!(nutrient_word(Nutrient::TransFat), "Trans fat");
        assert_eq!(number(1250), "1.25");
        assert_eq!(number(-30), "-0.03");
    }
}
