//! Packed sittings: food that spoils stays cold, or is eaten within the limit for time out of the fridge.

use larderwright_model::{Food, FoodKind, Packed, Portion, PortionSource, Sitting, StorageClass, Where};
use larderwright_quantity::Seconds;
use larderwright_safety::keeping::KeepClass;
use larderwright_safety::limits;

use crate::book::{Book, span};
use crate::notes::Notes;
use crate::rules::{self, Rule};

pub(super) fn check(book: &Book<'_>, notes: &mut Notes) {
    let limits = limits(book.snapshot.household.profile);
    for sitting in &book.snapshot.sittings {
        let Where::Packed(packed) = sitting.place else {
            continue;
        };
        let out = Seconds::from_hours(packed.hours);
        if packed.stays_cold() || out <= limits.out_of_fridge_max {
            continue;
        }
        for rule in [
            &rules::KEEPING_PACKED_LOT,
            &rules::KEEPING_PACKED_FOOD,
            &rules::KEEPING_PACKED_GREENS,
        ] {
            let items = warm(book, sitting, rule);
            if !items.is_empty() {
                let finding = notes.say(rule, &sitting.id, "food that spoils is carried without cold");
                finding.evidence = evidence(packed, limits.out_of_fridge_max, &items);
            }
        }
    }
}

fn evidence(packed: Packed, allowed: Seconds, items: &[&str]) -> String {
    let out = Seconds::from_hours(packed.hours);
    format!("{}: {}, allowed {}", items.join(", "), span(out), span(allowed))
}

/// The items of a sitting that a rule is about.
fn warm<'a>(book: &Book<'a>, sitting: &Sitting, rule: &Rule) -> Vec<&'a str> {
    let mut items: Vec<&str> = book
        .portions()
        .filter(|(plate, portion)| {
            plate.sitting == sitting.id && speaks(book, portion).is_some_and(|own| own.id == rule.id)
        })
        .map(|(_, portion)| portion.item.as_str())
        .collect();
    items.sort_unstable();
    items.dedup();
    items
}

fn speaks(book: &Book<'_>, portion: &Portion) -> Option<&'static Rule> {
    match &portion.source {
        PortionSource::Lot(id) => {
            let component = book.component_in(id)?;
            let class = KeepClass::parse(component.keep.as_str())?;
            class.perishable().then_some(&rules::KEEPING_PACKED_LOT)
        }
        PortionSource::Food(id) => of_food(book.food(id)?),
    }
}

fn of_food(food: &Food) -> Option<&'static Rule> {
    let animal = food.kinds.iter().any(|kind| {
        !matches!(
            kind,
            FoodKind::Plant | FoodKind::Mineral | FoodKind::Honey | FoodKind::Alcohol
        )
    });
    match food.storage {
        StorageClass::Fridge | StorageClass::FridgeShort if animal => Some(&rules::KEEPING_PACKED_FOOD),
        StorageClass::FridgeShort => Some(&rules::KEEPING_PACKED_GREENS),
        _ => None,
    }
}
