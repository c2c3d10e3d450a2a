//! Plates: for every sitting what comes out, what is warmed where and how long, who gets what.

use jiff::civil::DateTime;
use larderwright_model::{
    Allergen, Appliance, Cover, Eater, Finish, Item, Plate, PortionSource, Presence, Service, ServiceStep,
    ServiceVerb, Sitting, Snapshot, WeekPlan, Where,
};
use larderwright_quantity::{Mass, Rounding, Seconds};

use crate::book::{Allergens, Book, allergen_word, day, listed, occasion};
use crate::labels::reheat_words;
use crate::menu::taken;
use crate::sheet::{RowKind, Section, Sheet, SheetKind};

/// The plate cards of a week.
#[must_use]
pub fn plates(snapshot: &Snapshot, plan: &WeekPlan) -> Sheet {
    let book = Book::new(snapshot, plan);
    let served = |sitting: &&Sitting| book.plates(&sitting.id).next().is_some();
    let sittings = snapshot.sittings.iter().filter(served);
    Sheet {
        kind: SheetKind::Plates,
        title: "Plates".into(),
        fields: book.fields(),
        sections: sittings
            .flat_map(|sitting| [steps(book, sitting), covers(book, sitting)])
            .collect(),
        notes: vec![format!("Reheating: {}.", reheat_words(book)), book.guidance()],
    }
}

/// When the plates have to be ready: at the sitting, or when the food is packed.
pub(crate) fn ready(sitting: &Sitting) -> DateTime {
    sitting.leaves_fridge()
}

fn title(book: Book<'_>, sitting: &Sitting) -> String {
    let what = format!("{}, {}", day(sitting.at.date()), occasion(sitting));
    let when = match sitting.place {
        Where::Home => format!("ready {}", book.clock(sitting.at)),
        Where::Packed(_) => format!(
            "packed by {}, eaten {}",
            book.clock(ready(sitting)),
            book.clock(sitting.at)
        ),
    };
    format!("{what}, {when}: {}", book.meal_name(&sitting.id))
}

fn steps(book: Book<'_>, sitting: &Sitting) -> Section {
    let mut section = Section::new(title(book, sitting), &["time", "do", "how much", "for", ">min"]);
    let service = book
        .plan
        .services
        .iter()
        .find(|service| service.sitting == sitting.id);
    let Some(service) = service else { return section };
    let begin = before(ready(sitting), service.length);
    for step in &service.steps {
        let at = before(begin, Seconds::from_secs(-step.start.secs()));
        let (words, amount) = step_words(book, service, step);
        section.row([
            book.clock(at),
            words,
            amount,
            for_whom(book, sitting, step),
            minutes(step.length),
        ]);
    }
    if let Some(text) = meal_text(book, sitting) {
        section.notes.push(text);
    }
    if let Where::Packed(packed) = sitting.place {
        section.notes.push(packed_words(packed));
    }
    section
}

pub(crate) fn before(at: DateTime, length: Seconds) -> DateTime {
    at.checked_sub(jiff::Span::new().seconds(length.secs()))
        .unwrap_or(at)
}

fn minutes(length: Seconds) -> String {
    length.mins(Rounding::Up).to_string()
}

pub(crate) fn meal_text(book: Book<'_>, sitting: &Sitting) -> Option<String> {
    let choice = book
        .plan
        .menu
        .choices
        .iter()
        .find(|choice| choice.sitting == sitting.id)?;
    Some(book.snapshot.meals.get(&choice.meal)?.text.clone())
}

pub(crate) fn packed_words(packed: larderwright_model::Packed) -> String {
    let cold = match (packed.ice_pack, packed.fridge) {
        (true, true) => "An ice pack goes along; into the fridge there.",
        (true, false) => "An ice pack goes along, frozen through.",
        (false, true) => "Straight into the fridge there.",
        (false, false) => "Nothing keeps it cold on the way.",
    };
    let warm = if packed.microwave {
        " Warm it there until it steams all through."
    } else {
        ""
    };
    format!("{cold}{warm}")
}

pub(crate) fn step_words(book: Book<'_>, service: &Service, step: &ServiceStep) -> (String, String) {
    let on = step.appliance.map_or_else(String::new, |appliance| {
        format!(" {}", appliance_words(appliance))
    });
    let item = |verb: &str, item: &Item, mass: Mass| {
        (
            format!("{verb} {}{on}", book.item_name(item)),
            item_amount(book, item, mass),
        )
    };
    match &step.verb {
        ServiceVerb::TakeOut(lot) => {
            let mass = book.drawn(lot, &service.sitting);
            (format!("Take out {}", book.lot_name(lot)), book.mass(mass))
        }
        ServiceVerb::Reheat(what, mass) => item("Reheat", what, *mass),
        ServiceVerb::Toast(what, mass) => item("Toast", what, *mass),
        ServiceVerb::Fry(what, mass) => item("Fry", what, *mass),
        ServiceVerb::Assemble => ("Assemble the plates".into(), String::new()),
    }
}

fn item_amount(book: Book<'_>, item: &Item, mass: Mass) -> String {
    match item {
        Item::Food(food) => book.edible(food, mass),
        Item::Component(_) => book.mass(mass),
    }
}

pub(crate) fn appliance_words(appliance: Appliance) -> &'static str {
    match appliance {
        Appliance::Microwave => "in the microwave, covered",
        Appliance::Burner => "on the stove",
        Appliance::Oven => "in the oven",
        Appliance::Toaster => "in the toaster",
    }
}

/// Names only when it is not for all.
pub(crate) fn for_whom(book: Book<'_>, sitting: &Sitting, step: &ServiceStep) -> String {
    if step.covers.is_empty() || step.covers.len() == sitting.covers() {
        return "all".into();
    }
    listed(
        &step
            .covers
            .iter()
            .map(|cover| book.cover_name(cover))
            .collect::<Vec<_>>(),
    )
}

fn covers(book: Book<'_>, sitting: &Sitting) -> Section {
    let mut section = Section::new("", &["plate", "what is on it", "allergens"]);
    for plate in book.plates(&sitting.id) {
        let (kind, mark) = mark(book, plate);
        section.add(kind, [book.cover_name(&plate.cover), contents(book, plate), mark]);
    }
    let fresh: Vec<String> = taken(book, sitting)
        .into_iter()
        .filter_map(|(source, mass)| match source {
            PortionSource::Food(food) => {
                Some(format!("{} {}", book.food_name(&food), book.edible(&food, mass)))
            }
            PortionSource::Lot(_) => None,
        })
        .collect();
    if !fresh.is_empty() {
        section
            .notes
            .push(format!("Fresh for all: {}.", fresh.join(", ")));
    }
    section
}

fn contents(book: Book<'_>, plate: &Plate) -> String {
    let word = |portion: &larderwright_model::Portion| {
        let cold = if portion.finish == Finish::Cold {
            ", cold"
        } else {
            ""
        };
        format!(
            "{} {}{cold}",
            book.item_name(&portion.item),
            book.portion(portion.mass)
        )
    };
    plate.portions.iter().map(word).collect::<Vec<_>>().join("; ")
}

/// What a plate's reader has to know about allergens.
fn mark(book: Book<'_>, plate: &Plate) -> (RowKind, String) {
    let mut all = Allergens::default();
    for portion in &plate.portions {
        all.merge(book.portion_allergens(portion));
    }
    match &plate.cover {
        Cover::Guest(_) => (RowKind::Mind, guest_mark(&all)),
        Cover::Eater(id) => match book.snapshot.household.eater(id) {
            Some(eater) if !eater.allergies.is_empty() => (RowKind::Mind, eater_mark(eater, &all)),
            _ => (RowKind::Plain, String::new()),
        },
    }
}

/// Nobody has stated a guest's wishes: the plate is never shown as cleared.
fn guest_mark(all: &Allergens) -> String {
    let words = all.words(Presence::Contains);
    if words.is_empty() {
        "ASK THE GUEST".into()
    } else {
        format!("ASK THE GUEST; contains {}", words.join(", "))
    }
}

fn eater_mark(eater: &Eater, all: &Allergens) -> String {
    let marks = eater
        .allergies
        .keys()
        .map(|allergen| allergen_mark(*allergen, all));
    marks.collect::<Vec<_>>().join("; ")
}

/// Contained, may be contained, to be read, or not in it as far as recipe and labels go.
fn allergen_mark(allergen: Allergen, all: &Allergens) -> String {
    let word = allergen_word(allergen).to_uppercase();
    match all.known.get(&allergen) {
        Some(Presence::Contains) => format!("HAS {word}"),
        Some(Presence::MayContain) => format!("MAY CONTAIN {word}"),
        None if !all.unknown.is_empty() || !all.labels.is_empty() => {
            let foods: Vec<String> = all.unknown.iter().chain(&all.labels).cloned().collect();
            format!("NO {word} IN THE RECIPE, LABEL READ? ({})", foods.join(", "))
        }
        None => format!("NO {word}"),
    }
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;
    use crate::text;

    fn text() -> String {
        text::render(&plates(&sample::snapshot(), &sample::plan()), 100)
    }

    #[test]
    fn the_allergic_eater_has_a_mark_on_every_plate() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let eater = snapshot
            .household
            .eaters
            .iter()
            .find(|eater| eater.allergies.contains_key(&Allergen::Sesame))
            .expect("one may have no sesame");
        let book = Book::new(&snapshot, &plan);
        let own = plan
            .plates
            .iter()
            .filter(|plate| plate.cover == Cover::Eater(eater.id.clone()));
        for plate in own {
            let (kind, mark) = mark(book, plate);
            assert_eq!(kind, RowKind::Mind);
            assert!(mark.starts_with("NO SESAME"), "{mark}");
        }
    }

    #[test]
    fn a_guest_is_never_shown_as_cleared() {
        let mut all = Allergens::default();
        assert_eq!(guest_mark(&all), "ASK THE GUEST");
        all.known.insert(Allergen::Milk, Presence::Contains);
        assert_eq!(guest_mark(&all), "ASK THE GUEST; contains milk");
    }

    #[test]
    fn a_label_that_differs_by_brand_leaves_a_question() {
        let mut all = Allergens::default();
        assert_eq!(allergen_mark(Allergen::Milk, &all), "NO MILK");
        all.labels.insert("stock cube".into());
        assert!(allergen_mark(Allergen::Milk, &all).contains("LABEL READ? (stock cube)"));
    }

    #[test]
    fn work_ends_when_the_plates_are_due() {
        let text = text();
        assert!(text.contains("READY 18:30"), "{text}");
        assert!(text.contains("Take out Chickpeas"), "{text}");
        assert!(text.contains("in the microwave"), "{text}");
    }

    #[test]
    fn portions_are_rounded_to_what_a_spoon_can_do() {
        let text = text();
        assert!(text.contains("Chickpeas 70\u{a0}g"), "{text}");
        assert!(!text.contains("68\u{a0}g"), "{text}");
    }
}
