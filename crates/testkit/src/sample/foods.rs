//! The foods of the sample week. Masses, prices and edible portions are invented for tests.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_model::{
    Allergen, CountUnit, Department, Food, FoodKind, Pack, PackSize, Presence, PriceBasis, Sourced,
    StorageClass,
};
use larderwright_quantity::{Density, Mass, Money, Permille};

const SOURCE: &str = "invented for tests";

/// Every food of the sample.
// long: a table of rows, one below the other
pub(super) fn foods() -> Vec<Food> {
    let cup = StorageClass::Cupboard;
    let mut foods = vec![
        food(
            "water",
            "water",
            Department::Household,
            StorageClass::Tap,
            (0, "tap", 0),
        )
        .weighing(1000),
        food(
            "salt",
            "salt",
            Department::Spices,
            cup,
            (500_000, "500 g box", 90),
        )
        .weighing(1200),
        food(
            "chickpea-dry",
            "chickpeas, dry",
            Department::Dry,
            cup,
            (500_000, "500 g bag", 180),
        ),
        food(
            "rice-white-long-dry",
            "long-grain white rice",
            Department::Dry,
            cup,
            (1_000_000, "1 kg bag", 230),
        )
        .weighing(782),
        food(
            "olive-oil",
            "olive oil",
            Department::OilsSauces,
            cup,
            (460_000, "500 ml bottle", 640),
        )
        .weighing(915),
        food(
            "tomato-canned-chopped",
            "chopped tomatoes",
            Department::Cans,
            cup,
            (400_000, "400 g can", 75),
        ),
        food(
            "tahini",
            "tahini",
            Department::OilsSauces,
            cup,
            (300_000, "300 g jar", 350),
        )
        .holding(Allergen::Sesame),
        food(
            "carrot",
            "carrot",
            Department::Produce,
            StorageClass::Fridge,
            (80_000, "each", 12),
        )
        .counted("carrot", "carrots", 80_000, 890),
        food(
            "lemon",
            "lemon",
            Department::Produce,
            StorageClass::Counter,
            (100_000, "each", 45),
        )
        .counted("lemon", "lemons", 100_000, 430),
        food(
            "yogurt-plain",
            "plain yoghurt",
            Department::Dairy,
            StorageClass::Fridge,
            (500_000, "500 g pot", 160),
        )
        .holding(Allergen::Milk),
        food(
            "milk-whole",
            "whole milk",
            Department::Dairy,
            StorageClass::Fridge,
            (1_030_000, "1 l carton", 130),
        )
        .holding(Allergen::Milk),
    ];
    for food in foods.iter_mut().filter(|food| food.0.id.as_str() == "tahini") {
        food.0.read_label = true;
    }
    foods.into_iter().map(|food| food.0).collect()
}

struct Draft(Food);

fn food(
    id: &str,
    name: &str,
    department: Department,
    storage: StorageClass,
    pack: (i64, &str, i64),
) -> Draft {
    let (mg, label, price) = pack;
    let pack = Pack {
        size: PackSize {
            label: label.into(),
            mass: Mass::from_mg(mg),
        },
        price: Money::from_minor(price),
        basis: PriceBasis::Estimate,
    };
    Draft(Food {
        id: id.into(),
        name: name.into(),
        department,
        kinds: BTreeSet::from([FoodKind::Plant]),
        allergens: Some(BTreeMap::new()),
        read_label: false,
        edible: Sourced {
            value: Permille::from_permille(1000),
            source: SOURCE.into(),
        },
        density: None,
        unit: None,
        packs: if storage == StorageClass::Tap {
            Vec::new()
        } else {
            vec![pack]
        },
        storage,
        source: SOURCE.into(),
    })
}

impl Draft {
    fn weighing(mut self, g_per_l: i64) -> Self {
        self.0.density = Some(Sourced {
            value: Density::from_g_per_l(g_per_l),
            source: SOURCE.into(),
        });
        self
    }

    fn holding(mut self, allergen: Allergen) -> Self {
        self.0.allergens = Some(BTreeMap::from([(allergen, Presence::Contains)]));
        if allergen == Allergen::Milk {
            self.0.kinds = BTreeSet::from([FoodKind::Dairy]);
        }
        self
    }

    fn counted(mut self, singular: &str, plural: &str, mg: i64, edible: i64) -> Self {
        self.0.edible.value = Permille::from_permille(edible);
        self.0.unit = Some(CountUnit {
            singular: singular.into(),
            plural: plural.into(),
            mass: Mass::from_mg(mg),
            source: SOURCE.into(),
        });
        self
    }
}
