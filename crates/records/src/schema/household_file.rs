//! The household file as a schema; `household` reads it.

use std::collections::BTreeMap;

use larderwright_model::{
    Allergen, Avoid, Caution, Contact, Department, Diet, FoodKind, Priority, Profile, Region, Sex, Skill,
    StorageClass,
};
use larderwright_quantity::System;
use schemars::JsonSchema;

use crate::wire::Coded;

/// Declares groups of a file: schema only, nothing is ever built from them.
macro_rules! groups {
    ($($(#[$meta:meta])* $name:ident { $($(#[$field_meta:meta])* $field:ident: $kind:ty),* $(,)? })*) => {$(
        $(#[$meta])*
        #[derive(JsonSchema)]
        #[schemars(deny_unknown_fields)]
        #[expect(dead_code, reason = "the fields exist for the schema only")]
        pub(super) struct $name {
            $($(#[$field_meta])* $field: $kind),*
        }
    )*};
}

pub(super) use groups;

/// One text or a list of them.
#[derive(JsonSchema)]
#[schemars(untagged)]
#[expect(dead_code, reason = "the variants exist for the schema only")]
enum OneOrMore {
    One(String),
    More(Vec<String>),
}

/// A list, or `not known`.
#[derive(JsonSchema)]
#[schemars(untagged, bound = "Coded<T>: JsonSchema")]
#[expect(dead_code, reason = "the variants exist for the schema only")]
enum ListIfKnown<T> {
    NotKnown(#[schemars(regex(pattern = "^not known$"))] String),
    List(Vec<Coded<T>>),
}

/// A price, with or without quotes.
#[derive(JsonSchema)]
#[schemars(untagged)]
#[expect(dead_code, reason = "the variants exist for the schema only")]
enum Price {
    Written(#[schemars(regex(pattern = r"^\d+(\.\d{1,2})?$"))] String),
    Number(serde_json::Number),
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
#[expect(dead_code, reason = "the variants exist for the schema only")]
enum StatedAppetite {
    Small,
    Usual,
    Big,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
#[expect(dead_code, reason = "the variants exist for the schema only")]
enum Activity {
    Sedentary,
    LowActive,
    Active,
    VeryActive,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
#[expect(dead_code, reason = "the variants exist for the schema only")]
enum MealOfTheDay {
    Breakfast,
    Lunch,
    Dinner,
    Snack,
}

groups! {
    /// A household file.
    HouseholdFile {
        name: String,
        /// Which pack sizes are usual.
        region: Coded<Region>,
        /// Whose food-safety rules hold.
        guidance: Coded<Profile>,
        units: Coded<System>,
        #[schemars(regex(pattern = "^[A-Z]{3}$"))]
        currency: String,
        /// Area and place: `Europe/Vienna`.
        time_zone: String,
        altitude_m: Option<i64>,
        eater: Vec<EaterGroup>,
        cook: Vec<CookGroup>,
        kitchen: KitchenGroup,
        sitting: Vec<SittingGroup>,
        session: Vec<SessionGroup>,
        /// Day and time when the shopping is home: `Saturday before 11:00`.
        shops: Vec<String>,
        food: Option<Vec<FoodGroup>>,
        stock: Option<StockGroup>,
        par: Option<Vec<ParGroup>>,
        standing: Option<Vec<StandingGroup>>,
        price: Option<Vec<PriceGroup>>,
        wishes: Option<WishesGroup>,
    }

    /// Someone who eats.
    EaterGroup {
        /// Made from the name when absent.
        id: Option<String>,
        name: String,
        appetite: Option<StatedAppetite>,
        body: Option<BodyGroup>,
        diet: Option<Coded<Diet>>,
        avoid: Option<Vec<Coded<Avoid>>>,
        allergies: Option<BTreeMap<Coded<Allergen>, Coded<Contact>>>,
        /// Foods and components.
        dislikes: Option<Vec<String>>,
        cautions: Option<Vec<Coded<Caution>>>,
    }

    /// A body, for the published energy equations.
    BodyGroup {
        age: u8,
        sex: Coded<Sex>,
        /// `168 cm` or `5 ft 6 in`.
        height: String,
        /// `61.5 kg` or `135 lb`.
        weight: String,
        activity: Activity,
    }

    /// Someone who cooks.
    CookGroup {
        /// Made from the name when absent.
        id: Option<String>,
        name: String,
        may: Option<Vec<Coded<Skill>>>,
    }

    /// The kitchen.
    KitchenGroup {
        oven: Option<OvenGroup>,
        burners: Option<u32>,
        burner_watts: Option<i64>,
        microwaves: Option<u32>,
        toaster: Option<bool>,
        boards: Option<u32>,
        blender: Option<bool>,
        /// Its volume.
        pressure_cooker: Option<String>,
        /// `5 l` or `2 x 3 qt`.
        pots: Option<Vec<String>>,
        /// `46 x 33 cm` or `3 x 18 x 13 in`.
        trays: Option<Vec<String>>,
        #[schemars(rename = "box")]
        boxes: Vec<BoxGroup>,
        /// How many one-litre boxes fit after the everyday things.
        fridge_litres: u32,
        freezer_litres: Option<u32>,
    }

    /// An oven.
    OvenGroup {
        racks: u32,
        /// `50 C` or `170 F`.
        lowest: String,
        highest: String,
        fan: Option<bool>,
        preheat_minutes: Option<u32>,
    }

    /// Storage boxes of one kind.
    BoxGroup {
        id: String,
        name: String,
        /// `600 ml` or `5 cups`.
        holds: String,
        /// `5 cm` or `2.25 in`.
        depth: String,
        count: u32,
        material: Option<String>,
        freezes: Option<bool>,
    }

    /// Sittings of the usual week, one for each day.
    SittingGroup {
        meal: MealOfTheDay,
        /// `mon`, `mon-fri`, `every day`, or a list.
        days: OneOrMore,
        /// `18:30` or `6:30 pm`.
        at: String,
        minutes: u32,
        /// Names, ids, or `all`.
        who: Option<OneOrMore>,
        guests: Option<u32>,
        packed: Option<PackedGroup>,
    }

    /// How food is carried and kept until it is eaten.
    PackedGroup {
        hours: u32,
        ice_pack: Option<bool>,
        fridge: Option<bool>,
        microwave: Option<bool>,
    }

    /// A session of the usual week.
    SessionGroup {
        /// `Sunday before 10:00-13:30`.
        when: String,
        /// Names or ids.
        cooks: Vec<String>,
    }

    /// A food of the household's own.
    FoodGroup {
        /// Made from the name when absent.
        id: Option<String>,
        name: String,
        department: Coded<Department>,
        /// Not known when absent; an empty list says that there are none.
        allergens: Option<ListIfKnown<Allergen>>,
        may_contain: Option<Vec<Coded<Allergen>>>,
        /// Not known when absent: then no diet but `everything` gets it.
        made_of: Option<ListIfKnown<FoodKind>>,
        /// Its weight: `500 g`.
        pack: Option<String>,
        /// What the shopper reads; the weight when absent.
        label: Option<String>,
        /// Estimated when absent.
        price: Option<Price>,
        /// The usual one of the department when absent.
        storage: Option<Coded<StorageClass>>,
        /// The whole when absent.
        #[schemars(range(min = 1, max = 100))]
        edible_percent: Option<u8>,
        unit: Option<UnitGroup>,
    }

    /// How a food is counted.
    UnitGroup {
        /// The word for one: `fillet`.
        one: String,
        /// The word for several; with an `s` when absent.
        many: Option<String>,
        /// What one weighs as purchased.
        weighs: String,
    }

    /// The tick list.
    StockGroup {
        have: Option<Vec<String>>,
        low: Option<Vec<String>>,
        /// Weights by food.
        amounts: Option<BTreeMap<String, String>>,
    }

    /// A food of which there should always be so much at home.
    ParGroup {
        food: String,
        level: String,
        have: Option<String>,
    }

    /// A food bought every week.
    StandingGroup {
        food: String,
        amount: String,
    }

    /// A known price.
    PriceGroup {
        food: String,
        pack: String,
        label: String,
        price: Price,
    }

    /// What is wished for.
    WishesGroup {
        components_max: Option<u32>,
        priorities: Option<Vec<Coded<Priority>>>,
        budget: Option<Price>,
        off_meals: Option<Vec<String>>,
        off_components: Option<Vec<String>>,
        fixed: Option<Vec<FixedGroup>>,
    }

    /// A meal fixed at a sitting.
    FixedGroup {
        /// A weekday or a date.
        day: String,
        meal: MealOfTheDay,
        /// The meal's id.
        dish: String,
    }
}
