//! Re-planning the demo household's session in its course.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

use jiff::Span;
use jiff::civil::DateTime;
use larderwright_model::{Act, ActKind, Batch, Conflict, Lot, Run, Session, Snapshot, WeekPlan};
use larderwright_planning::session::replan::{Away, Progress, Replanned, State, replan};
use larderwright_planning::{Threads, plan_week};
use larderwright_testkit::demo_snapshot;

fn demo() -> &'static (Snapshot, WeekPlan) {
    static DEMO: OnceLock<(Snapshot, WeekPlan)> = OnceLock::new();
    DEMO.get_or_init(|| {
        let snapshot = demo_snapshot();
        let plan = plan_week(&snapshot, Threads::Two).expect("the demo week can be planned");
        (snapshot, plan)
    })
}

fn parts() -> (
    &'static Snapshot,
    &'static Session,
    &'static [Batch],
    &'static [Lot],
    &'static Run,
) {
    let (snapshot, plan) = demo();
    let run = &plan.runs[0];
    let session = snapshot.sessions.iter().find(|session| session.id == run.session);
    (
        snapshot,
        session.expect("a run belongs to a session"),
        &plan.batches,
        &plan.lots,
        run,
    )
}

fn after(time: DateTime, minutes: i64) -> DateTime {
    time.checked_add(Span::new().minutes(minutes))
        .expect("inside the calendar")
}

/// All went as planned until `minutes` after the first act's start.
fn on_time(minutes: i64) -> State {
    let run = parts().4;
    let now = after(run.acts[0].start, minutes);
    let mut acts = BTreeMap::new();
    for act in &run.acts {
        if act.end <= now {
            acts.insert(
                act.id.clone(),
                Progress::Finished {
                    at: act.start,
                    end: act.end,
                },
            );
        } else if act.start <= now {
            acts.insert(
                act.id.clone(),
                Progress::Started {
                    at: act.start,
                    until: None,
                },
            );
        }
    }
    State {
        now,
        acts,
        away: Vec::new(),
        given_up: BTreeSet::new(),
        stop: None,
    }
}

fn again(state: &State) -> Result<Replanned, Conflict> {
    let (snapshot, session, batches, lots, run) = parts();
    replan(snapshot, session, (batches, lots), (run, state))
}

fn check(state: &State) -> Replanned {
    let run = parts().4;
    let found = again(state).expect("the rest can be put in order");
    for act in &found.run.acts {
        let old = run
            .acts
            .iter()
            .find(|old| old.id == act.id)
            .expect("acts keep their names");
        assert_eq!(
            (&old.title, &old.step, old.load),
            (&act.title, &act.step, act.load)
        );
        match state.acts.get(&act.id) {
            Some(Progress::Finished { at, end }) => assert_eq!((act.start, act.end), (*at, *end)),
            Some(Progress::Started { at, .. }) => assert!(act.start == *at && act.end > state.now),
            Some(Progress::Failed) | None => assert!(act.start >= state.now, "{act:?}"),
        }
        if matches!(
            state.acts.get(&act.id),
            Some(Progress::Finished { .. } | Progress::Started { .. })
        ) {
            assert_eq!((&old.who, &old.stations), (&act.who, &act.stations));
        }
    }
    assert_eq!(two_things_at_once(&found.run.acts, state.now), None);
    found
}

/// Two acts after a moment that ask for the same hands or the same station at once.
fn two_things_at_once(acts: &[Act], from: DateTime) -> Option<(&Act, &Act)> {
    let pairs = acts
        .iter()
        .enumerate()
        .flat_map(|(at, one)| acts[at + 1..].iter().map(move |other| (one, other)));
    let mut clashes = pairs.filter(|(one, other)| {
        let apart = one.end <= other.start || other.end <= one.start;
        let over = one.end <= from || other.end <= from || (one.start < from && other.start < from);
        let shares = one.who.iter().any(|cook| other.who.contains(cook))
            || one
                .stations
                .iter()
                .any(|station| other.stations.contains(station));
        !(apart || over || !shares)
    });
    clashes.next()
}

#[test]
fn a_session_on_time_ends_no_later() {
    for minutes in [0, 20, 60, 90] {
        let found = check(&on_time(minutes));
        assert!(
            found.run.finish <= parts().4.finish,
            "after {minutes} min: {}",
            found.run.finish
        );
        assert_eq!(found.run.acts.len(), parts().4.acts.len());
        assert_eq!(found.left_out, []);
    }
}

#[test]
fn the_same_state_gives_the_same_run() {
    assert_eq!(check(&on_time(40)), check(&on_time(40)));
}

#[test]
fn what_takes_longer_pushes_only_what_waits_for_it() {
    let mut state = on_time(45);
    let run = parts().4;
    let slow = run
        .acts
        .iter()
        .filter(|act| matches!(state.acts.get(&act.id), Some(Progress::Started { .. })));
    let slow = slow.max_by_key(|act| act.end).expect("something goes on");
    let until = after(slow.end, 25);
    state.acts.insert(
        slow.id.clone(),
        Progress::Started {
            at: slow.start,
            until: Some(until),
        },
    );
    let found = check(&state);
    let now = found
        .run
        .acts
        .iter()
        .find(|act| act.id == slow.id)
        .expect("it goes on");
    assert_eq!(now.end, until);
    assert!(found.moved.iter().all(|moved| moved.act != slow.id));
}

#[test]
fn a_failed_step_is_done_again_from_now() {
    let mut state = on_time(60);
    let run = parts().4;
    let mut failed = run
        .acts
        .iter()
        .filter(|act| act.kind == ActKind::Step && !act.who.is_empty());
    let failed = failed.rfind(|act| act.end <= state.now).expect("a step is over");
    state.acts.insert(failed.id.clone(), Progress::Failed);
    let found = check(&state);
    let new = found
        .run
        .acts
        .iter()
        .find(|act| act.id == failed.id)
        .expect("it is in the run");
    assert!(new.start >= state.now);
    assert!(found.moved.iter().any(|moved| moved.act == failed.id));
}

#[test]
fn hands_that_are_away_do_nothing_meanwhile() {
    let mut state = on_time(30);
    let run = parts().4;
    let cook = run
        .acts
        .iter()
        .filter(|act| act.start > state.now)
        .find_map(|act| act.who.first());
    let cook = cook.expect("somebody has something left to do").clone();
    let back = after(state.now, 25);
    state.away.push(Away {
        cook: cook.clone(),
        from: state.now,
        to: Some(back),
    });
    let found = check(&state);
    for act in found
        .run
        .acts
        .iter()
        .filter(|act| act.who.contains(&cook) && !state.acts.contains_key(&act.id))
    {
        assert!(act.start >= back, "{act:?}");
    }
}

#[test]
fn when_nobody_is_left_there_is_no_order() {
    let mut state = on_time(30);
    let session = parts().1;
    for cook in &session.cooks {
        state.away.push(Away {
            cook: cook.clone(),
            from: state.now,
            to: None,
        });
    }
    assert!(again(&state).is_err());
}

#[test]
fn a_hard_stop_leaves_out_as_little_as_it_can_and_says_who_misses_it() {
    let mut state = on_time(9);
    let finish = check(&state).run.finish;
    let mut met = 0;
    for sooner in [5, 10, 20, 40] {
        let stop = after(finish, -sooner);
        state.stop = Some(stop);
        let found = check(&state);
        if found.left_out.is_empty() {
            continue;
        }
        met += 1;
        assert!(found.run.finish <= stop, "{}", found.run.finish);
        for out in &found.left_out {
            let mut acts = found
                .run
                .acts
                .iter()
                .filter(|act| act.batches.contains(&out.batch));
            // What has begun is finished; nothing else is begun for it.
            assert!(acts.all(|act| act.start <= state.now), "{out:?}");
            let lots = parts().3.iter().filter(|lot| lot.origin == out.batch);
            let mut sittings = lots.flat_map(|lot| &lot.sittings);
            assert!(sittings.all(|sitting| out.sittings.contains(sitting)));
        }
    }
    assert!(met > 0, "no batch is ever left out");
}

#[test]
fn a_stop_that_nothing_can_meet_ends_as_early_as_can_be() {
    let mut state = on_time(60);
    let usual = check(&state).run.finish;
    state.stop = Some(after(state.now, 1));
    let found = check(&state);
    assert!(found.late_min > 0);
    assert!(found.run.finish < usual, "{} {usual}", found.run.finish);
    assert!(!found.left_out.is_empty());
    // What has been on the heat is said to be half cooked.
    for out in &found.left_out {
        let acts = parts().1;
        assert!(!out.hot || !out.begun.is_empty(), "{out:?} of {}", acts.id);
    }
    let all = parts().2.iter().filter(|batch| batch.session == parts().1.id);
    state.stop = None;
    state.given_up = all.map(|batch| batch.id.clone()).collect();
    let nothing = check(&state).run.finish;
    let late = found.run.finish.duration_since(nothing).as_mins();
    assert!(late <= 5, "nothing at all would have ended {late} min sooner");
}

#[test]
fn what_the_cook_gives_up_is_gone() {
    let mut state = on_time(10);
    let batch = parts()
        .2
        .iter()
        .find(|batch| batch.session == parts().1.id)
        .expect("a batch");
    state.given_up.insert(batch.id.clone());
    let found = check(&state);
    assert!(
        found
            .run
            .acts
            .iter()
            .all(|act| !act.batches.contains(&batch.id) || act.end <= state.now)
    );
    assert_eq!(found.left_out[0].batch, batch.id);
}
