//! The table of recipe rules. A finding about a recipe can only be made with a rule of this table.

use crate::rules::rules;

const STYLE: &str = "house style for recipes";
const PRACTICE: &str = "common practice, no source";
const BALANCE: &str = "conservation of mass";

rules! {
    /// Every rule of recipes, in the order of what they look at.
    MASS = "recipe.mass", Fatal, BALANCE,
        "No more comes out of a pot than went in.";
    EVAPORATION = "recipe.evaporation", Warning, PRACTICE,
        "Less than half of what stays in the pot leaves as steam or clings to tools.";
    LIQUID = "recipe.liquid", Warning, PRACTICE,
        "Dry grains and pulses get as much water as they can drink, and no flood.";
    YIELD = "recipe.yield", Warning, "water balance of the dry and the cooked row of the food table",
        "The likely yield of a dry food lies between 70 and 101 % of its water balance, which is an upper bound.";
    SALT = "recipe.salt", Warning, STYLE,
        "Salt, that of the inputs included, lies in the band of the family.";
    ENERGY = "recipe.energy", Warning, PRACTICE,
        "Energy per 100 g lies in the band of the family.";
    COST = "recipe.cost", Warning, PRACTICE,
        "The cheapest packs cost neither nothing nor a fortune per 100 g.";
    HANDS = "recipe.hands", Warning, PRACTICE,
        "Hands-on minutes per kilogram of the largest batch lie in the band of the family.";
    OVEN_TRAY = "recipe.oven-tray", Warning, "house style for recipes: a tray holds about a kilogram in one layer",
        "A tray carries between 300 g and 1.2 kg.";
    OVEN_POWER = "recipe.oven-power", Warning, "latent heat of water 2257 kJ/kg; an oven's air gives a tray 700 W at most (estimate from 15 to 30 W/m2K)",
        "What a tray loses in the oven is steam that the oven's air can make in that time.";
    OVEN_SLOPE = "recipe.oven-slope", Warning, "house style for recipes: best time divided by (best temperature less 100 °C)",
        "The change of time per degree follows from time and temperature, within half and double.";
    OVEN_RANGE = "recipe.oven-range", Warning, PRACTICE,
        "The oven is set between 120 and 250 °C, its range spans 60 °C at most, and the time is 8 to 180 minutes.";
    POT = "recipe.pot", Warning, "arithmetic",
        "The pot is larger than the water and the food in it.";
    CORE = "recipe.core", Fatal, "federal minimum internal temperatures, foodsafety.gov",
        "Raw flesh has a step that reaches its core temperature.";
    BOIL = "recipe.boil", Fatal, "FDA Bad Bug Book, 2nd ed., lectin chapter",
        "Dry beans that hold the lectin have a step that boils them long enough, in the mountains too.";
    HYGIENE = "recipe.hygiene", Warning, STYLE,
        "A way with raw flesh says where hands and boards get dirty, and where the finished food begins.";
    WORDING = "recipe.wording", Warning, STYLE,
        "Texts name no amounts, times or temperatures, and never call food safe.";
    STEPS = "recipe.steps", Warning, STYLE,
        "A way has three to nine steps.";
    PORTION = "recipe.portion", Warning, PRACTICE,
        "Portions lie in the band of their place on the plate.";
    PLATE = "recipe.plate", Warning, PRACTICE,
        "A plate weighs what its occasion allows.";
    PLATE_ENERGY = "recipe.plate-energy", Warning, "estimated calorie needs, Dietary Guidelines for Americans, Appendix 2; shares of the day: common practice, no source",
        "A plate for a usual adult carries the energy of its occasion.";
    PLATE_PROTEIN = "recipe.plate-protein", Warning, PRACTICE,
        "A main plate carries 10 g of protein.";
    PLATE_COST = "recipe.plate-cost", Warning, PRACTICE,
        "A plate costs neither nothing nor a fortune.";
    ASSEMBLY = "recipe.assembly", Warning, PRACTICE,
        "Two plates are put together in half a minute to fifteen minutes.";
    FREE_CHOICE = "recipe.free-choice", Warning, STYLE,
        "Every place on the plate has an option without animal foods, nuts or sesame, unless it may stay empty.";
    EXPLAINED = "recipe.explained", Warning, STYLE,
        "What is explained in a recipe's file is a flag that is raised.";
}
