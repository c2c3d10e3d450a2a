//! Cases: the doctor finds nothing where nothing is wrong. What it finds where something is wrong is the adapter's to
//! show, for only there can it be made wrong.

use super::history::{START_MS, history};
use super::sample::{MONDAY, NOW_MS, event, plan, state_of};
use crate::port::{Gravity, Store};

const LATER_MS: i64 = START_MS + 400 * 86_400_000;

async fn in_use<S: Store>(make: &impl AsyncFn() -> S) -> S {
    let store = make().await;
    store
        .append(&history(31, 200), LATER_MS)
        .await
        .expect("events are kept");
    let first = plan("first", None);
    store.save_plan(&first).await.expect("the plan is kept");
    store
        .choose(MONDAY, &first.head.hash)
        .await
        .expect("the plan is kept");
    store
        .put_document("household", "text", 0)
        .await
        .expect("the document is kept");
    store
}

/// Made-up households take too much now and then.
pub async fn a_store_in_use_has_no_defects_but_the_kitchens<S: Store>(make: &impl AsyncFn() -> S) {
    let store = in_use(make).await;
    let defects = store.check().await.expect("the store can be checked");
    assert!(
        defects.iter().all(|defect| defect.gravity == Gravity::Notice),
        "{defects:?}"
    );
    assert!(!defects.is_empty());
}

/// A phone that was put back to an earlier state gives out stamps again; nothing is lost, and it is said.
pub async fn a_device_that_counts_anew_is_noticed<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let events = [event("a", 5), event("b", 5), event("c", 6)];
    store.append(&events, NOW_MS).await.expect("events are kept");
    let defects = store.check().await.expect("the store can be checked");
    let found: Vec<_> = defects
        .iter()
        .map(|defect| (defect.gravity, defect.subject.as_str(), defect.message.as_str()))
        .collect();
    let message = "the device gave one stamp to several events: a, b";
    assert_eq!(found, [(Gravity::Notice, "phone", message)]);
}

/// And finds nothing to mend.
pub async fn mending_a_sound_store_changes_nothing<S: Store>(make: &impl AsyncFn() -> S) {
    let store = in_use(make).await;
    let events = history(31, 200);
    let before = state_of(&store, &events).await;
    assert_eq!(store.mend().await.expect("the store can be mended"), []);
    assert_eq!(state_of(&store, &events).await, before);
}
