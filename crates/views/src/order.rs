//! The order sheet: what to look for at home first, then what to buy, by trip and department.

use std::collections::BTreeMap;

use larderwright_model::{
    Allergen, Department, OrderLine, PriceBasis, Purpose, Shop, ShopId, Snapshot, WeekPlan,
};
use larderwright_quantity::{Mass, Money};

use crate::book::{Book, allergen_word, counted};
use crate::sheet::{RowKind, Section, Sheet, SheetKind};

/// The order sheet of a week.
#[must_use]
pub fn order(snapshot: &Snapshot, plan: &WeekPlan) -> Sheet {
    let book = Book::new(snapshot, plan);
    let mut fields = book.fields();
    fields.push(("Total".into(), book.money(total(&plan.order.lines))));
    if let Some(budget) = snapshot.household.wishes.budget {
        fields.push(("Budget".into(), book.money(budget)));
    }
    let mut sections = Vec::new();
    sections.extend(at_home(book));
    sections.extend(
        trips(plan)
            .into_iter()
            .map(|(shop, lines)| trip(book, &shop, &lines)),
    );
    Sheet {
        kind: SheetKind::Order,
        title: "Order sheet".into(),
        fields,
        sections,
        notes: price_notes(&plan.order.lines),
    }
}

/// What the lines cost together.
pub(crate) fn total<'a>(lines: impl IntoIterator<Item = &'a OrderLine>) -> Money {
    lines
        .into_iter()
        .fold(Money::from_minor(0), |sum, line| sum + line.price)
}

/// The lines of every trip, in the order of the plan.
pub(crate) fn trips(plan: &WeekPlan) -> Vec<(ShopId, Vec<&OrderLine>)> {
    let mut trips: Vec<(ShopId, Vec<&OrderLine>)> = Vec::new();
    for line in &plan.order.lines {
        match trips.iter_mut().find(|(shop, _)| *shop == line.shop) {
            Some((_, lines)) => lines.push(line),
            None => trips.push((line.shop.clone(), vec![line])),
        }
    }
    trips
}

/// The day and hour of a trip.
pub(crate) fn trip_name(book: Book<'_>, id: &ShopId) -> String {
    let shop: Option<&Shop> = book.snapshot.shops.iter().find(|shop| shop.id == *id);
    shop.map_or_else(
        || id.to_string(),
        |shop| {
            format!(
                "{}, home by {}",
                crate::book::day(shop.at.date()),
                book.clock(shop.at)
            )
        },
    )
}

/// No amounts: nobody weighs a cupboard.
fn at_home(book: Book<'_>) -> Option<Section> {
    let foods = book
        .plan
        .order
        .from_stock
        .iter()
        .filter_map(|stock| book.food(&stock.food));
    let mut foods: Vec<_> = foods.filter(|food| !food.is_tap()).collect();
    if foods.is_empty() {
        return None;
    }
    foods.sort_by_key(|food| (food.department, food.name.clone()));
    let mut section = Section::new("Check at home first", &["", "", "", "", "", ""]);
    let names: Vec<String> = foods
        .iter()
        .map(|food| format!("[ ] {}", book.food_name(&food.id)))
        .collect();
    for row in names.chunks(3) {
        let cell = |at: usize| row.get(at).cloned().unwrap_or_default();
        section.row([cell(0), cell(1), cell(2)]);
    }
    section.columns.truncate(3);
    section
        .notes
        .push("The week counts on these. What is missing or nearly empty, add to the list below.".into());
    Some(section)
}

/// Less than this left over is not worth a word.
const LEFT_MIN: Mass = Mass::from_g(10);

/// What foods sold loose are labelled with in the table.
const LOOSE: &str = "loose, per 100 g";

/// How many packs, or how much of what is sold loose.
pub(crate) fn bought_count(book: Book<'_>, line: &OrderLine) -> String {
    if line.pack == LOOSE {
        book.mass(line.bought())
    } else {
        line.count.to_string()
    }
}

/// The pack as the shopper reads it.
pub(crate) fn pack_words(line: &OrderLine) -> &str {
    if line.pack == LOOSE { "loose" } else { &line.pack }
}

fn trip(book: Book<'_>, shop: &ShopId, lines: &[&OrderLine]) -> Section {
    let columns = ["buy", ">count", "pack", "what for", ">left", ">price", ""];
    let mut section = Section::new(format!("Buy {}", trip_name(book, shop)), &columns);
    let mut departments: BTreeMap<Department, Vec<&OrderLine>> = BTreeMap::new();
    for line in lines {
        departments.entry(line.department).or_default().push(line);
    }
    for (department, lines) in departments {
        section.head(department_name(department));
        for line in lines {
            add_line(book, &mut section, line);
        }
    }
    let sum = book.money(total(lines.iter().copied()));
    let blank = String::new;
    section.add(
        RowKind::Total,
        [
            counted(lines.len(), "line", "lines"),
            blank(),
            blank(),
            blank(),
            blank(),
            sum,
        ],
    );
    section
}

fn add_line(book: Book<'_>, section: &mut Section, line: &OrderLine) {
    let left = line.bought() - line.used;
    section.row([
        format!("[ ] {}", book.food_name(&line.food)),
        bought_count(book, line),
        pack_words(line).to_owned(),
        purposes(book, &line.purposes).join(", "),
        if left >= LEFT_MIN {
            book.purchased(&line.food, left)
        } else {
            String::new()
        },
        book.money(line.price),
        basis_mark(&line.basis).into(),
    ]);
    if !line.read_label.is_empty() {
        section.add(RowKind::Mind, [label_words(&line.read_label)]);
    }
}

/// `READ THE LABEL: MILK, SESAME`.
pub(crate) fn label_words(allergens: &[Allergen]) -> String {
    let words: Vec<String> = allergens
        .iter()
        .map(|allergen| allergen_word(*allergen).to_uppercase())
        .collect();
    format!("READ THE LABEL: {}", words.join(", "))
}

/// What a line is bought for, each once.
pub(crate) fn purposes(book: Book<'_>, purposes: &[Purpose]) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for purpose in purposes {
        let word = match purpose {
            Purpose::Batch(batch) => book.component_name(batch),
            Purpose::Sitting(sitting) => book.sitting_name(sitting),
            Purpose::Par => "par".into(),
            Purpose::Standing => "every week".into(),
        };
        if !words.contains(&word) {
            words.push(word);
        }
    }
    if words.len() > 3 {
        let more = words.len() - 2;
        words.truncate(2);
        words.push(format!("{more}\u{a0}more"));
    }
    words
}

fn basis_mark(basis: &PriceBasis) -> &'static str {
    match basis {
        PriceBasis::Household => "h",
        PriceBasis::Published(_) => "p",
        PriceBasis::Estimate => "e",
    }
}

pub(crate) fn price_notes(lines: &[OrderLine]) -> Vec<String> {
    let mut notes = Vec::new();
    if lines.iter().any(|line| line.basis == PriceBasis::Household) {
        notes.push("h: price the household wrote down.".into());
    }
    let mut published: Vec<&str> = Vec::new();
    for line in lines {
        if let PriceBasis::Published(source) = &line.basis
            && !published.contains(&source.as_str())
        {
            published.push(source);
        }
    }
    if !published.is_empty() {
        notes.push(format!("p: published average ({}).", published.join("; ")));
    }
    if lines.iter().any(|line| line.basis == PriceBasis::Estimate) {
        notes.push("e: invented estimate, to be replaced by the price you pay.".into());
    }
    notes.push("left: what the plan does not use this week, as purchased; it goes back on the shelf.".into());
    notes
}

pub(crate) fn department_name(department: Department) -> &'static str {
    match department {
        Department::Produce => "Fruit and vegetables",
        Department::Bakery => "Bakery",
        Department::Meat => "Meat",
        Department::Fish => "Fish",
        Department::Dairy => "Dairy and eggs",
        Department::Chilled => "Chilled",
        Department::Dry => "Dry goods",
        Department::Cans => "Cans and jars",
        Department::Spices => "Spices and salt",
        Department::OilsSauces => "Oils, vinegars, sauces",
        Department::Baking => "Baking",
        Department::Snacks => "Nuts and snacks",
        Department::Drinks => "Drinks",
        Department::Frozen => "Frozen",
        Department::Household => "Household",
    }
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;
    use crate::text;

    fn sheet() -> (Snapshot, WeekPlan, String) {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let text = text::render(&order(&snapshot, &plan), 100);
        (snapshot, plan, text)
    }

    #[test]
    fn what_is_at_home_is_listed_without_grams() {
        let (_, _, text) = sheet();
        let home = text
            .split("BUY")
            .next()
            .expect("the first part stands before the trips");
        assert!(home.contains("[ ] Salt"), "{home}");
        assert!(!home.contains("\u{a0}g"), "{home}");
    }

    #[test]
    fn the_total_is_the_sum_of_the_lines() {
        let (snapshot, plan, text) = sheet();
        let minor: i64 = plan.order.lines.iter().map(|line| line.price.minor()).sum();
        let sum = Book::new(&snapshot, &plan).money(Money::from_minor(minor));
        assert!(text.contains(&format!("Total: {sum}")), "{text}");
    }

    #[test]
    fn a_label_to_be_read_stands_under_its_food() {
        let (_, _, text) = sheet();
        let mut lines = text.lines().skip_while(|line| !line.contains("[ ] Tahini"));
        assert!(
            lines
                .any(|line| line.starts_with("! READ THE LABEL") || line.contains("READ THE LABEL: PEANUTS")),
            "{text}"
        );
    }

    #[test]
    fn an_invented_price_is_marked() {
        let (_, _, text) = sheet();
        assert!(text.contains("e: invented estimate"), "{text}");
    }

    #[test]
    fn many_purposes_are_cut_short() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let many: Vec<Purpose> = snapshot
            .sittings
            .iter()
            .map(|sitting| Purpose::Sitting(sitting.id.clone()))
            .collect();
        assert!(many.len() > 3, "the sample has sittings enough");
        let words = purposes(Book::new(&snapshot, &plan), &many);
        assert_eq!(words.len(), 3);
        assert_eq!(words[2], format!("{}\u{a0}more", many.len() - 2));
    }
}
