//! The shopping page: first what to look for at home, then what to buy by trip and department, with what can stand
//! in for each, checked against everybody who will eat it.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_model::{
    Allergen, Contact, Department, Eater, EaterId, Food, OrderLine, PortionSource, PriceBasis, Purpose,
    ShopId, Snapshot, StorageClass, WeekPlan,
};
use larderwright_quantity::Mass;

use crate::book::{Book, allergen_word, counted, listed};
use crate::order::{
    bought_count, department_name, label_words, pack_words, price_notes, purposes, total, trip_name, trips,
};
use crate::page::instead::{Instead, instead};
use crate::page::{Block, Named};

/// The shopping page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShoppingPage {
    /// Title block.
    pub block: Block,
    /// What the plan trusts from stock.
    pub home: Vec<HomeItem>,
    /// Trips in the order of time.
    pub trips: Vec<Trip>,
    /// What marks and words mean.
    pub notes: Vec<String>,
}

/// A food that is trusted to be at home. No amounts: nobody weighs a cupboard.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HomeItem {
    /// The food's identifier.
    pub food: String,
    /// Its name.
    pub name: String,
    /// What it is for.
    pub why: String,
}

/// One trip.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trip {
    /// Its identifier.
    pub id: String,
    /// `Sat 28 Nov, home by 11:00 am`.
    pub name: String,
    /// Departments in the order of the shop.
    pub departments: Vec<DepartmentPart>,
    /// How many lines.
    pub lines: usize,
    /// What they cost together.
    pub total: String,
}

/// A department with its lines.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DepartmentPart {
    /// Its name.
    pub name: &'static str,
    /// Its lines by food.
    pub lines: Vec<Line>,
}

/// Something to buy.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// Stays the same as long as the same packs are bought on the same trip.
    pub key: String,
    /// The food's identifier.
    pub food: String,
    /// Its name.
    pub name: String,
    /// `2 × 2 lb bag`.
    pub packs: String,
    /// What it is for.
    pub why: String,
    /// What the week leaves of it; empty when nothing worth a word.
    pub left: String,
    /// Price of the line.
    pub price: String,
    /// Price in the smallest unit of money, for sums.
    pub minor: i64,
    /// `invented`, `published average`, `your price`.
    pub basis: &'static str,
    /// Whether it is chilled and bears a date.
    pub chilled: bool,
    /// A label that has to be read.
    pub label: Option<LabelAsk>,
    /// What can stand in for it.
    pub instead: Vec<Instead>,
}

/// A label that has to be read, with the words to be ticked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LabelAsk {
    /// `READ THE LABEL: MILK, SESAME`.
    pub heading: String,
    /// For whom.
    pub who: String,
    /// `No milk, no sesame, and no “may contain”`.
    pub promise: String,
}

/// The shopping page.
#[must_use]
pub fn shopping(snapshot: &Snapshot, plan: &WeekPlan) -> ShoppingPage {
    let book = Book::new(snapshot, plan);
    let iso = plan.monday.iso_week_date();
    let trips: Vec<Trip> = trips(plan)
        .into_iter()
        .map(|(shop, lines)| trip(book, &shop, &lines))
        .collect();
    let home = home(book);
    ShoppingPage {
        block: Block {
            title: "Order sheet".into(),
            sub: format!(
                "{}, for week {}",
                counted(trips.len(), "trip", "trips"),
                iso.week()
            ),
            fields: vec![
                Named::new("To check at home", home.len().to_string()),
                Named::new("To buy", counted(plan.order.lines.len(), "line", "lines")),
                Named::new("Expected", book.money(total(&plan.order.lines))),
            ],
        },
        home,
        trips,
        notes: price_notes(&plan.order.lines),
    }
}

fn home(book: Book<'_>) -> Vec<HomeItem> {
    let foods = book
        .plan
        .order
        .from_stock
        .iter()
        .filter_map(|stock| book.food(&stock.food));
    let mut foods: Vec<&Food> = foods.filter(|food| !food.is_tap()).collect();
    foods.sort_by_key(|food| (food.department, food.name.clone()));
    let item = |food: &Food| HomeItem {
        food: food.id.to_string(),
        name: book.food_name(&food.id),
        why: used_in(book, food),
    };
    foods.into_iter().map(item).collect()
}

/// The components that a food goes into, at most three by name.
fn used_in(book: Book<'_>, food: &Food) -> String {
    let batches = book.plan.batches.iter();
    let used = batches.filter(|batch| batch.inputs.iter().any(|input| input.food == food.id));
    let names: BTreeSet<String> = used
        .map(|batch| book.component_name(&batch.id).to_lowercase())
        .collect();
    let names: Vec<String> = names.into_iter().collect();
    match names.len() {
        0 => "on plates".into(),
        1..=3 => listed(&names),
        more => format!("{} and {} more", names[..2].join(", "), more - 2),
    }
}

fn trip(book: Book<'_>, shop: &ShopId, lines: &[&OrderLine]) -> Trip {
    let mut departments: BTreeMap<Department, Vec<&OrderLine>> = BTreeMap::new();
    for line in lines {
        departments.entry(line.department).or_default().push(line);
    }
    let part = |(department, lines): (Department, Vec<&OrderLine>)| DepartmentPart {
        name: department_name(department),
        lines: lines.into_iter().map(|each| line(book, each)).collect(),
    };
    Trip {
        id: shop.to_string(),
        name: trip_name(book, shop),
        departments: departments.into_iter().map(part).collect(),
        lines: lines.len(),
        total: book.money(total(lines.iter().copied())),
    }
}

/// What tells a line from all others, and stays the same while the same packs are bought on the same trip.
#[must_use]
pub fn key(line: &OrderLine) -> String {
    format!("{}~{}~{}", line.shop, line.food, line.pack_mass.mg())
}

/// Less than this left over is not worth a word.
const LEFT_MIN: Mass = Mass::from_g(10);

fn line(book: Book<'_>, line: &OrderLine) -> Line {
    let eaters = eaters_of(book, line);
    let left = line.bought() - line.used;
    let food = book.food(&line.food);
    let chilled = food.is_some_and(|food| {
        matches!(food.storage, StorageClass::Fridge | StorageClass::FridgeShort)
            && line.department != Department::Produce
    });
    let count = bought_count(book, line);
    Line {
        key: key(line),
        food: line.food.to_string(),
        name: book.food_name(&line.food),
        packs: match pack_words(line) {
            "loose" => format!("{count}, loose"),
            pack => format!("{count}\u{a0}× {pack}"),
        },
        why: purposes(book, &line.purposes).join(", "),
        left: if left >= LEFT_MIN {
            format!("leaves {}", book.purchased(&line.food, left))
        } else {
            String::new()
        },
        price: book.money(line.price),
        minor: line.price.minor(),
        basis: match line.basis {
            PriceBasis::Household => "your price",
            PriceBasis::Published(_) => "published average",
            PriceBasis::Estimate => "invented price",
        },
        chilled,
        label: label(book, &line.read_label, &eaters),
        instead: instead(book, line, &eaters),
    }
}

/// Those who will eat something of a line: the covers of its sittings, and of what its batches become.
fn eaters_of<'a>(book: Book<'a>, line: &OrderLine) -> Vec<&'a Eater> {
    let batches: Vec<_> = line
        .purposes
        .iter()
        .filter_map(|purpose| match purpose {
            Purpose::Batch(batch) => Some(batch),
            _ => None,
        })
        .collect();
    let everybody = line
        .purposes
        .iter()
        .any(|purpose| matches!(purpose, Purpose::Par | Purpose::Standing));
    let eats = |source: &PortionSource| match source {
        PortionSource::Food(food) => *food == line.food,
        PortionSource::Lot(lot) => book.lot(lot).is_some_and(|lot| batches.contains(&&lot.origin)),
    };
    let plates = book
        .plan
        .plates
        .iter()
        .filter(|plate| plate.portions.iter().any(|portion| eats(&portion.source)));
    let ids: BTreeSet<EaterId> = plates
        .filter_map(|plate| match &plate.cover {
            larderwright_model::Cover::Eater(id) => Some(id.clone()),
            larderwright_model::Cover::Guest(_) => None,
        })
        .collect();
    let eaters = book.snapshot.household.eaters.iter();
    eaters
        .filter(|eater| everybody || ids.contains(&eater.id))
        .collect()
}

fn label(book: Book<'_>, allergens: &[Allergen], eaters: &[&Eater]) -> Option<LabelAsk> {
    if allergens.is_empty() {
        return None;
    }
    let all = book.snapshot.household.eaters.iter();
    let mut concerned: Vec<&Eater> = eaters.to_vec();
    if concerned.iter().all(|eater| !avoids(eater, allergens)) {
        concerned = all.collect();
    }
    let who: Vec<&str> = concerned
        .iter()
        .filter(|eater| avoids(eater, allergens))
        .map(|eater| eater.name.as_str())
        .collect();
    let traces = concerned.iter().any(|eater| {
        allergens.iter().any(|allergen| {
            eater
                .allergies
                .get(allergen)
                .is_some_and(|contact| *contact != Contact::Plate)
        })
    });
    let no: Vec<String> = allergens
        .iter()
        .map(|allergen| format!("no {}", allergen_word(*allergen)))
        .collect();
    let rest = if traces { ", and no “may contain”" } else { "" };
    Some(LabelAsk {
        heading: label_words(allergens),
        who: format!("for {}", listed(&who)),
        promise: crate::book::capital(&format!("{}{rest}", no.join(", "))),
    })
}

fn avoids(eater: &Eater, allergens: &[Allergen]) -> bool {
    allergens
        .iter()
        .any(|allergen| eater.allergies.contains_key(allergen))
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;

    #[test]
    fn every_line_is_on_the_page_once_and_the_sums_agree() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let page = shopping(&snapshot, &plan);
        let lines: Vec<&Line> = page
            .trips
            .iter()
            .flat_map(|trip| trip.departments.iter().flat_map(|part| &part.lines))
            .collect();
        assert_eq!(lines.len(), plan.order.lines.len());
        let keys: BTreeSet<&str> = lines.iter().map(|line| line.key.as_str()).collect();
        assert_eq!(keys.len(), lines.len(), "keys tell lines apart");
        let minor: i64 = lines.iter().map(|line| line.minor).sum();
        assert_eq!(minor, total(&plan.order.lines).minor());
    }

    #[test]
    fn a_label_names_whom_it_concerns_and_what_to_find() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let page = shopping(&snapshot, &plan);
        let lines = page
            .trips
            .iter()
            .flat_map(|trip| trip.departments.iter().flat_map(|part| &part.lines));
        let asks: Vec<&LabelAsk> = lines.filter_map(|line| line.label.as_ref()).collect();
        assert!(!asks.is_empty(), "somebody at the table has an allergy");
        for ask in asks {
            assert!(ask.heading.starts_with("READ THE LABEL: "), "{}", ask.heading);
            assert!(ask.who.len() > "for ".len(), "{}", ask.heading);
            assert!(ask.promise.starts_with("No "), "{}", ask.promise);
        }
    }

    #[test]
    fn no_amounts_stand_at_home() {
        let page = shopping(&sample::snapshot(), &sample::plan());
        assert!(!page.home.is_empty());
        assert!(page.home.iter().all(|item| !item.why.contains("\u{a0}g")));
    }
}
