//! What can stand in for a line of the order: other packs, other foods, checked against everybody who would eat them, with
//! what they change in the kitchen.

use std::collections::BTreeSet;

use larderwright_model::{
    Allergen, Avoid, Batch, Contact, Diet, Eater, Food, FoodId, FoodKind, OrderLine, Pack, Presence, Way,
};
use larderwright_quantity::{Mass, Money, Permille, Rounding, Seconds, duration_text, mul_div};

use crate::amount;
use crate::book::Book;
use crate::order::label_words;

/// A food that can stand in for another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Instead {
    /// What and how much.
    pub what: String,
    /// What changes.
    pub effect: String,
    /// A label that has to be read then; empty when none.
    pub label: String,
    /// Where the ratio comes from.
    pub source: String,
}

/// What can stand in for a line: other packs of the same food first, then other foods that everybody who would eat it may
/// eat.
pub(crate) fn instead(book: Book<'_>, line: &OrderLine, eaters: &[&Eater]) -> Vec<Instead> {
    let mut all = other_packs(book, line);
    let Some(row) = larderwright_reference::food(line.food.as_str()) else {
        return all;
    };
    let region = book.snapshot.household.region;
    for other in row.substitutes {
        let Some(food) = larderwright_reference::food(other.food).map(|row| row.to_food_in(region)) else {
            continue;
        };
        let verdict = may_all_eat(&food, eaters);
        let Some(labels) = verdict else { continue };
        let edible = Permille::from_permille(row.edible.permille).of(line.used, Rounding::Up);
        let needed = edible.scale(other.permille, 1000, Rounding::Up);
        let bought = needed.scale(1000, food.edible.value.permille().max(1), Rounding::Up);
        let kitchen = in_the_kitchen(book, &line.food, &food.id);
        let effects = [other.note.to_owned(), kitchen].into_iter();
        let effects: Vec<String> = effects.filter(|words| !words.is_empty()).collect();
        all.push(Instead {
            what: format!(
                "{}, {}",
                crate::book::capital(&food.name),
                amount::purchased(&food, bought, book.system())
            ),
            effect: effects.join("; "),
            label: label(&labels),
            source: other.source.to_owned(),
        });
    }
    all.truncate(MOST);
    all
}

/// What is to be read on the pack; empty when nothing is.
fn label(allergens: &[Allergen]) -> String {
    if allergens.is_empty() {
        String::new()
    } else {
        label_words(allergens)
    }
}

/// So many are shown: in a shop nobody reads more.
const MOST: usize = 4;

/// The same food in packs of other sizes, as many as hold what is wanted, with what they cost beside the line.
fn other_packs(book: Book<'_>, line: &OrderLine) -> Vec<Instead> {
    let Some(food) = book.food(&line.food) else {
        return Vec::new();
    };
    let others = food.packs.iter().filter(|pack| pack.size.label != line.pack);
    others
        .filter_map(|pack| other_pack(book, line, pack))
        .take(2)
        .collect()
}

/// What takes a trolley full of small packs is no way out.
const PACKS_MAX: i64 = 8;

fn other_pack(book: Book<'_>, line: &OrderLine, pack: &Pack) -> Option<Instead> {
    let size = pack.size.mass;
    let count = mul_div(line.used.mg(), 1, size.mg().max(1), Rounding::Up);
    if !(1..=PACKS_MAX).contains(&count) {
        return None;
    }
    let more = pack.price.minor() * count - line.price.minor();
    let money = book.money(Money::from_minor(more.abs()));
    let price = match more {
        0 => "the same price".to_owned(),
        1.. => format!("{money} more"),
        _ => format!("{money} less"),
    };
    let over = size.times(count).saturating_sub(line.used);
    let over = if over == Mass::ZERO {
        "nothing".to_owned()
    } else {
        book.mass(over)
    };
    Some(Instead {
        what: format!("{count} × {}", pack.size.label),
        effect: format!("{price}, {over} over"),
        label: label(&line.read_label),
        source: String::new(),
    })
}

/// What another driver of a batch changes: soaking, and time in the session.
fn in_the_kitchen(book: Book<'_>, food: &FoodId, other: &FoodId) -> String {
    let batches = book
        .plan
        .batches
        .iter()
        .filter_map(|batch| Some((batch, book.way(batch)?)));
    let mut effects = Vec::new();
    for (batch, (component, way)) in batches.filter(|(_, (_, way))| way.driver == *food) {
        let Some(instead) = component.ways.iter().find(|way| way.driver == *other) else {
            continue;
        };
        let soaks = |way: &Way| way.steps.iter().any(|step| step.lead);
        match (soaks(way), soaks(instead)) {
            (true, false) => effects.push("no soaking".to_owned()),
            (false, true) => effects.push("has to soak overnight".to_owned()),
            _ => {}
        }
        let less = minutes(way, batch) - minutes(instead, batch);
        let words = duration_text(Seconds::from_mins(less.abs()));
        if less.abs() >= 5 {
            let word = if less > 0 { "less" } else { "more" };
            effects.push(format!(
                "about {words} {word} for {}",
                component.name.to_lowercase()
            ));
        }
    }
    effects.join(", ")
}

/// Minutes of all steps on the day, one after the other.
fn minutes(way: &Way, batch: &Batch) -> i64 {
    let steps = way.steps.iter().filter(|step| !step.lead);
    let secs: i64 = steps.map(|step| step.law.likely(batch.x).secs()).sum();
    secs / 60
}

/// `None` when somebody may not; else the allergens whose label has to be read.
fn may_all_eat(food: &Food, eaters: &[&Eater]) -> Option<Vec<Allergen>> {
    let mut labels = BTreeSet::new();
    for eater in eaters {
        if !diet_allows(eater, food) {
            return None;
        }
        for (allergen, contact) in &eater.allergies {
            match food.allergens.as_ref().map(|known| known.get(allergen)) {
                Some(Some(Presence::Contains)) => return None,
                Some(Some(Presence::MayContain)) if *contact != Contact::Plate => return None,
                None => drop(labels.insert(*allergen)),
                _ if food.read_label => drop(labels.insert(*allergen)),
                _ => {}
            }
        }
    }
    Some(labels.into_iter().collect())
}

/// Whether the eater's diet and what they leave out allow a food.
pub(crate) fn diet_allows(eater: &Eater, food: &Food) -> bool {
    use FoodKind as K;
    const FLESH: [FoodKind; 6] = [K::Poultry, K::Beef, K::Pork, K::Lamb, K::OtherMeat, K::Gelatine];
    const SEA: [FoodKind; 3] = [K::Fish, K::Crustacean, K::Mollusc];
    const ANIMAL: [FoodKind; 3] = [K::Dairy, K::Egg, K::Honey];
    let has = |kinds: &[FoodKind]| kinds.iter().any(|kind| food.kinds.contains(kind));
    let contains = |allergen: Allergen| {
        food.allergens
            .as_ref()
            .is_none_or(|known| known.get(&allergen) == Some(&Presence::Contains))
    };
    let diet = match eater.diet {
        Diet::Everything => true,
        Diet::Pescatarian => !has(&FLESH),
        Diet::Vegetarian => !has(&FLESH) && !has(&SEA),
        Diet::Vegan => !has(&FLESH) && !has(&SEA) && !has(&ANIMAL),
    };
    diet && eater.avoid.iter().all(|avoid| match avoid {
        Avoid::Dairy => !has(&[K::Dairy]),
        Avoid::Gluten => !contains(Allergen::Gluten) && !contains(Allergen::Wheat),
        Avoid::Pork => !has(&[K::Pork]),
        Avoid::Alcohol => !has(&[K::Alcohol]),
    })
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use larderwright_model::PackSize;
    use larderwright_testkit::sample;

    use super::*;

    #[test]
    fn cans_in_the_place_of_dry_beans_need_no_soaking() {
        let (mut snapshot, plan) = (sample::snapshot(), sample::plan());
        let batch = &plan.batches[0];
        let component = snapshot
            .components
            .get_mut(&batch.component)
            .expect("the plan knows it");
        let way = component
            .ways
            .iter_mut()
            .find(|way| way.id == batch.way)
            .expect("it is made so");
        way.steps[0].lead = true;
        let driver = way.driver.clone();
        let mut canned = way.clone();
        canned.id = "canned".into();
        canned.driver = "from-a-can".into();
        canned.steps.truncate(2);
        canned.steps[0].lead = false;
        component.ways.push(canned);
        let book = Book::new(&snapshot, &plan);
        let words = in_the_kitchen(book, &driver, &"from-a-can".into());
        assert!(words.starts_with("no soaking"), "{words}");
        assert_eq!(
            in_the_kitchen(book, &"from-a-can".into(), &driver),
            "",
            "no batch is made from cans"
        );
    }

    #[test]
    fn other_packs_hold_what_is_wanted_and_say_what_they_cost() {
        let (mut snapshot, plan) = (sample::snapshot(), sample::plan());
        let line = plan
            .order
            .lines
            .iter()
            .find(|line| line.used.is_positive())
            .expect("something is bought");
        let food = snapshot.foods.get_mut(&line.food).expect("the plan knows it");
        let mut pack = food.packs[0].clone();
        pack.size = PackSize {
            label: "half of it".into(),
            mass: line.used.scale(1, 2, Rounding::Up),
        };
        pack.price = line.price;
        food.packs = vec![pack];
        let book = Book::new(&snapshot, &plan);
        let others = other_packs(book, line);
        assert_eq!(others[0].what, "2 × half of it");
        let price = book.money(line.price);
        assert!(
            others[0].effect.starts_with(&format!("{price} more, ")),
            "{}",
            others[0].effect
        );
        let small = OrderLine {
            used: line.used.times(PACKS_MAX),
            ..line.clone()
        };
        assert_eq!(other_packs(book, &small), []);
    }

    fn eater(contact: Contact) -> Eater {
        let mut eater = sample::snapshot().household.eaters[0].clone();
        eater.diet = Diet::Everything;
        eater.avoid.clear();
        eater.allergies = BTreeMap::from([(Allergen::Milk, contact)]);
        eater
    }

    fn food(allergens: Option<BTreeMap<Allergen, Presence>>) -> Food {
        let mut food = sample::snapshot()
            .foods
            .into_values()
            .next()
            .expect("the sample has foods");
        food.kinds = BTreeSet::from([FoodKind::Plant]);
        food.read_label = false;
        food.allergens = allergens;
        food
    }

    #[test]
    fn nothing_stands_in_that_an_eater_must_not_have() {
        let severe = eater(Contact::Severe);
        let holds = food(Some(BTreeMap::from([(Allergen::Milk, Presence::Contains)])));
        assert_eq!(may_all_eat(&holds, &[&severe]), None);
        let may = food(Some(BTreeMap::from([(Allergen::Milk, Presence::MayContain)])));
        assert_eq!(may_all_eat(&may, &[&severe]), None);
        assert_eq!(may_all_eat(&may, &[&eater(Contact::Plate)]), Some(Vec::new()));
    }

    #[test]
    fn what_nobody_knows_is_a_label_to_read() {
        let severe = eater(Contact::Severe);
        assert_eq!(may_all_eat(&food(None), &[&severe]), Some(vec![Allergen::Milk]));
        assert_eq!(
            may_all_eat(&food(Some(BTreeMap::new())), &[&severe]),
            Some(Vec::new())
        );
    }

    #[test]
    fn a_diet_is_kept_by_what_stands_in() {
        let mut vegan = eater(Contact::Plate);
        vegan.diet = Diet::Vegan;
        let mut cheese = food(Some(BTreeMap::new()));
        cheese.kinds = BTreeSet::from([FoodKind::Dairy]);
        assert!(!diet_allows(&vegan, &cheese));
        vegan.diet = Diet::Vegetarian;
        assert!(diet_allows(&vegan, &cheese));
    }
}
