//! Cases: corrections, whatever the order in which they arrive.

use larderwright_model::{Event, Fact, LotId};

use super::sample::{NOW_MS, bought, correcting, eaten};
use crate::port::Store;

async fn grams<S: Store>(store: &S, lot: &str) -> Option<i64> {
    let lot = store.lot(&LotId::new(lot)).await.expect("lots are read");
    lot.map(|lot| lot.mass().mg() / 1000)
}

/// Appends one after the other and expects so many grams of beans in the end.
async fn check<S: Store>(make: &impl AsyncFn() -> S, events: &[Event], expected: i64) {
    let store = make().await;
    for event in events {
        store
            .append(std::slice::from_ref(event), NOW_MS)
            .await
            .expect("events are kept");
    }
    assert_eq!(grams(&store, "beans").await, Some(expected));
}

fn undone(id: &str, after_ms: i64, corrected: &str) -> Event {
    let base = super::sample::event(id, after_ms);
    correcting(
        Event {
            fact: Fact::Undone,
            ..base
        },
        corrected,
    )
}

/// 200 g eaten were 50 g.
pub async fn a_correction_takes_the_place_of_what_it_names<S: Store>(make: &impl AsyncFn() -> S) {
    let events = [
        bought("a", 0, ("beans", 500)),
        eaten("b", 1, ("beans", 200)),
        correcting(eaten("c", 2, ("beans", 50)), "b"),
    ];
    check(make, &events, 450).await;
}

/// They were 200 g after all; and then not.
pub async fn a_correction_that_is_taken_back_gives_back_what_it_took<S: Store>(make: &impl AsyncFn() -> S) {
    let events = [
        bought("a", 0, ("beans", 500)),
        eaten("b", 1, ("beans", 200)),
        correcting(eaten("c", 2, ("beans", 50)), "b"),
        undone("d", 3, "c"),
        undone("e", 4, "d"),
        undone("f", 5, "e"),
    ];
    for (count, expected) in [(4, 300), (5, 450), (6, 300)] {
        check(make, &events[..count], expected).await;
    }
}

/// A phone that was offline sends what was corrected long ago.
pub async fn a_correction_may_arrive_before_what_it_names<S: Store>(make: &impl AsyncFn() -> S) {
    let events = [
        undone("d", 3, "c"),
        correcting(eaten("c", 2, ("beans", 50)), "b"),
        bought("a", 0, ("beans", 500)),
        eaten("b", 1, ("beans", 200)),
    ];
    check(make, &events[..3], 500).await;
    check(make, &events, 300).await;
}

/// Two phones corrected the same thing.
pub async fn of_two_corrections_the_later_one_counts_whichever_arrived_first<S: Store>(
    make: &impl AsyncFn() -> S,
) {
    let bought = bought("a", 0, ("beans", 500));
    let eaten_first = eaten("b", 1, ("beans", 200));
    let early = correcting(eaten("c", 2, ("beans", 50)), "b");
    let late = correcting(eaten("d", 3, ("beans", 100)), "b");
    let first = [bought.clone(), early.clone(), late.clone(), eaten_first.clone()];
    check(make, &first, 400).await;
    check(make, &[late, bought, eaten_first, early], 400).await;
}

/// The receipt says which lots to look at again.
pub async fn a_correction_touches_the_lots_of_both<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let events = [
        bought("a", 0, ("beans", 500)),
        bought("b", 1, ("rice", 500)),
        eaten("c", 2, ("beans", 200)),
    ];
    store.append(&events, NOW_MS).await.expect("events are kept");
    let correction = correcting(eaten("d", 3, ("rice", 200)), "c");
    let receipt = store
        .append(&[correction], NOW_MS)
        .await
        .expect("events are kept");
    assert_eq!(receipt.lots, [LotId::new("beans"), LotId::new("rice")].into());
    assert_eq!(grams(&store, "beans").await, Some(500));
    assert_eq!(grams(&store, "rice").await, Some(300));
}

/// It was never bought.
pub async fn a_lot_of_which_nothing_counts_any_more_is_not_there<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let events = [bought("a", 0, ("beans", 500)), undone("b", 1, "a")];
    store.append(&events, NOW_MS).await.expect("events are kept");
    assert_eq!(grams(&store, "beans").await, None);
    assert!(store.open_lots().await.expect("lots are read").is_empty());
}
