//! The table of rules: stable identifier, gravity, a sentence, and what the rule rests on.
//!
//! A finding can only be made with a rule of this table.

use larderwright_model::Severity;

/// One rule of the judge.
#[derive(Debug, PartialEq, Eq)]
pub struct Rule {
    /// Stable identifier: family, full stop, name.
    pub id: &'static str,
    /// How grave a breach is.
    pub severity: Severity,
    /// What has to hold.
    pub says: &'static str,
    /// Document and section; `arithmetic` or `the household's wishes` where no text is needed.
    pub source: &'static str,
}

/// A table of rules: a static for each, and all of them in order.
macro_rules! rules {
    ($(#[$all:meta])* $($name:ident = $id:literal, $severity:ident, $source:expr, $says:literal;)*) => {
        $(
            #[doc = $says]
            pub static $name: $crate::rules::Rule = $crate::rules::Rule {
                id: $id,
                severity: larderwright_model::Severity::$severity,
                says: $says,
                source: $source,
            };
        )*
        $(#[$all])*
        pub static ALL: &[&$crate::rules::Rule] = &[$(&$name),*];
    };
}
pub(crate) use rules;

const SUMS: &str = "arithmetic";
const WISH: &str = "the household's wishes";
const LAW: &str = "the recipe's own law";
const PROFILE: &str = "the keeping rule of the guidance profile";
const HYGIENE: &str = "cross-contamination: common advice of every profile, from memory";
const KITCHEN: &str = "the household's kitchen";
const ALLERGY: &str = "allergens of Regulation (EU) 1169/2011 Annex II; strictness as stated by the eater";

rules! {
    /// Every rule, in the order of the families.
    COMPLETE_SAME_WEEK = "complete.same-week", Fatal, SUMS,
        "Plan and snapshot speak of the same week, profile and tables.";
    COMPLETE_REFERENCE = "complete.reference", Fatal, SUMS,
        "Every name in the plan is found in the plan or the snapshot.";
    COMPLETE_UNIQUE = "complete.unique", Fatal, SUMS,
        "No two batches, lots, runs, services or acts of a run share a name.";
    COMPLETE_MENU = "complete.menu", Fatal, SUMS,
        "Every sitting with covers has exactly one menu choice.";
    COMPLETE_RUN = "complete.run", Fatal, SUMS,
        "Every batch is cooked in a session that has a run.";
    COMPLETE_SERVICE = "complete.service", Fatal, SUMS,
        "Every sitting with covers has its minutes planned.";
    COMPLETE_MENU_KEPT = "complete.menu-kept", Fatal, SUMS,
        "Plates carry the meal and the options that the menu chose.";

    MASS_YIELD_LAW = "mass.yield-law", Fatal, LAW,
        "A batch yields what the law of its way says, low, likely and high, rounded down.";
    MASS_INPUTS_LAW = "mass.inputs-law", Fatal, LAW,
        "What goes in follows the law, within a tenth, a step of the scale, a counted unit, or a pack of a driver sold by the pack.";
    MASS_TRIM = "mass.trim", Fatal, SUMS,
        "As purchased less edible portion is the food's trim, within one counted unit.";
    MASS_BATCH_SIZE = "mass.batch-size", Fatal, LAW,
        "A batch lies between its smallest and largest size and on its step.";
    MASS_LOTS_SUM = "mass.lots-sum", Fatal, SUMS,
        "The lots of a batch add up to its likely yield.";
    MASS_LOT_DRAWN = "mass.lot-drawn", Fatal, SUMS,
        "Plates take no more from a lot than there is.";
    MASS_DEMAND = "mass.demand", Fatal, SUMS,
        "A batch states the demand that plates really draw from it.";
    MASS_PORTION = "mass.portion", Fatal, SUMS,
        "A portion has mass and comes from a lot or food of its own item.";
    MASS_USED = "mass.used", Fatal, SUMS,
        "What is used of an order line is no more than it buys.";
    MASS_FOOD_BALANCE = "mass.food-balance", Fatal, SUMS,
        "For every food, used from the order and from stock equals batches, plates, par and standing items.";
    MASS_WEEK = "mass.week", Fatal, SUMS,
        "Over the week, mass bought, taken and drawn from the tap equals trim, cooking change, eaten, left and kept.";

    EATERS_ONE_PLATE = "eaters.one-plate", Fatal, SUMS,
        "Every cover of a sitting has exactly one plate, and nobody else has one.";
    EATERS_ELEMENTS = "eaters.elements", Fatal, SUMS,
        "Every element is filled as often as it needs: one once, optional at most once, some once or twice.";
    EATERS_OPTIONS = "eaters.options", Fatal, SUMS,
        "What fills an element is one of its options, finished as the option says.";
    EATERS_OCCASION = "eaters.occasion", Fatal, SUMS,
        "A meal is served on an occasion it is made for.";
    EATERS_NOT_TOGETHER = "eaters.not-together", Fatal, SUMS,
        "Combinations that a meal does not offer are not on a plate.";
    EATERS_DIET = "eaters.diet", Fatal, WISH,
        "Nobody is served what their diet leaves out.";
    EATERS_AVOID = "eaters.avoid", Fatal, WISH,
        "Nobody is served dairy, gluten, pork or alcohol when they leave it out.";
    EATERS_ALLERGEN = "eaters.allergen", Fatal, ALLERGY,
        "Nobody is served an allergen they must not have.";
    EATERS_TRACES = "eaters.traces", Fatal, ALLERGY,
        "Who avoids traces is served nothing that may contain the allergen.";
    EATERS_UNKNOWN = "eaters.unknown", Fatal, ALLERGY,
        "Who avoids traces is served nothing whose allergens nobody knows.";
    EATERS_UNKNOWN_PLATE = "eaters.unknown-plate", Warning, ALLERGY,
        "A food whose allergens nobody knows is checked before someone with an allergy eats it.";
    EATERS_GUESTS = "eaters.guests", Warning, ALLERGY,
        "Guests are asked about allergies before they eat food with allergens.";
    EATERS_FORBIDDEN = "eaters.forbidden", Fatal, "the row of the caution",
        "Eaters under a caution are not served what guidance forbids them.";
    EATERS_CAUTION = "eaters.caution", Advice, "the row of the caution",
        "Eaters under a caution eat components sooner than others.";
    EATERS_DISLIKE = "eaters.dislike", Advice, WISH,
        "Nobody is served what they do not like.";
    EATERS_FIXED = "eaters.fixed", Fatal, WISH,
        "A meal fixed at a sitting is served there.";
    EATERS_OFF = "eaters.off", Fatal, WISH,
        "Meals and components that are switched off are not planned.";

    KEEPING_CLASS = "keeping.class", Fatal, PROFILE,
        "A component's keeping class is one that the tables know.";
    KEEPING_USE_BY = "keeping.use-by", Fatal, PROFILE,
        "Nothing is served after the use-by of its lot.";
    KEEPING_RULE = "keeping.rule", Fatal, PROFILE,
        "A lot's use-by is no later than its own times give by the rule.";
    KEEPING_FATE = "keeping.fate", Fatal, PROFILE,
        "A lot is frozen or kept in the cupboard only when its class and component allow it, and lies where its fate says.";
    KEEPING_CHILL = "keeping.chill", Fatal, PROFILE,
        "A lot is in the fridge or freezer within the profile's time after it was made.";
    KEEPING_TIMES = "keeping.times", Fatal, SUMS,
        "A lot's times are those of the run: made by the end of cooking, stored at pack-out or later.";
    KEEPING_THAW = "keeping.thaw", Fatal, "fridge thawing of flat packs, 8-12 h, derived; from memory",
        "A frozen lot is pulled at least twelve hours before it leaves the fridge to be eaten.";
    KEEPING_MADE_FIRST = "keeping.made-first", Fatal, SUMS,
        "A lot is made before it is eaten.";
    KEEPING_SITTINGS = "keeping.sittings", Fatal, SUMS,
        "A lot lists exactly the sittings that eat from it, in order.";
    CARRIED_MASS = "carried.mass", Fatal, SUMS,
        "No more is drawn from a lot in the house than is left.";
    CARRIED_STATED = "carried.stated", Fatal, SUMS,
        "What the plan says it takes from a lot in the house is what plates draw.";
    CARRIED_USE_BY = "carried.use-by", Fatal, PROFILE,
        "Nothing in the house is eaten after its date.";
    CARRIED_PULL = "carried.pull", Fatal, "fridge thawing of flat packs, 8-12 h, derived; from memory",
        "A frozen lot in the house is pulled after the plan is made and in time to thaw.";
    CARRIED_REHEATED = "carried.reheated", Fatal, "reheating once: common advice of every profile, from memory",
        "What was warmed before is not planned hot again.";
    KEEPING_PACKED_LOT = "keeping.packed-lot", Fatal, "time out of the fridge by the guidance profile",
        "A packed component that spoils stays cold or is eaten within the limit.";
    KEEPING_PACKED_FOOD = "keeping.packed-food", Fatal, "time out of the fridge by the guidance profile",
        "A packed chilled animal food stays cold or is eaten within the limit.";
    KEEPING_PACKED_GREENS = "keeping.packed-greens", Warning, "time out of the fridge by the guidance profile",
        "Packed tender greens stay cold or are eaten within the limit.";

    RUN_STEPS = "run.steps", Fatal, LAW,
        "Every step of a batch's way is in the run, each load once; lead steps are not.";
    RUN_LEADS = "run.leads", Fatal, LAW,
        "Every lead step of a batch has exactly one reminder.";
    RUN_LEAD_TIME = "run.lead-time", Fatal, LAW,
        "A lead step starts after the plan is made and early enough for what follows.";
    RUN_PRECEDENCE = "run.precedence", Fatal, LAW,
        "A step starts after the steps before it, no sooner and no later than their gaps say.";
    RUN_LOAD_WAITS = "run.load-waits", Warning, LAW,
        "When a step has other loads than the one before it, no load waits longer than the gap allows.";
    RUN_VISITS = "run.visits", Fatal, LAW,
        "Visits lie inside the act they look after, as often as it wants.";
    RUN_DURATION = "run.duration", Fatal, LAW,
        "No act is shorter than the likely time of its law for its load.";
    RUN_LOAD = "run.load", Fatal, LAW,
        "No load is larger than its step, pot or trays take.";
    RUN_EQUIPMENT = "run.equipment", Fatal, LAW,
        "An act holds the equipment its step uses.";
    RUN_STATION = "run.station", Fatal, KITCHEN,
        "A station named in the run exists in the kitchen.";
    RUN_STATION_CLASH = "run.station-clash", Fatal, KITCHEN,
        "No station is held by two acts at once.";
    RUN_HANDS = "run.hands", Fatal, KITCHEN,
        "Nobody does two things at once.";
    RUN_HANDS_COUNT = "run.hands-count", Fatal, LAW,
        "An act has the hands it needs.";
    RUN_COOK = "run.cook", Fatal, KITCHEN,
        "Whoever works in a session belongs to it.";
    RUN_SKILL = "run.skill", Fatal, KITCHEN,
        "Whoever does a step may do work of its skill.";
    RUN_WINDOW = "run.window", Fatal, WISH,
        "A run lies inside its session's window.";
    RUN_FINISH = "run.finish", Fatal, SUMS,
        "A run finishes when its last act ends, and not before its own bound.";
    RUN_FRAME = "run.frame", Fatal, "common practice, no source",
        "A run opens with the preflight and closes with the clear-down.";
    RUN_PACK_OUT = "run.pack-out", Fatal, SUMS,
        "A batch is boxed after its cooking ends.";
    RUN_COOL = "run.cool", Fatal, "common practice, no source",
        "A batch that is cooled has the time for it between cooking and boxing.";
    RUN_OVEN_RANGE = "run.oven-range", Fatal, LAW,
        "An act in the oven has a setting that suits its step and the oven.";
    RUN_OVEN_SETTING = "run.oven-setting", Fatal, KITCHEN,
        "The oven has one temperature at a time, and acts in it run at that temperature.";
    RUN_PREHEAT = "run.preheat", Fatal, "common practice, no source",
        "The oven is heated before its first use.";
    RUN_CLEAN_DOWN = "run.clean-down", Fatal, HYGIENE,
        "After raw meat a board is cleaned down before anything else lies on it but what is cooked through with the meat.";
    RUN_ALLERGEN_CONTACT = "run.allergen-contact", Fatal, HYGIENE,
        "What someone with a severe allergy eats touches no board or blender after the allergen, unless cleaned down.";
    RUN_BEAN_BOIL = "run.bean-boil", Fatal, "the row of the hazard",
        "Dry kidney beans and their kin have a step at a full boil.";
    RUN_CORE = "run.core", Fatal, "the row of the hazard",
        "Raw animal food has a step that brings it to its core temperature.";

    COOLING_HOT = "cooling.hot", Fatal, "into the cold in shallow boxes: advice of every profile",
        "What was heated is brought down before its boxes go into the cold.";
    COOLING_METHOD = "cooling.method", Fatal, "FDA Food Code 3-501.15(A), read in Wis. ATCP 75 3-501.15: stirring in ice water, thinner portions",
        "What can be stirred may stand in ice water, what is drained and not yet dressed in cold water; what cannot be stirred is spread.";
    COOLING_ACT = "cooling.act", Fatal, KITCHEN,
        "Food on trays lies thin on trays that are held for it, a pot in ice water has somebody who stirs, and a freezer takes no \
         more hot food than it can cool.";
    COOLING_SLOW = "cooling.slow", Advice, "physics, stricter than the guidance of homes; likely surface coefficients",
        "The middle of a lot comes down to 21 °C in the time that food may stand out; for the food service, by the stages of its curve.";
    COOLING_THAW = "cooling.thaw", Advice, "physics: Plank with the conductivity of thawed food",
        "A frozen lot is pulled so early that it is thawed through by its day.";

    STORAGE_BOXES = "storage.boxes", Fatal, KITCHEN,
        "A lot lies in boxes that the household owns.";
    STORAGE_BOX_COUNT = "storage.box-count", Fatal, KITCHEN,
        "No more boxes of a kind are in use at once than there are.";
    STORAGE_FILL = "storage.fill", Fatal, "headspace of nine tenths: NCHFP headspace table, from memory of the expansion of water",
        "Boxes are filled to nine tenths at most.";
    STORAGE_HEADSPACE = "storage.headspace", Fatal, "NCHFP, So Easy to Preserve, 5th edition 2006, headspace table: half an inch below wide tops",
        "A box that freezes keeps its headspace.";
    STORAGE_DEPTH = "storage.depth", Fatal, "depth of the guidance profile",
        "Food set to cool in a shallow layer is no deeper than the profile's limit.";
    STORAGE_DEPTH_TRUE = "storage.depth-true", Fatal, SUMS,
        "The depth stated for a lot is no less than its volume gives in its boxes.";
    STORAGE_FREEZER_BOX = "storage.freezer-box", Fatal, KITCHEN,
        "Only boxes that may freeze go into the freezer.";
    STORAGE_FRIDGE_ROOM = "storage.fridge-room", Fatal, KITCHEN,
        "Boxes in the fridge never exceed its room.";
    STORAGE_FREEZER_ROOM = "storage.freezer-room", Fatal, KITCHEN,
        "Boxes in the freezer never exceed its room.";

    ORDER_PACK = "order.pack", Fatal, SUMS,
        "A line buys whole packs that exist for its food.";
    ORDER_PRICE = "order.price", Fatal, SUMS,
        "A line costs its packs times their price, on the same basis.";
    ORDER_IN_TIME = "order.in-time", Fatal, SUMS,
        "When a food is needed enough of it is at home.";
    ORDER_STOCK = "order.stock", Fatal, "the household's tick list",
        "No more is taken from home than the tick list vouches for.";
    ORDER_PURPOSE = "order.purpose", Fatal, SUMS,
        "A line says what it is for, and that needs the food.";
    ORDER_READ_LABEL = "order.read-label", Fatal, ALLERGY,
        "A line tells the shopper which allergens to look for on the label.";
    ORDER_BUDGET = "order.budget", Warning, WISH,
        "The order stays within the budget.";

    SERVICE_APPLIANCES = "service.appliances", Fatal, KITCHEN,
        "No appliance does two things at once before a sitting.";
    SERVICE_HANDS = "service.hands", Fatal, WISH,
        "One pair of hands is enough before a sitting.";
    SERVICE_IN_TIME = "service.in-time", Fatal, WISH,
        "A sitting is ready within its minutes, counted to its last step.";
    SERVICE_WARMED = "service.warmed", Fatal, SUMS,
        "At home everything to be warmed, toasted or fried has a step that does it.";
    SERVICE_TAKE_OUT = "service.take-out", Warning, SUMS,
        "Every chilled lot that is eaten is taken out, and no other.";
    SERVICE_ASSEMBLE = "service.assemble", Fatal, LAW,
        "Putting the plates together gets the time the meal needs.";
    SERVICE_AWAY = "service.away", Fatal, WISH,
        "Nothing is to be warmed away from home where there is no microwave.";
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn identifiers_are_unique_and_have_a_family() {
        let ids: BTreeSet<&str> = ALL.iter().map(|rule| rule.id).collect();
        assert_eq!(ids.len(), ALL.len());
        assert!(ids.iter().all(|id| id.split('.').count() == 2), "{ids:?}");
    }

    #[test]
    fn every_rule_says_a_sentence_and_names_its_source() {
        for rule in ALL {
            assert!(rule.says.ends_with('.'), "{}", rule.id);
            assert!(!rule.source.is_empty(), "{}", rule.id);
        }
    }
}
