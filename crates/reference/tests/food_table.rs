//! Tidiness of the food table: every figure has a source and lies within bounds.

use larderwright_model::{Allergen, Department, FoodKind, Presence, StorageClass};
use larderwright_reference::food::{FoodRow, all, food};
use larderwright_reference::{KeepingBasis, Nutrient, NutrientUnit};

fn check(what: &str, holds: impl Fn(&FoodRow) -> bool) {
    let broken: Vec<&str> = all().iter().filter(|row| !holds(row)).map(|row| row.id).collect();
    assert!(broken.is_empty(), "{what}: {broken:?}");
}

/// How the identifiers end of foods that are here for comparison with a component cooked at home.
const COOKED: [&str; 4] = ["-cooked", "-boiled", "-baked", "-fried"];

#[test]
fn identifiers_are_sorted_and_unique() {
    assert!(all().windows(2).all(|pair| pair[0].id < pair[1].id));
}

#[test]
fn every_figure_has_a_source() {
    check("composition", |row| !row.source.is_empty());
    check(
        "a published source names its row, or there are no figures",
        |row| {
            row.source.starts_with("USDA SR28 NDB ")
                || Nutrient::ALL
                    .iter()
                    .all(|nutrient| row.nutrient(*nutrient).is_none())
        },
    );
    check("edible portion", |row| !row.edible.source.is_empty());
    check("density", |row| {
        row.density.is_none_or(|density| !density.source.is_empty())
    });
    check("count", |row| row.unit.is_none_or(|unit| !unit.source.is_empty()));
    check("keeping", |row| {
        row.keeping.iter().all(|keeping| !keeping.source.is_empty())
    });
    check("substitutes", |row| {
        row.substitutes
            .iter()
            .all(|substitute| !substitute.source.is_empty())
    });
}

#[test]
fn every_figure_lies_within_bounds() {
    check("edible portion", |row| {
        (200..=1000).contains(&row.edible.permille)
    });
    check("density", |row| {
        row.density
            .is_none_or(|density| (10..=1700).contains(&density.g_per_l))
    });
    check("count", |row| {
        row.unit.is_none_or(|unit| (100..=10_000_000).contains(&unit.mg))
    });
    check("packs", |row| {
        row.packs
            .iter()
            .all(|pack| (300..=10_000_000).contains(&pack.mg) && (3..=20_000).contains(&pack.usd_minor))
    });
    check("substitutes", |row| {
        row.substitutes
            .iter()
            .all(|substitute| (10..=10_000).contains(&substitute.permille))
    });
}

#[test]
fn days_of_keeping_lie_within_bounds_and_say_what_they_refer_to() {
    check("days", |row| {
        row.keeping.iter().all(|keeping| {
            let within = |days: Option<(u16, u16)>, highest: u16| {
                days.is_none_or(|(low, high)| 1 <= low && low <= high && high <= highest)
            };
            within(keeping.fridge_days, 35)
                && within(keeping.freezer_days, 365)
                && within(keeping.cupboard_days, 14)
                && within(keeping.opened_days, 28)
        })
    });
    check("notes", |row| {
        row.keeping.iter().all(|keeping| !keeping.note.is_empty())
    });
}

#[test]
fn what_was_not_read_says_so() {
    check("keeping", |row| {
        row.keeping.iter().all(|keeping| match keeping.basis {
            KeepingBasis::Read => !keeping.source.contains("memory") && !keeping.source.contains("no source"),
            KeepingBasis::Memory => keeping.source.contains("from memory"),
            KeepingBasis::Practice => keeping.source == "common practice, no source",
            KeepingBasis::Derived => keeping.source.contains("derived"),
            KeepingBasis::SecondHand => true,
        })
    });
}

#[test]
fn hundred_grams_of_food_hold_no_more_than_hundred_grams() {
    for nutrient in Nutrient::ALL {
        let highest = match nutrient.unit() {
            NutrientUnit::Kilocalorie => 910_000,
            NutrientUnit::Gram => 100_000,
            NutrientUnit::Milligram | NutrientUnit::Microgram => 50_000_000,
        };
        check(&format!("{nutrient:?}"), |row| {
            row.nutrient(nutrient)
                .is_none_or(|figure| (0..=highest).contains(&figure))
        });
    }
    let parts = [
        Nutrient::Water,
        Nutrient::Protein,
        Nutrient::Fat,
        Nutrient::Carbohydrate,
        Nutrient::Alcohol,
    ];
    check("the parts together", |row| {
        let sum: i32 = parts.iter().filter_map(|part| row.nutrient(*part)).sum();
        sum <= 101_500
    });
}

#[test]
fn energy_agrees_with_its_parts() {
    // Four, nine, four and seven kilocalories per gram, fibre giving nothing to all of it; a food's own
    // factors explain the rest. Raising agents give off their carbon dioxide and are left out, and so is
    // what the body does not digest.
    const NOT_DIGESTED: [&str; 1] = ["stevia"];
    check("energy", |row| {
        let grams = |nutrient| row.nutrient(nutrient).unwrap_or(0);
        let Some(energy) = row.nutrient(Nutrient::Energy) else {
            return true;
        };
        let highest = 4 * grams(Nutrient::Protein)
            + 9 * grams(Nutrient::Fat)
            + 4 * grams(Nutrient::Carbohydrate)
            + 7 * grams(Nutrient::Alcohol);
        let lowest = highest - 4 * grams(Nutrient::Fibre);
        row.kinds.contains(&FoodKind::Mineral)
            || NOT_DIGESTED.contains(&row.id)
            || (lowest * 7 / 10 - 20_000..=highest * 13 / 10 + 20_000).contains(&energy)
    });
}

#[test]
fn every_food_can_be_bought_except_from_the_tap_and_what_is_cooked_at_home() {
    check("packs", |row| {
        !row.packs.is_empty()
            || row.storage == StorageClass::Tap
            || COOKED.iter().any(|word| row.id.ends_with(word))
    });
    check("packs are sold somewhere", |row| {
        row.packs.iter().all(|pack| !pack.regions.is_empty())
    });
    check("packs stand smallest first", |row| {
        row.packs.windows(2).all(|pair| pair[0].mg <= pair[1].mg)
    });
    check("kinds", |row| !row.kinds.is_empty());
}

#[test]
fn allergens_stand_in_their_order_and_agree_with_what_a_food_is_made_of() {
    let contains = |row: &FoodRow, allergen: Allergen| {
        row.allergens
            .is_some_and(|marks| marks.contains(&(allergen, Presence::Contains)))
    };
    check("order", |row| {
        row.allergens
            .is_none_or(|marks| marks.windows(2).all(|pair| pair[0].0 < pair[1].0))
    });
    check("wheat is a gluten cereal", |row| {
        !contains(row, Allergen::Wheat) || contains(row, Allergen::Gluten)
    });
    let pairs = [
        (FoodKind::Dairy, Allergen::Milk),
        (FoodKind::Egg, Allergen::Eggs),
        (FoodKind::Fish, Allergen::Fish),
        (FoodKind::Crustacean, Allergen::Crustaceans),
        (FoodKind::Mollusc, Allergen::Molluscs),
    ];
    for (kind, allergen) in pairs {
        check(&format!("{kind:?} is {allergen:?}"), |row| {
            !row.kinds.contains(&kind)
                || row
                    .allergens
                    .is_none_or(|marks| marks.iter().any(|(marked, _)| *marked == allergen))
        });
        check(&format!("{allergen:?} comes from {kind:?}"), |row| {
            !contains(row, allergen) || row.kinds.contains(&kind)
        });
    }
}

#[test]
fn every_allergen_is_contained_in_five_foods() {
    for allergen in Allergen::ALL {
        let foods = all().iter().filter(|row| {
            row.allergens
                .is_some_and(|marks| marks.contains(&(allergen, Presence::Contains)))
        });
        assert!(foods.count() >= 5, "{allergen:?}");
    }
}

#[test]
fn a_family_has_several_members_and_each_names_its_state() {
    check("families", |row| {
        row.family.is_empty() || row.other_states().next().is_some()
    });
    check("states", |row| row.family.is_empty() == row.state.is_empty());
}

#[test]
fn seven_hundred_foods_fill_every_department_of_a_grocer() {
    assert!(all().len() >= 700);
    for department in [
        Department::Produce,
        Department::Bakery,
        Department::Meat,
        Department::Fish,
        Department::Dairy,
        Department::Chilled,
        Department::Dry,
        Department::Cans,
        Department::Spices,
        Department::OilsSauces,
        Department::Baking,
        Department::Snacks,
        Department::Drinks,
        Department::Frozen,
    ] {
        let foods = all().iter().filter(|row| row.department == department);
        assert!(foods.count() >= 40, "{department:?}");
    }
}

#[test]
fn a_name_belongs_to_one_food() {
    let mut names: Vec<String> = all().iter().map(|row| row.name.to_lowercase()).collect();
    names.sort();
    let twice: Vec<&[String]> = names.windows(2).filter(|pair| pair[0] == pair[1]).collect();
    assert!(twice.is_empty(), "{twice:?}");
    check("an American name differs", |row| row.name != row.name_us);
}

#[test]
fn substitutes_are_foods_and_not_the_food_itself() {
    check("substitutes", |row| {
        row.substitutes
            .iter()
            .all(|substitute| food(substitute.food).is_some() && substitute.food != row.id)
    });
}

#[test]
fn a_substitute_said_to_be_without_an_allergen_is() {
    let words = [
        ("no milk", Allergen::Milk),
        ("no egg", Allergen::Eggs),
        ("no wheat", Allergen::Wheat),
        ("no gluten", Allergen::Gluten),
        ("no soya", Allergen::Soy),
        ("no nuts", Allergen::TreeNuts),
        ("no peanuts", Allergen::Peanuts),
        ("no sesame", Allergen::Sesame),
        ("no fish", Allergen::Fish),
        ("no crustaceans", Allergen::Crustaceans),
        ("no celery", Allergen::Celery),
    ];
    let claims = all()
        .iter()
        .flat_map(|row| row.substitutes)
        .flat_map(|substitute| {
            words
                .iter()
                .filter(|(word, _)| substitute.note.contains(word))
                .map(move |(_, allergen)| (substitute, *allergen))
        });
    let mut checked = 0;
    for (substitute, allergen) in claims {
        let row = food(substitute.food).expect("a substitute is a food");
        let marks = row.allergens.expect("its allergens are known");
        assert!(
            marks.iter().all(|(marked, _)| *marked != allergen),
            "{}: {}",
            substitute.food,
            substitute.note
        );
        checked += 1;
    }
    assert!(checked >= 20);
}

#[test]
fn generated_files_say_so_in_their_first_line() {
    let text = include_str!("../src/generated/foods.rs");
    let first = text.lines().next().expect("the file has lines");
    assert!(first.contains("@generated"), "{first}");
}
