//! Cases: plans are kept under their hashes, and one at a time is current.

use jiff::Span;

use super::sample::{MONDAY, plan};
use crate::error::Fault;
use crate::port::{Choice, PlanHead, PlanRow, Store};

async fn save<S: Store>(store: &S, plans: &[&PlanRow]) {
    for plan in plans {
        store.save_plan(plan).await.expect("the plan is kept");
    }
}

async fn choose<S: Store>(store: &S, plan: &PlanRow) -> Choice {
    let chosen = store.choose(plan.head.monday, &plan.head.hash).await;
    chosen.expect("the plan is kept")
}

async fn current<S: Store>(store: &S) -> Option<PlanHead> {
    store.current(MONDAY).await.expect("plans are read")
}

fn overtaken(by: &PlanRow) -> Choice {
    Choice::Overtaken {
        current: Some(by.head.hash.clone()),
    }
}

/// Texts and all; keeping it twice is harmless.
pub async fn a_plan_comes_back_as_it_was_kept<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let first = plan("first", None);
    let second = plan("second", Some(&first));
    save(&store, &[&first, &second, &first]).await;
    let hash = &second.head.hash;
    assert_eq!(
        store.plan(hash).await.expect("plans are read"),
        Some(second.clone())
    );
    assert_eq!(store.plan("none").await.expect("plans are read"), None);
    let heads = store.plans(MONDAY).await.expect("plans are read");
    assert_eq!(heads, [first.head, second.head]);
    assert_eq!(store.weeks().await.expect("plans are read"), [MONDAY]);
    assert_eq!(current(&store).await, None);
}

/// Plan or snapshot, text or hash.
pub async fn a_plan_whose_text_was_changed_is_refused<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let sound = plan("first", None);
    let mut changed = sound.clone();
    changed.plan_json = changed.plan_json.replace("first", "worst");
    let mut swapped = sound.clone();
    swapped.snapshot_json.clone_from(&sound.plan_json);
    for plan in [changed, swapped] {
        let error = store
            .save_plan(&plan)
            .await
            .expect_err("the text is not the plan's");
        assert!(matches!(error.fault, Fault::BadInput(_)), "{error}");
    }
    assert!(store.plans(MONDAY).await.expect("plans are read").is_empty());
}

/// And the second one has.
pub async fn the_first_plan_of_a_week_has_no_parent<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let first = plan("first", None);
    let child = plan("child", Some(&first));
    save(&store, &[&first, &child]).await;
    assert_eq!(choose(&store, &child).await, Choice::Overtaken { current: None });
    assert_eq!(choose(&store, &first).await, Choice::Chosen);
    assert_eq!(current(&store).await, Some(first.head.clone()));
    let other = plan("other", None);
    save(&store, &[&other]).await;
    assert_eq!(choose(&store, &other).await, overtaken(&first));
}

/// And the history of choices is kept.
pub async fn a_plan_made_from_the_current_one_takes_its_place<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let first = plan("first", None);
    let second = plan("second", Some(&first));
    let third = plan("third", Some(&second));
    save(&store, &[&first, &second, &third]).await;
    for plan in [&first, &second, &third] {
        assert_eq!(choose(&store, plan).await, Choice::Chosen);
        assert_eq!(current(&store).await.as_ref(), Some(&plan.head));
    }
    let choices = store.choices(MONDAY).await.expect("plans are read");
    assert_eq!(choices, [first.head.hash, second.head.hash, third.head.hash]);
}

/// Two phones plan anew from the same plan: the second one hears what has become of it.
pub async fn a_plan_made_from_an_older_one_is_overtaken<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let first = plan("first", None);
    let (one, other) = (plan("one", Some(&first)), plan("other", Some(&first)));
    save(&store, &[&first, &one, &other]).await;
    assert_eq!(choose(&store, &first).await, Choice::Chosen);
    assert_eq!(choose(&store, &one).await, Choice::Chosen);
    assert_eq!(choose(&store, &other).await, overtaken(&one));
    assert_eq!(choose(&store, &first).await, overtaken(&one));
    assert_eq!(current(&store).await, Some(one.head));
}

/// An answer that got lost may be asked for again.
pub async fn choosing_the_current_plan_again_changes_nothing<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let first = plan("first", None);
    save(&store, &[&first]).await;
    for _ in 0..2 {
        assert_eq!(choose(&store, &first).await, Choice::Chosen);
    }
    assert_eq!(store.choices(MONDAY).await.expect("plans are read").len(), 1);
}

/// Nor one of another week.
pub async fn a_plan_that_is_not_kept_cannot_be_chosen<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let first = plan("first", None);
    let unknown = store.choose(MONDAY, &first.head.hash).await;
    let unknown = unknown.expect_err("it is not kept");
    assert!(matches!(unknown.fault, Fault::BadInput(_)), "{unknown}");
    save(&store, &[&first]).await;
    let next_week = MONDAY.saturating_add(Span::new().days(7));
    let wrong = store.choose(next_week, &first.head.hash).await;
    let wrong = wrong.expect_err("it is of another week");
    assert!(matches!(wrong.fault, Fault::BadInput(_)), "{wrong}");
}

/// Each has its own current plan.
pub async fn weeks_do_not_overtake_each_other<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let this = plan("this", None);
    let mut next = plan("next", None);
    next.head.monday = MONDAY.saturating_add(Span::new().days(7));
    save(&store, &[&next, &this]).await;
    assert_eq!(choose(&store, &next).await, Choice::Chosen);
    assert_eq!(choose(&store, &this).await, Choice::Chosen);
    assert_eq!(current(&store).await, Some(this.head));
    let weeks = store.weeks().await.expect("plans are read");
    assert_eq!(weeks, [MONDAY, next.head.monday]);
}
