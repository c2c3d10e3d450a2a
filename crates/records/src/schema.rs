//! JSON Schemas of everything we write and read: plans and snapshots as records, and the TOML files of households,
//! components and meals as an editor would check them. The file schemas say what is written, not all that is
//! checked: references and orders are the readers' affair.

mod household_file;
mod recipe_file;

use schemars::{JsonSchema, schema_for};

use crate::event::EventRecord;
use crate::foods::FoodsRecord;
use crate::plan::PlanRecord;
use crate::sheet::SheetRecord;
use crate::snapshot::SnapshotRecord;
use household_file::HouseholdFile;
use recipe_file::{ComponentFile, MealFile};

/// The names of the schemas.
pub const SCHEMAS: &[&str] = &[
    "plan",
    "snapshot",
    "household",
    "component",
    "meal",
    "sheet",
    "foods",
    "event",
];

/// The schema of that name, as JSON; `None` when there is none.
#[must_use]
pub fn schema(name: &str) -> Option<String> {
    match name {
        "plan" => Some(text::<PlanRecord>()),
        "snapshot" => Some(text::<SnapshotRecord>()),
        "household" => Some(text::<HouseholdFile>()),
        "component" => Some(text::<ComponentFile>()),
        "meal" => Some(text::<MealFile>()),
        "sheet" => Some(text::<SheetRecord>()),
        "foods" => Some(text::<FoodsRecord>()),
        "event" => Some(text::<EventRecord>()),
        _ => None,
    }
}

fn text<T: JsonSchema>() -> String {
    crate::wire::text(&schema_for!(T))
}

#[cfg(test)]
mod tests {
    use std::collections::{BTreeMap, BTreeSet};

    use serde_json::Value;

    use super::*;
    use crate::household as house;
    use crate::larder;

    /// The fields of every group in a schema, by the group's name; the root's name is its title.
    fn groups(name: &str) -> BTreeMap<String, BTreeSet<String>> {
        let schema: Value = serde_json::from_str(&schema(name).expect("a schema")).expect("it is JSON");
        let title = schema["title"].as_str().expect("a title").to_owned();
        let mut groups = BTreeMap::from([(title, fields(&schema))]);
        for (group, part) in schema["$defs"].as_object().expect("definitions") {
            if part["properties"].is_object() {
                groups.insert(group.clone(), fields(part));
            }
        }
        groups
    }

    fn fields(schema: &Value) -> BTreeSet<String> {
        assert_eq!(schema["additionalProperties"], Value::Bool(false), "{schema}");
        schema["properties"]
            .as_object()
            .into_iter()
            .flatten()
            .map(|(key, _)| key.clone())
            .collect()
    }

    fn check(name: &str, expected: &[(&str, &[&str])]) {
        let expected: BTreeMap<String, BTreeSet<String>> = expected
            .iter()
            .map(|(group, keys)| {
                (
                    (*group).to_owned(),
                    keys.iter().map(|key| (*key).to_owned()).collect(),
                )
            })
            .collect();
        assert_eq!(groups(name), expected);
    }

    #[test]
    fn the_household_schema_has_the_fields_that_are_read() {
        check(
            "household",
            &[
                ("HouseholdFile", house::HOUSEHOLD_KEYS),
                ("EaterGroup", house::EATER_KEYS),
                ("BodyGroup", house::BODY_KEYS),
                ("CookGroup", house::COOK_KEYS),
                ("KitchenGroup", house::KITCHEN_KEYS),
                ("OvenGroup", house::OVEN_KEYS),
                ("BoxGroup", house::BOX_KEYS),
                ("SittingGroup", house::SITTING_KEYS),
                ("PackedGroup", house::PACKED_KEYS),
                ("SessionGroup", house::SESSION_KEYS),
                ("FoodGroup", house::FOOD_KEYS),
                ("UnitGroup", house::UNIT_KEYS),
                ("StockGroup", house::STOCK_KEYS),
                ("ParGroup", house::PAR_KEYS),
                ("StandingGroup", house::STANDING_KEYS),
                ("PriceGroup", house::PRICE_KEYS),
                ("WishesGroup", house::WISHES_KEYS),
                ("FixedGroup", house::FIXED_KEYS),
            ],
        );
    }

    #[test]
    fn the_component_schema_has_the_fields_that_are_read() {
        check(
            "component",
            &[
                ("ComponentFile", larder::COMPONENT_KEYS),
                ("ExplainGroup", larder::EXPLAIN_KEYS),
                ("WayGroup", larder::WAY_KEYS),
                ("SizeGroup", larder::SIZE_KEYS),
                ("YieldGroup", larder::YIELD_KEYS),
                ("InputGroup", larder::INPUT_KEYS),
                ("StepGroup", larder::STEP_KEYS),
                ("AfterGroup", larder::AFTER_KEYS),
                ("LawGroup", larder::LAW_KEYS),
                ("BoilGroup", larder::BOIL_KEYS),
                ("VisitGroup", larder::VISIT_KEYS),
                ("OvenRangeGroup", larder::OVEN_KEYS),
                ("SafetyGroup", larder::SAFETY_KEYS),
            ],
        );
    }

    #[test]
    fn the_meal_schema_has_the_fields_that_are_read() {
        check(
            "meal",
            &[
                ("MealFile", larder::MEAL_KEYS),
                ("ExplainGroup", larder::EXPLAIN_KEYS),
                ("AssembleGroup", larder::ASSEMBLE_KEYS),
                ("ElementGroup", larder::ELEMENT_KEYS),
                ("OptionGroup", larder::OPTION_KEYS),
                ("RuleGroup", larder::RULE_KEYS),
            ],
        );
    }

    #[test]
    fn every_name_has_a_schema_and_no_other_has() {
        assert!(SCHEMAS.iter().all(|name| schema(name).is_some()));
        assert_eq!(schema("pudding"), None);
    }

    #[test]
    fn the_schemas_list_the_words() {
        assert!(schema("household").is_some_and(|text| text.contains("\"tree-nuts\"")));
        assert!(schema("plan").is_some_and(|text| text.contains("\"wont-fit\"")));
    }
}
