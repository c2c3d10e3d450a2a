//! The words that files use for the model's kinds: one table for each kind, read by every format.

use jiff::civil::Weekday;
use larderwright_intake::Nutrient;
use larderwright_model::{
    Allergen, Appliance, Avoid, Caution, Contact, CoolingMethod, Department, Diet, Equipment, Family, Fate,
    Finish, FoodKind, Freezing, Hygiene, Need, Occasion, Place, Presence, Priority, Profile, Region,
    Reported, Scales, Serving, Severity, Sex, Skill, Stage, Standing, Station, StorageClass, WasteReason,
};
use larderwright_quantity::System;

/// A kind whose members are written as words.
pub(crate) trait Word: Copy + PartialEq + 'static {
    /// What the kind is called in a message.
    const NAME: &'static str;
    /// Every word with its member.
    const WORDS: &'static [(&'static str, Self)];

    /// The word of a member.
    fn word(self) -> &'static str;

    /// The member of a word.
    fn parse(word: &str) -> Option<Self> {
        Self::WORDS
            .iter()
            .find(|(known, _)| *known == word)
            .map(|(_, member)| *member)
    }
}

macro_rules! words {
    ($($kind:ident $name:literal { $($word:literal => $member:ident),+ $(,)? })+) => {$(
        impl Word for $kind {
            const NAME: &'static str = $name;
            const WORDS: &'static [(&'static str, Self)] = &[$(($word, Self::$member)),+];

            fn word(self) -> &'static str {
                match self {
                    $(Self::$member => $word),+
                }
            }
        }
    )+};
}

words! {
    Allergen "allergen" {
        "gluten" => Gluten, "wheat" => Wheat, "crustaceans" => Crustaceans, "eggs" => Eggs, "fish" => Fish,
        "peanuts" => Peanuts, "soy" => Soy, "milk" => Milk, "tree-nuts" => TreeNuts, "celery" => Celery,
        "mustard" => Mustard, "sesame" => Sesame, "sulphites" => Sulphites, "lupin" => Lupin,
        "molluscs" => Molluscs,
    }
    Appliance "appliance" {
        "microwave" => Microwave, "burner" => Burner, "oven" => Oven, "toaster" => Toaster,
    }
    Avoid "thing to leave out" { "dairy" => Dairy, "gluten" => Gluten, "pork" => Pork, "alcohol" => Alcohol }
    Caution "state that asks for caution" {
        "pregnant" => Pregnant, "breastfeeding" => Breastfeeding, "infant" => Infant,
        "immune-compromised" => ImmuneCompromised, "older-than-65" => OlderThan65,
    }
    Contact "strictness" { "plate" => Plate, "traces" => Traces, "severe" => Severe }
    CoolingMethod "cooling method" {
        "none" => None, "shallow" => Shallow, "trays" => Trays, "cold-water" => ColdWater,
        "ice-bath" => IceBath, "freezer-first" => FreezerFirst,
    }
    Department "department" {
        "produce" => Produce, "bakery" => Bakery, "meat" => Meat, "fish" => Fish, "dairy" => Dairy,
        "chilled" => Chilled, "dry" => Dry, "cans" => Cans, "spices" => Spices, "oils-sauces" => OilsSauces,
        "baking" => Baking, "snacks" => Snacks, "drinks" => Drinks, "frozen" => Frozen,
        "household" => Household,
    }
    Diet "diet" {
        "everything" => Everything, "pescatarian" => Pescatarian, "vegetarian" => Vegetarian, "vegan" => Vegan,
    }
    Equipment "equipment" {
        "burner" => Burner, "oven" => Oven, "rack" => Rack, "microwave" => Microwave, "pot" => Pot,
        "tray" => Tray, "pressure-cooker" => PressureCooker, "board" => Board, "blender" => Blender,
    }
    Family "family" {
        "pulse" => Pulse, "grain" => Grain, "protein" => Protein, "vegetable" => Vegetable, "egg" => Egg,
        "sauce" => Sauce, "pickle" => Pickle, "salad" => Salad, "dough" => Dough, "breakfast" => Breakfast,
        "stock" => Stock,
    }
    Fate "fate" { "fridge" => Fridge, "freezer" => Freezer, "cupboard" => Cupboard }
    Finish "finish" {
        "reheat" => Reheat, "cold" => Cold, "raw" => Raw, "toast" => Toast, "fry" => Fry,
    }
    FoodKind "kind of food" {
        "plant" => Plant, "mineral" => Mineral, "dairy" => Dairy, "egg" => Egg, "honey" => Honey,
        "fish" => Fish, "crustacean" => Crustacean, "mollusc" => Mollusc, "poultry" => Poultry, "beef" => Beef,
        "pork" => Pork, "lamb" => Lamb, "other-meat" => OtherMeat, "gelatine" => Gelatine,
        "alcohol" => Alcohol,
    }
    Freezing "way to freeze" { "good" => Good, "fair" => Fair, "no" => No }
    Hygiene "hygiene class" {
        "plain" => Plain, "ready" => Ready, "raw-meat" => RawMeat, "allergen" => Allergen,
    }
    Need "need" { "one" => One, "optional" => Optional, "some" => Some }
    Nutrient "nutrient" {
        "water" => Water, "energy" => Energy, "protein" => Protein, "fat" => Fat,
        "carbohydrate" => Carbohydrate, "fibre" => Fibre, "sugars" => Sugars, "saturates" => Saturates,
        "monounsaturates" => Monounsaturates, "polyunsaturates" => Polyunsaturates, "trans-fat" => TransFat,
        "cholesterol" => Cholesterol, "sodium" => Sodium, "potassium" => Potassium, "calcium" => Calcium,
        "iron" => Iron, "magnesium" => Magnesium, "phosphorus" => Phosphorus, "zinc" => Zinc,
        "vitamin-a" => VitaminA, "vitamin-c" => VitaminC, "vitamin-d" => VitaminD, "vitamin-e" => VitaminE,
        "vitamin-k" => VitaminK, "thiamin" => Thiamin, "riboflavin" => Riboflavin, "niacin" => Niacin,
        "vitamin-b6" => VitaminB6, "folate" => Folate, "vitamin-b12" => VitaminB12, "choline" => Choline,
        "alcohol" => Alcohol,
    }
    Occasion "occasion" {
        "breakfast" => Breakfast, "lunch" => Lunch, "dinner" => Dinner, "snack" => Snack,
        "packed-cold" => PackedCold, "packed-hot" => PackedHot,
    }
    Place "place" { "fridge" => Fridge, "freezer" => Freezer, "cupboard" => Cupboard }
    Presence "presence" { "may-contain" => MayContain, "contains" => Contains }
    Priority "priority" { "cheaper" => Cheaper, "quicker" => Quicker, "less-waste" => LessWaste }
    Profile "guidance profile" {
        "us-home" => UsHome, "us-food-service" => UsFoodService, "uk" => Uk, "ca" => Canada,
        "au" => Australia, "eu" => Eu,
    }
    Reported "way a report came" { "presumed" => Presumed, "told" => Told, "skipped" => Skipped }
    Region "region" { "us" => Us, "uk" => Uk, "eu" => Eu }
    Scales "way to scale" { "appetite" => Appetite, "fixed" => Fixed }
    Serving "way to serve" { "hot" => Hot, "cold" => Cold, "either" => Either }
    Severity "severity" { "advice" => Advice, "warning" => Warning, "fatal" => Fatal }
    Sex "sex" { "female" => Female, "male" => Male }
    Skill "skill" { "any" => Any, "knife" => Knife, "stove" => Stove }
    Stage "stage" {
        "menu" => Menu, "demand" => Demand, "batches" => Batches, "order" => Order, "packing" => Packing,
        "session" => Session, "keeping" => Keeping, "plates" => Plates,
    }
    Standing "standing" { "likely" => Likely, "tight" => Tight, "wont-fit" => WontFit }
    Station "station" {
        "board" => Board, "counter" => Counter, "sink" => Sink, "stove" => Stove, "oven" => Oven,
        "fridge" => Fridge,
    }
    StorageClass "storage class" {
        "cupboard" => Cupboard, "counter" => Counter, "fridge" => Fridge, "fridge-short" => FridgeShort,
        "freezer" => Freezer, "tap" => Tap,
    }
    System "system of units" { "metric" => Metric, "us" => UsCustomary }
    WasteReason "reason to throw food away" {
        "past-date" => PastDate, "spoiled" => Spoiled, "left-out" => LeftOut, "mishap" => Mishap,
        "plate-scrapings" => PlateScrapings, "unwanted" => Unwanted, "power-cut" => PowerCut,
    }
    Weekday "weekday" {
        "mon" => Monday, "tue" => Tuesday, "wed" => Wednesday, "thu" => Thursday, "fri" => Friday,
        "sat" => Saturday, "sun" => Sunday,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_model_and_the_files_use_the_same_words() {
        for allergen in Allergen::ALL {
            assert_eq!(Word::word(allergen), allergen.word());
        }
        for profile in Profile::ALL {
            assert_eq!(Word::word(profile), profile.word());
        }
        assert_eq!(<WasteReason as Word>::WORDS, &WasteReason::WORDS);
    }
}
