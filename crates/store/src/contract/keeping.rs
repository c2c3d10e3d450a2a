//! Cases: events are kept once, come back as they were sent, and are found again.

use jiff::civil::{DateTime, date};
use larderwright_ledger::Subject;
use larderwright_model::{Clock, DeviceId, Event, Fact, LotId, Moment, SittingId};

use super::history::history;
use super::sample::{NOW_MS, bought, correcting, eaten, event, ids};
use crate::error::Fault;
use crate::port::{Appended, Kept, Receipt, Store};

/// Every field of every event, of a whole made-up history.
pub async fn an_event_comes_back_as_it_was_sent<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let sent = history(11, 120);
    store.append(&sent, NOW_MS).await.expect("events are kept");
    let kept = store.all_events(0, usize::MAX).await.expect("events are read");
    let back: Vec<Event> = kept.iter().map(Kept::as_sent).collect();
    assert_eq!(back, sent);
    assert!(
        kept.iter()
            .all(|kept| kept.received_ms == NOW_MS && kept.said.is_none())
    );
}

/// In one call, and in two.
pub async fn an_event_is_kept_once_by_its_id<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let one = bought("a", 0, ("beans", 500));
    let first = store.append(&[one.clone(), one.clone()], NOW_MS).await;
    let first = first.expect("events are kept");
    assert_eq!(first.appended, [Appended::New, Appended::Known]);
    assert_eq!(first.lots, [LotId::new("beans")].into());
    let again = store.append(&[one], NOW_MS + 5).await.expect("events are kept");
    assert_eq!(again.appended, [Appended::Known]);
    assert!(again.lots.is_empty());
    assert_eq!(store.all_events(0, 9).await.expect("events are read").len(), 1);
}

/// An empty append, an empty store.
pub async fn nothing_is_as_good_as_nothing<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let receipt = store.append(&[], NOW_MS).await.expect("nothing is kept");
    assert_eq!(receipt, Receipt::default());
    assert!(store.all_events(0, 9).await.expect("events are read").is_empty());
    assert!(store.last_events(9).await.expect("events are read").is_empty());
    assert!(store.open_lots().await.expect("lots are read").is_empty());
    assert_eq!(
        store.lot(&LotId::new("beans")).await.expect("lots are read"),
        None
    );
    assert_eq!(
        store.batch(&"beans".into()).await.expect("batches are read"),
        None
    );
    assert!(store.ticks().await.expect("ticks are read").is_empty());
}

fn by_tablet(event: &Event, after_ms: i64) -> Event {
    let clock = Clock {
        wall_ms: event.clock.wall_ms + after_ms,
        count: 0,
        device: DeviceId::new("tablet"),
    };
    Event {
        clock,
        by: "Bo".into(),
        ..event.clone()
    }
}

/// Two phones tick the same line of the order sheet.
pub async fn a_report_of_the_same_thing_by_another_device_is_known<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let one = bought("a", 0, ("beans", 500));
    store
        .append(std::slice::from_ref(&one), NOW_MS)
        .await
        .expect("events are kept");
    let other = by_tablet(&one, 1_000);
    let receipt = store.append(&[other], NOW_MS).await.expect("events are kept");
    assert_eq!(receipt.appended, [Appended::Known]);
    let lots = store.open_lots().await.expect("lots are read");
    assert_eq!(lots.iter().map(|lot| lot.mass().mg()).sum::<i64>(), 500_000);
}

/// Neither is lost, and the one that stays is shown.
pub async fn a_different_report_under_the_same_id_is_a_finding<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let one = bought("a", 0, ("beans", 500));
    let other = by_tablet(&bought("a", 0, ("beans", 400)), 1_000);
    let events = [one.clone(), other.clone()];
    let receipt = store.append(&events, NOW_MS).await.expect("events are kept");
    let found = Appended::KnownDiffers(Box::new(one.clone()));
    assert_eq!(receipt.appended, [Appended::New, found]);
    let kept = store.all_events(0, 9).await.expect("events are read");
    let marked: Vec<_> = kept.into_iter().map(|kept| (kept.event, kept.counts)).collect();
    assert_eq!(marked, [(one, true), (other, false)]);
}

/// So that every store ends up with the same state.
pub async fn the_earlier_of_two_reports_counts_whichever_arrived_first<S: Store>(make: &impl AsyncFn() -> S) {
    let one = bought("a", 0, ("beans", 500));
    let other = by_tablet(&bought("a", 0, ("beans", 400)), 1_000);
    for order in [[one.clone(), other.clone()], [other, one]] {
        let store = make().await;
        for event in order {
            store.append(&[event], NOW_MS).await.expect("events are kept");
        }
        let lot = store.lot(&LotId::new("beans")).await.expect("lots are read");
        assert_eq!(lot.map(|lot| lot.mass().mg()), Some(500_000));
    }
}

/// By lot and by sitting, only what counts.
pub async fn events_are_found_by_what_they_are_about<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let sitting = SittingId::new("tue-dinner");
    let returned = Event {
        fact: Fact::Returned {
            sitting: sitting.clone(),
        },
        ..eaten("b", 20, ("beans", 50))
    };
    let events = [
        bought("a", 0, ("beans", 500)),
        bought("z", 10, ("rice", 900)),
        returned,
        eaten("c", 30, ("beans", 70)),
        correcting(eaten("d", 40, ("beans", 80)), "c"),
    ];
    store.append(&events, NOW_MS).await.expect("events are kept");
    let beans = store.events_about(&Subject::Lot("beans".into())).await;
    assert_eq!(ids(&beans.expect("events are read")), ["a", "b", "d"]);
    let at_table = store.events_about(&Subject::Sitting(sitting)).await;
    assert_eq!(ids(&at_table.expect("events are read")), ["b"]);
    let nothing = store.events_about(&Subject::Batch("beans".into())).await;
    assert!(nothing.expect("events are read").is_empty());
}

fn at(id: &str, after_ms: i64, at: DateTime) -> Event {
    let base = event(id, after_ms);
    Event {
        moment: Moment { at, ..base.moment },
        ..base
    }
}

/// Leap day, the turn of the year, years before the common era: days are those on the wall.
pub async fn events_are_found_by_their_local_dates<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let events = [
        at("late", 3, date(2028, 2, 29).at(23, 59, 59, 999)),
        at("early", 4, date(2028, 2, 29).at(0, 0, 0, 0)),
        at("before", 1, date(2028, 2, 28).at(23, 59, 59, 0)),
        at("after", 2, date(2028, 3, 1).at(0, 0, 0, 0)),
        at("long-ago", 5, date(-44, 3, 15).at(12, 0, 0, 0)),
    ];
    store.append(&events, NOW_MS).await.expect("events are kept");
    let leap_day = date(2028, 2, 29);
    let found = store.events_between(leap_day, leap_day).await;
    assert_eq!(ids(&found.expect("events are read")), ["late", "early"]);
    let found = store.events_between(date(2028, 2, 28), date(2028, 3, 1)).await;
    assert_eq!(
        ids(&found.expect("events are read")),
        ["before", "after", "late", "early"]
    );
    let found = store.events_between(date(-45, 12, 31), date(-44, 12, 31)).await;
    assert_eq!(ids(&found.expect("events are read")), ["long-ago"]);
    let found = store.events_between(date(2028, 3, 1), date(2028, 2, 28)).await;
    assert!(found.expect("events are read").is_empty());
}

/// Several kinds at once, in the order of the clocks.
pub async fn events_are_found_by_their_kinds<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let of = |fact: Fact, id: &str, after_ms: i64| Event {
        fact,
        ..event(id, after_ms)
    };
    let events = [
        of(Fact::Checked, "c", 3),
        of(Fact::Moved, "b", 2),
        of(Fact::Thawed, "a", 1),
    ];
    store.append(&events, NOW_MS).await.expect("events are kept");
    let found = store.events_of(&["checked", "thawed"]).await;
    assert_eq!(ids(&found.expect("events are read")), ["a", "c"]);
    assert!(store.events_of(&[]).await.expect("events are read").is_empty());
}

/// And of these only the later ones, by their local dates.
pub async fn events_are_found_by_their_kinds_since_a_date<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let events = history(21, 120);
    store
        .append(&events, NOW_MS + 400 * 86_400_000)
        .await
        .expect("events are kept");
    let kinds = ["bought", "cooked"];
    let all = store.events_of(&kinds).await.expect("events are read");
    for event in all.iter().step_by(7) {
        let from = event.moment.at.date();
        let later: Vec<_> = all
            .iter()
            .filter(|event| event.moment.at.date() >= from)
            .cloned()
            .collect();
        let found = store
            .events_of_since(&kinds, from)
            .await
            .expect("events are read");
        assert_eq!(found, later, "since {from}");
    }
    let unknown = store.events_of_since(&["dropped"], date(2026, 1, 1)).await;
    assert!(unknown.is_err_and(|error| matches!(error.fault, Fault::BadInput(_))));
}

/// And nothing else.
pub async fn an_unknown_kind_is_bad_input<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let error = store.events_of(&["moved", "dropped"]).await;
    let error = error.expect_err("there is no such kind");
    assert_eq!(
        error.fault,
        Fault::BadInput("`dropped` is no kind of event".into())
    );
}

/// For taking back what was done last.
pub async fn the_last_events_come_newest_first_and_say_whether_they_count<S: Store>(
    make: &impl AsyncFn() -> S,
) {
    let store = make().await;
    let events = [
        bought("a", 10, ("beans", 500)),
        event("c", 30),
        event("b", 20),
        correcting(event("d", 40), "c"),
    ];
    store.append(&events, NOW_MS).await.expect("events are kept");
    let last = store.last_events(3).await.expect("events are read");
    let marked: Vec<(&str, bool)> = last
        .iter()
        .map(|kept| (kept.event.id.as_str(), kept.counts))
        .collect();
    assert_eq!(marked, [("d", true), ("c", false), ("b", true)]);
}

/// For export and for other devices.
pub async fn all_events_come_in_the_order_of_arrival_page_by_page<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    assert_eq!(store.arrived().await.expect("it answers"), 0);
    let sent = history(12, 25);
    for part in sent.chunks(4) {
        store.append(part, NOW_MS).await.expect("events are kept");
    }
    // What is known already does not arrive again.
    store.append(&sent[..3], NOW_MS).await.expect("events are known");
    assert_eq!(store.arrived().await.expect("it answers"), sent.len() as u64);
    let (mut after, mut back) = (0, Vec::new());
    loop {
        let page = store.all_events(after, 7).await.expect("events are read");
        let Some(last) = page.last() else { break };
        assert!(page.len() <= 7);
        after = last.seq;
        back.extend(page);
    }
    let seqs: Vec<u64> = back.iter().map(|kept| kept.seq).collect();
    assert_eq!(seqs, (1..=sent.len() as u64).collect::<Vec<_>>());
    assert_eq!(back.iter().map(Kept::as_sent).collect::<Vec<_>>(), sent);
}

/// An export read in elsewhere is the same export again.
pub async fn events_of_another_store_keep_their_clocks<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let far = event("far", 90_000_000);
    let corrected = correcting(event("d", 5), "b");
    let events = [far, event("b", 2), corrected];
    store.append(&events, NOW_MS).await.expect("events are kept");
    let kept = store.all_events(0, 9).await.expect("events are read");
    assert!(kept[0].said.is_some());
    let other = make().await;
    let receipt = other.adopt(&kept).await.expect("events are kept");
    assert_eq!(receipt.appended, [Appended::New, Appended::New, Appended::New]);
    assert_eq!(other.all_events(0, 9).await.expect("events are read"), kept);
    let again = other.adopt(&kept).await.expect("events are kept");
    assert_eq!(
        again.appended,
        [Appended::Known, Appended::Known, Appended::Known]
    );
}

/// Quotation marks, line breaks, other scripts, nothing; the ends of the number ranges.
pub async fn odd_texts_and_extreme_numbers_come_back<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let mut events = Vec::new();
    for (at, text) in ["", "'; DROP TABLE event; --", "a\"b\\c\nd\u{0}e", "кухня 厨房 🍲"]
        .into_iter()
        .enumerate()
    {
        let base = bought(&format!("{text}{at}"), at as i64, (text, 1));
        events.push(Event {
            by: text.into(),
            plan: Some(text.into()),
            fact: Fact::GivenAway { to: text.into() },
            ..base
        });
    }
    let mut extreme = event("extreme", 0);
    extreme.clock.wall_ms = i64::MIN;
    extreme.clock.count = u32::MAX;
    extreme.moment.offset_s = i32::MIN;
    extreme.fact = Fact::LeftOut {
        lot: LotId::new("x"),
        minutes: i64::MAX,
    };
    events.push(extreme);
    store.append(&events, NOW_MS).await.expect("events are kept");
    let kept = store.all_events(0, 9).await.expect("events are read");
    assert_eq!(
        kept.into_iter().map(|kept| kept.event).collect::<Vec<_>>(),
        events
    );
}
