//! Yields and drained weights of the built-in larder against USDA National Nutrient Database SR28 (2016).
//!
//! A water balance of raw and cooked rows, (100 - water dry) / (100 - water cooked), is an upper bound of the weight
//! yield: it assumes that nothing but water goes in or out. Water contents below are those of the rows named.

use larderwright_app::catalogue::built_in;
use larderwright_model::{ComponentId, WayId};
use larderwright_quantity::Permille;

/// Component, way, water of the dry and the cooked row in hundredths of a percent, and the rows.
const DRY_TO_COOKED: [(&str, &str, i64, i64, &str); 4] = [
    ("chickpeas", "dry", 1153, 6021, "NDB 16056, 16057"),
    ("black-beans", "dry", 1102, 6574, "NDB 16014, 16015"),
    ("brown-rice", "pot", 1037, 7309, "NDB 20036, 20037"),
    ("short-pasta", "pot", 990, 6213, "NDB 20120, 20121"),
];

#[test]
fn dry_components_yield_what_the_water_balance_allows() {
    let larder = built_in().expect("the built-in larder can be read");
    for (component, way, dry, cooked, rows) in DRY_TO_COOKED {
        let bound = (10_000 - dry) * 1000 / (10_000 - cooked);
        let component = &larder.components[&ComponentId::new(component)];
        let way = component.way(&WayId::new(way)).expect("the way exists");
        let likely = way.yields.likely.permille();
        assert!(
            likely <= bound + 10,
            "{}: {likely} against {bound} ({rows})",
            component.id
        );
        assert!(
            likely * 100 >= bound * 85,
            "{}: {likely} against {bound} ({rows})",
            component.id
        );
    }
}

/// Total and drained grams of one can: SR28 household measures of the rows named.
const CANS: [(&str, i64, i64, &str); 2] = [
    ("chickpea-canned", 448, 253, "NDB 16058, 16358"),
    ("kidney-bean-canned", 436, 266, "NDB 16034, 16145"),
];

#[test]
fn cans_drain_to_the_published_share() {
    for (food, total, drained, rows) in CANS {
        let row = larderwright_reference::food(food).expect("the food is in the table");
        let published = Permille::from_permille(drained * 1000 / total);
        let ours = row.to_food().edible.value;
        assert!(
            (ours.permille() - published.permille()).abs() <= 10,
            "{food}: {} against {} ({rows})",
            ours.permille(),
            published.permille()
        );
    }
}
