//! A hundred households made up from seeds: each is planned soundly, or told which wishes collide and what would
//! mend it.

use larderwright_app::{Refusal, Threads, plan};
use larderwright_testkit::random;

/// How many of the hundred have a week that can be planned at the least; the others wish for too much.
const PLANNED_MIN: usize = 50;

#[test]
fn every_household_gets_a_sound_plan_or_a_reason() {
    let mut planned = 0;
    for seed in 0..100 {
        let snapshot = random::snapshot(seed);
        match plan(&snapshot, Threads::Two) {
            Ok(_) => planned += 1,
            Err(Refusal::Conflict(conflict)) => {
                assert!(
                    !conflict.wishes.is_empty() && !conflict.mends.is_empty(),
                    "seed {seed}: {conflict}"
                );
            }
            Err(refusal @ Refusal::Fatal(_)) => panic!("seed {seed}: {refusal}"),
        }
    }
    assert!(
        planned >= PLANNED_MIN,
        "only {planned} of 100 households could be planned"
    );
}

#[test]
fn threads_never_change_a_plan() {
    for seed in 100..115 {
        let snapshot = random::snapshot(seed);
        let bytes = |threads| plan(&snapshot, threads).map(|planned| planned.json);
        assert_eq!(bytes(Threads::One), bytes(Threads::Two), "seed {seed}");
    }
}
