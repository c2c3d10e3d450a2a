//! Something else tonight, in the demo house, from what is really there.

use jiff::civil::{Date, date};
use larderwright_app::changes::Changes;
use larderwright_app::home::{Home, Now};
use larderwright_app::{Options, Threads};
use larderwright_model::{DeviceId, Moment, Occasion, Place, PortionSource};
use larderwright_records::household::DEMO_HOUSEHOLD;
use larderwright_store::MemoryStore;

const MONDAY: Date = date(2026, 11, 30);

fn at(day: i8, hour: i8, minute: i8) -> Now {
    let local = if day > 20 {
        date(2026, 11, day).at(hour, minute, 0, 0)
    } else {
        date(2026, 12, day).at(hour, minute, 0, 0)
    };
    let moment = Moment {
        at: local,
        offset_s: -21_600,
        zone: "America/Chicago".into(),
    };
    Now {
        ms: moment.instant_s() * 1000,
        moment,
    }
}

fn options() -> (Options, Threads) {
    let small = Options {
        menu_work: 6_000,
        session_work: 2_000,
        ..Options::default()
    };
    (small, Threads::Two)
}

async fn home() -> Home<MemoryStore> {
    let home = Home::open(MemoryStore::default(), &DeviceId::new("test"))
        .await
        .expect("an empty store opens");
    home.keep_household(DEMO_HOUSEHOLD)
        .await
        .expect("the demo household is well formed");
    home.take_in_stock(&at(27, 18, 0))
        .await
        .expect("stock is taken in");
    home
}

async fn planned() -> Home<MemoryStore> {
    let home = home().await;
    let (changes, _) = home.changes(MONDAY).await.expect("no changes yet");
    let draft = home
        .draft(MONDAY, &changes, options(), &at(27, 18, 5))
        .await
        .expect("the demo week is planned");
    home.choose(MONDAY, &draft.hash)
        .await
        .expect("nothing was chosen before");
    home
}

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
