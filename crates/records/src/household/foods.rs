//! Foods of the household's own: what the built-in table does not know, in the few words that stand on a label. What
//! nobody wrote is not known, and what is not known is cleared for nobody whom it could hurt.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_model::{
    Allergen, CountUnit, Department, Food, FoodId, FoodKind, Pack, PackSize, Presence, PriceBasis, Sourced,
    StorageClass,
};
use larderwright_quantity::{Mass, Money, Permille};

use super::{id_from, measure, refuse_twins};
use crate::reader::{Fields, Value};
use crate::words::Word;

pub(crate) const FOOD_KEYS: &[&str] = &[
    "id",
    "name",
    "department",
    "allergens",
    "may_contain",
    "made_of",
    "pack",
    "label",
    "price",
    "storage",
    "edible_percent",
    "unit",
];
pub(crate) const UNIT_KEYS: &[&str] = &["one", "many", "weighs"];

/// What stands where a list would stand when nobody knows.
const NOT_KNOWN: &str = "not known";

/// Where facts come from that the household wrote.
const SOURCE: &str = "written down by the household";

/// Kinds that hold an allergen by nature.
const NATURAL: [(FoodKind, Allergen); 5] = [
    (FoodKind::Dairy, Allergen::Milk),
    (FoodKind::Egg, Allergen::Eggs),
    (FoodKind::Fish, Allergen::Fish),
    (FoodKind::Crustacean, Allergen::Crustaceans),
    (FoodKind::Mollusc, Allergen::Molluscs),
];

/// The household's own foods, in the order of the file. A pack without a price has none, and counts as an estimate.
pub(super) fn read(fields: &Fields<'_>) -> Vec<Food> {
    let groups = fields.tables("food");
    let foods: Vec<Food> = groups.iter().map(food).collect();
    refuse_twins(&groups, foods.iter().map(|food| food.id.as_str()));
    foods
}

fn food(fields: &Fields<'_>) -> Food {
    fields.only(FOOD_KEYS);
    let name = fields.text("name");
    let department: Department = fields.word("department");
    let allergens = allergens(fields);
    Food {
        id: id(fields, &name),
        name,
        department,
        kinds: kinds(fields, allergens.as_ref()),
        allergens,
        read_label: true,
        edible: edible(fields),
        density: None,
        unit: fields.table("unit").map(|group| unit(&group)),
        packs: pack(fields).into_iter().collect(),
        storage: fields.word_or("storage", usual_storage(department)),
        source: SOURCE.into(),
    }
}

fn id(fields: &Fields<'_>, name: &str) -> FoodId {
    if fields.has("id") {
        return FoodId::new(&fields.id("id"));
    }
    let id = id_from(name);
    if id.is_empty() && !name.trim().is_empty() {
        let help =
            "Add a line `id = ...` in lower-case letters, by which stock and recipes can name this food.";
        fields.problem_at("name", format!("`{name}` makes no id"), help);
    }
    FoodId::new(&id)
}

/// A list that may be absent or `not known`.
fn list_if_known<T: Word>(fields: &Fields<'_>, key: &str) -> Option<Vec<T>> {
    let value = fields.get(key)?;
    if !value.is_text() {
        return Some(value.list().iter().filter_map(Value::word).collect());
    }
    let typed = value.text().unwrap_or_default();
    if typed != NOT_KNOWN {
        let help = format!(
            "Write a list, as in [\"{}\"], or \"{NOT_KNOWN}\"; [] says that there are none.",
            T::WORDS[0].0
        );
        value.problem(format!("`{typed}` is no list"), help);
    }
    None
}

/// Allergens, contained ones and possible ones; nothing when nobody knows. Wheat is gluten too, and gluten of a
/// cereal that nobody named may well be wheat.
fn allergens(fields: &Fields<'_>) -> Option<BTreeMap<Allergen, Presence>> {
    let may_contain: Vec<Allergen> = fields.words("may_contain");
    let Some(contained) = list_if_known::<Allergen>(fields, "allergens") else {
        if fields.has("may_contain") {
            let help =
                "Add a line `allergens = [...]` with those it does contain; [] when the label names none.";
            fields.problem_at(
                "may_contain",
                "stands alone, and what it does contain is not known",
                help,
            );
        }
        return None;
    };
    for allergen in may_contain.iter().filter(|allergen| contained.contains(allergen)) {
        let message = format!("`{}` stands among the allergens already", allergen.word());
        fields.problem_at("may_contain", message, "Name it once.");
    }
    let mut marks = BTreeMap::new();
    let listed = [
        (may_contain, Presence::MayContain),
        (contained, Presence::Contains),
    ];
    for (allergens, presence) in listed {
        marks.extend(allergens.into_iter().map(|allergen| (allergen, presence)));
    }
    for (named, implied) in [
        (Allergen::Wheat, Allergen::Gluten),
        (Allergen::Gluten, Allergen::Wheat),
    ] {
        if let Some(&presence) = marks.get(&named) {
            marks.entry(implied).or_insert(presence);
        }
    }
    Some(marks)
}

/// What it is made of: every kind when nobody knows, so that no diet is told that it may be eaten.
fn kinds(fields: &Fields<'_>, allergens: Option<&BTreeMap<Allergen, Presence>>) -> BTreeSet<FoodKind> {
    let Some(listed) = list_if_known::<FoodKind>(fields, "made_of").filter(|listed| !listed.is_empty())
    else {
        return FoodKind::WORDS.iter().map(|(_, kind)| *kind).collect();
    };
    let mut kinds: BTreeSet<FoodKind> = listed.into_iter().collect();
    let Some(allergens) = allergens else { return kinds };
    for (kind, allergen) in NATURAL {
        let contained = allergens.get(&allergen) == Some(&Presence::Contains);
        if kinds.contains(&kind) && !contained {
            let message = format!("`{}` is the allergen `{}`", kind.word(), allergen.word());
            let help = format!("Write \"{}\" among the allergens.", allergen.word());
            fields.problem_at("made_of", message, help);
        }
        if contained {
            kinds.insert(kind);
        }
    }
    kinds
}

fn edible(fields: &Fields<'_>) -> Sourced<Permille> {
    let percent = fields.whole_if("edible_percent", 1..=100);
    let source = if percent.is_some() {
        SOURCE
    } else {
        "common practice, no source: used whole"
    };
    Sourced {
        value: Permille::from_permille(10 * percent.unwrap_or(100)),
        source: source.into(),
    }
}

fn unit(fields: &Fields<'_>) -> CountUnit {
    fields.only(UNIT_KEYS);
    let singular = fields.text("one");
    let plural = if fields.has("many") {
        fields.text("many")
    } else {
        format!("{singular}s")
    };
    CountUnit {
        singular,
        plural,
        mass: weight(fields, "weighs"),
        source: SOURCE.into(),
    }
}

/// A weight that has to be there and be something.
fn weight(fields: &Fields<'_>, key: &str) -> Mass {
    let Some(value) = fields.need(key) else {
        return Mass::ZERO;
    };
    let mass = measure::mass(&value);
    if mass == Some(Mass::ZERO) {
        value.problem("weighs nothing", "Write what one weighs, as in `500 g`.");
    }
    mass.unwrap_or(Mass::ZERO)
}

fn pack(fields: &Fields<'_>) -> Option<Pack> {
    let Some(value) = fields.get("pack") else {
        for key in ["label", "price"].into_iter().filter(|key| fields.has(key)) {
            fields.problem_at(
                key,
                "stands without a pack",
                "Add a line `pack = ...` with its weight.",
            );
        }
        return None;
    };
    let written = value.text()?;
    let price = fields.get("price").and_then(|value| measure::money(&value));
    let label = if fields.has("label") {
        fields.text("label")
    } else {
        written.trim().to_owned()
    };
    Some(Pack {
        size: PackSize {
            label,
            mass: weight(fields, "pack"),
        },
        price: price.unwrap_or(Money::ZERO),
        basis: if price.is_some() {
            PriceBasis::Household
        } else {
            PriceBasis::Estimate
        },
    })
}

/// Where food of a department is kept when nothing is said: rather colder and shorter than needed.
fn usual_storage(department: Department) -> StorageClass {
    match department {
        Department::Produce | Department::Meat | Department::Fish | Department::Chilled => {
            StorageClass::FridgeShort
        }
        Department::Dairy => StorageClass::Fridge,
        Department::Bakery => StorageClass::Counter,
        Department::Frozen => StorageClass::Freezer,
        Department::Dry
        | Department::Cans
        | Department::Spices
        | Department::OilsSauces
        | Department::Baking
        | Department::Snacks
        | Department::Drinks
        | Department::Household => StorageClass::Cupboard,
    }
}
