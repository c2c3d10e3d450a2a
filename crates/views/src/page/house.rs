//! The household and its kitchen: who eats and how, who cooks, what there is to cook with, the usual week.

use larderwright_model::{
    Appetite, Avoid, Caution, Contact, DayRef, Diet, Eater, Priority, Sex, Skill, Snapshot, WeekPlan, Where,
};

use crate::book::{Book, allergen_word, capital, counted, listed, profile};
use crate::page::{Block, Named, Told};

/// The household's page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HousePage {
    /// Title block.
    pub block: Block,
    /// Who eats.
    pub eaters: Vec<EaterCard>,
    /// Who cooks, with what they may do.
    pub cooks: Vec<Named>,
    /// The kitchen.
    pub kitchen: Vec<Named>,
    /// The usual week.
    pub week: Vec<Named>,
    /// Wishes.
    pub wishes: Vec<Named>,
    /// Par levels and standing items.
    pub always: Vec<Named>,
}

/// Somebody who eats.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EaterCard {
    /// Name.
    pub name: String,
    /// Appetite and diet.
    pub words: String,
    /// Allergies with the strictness stated.
    pub allergies: Vec<Named>,
    /// Dislikes and what is left out by choice.
    pub without: String,
    /// Stricter care, with sources.
    pub cautions: Vec<Told>,
}

/// The household's page.
#[must_use]
pub fn house(snapshot: &Snapshot, plan: &WeekPlan) -> HousePage {
    let book = Book::new(snapshot, plan);
    let house = &snapshot.household;
    HousePage {
        block: Block {
            title: "Household and kitchen".into(),
            sub: house.name.clone(),
            fields: vec![
                Named::new("Guidance", profile(house.profile)),
                Named::new("Time zone", house.zone.replace('_', " ")),
                Named::new("Currency", house.currency.code()),
                Named::new("Altitude", format!("{}\u{a0}m", house.altitude_m)),
            ],
        },
        eaters: house.eaters.iter().map(|eater| card(book, eater)).collect(),
        cooks: house
            .cooks
            .iter()
            .map(|cook| {
                let may: Vec<&str> = cook.may.iter().map(|skill| skill_word(*skill)).collect();
                Named::new(
                    cook.name.clone(),
                    if may.is_empty() {
                        "helps".into()
                    } else {
                        capital(&listed(&may))
                    },
                )
            })
            .collect(),
        kitchen: kitchen(book),
        week: week(book),
        wishes: wishes(book),
        always: always(book),
    }
}

fn skill_word(skill: Skill) -> &'static str {
    match skill {
        Skill::Any => "anything easy",
        Skill::Knife => "knife and board",
        Skill::Stove => "stove and oven",
    }
}

fn card(book: Book<'_>, eater: &Eater) -> EaterCard {
    let appetite = match &eater.appetite {
        Appetite::Small => "small appetite".to_owned(),
        Appetite::Usual => "usual appetite".to_owned(),
        Appetite::Big => "big appetite".to_owned(),
        Appetite::Computed(body) => format!(
            "appetite from {} years, {}, {}\u{a0}cm, {}.{}\u{a0}kg",
            body.age,
            match body.sex {
                Sex::Female => "female",
                Sex::Male => "male",
            },
            body.height_cm,
            body.weight_hg / 10,
            body.weight_hg % 10
        ),
    };
    let diet = match eater.diet {
        Diet::Everything => "eats everything",
        Diet::Pescatarian => "no meat, but fish",
        Diet::Vegetarian => "vegetarian",
        Diet::Vegan => "vegan",
    };
    let avoid = eater.avoid.iter().map(|avoid| {
        match avoid {
            Avoid::Dairy => "dairy",
            Avoid::Gluten => "gluten",
            Avoid::Pork => "pork",
            Avoid::Alcohol => "alcohol",
        }
        .to_owned()
    });
    let dislikes = eater.dislikes.iter().map(|name| name_of(book, name));
    let without: Vec<String> = avoid.chain(dislikes).collect();
    EaterCard {
        name: eater.name.clone(),
        words: capital(&format!("{appetite}, {diet}")),
        allergies: eater
            .allergies
            .iter()
            .map(|(allergen, contact)| {
                Named::new(
                    format!("NO {}", allergen_word(*allergen).to_uppercase()),
                    contact_words(*contact),
                )
            })
            .collect(),
        without: if without.is_empty() {
            String::new()
        } else {
            format!("Without {}", listed(&without))
        },
        cautions: eater.cautions.iter().flat_map(|caution| told(*caution)).collect(),
    }
}

fn contact_words(contact: Contact) -> &'static str {
    match contact {
        Contact::Plate => "not on the plate; “may contain” is accepted",
        Contact::Traces => "not on the plate, and nothing that may contain it",
        Contact::Severe => "not on the table, and work without it goes first",
    }
}

/// A dislike names a food or a component.
fn name_of(book: Book<'_>, name: &str) -> String {
    let food = book
        .snapshot
        .foods
        .get(&name.into())
        .map(|food| food.name.to_lowercase());
    let component = book.snapshot.components.get(&name.into());
    food.or_else(|| component.map(|component| component.name.to_lowercase()))
        .unwrap_or_else(|| name.replace('-', " "))
}

fn told(caution: Caution) -> Vec<Told> {
    let who = match caution {
        Caution::Pregnant => "pregnant",
        Caution::Breastfeeding => "breastfeeding",
        Caution::Infant => "an infant",
        Caution::ImmuneCompromised => "weak immune system",
        Caution::OlderThan65 => "older than 65",
    };
    let rows = larderwright_safety::cautions(caution);
    rows.into_iter()
        .map(|row| Told {
            what: capital(row.text),
            why: format!("{who}; {}", row.flag.meaning()),
            source: row.source.to_owned(),
        })
        .collect()
}

fn kitchen(book: Book<'_>) -> Vec<Named> {
    let kitchen = &book.snapshot.household.kitchen;
    let yes = |there: bool| if there { "yes" } else { "no" };
    let mut rows = vec![match kitchen.oven {
        Some(oven) => Named::new(
            "Oven",
            format!(
                "{}, {} to {}, {}",
                counted(oven.racks as usize, "rack", "racks"),
                book.temperature(oven.min),
                book.temperature(oven.max),
                if oven.fan { "with a fan" } else { "without a fan" }
            ),
        ),
        None => Named::new("Oven", "none"),
    }];
    rows.push(Named::new("Burners", kitchen.burners.to_string()));
    rows.push(Named::new("Microwaves", kitchen.microwaves.to_string()));
    rows.push(Named::new("Boards", kitchen.boards.to_string()));
    rows.push(Named::new("Blender", yes(kitchen.blender)));
    rows.push(Named::new("Toaster", yes(kitchen.toaster)));
    rows.push(Named::new(
        "Pressure cooker",
        kitchen
            .pressure_cooker
            .map_or_else(|| "no".to_owned(), |volume| book.volume(volume)),
    ));
    let pots: Vec<String> = kitchen
        .pots
        .iter()
        .map(|pot| format!("{}\u{a0}× {}", pot.count, book.volume(pot.volume)))
        .collect();
    rows.push(Named::new("Pots", listed(&pots)));
    rows.push(Named::new("Trays", kitchen.tray_count().to_string()));
    rows.extend(kitchen.boxes.iter().map(|kind| {
        let freezes = if kind.freezes { ", may be frozen" } else { "" };
        Named::new(
            capital(&kind.name),
            format!(
                "{} of {}, {}{freezes}",
                kind.count,
                book.volume(kind.volume),
                kind.material
            ),
        )
    }));
    rows.push(Named::new("Room in the fridge", book.volume(kitchen.fridge)));
    rows.push(Named::new("Room in the freezer", book.volume(kitchen.freezer)));
    rows
}

fn day_word(day: DayRef) -> String {
    const DAYS: [&str; 7] = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
    let (weekday, before) = match day {
        DayRef::In(weekday) => (weekday, ""),
        DayRef::Before(weekday) => (weekday, " before"),
    };
    let at = usize::try_from(weekday.to_monday_zero_offset()).unwrap_or(0);
    format!("{}{before}", DAYS[at.min(6)])
}

fn week(book: Book<'_>) -> Vec<Named> {
    let house = &book.snapshot.household;
    let clock = |time: jiff::civil::Time| book.clock(book.plan.monday.to_datetime(time));
    let mut rows = Vec::new();
    for shop in &house.shops {
        rows.push(Named::new(
            "Shop",
            format!("{}, home by {}", day_word(shop.day), clock(shop.at)),
        ));
    }
    for session in &house.sessions {
        rows.push(Named::new(
            "Cook",
            format!(
                "{}, {} to {}, {}",
                day_word(session.day),
                clock(session.from),
                clock(session.to),
                book.cooks(&session.cooks)
            ),
        ));
    }
    for sitting in &house.sittings {
        let who: Vec<String> = sitting
            .eaters
            .iter()
            .map(|id| {
                house
                    .eater(id)
                    .map_or_else(|| id.to_string(), |eater| eater.name.clone())
            })
            .collect();
        let who = if who.len() == house.eaters.len() && who.len() > 1 {
            "all".to_owned()
        } else {
            listed(&who)
        };
        let place = match sitting.place {
            Where::Home => "",
            Where::Packed(_) => ", packed",
        };
        rows.push(Named::new(
            capital(&format!("{:?}", sitting.occasion).to_lowercase()),
            format!(
                "{}, {}, {who}{place}, in {}\u{a0}min",
                day_word(sitting.day),
                clock(sitting.at),
                sitting.minutes
            ),
        ));
    }
    rows
}

fn wishes(book: Book<'_>) -> Vec<Named> {
    let wishes = &book.snapshot.household.wishes;
    let mut rows = Vec::new();
    for (sitting, meal) in &wishes.fixed {
        let name = book
            .snapshot
            .meals
            .get(meal)
            .map_or_else(|| meal.to_string(), |meal| meal.name.clone());
        rows.push(Named::new(format!("Fixed, {}", book.sitting_name(sitting)), name));
    }
    let meals = wishes.off_meals.iter().map(|id| {
        book.snapshot
            .meals
            .get(id)
            .map_or_else(|| id.to_string(), |meal| meal.name.clone())
    });
    let components = wishes.off_components.iter().map(|id| {
        let known = book.snapshot.components.get(id);
        known.map_or_else(|| id.to_string(), |component| component.name.clone())
    });
    rows.extend(meals.chain(components).map(|name| Named::new("Off", name)));
    rows.push(Named::new(
        "Components in one session",
        format!("at most {}", wishes.components_max),
    ));
    if let Some(budget) = wishes.budget {
        rows.push(Named::new("Budget", book.money(budget)));
    }
    let ranked: Vec<&str> = wishes
        .priorities
        .iter()
        .map(|priority| match priority {
            Priority::Cheaper => "cheaper",
            Priority::Quicker => "quicker",
            Priority::LessWaste => "less waste",
        })
        .collect();
    if !ranked.is_empty() {
        rows.push(Named::new("First things first", ranked.join(", then ")));
    }
    rows
}

fn always(book: Book<'_>) -> Vec<Named> {
    let house = &book.snapshot.household;
    let pars = house.pars.iter().map(|par| {
        Named::new(
            book.food_name(&par.food),
            format!(
                "always {}, now {}",
                book.purchased(&par.food, par.level),
                book.purchased(&par.food, par.on_hand)
            ),
        )
    });
    let standing = house.standing.iter().map(|item| {
        Named::new(
            book.food_name(&item.food),
            format!("{} every week", book.purchased(&item.food, item.mass)),
        )
    });
    pars.chain(standing).collect()
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;

    #[test]
    fn everybody_and_every_box_is_on_the_page() {
        let snapshot = sample::snapshot();
        let page = house(&snapshot, &sample::plan());
        assert_eq!(page.eaters.len(), snapshot.household.eaters.len());
        assert_eq!(page.cooks.len(), snapshot.household.cooks.len());
        for kind in &snapshot.household.kitchen.boxes {
            assert!(page.kitchen.iter().any(|row| row.name == capital(&kind.name)));
        }
    }

    #[test]
    fn an_allergy_is_shown_with_its_strictness() {
        let page = house(&sample::snapshot(), &sample::plan());
        let allergies: Vec<&Named> = page.eaters.iter().flat_map(|eater| &eater.allergies).collect();
        assert!(!allergies.is_empty());
        assert!(
            allergies
                .iter()
                .all(|named| named.name.starts_with("NO ") && !named.value.is_empty())
        );
    }

    #[test]
    fn stricter_care_carries_its_source() {
        for caution in [
            Caution::Pregnant,
            Caution::Infant,
            Caution::ImmuneCompromised,
            Caution::OlderThan65,
        ] {
            assert!(told(caution).iter().all(|told| !told.source.is_empty()));
        }
    }
}
