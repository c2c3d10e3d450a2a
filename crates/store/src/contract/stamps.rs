//! Cases: clocks that are set back, lie ahead, or jump with the season.

use jiff::Span;
use jiff::civil::{Date, DateTime, date};
use larderwright_model::{Clock, DeviceId, Event, Moment};

use super::sample::{NOW_MS, event, ids};
use crate::clock::AHEAD_MS_MAX;
use crate::port::{Appended, Store};

/// An hour back, a year back.
pub async fn a_stamp_is_later_than_any_before_though_the_clock_is_set_back<S: Store>(
    make: &impl AsyncFn() -> S,
) {
    let store = make().await;
    let device = DeviceId::new("server");
    let mut last: Option<Clock> = None;
    for now in [
        NOW_MS,
        NOW_MS,
        NOW_MS - 3_600_000,
        NOW_MS + 1,
        NOW_MS - 31_536_000_000,
        0,
    ] {
        let next = store.next_clock(&device, now).await.expect("a stamp is given");
        assert!(last.is_none_or(|last| last < next), "{next:?}");
        last = Some(next);
    }
    assert_eq!(last.map(|last| (last.wall_ms, last.count)), Some((NOW_MS + 1, 2)));
}

/// Of whatever device.
pub async fn a_stamp_is_later_than_any_event_that_arrived<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    store
        .append(&[event("a", 60_000)], NOW_MS)
        .await
        .expect("events are kept");
    let next = store.next_clock(&DeviceId::new("server"), NOW_MS).await;
    let next = next.expect("a stamp is given");
    assert_eq!((next.wall_ms, next.count), (NOW_MS + 60_000, 1));
}

/// A phone that lives in the year 2036 keeps its order among its own, and does not drag the others along.
pub async fn a_clock_far_ahead_is_replaced_and_kept_beside<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let decade = 3_652 * 86_400_000;
    let events = [
        event("a", decade),
        event("b", decade + 1),
        event("c", AHEAD_MS_MAX),
    ];
    store.append(&events, NOW_MS).await.expect("events are kept");
    let kept = store.all_events(0, 9).await.expect("events are read");
    let told: Vec<Option<i64>> = kept
        .iter()
        .map(|kept| kept.said.as_ref().map(|said| said.wall_ms))
        .collect();
    assert_eq!(told, [Some(NOW_MS + decade), Some(NOW_MS + decade + 1), None]);
    let in_force: Vec<(i64, u32)> = kept
        .iter()
        .map(|kept| (kept.event.clock.wall_ms, kept.event.clock.count))
        .collect();
    assert_eq!(in_force, [(NOW_MS, 0), (NOW_MS, 1), (NOW_MS + AHEAD_MS_MAX, 0)]);
    assert_eq!(kept[0].as_sent(), events[0]);
}

/// Sent again, it is known.
pub async fn a_replaced_clock_is_replaced_once<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let far = [event("a", 2 * AHEAD_MS_MAX)];
    store.append(&far, NOW_MS).await.expect("events are kept");
    let before = store.all_events(0, 9).await.expect("events are read");
    let again = store.append(&far, NOW_MS + 5_000).await.expect("events are kept");
    assert_eq!(again.appended, [Appended::Known]);
    assert_eq!(store.all_events(0, 9).await.expect("events are read"), before);
}

/// Both changes of the clocks in Berlin, a flight to Chicago, and leap day: what the wall says is kept as it is, and
/// the order is that of the stamps.
pub async fn a_day_that_is_longer_or_shorter_loses_no_event<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let told = |id: &str, instant_s: i64, (at, offset_s, zone): (DateTime, i32, &str)| {
        let base = event(id, 0);
        Event {
            clock: Clock {
                wall_ms: instant_s * 1000,
                ..base.clock
            },
            moment: Moment {
                at,
                offset_s,
                zone: zone.into(),
            },
            ..base
        }
    };
    let berlin = "Europe/Berlin";
    let autumn = date(2026, 10, 25).at(2, 30, 0, 0);
    let events = [
        told("summer-half-past-two", 1_792_888_200, (autumn, 7200, berlin)),
        told("winter-half-past-two", 1_792_891_800, (autumn, 3600, berlin)),
        told(
            "chicago",
            1_792_899_000,
            (date(2026, 10, 24).at(22, 30, 0, 0), -18_000, "America/Chicago"),
        ),
        told(
            "before-spring",
            1_806_195_540,
            (date(2027, 3, 28).at(1, 59, 0, 0), 3600, berlin),
        ),
        told(
            "after-spring",
            1_806_195_600,
            (date(2027, 3, 28).at(3, 0, 0, 0), 7200, berlin),
        ),
        told(
            "leap-day",
            1_835_475_300,
            (date(2028, 2, 29).at(23, 15, 0, 0), 3600, berlin),
        ),
    ];
    for event in &events {
        assert_eq!(
            event.moment.instant_s() * 1000,
            event.clock.wall_ms,
            "{}",
            event.id
        );
    }
    let now_ms = 1_900_000_000_000;
    store.append(&events, now_ms).await.expect("events are kept");
    let found = store.events_between(date(2026, 10, 24), date(2028, 2, 29)).await;
    let found = found.expect("events are read");
    assert_eq!(found, events);
    let sunday = store.events_between(autumn.date(), autumn.date()).await;
    let sunday = sunday.expect("events are read");
    assert_eq!(ids(&sunday), ["summer-half-past-two", "winter-half-past-two"]);
}

/// The weeks around both changes of the clocks and 29 February, asked for one by one: each event lies in the week that the
/// wall said, and in no other.
pub async fn each_event_lies_in_one_week<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let mut events = Vec::new();
    for (monday, offset_s) in WEEKS {
        // Just after midnight on Monday and just before it on Sunday.
        for (day, hour, minute) in [(0, 0, 0), (5, 2, 30), (6, 2, 30), (6, 23, 59)] {
            let at = monday
                .saturating_add(Span::new().days(day))
                .at(hour, minute, 0, 0);
            let moment = Moment {
                at,
                offset_s,
                zone: "Europe/Berlin".into(),
            };
            let base = event(&format!("{at}"), 0);
            let clock = Clock {
                wall_ms: moment.instant_s() * 1000,
                ..base.clock
            };
            events.push(Event {
                clock,
                moment,
                ..base
            });
        }
    }
    store
        .append(&events, 1_900_000_000_000)
        .await
        .expect("events are kept");
    for ((monday, _), expected) in WEEKS.into_iter().zip(events.chunks(4)) {
        let sunday = monday.saturating_add(Span::new().days(6));
        let found = store
            .events_between(monday, sunday)
            .await
            .expect("events are read");
        assert_eq!(found, expected, "the week of {monday}");
    }
}

/// Mondays of neighbouring weeks, with the offset from UTC that holds in Berlin for most of them.
const WEEKS: [(Date, i32); 6] = [
    (date(2026, 10, 19), 7_200),
    (date(2026, 10, 26), 3_600),
    (date(2027, 3, 22), 3_600),
    (date(2027, 3, 29), 7_200),
    (date(2028, 2, 21), 3_600),
    (date(2028, 2, 28), 3_600),
];

/// A restart does not make it another one.
pub async fn a_device_stays_what_it_is<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let first = store
        .device(&DeviceId::new("d-1"))
        .await
        .expect("a device is named");
    let second = store
        .device(&DeviceId::new("d-2"))
        .await
        .expect("a device is named");
    assert_eq!((first, second), (DeviceId::new("d-1"), DeviceId::new("d-1")));
}
