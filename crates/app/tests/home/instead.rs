//! Something else tonight, in the demo house, from what is really there.

use larderwright_app::changes::Changes;
use larderwright_model::{Occasion, Place, PortionSource};

use crate::{MONDAY, at, planned};

#[tokio::test]
async fn other_plates_come_from_what_is_there() {
    let home = planned().await;
    let now = at(30, 16, 30);
    home.settle(&now).await.expect("the session is presumed");
    let week = home
        .current(MONDAY)
        .await
        .expect("it can be read")
        .expect("it was chosen");
    let dinner = week
        .snapshot
        .sittings
        .iter()
        .find(|sitting| sitting.occasion == Occasion::Dinner && sitting.at > now.minute());
    let dinner = dinner.expect("Monday has a dinner");
    let choice = week
        .plan
        .menu
        .choices
        .iter()
        .find(|choice| choice.sitting == dinner.id)
        .expect("it has a meal");
    let found = home
        .instead((MONDAY, &Changes::default()), (&dinner.id, &choice.meal), 3, &now)
        .await
        .expect("the store answers");
    assert!(!found.is_empty(), "the house is full of food");
    for other in &found {
        assert_ne!(other.meal, choice.meal);
        assert!(
            other.plan.order.lines.is_empty() && other.plan.batches.is_empty(),
            "{}",
            other.name
        );
        assert!(other.minutes <= dinner.minutes, "{}", other.name);
        for portion in other.plan.plates.iter().flat_map(|plate| &plate.portions) {
            if let PortionSource::Lot(lot) = &portion.source {
                let lot = other.snapshot.lot(lot).expect("it is in the house");
                assert_ne!(lot.place, Place::Freezer);
            }
        }
    }
}
