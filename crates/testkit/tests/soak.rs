//! Two thousand households made up from seeds that no ordinary test uses: each is planned soundly, or told which wishes
//! collide and what would mend it.

use larderwright_app::{Refusal, Threads, plan};
use larderwright_testkit::random;

#[test]
#[ignore = "takes many minutes; run by `cargo xtask soak`"]
fn two_thousand_households_get_a_sound_plan_or_a_reason() {
    let mut planned = 0;
    for seed in 10_000..12_000 {
        match plan(&random::snapshot(seed), Threads::Two) {
            Ok(_) => planned += 1,
            Err(Refusal::Conflict(conflict)) => {
                let has_reason = !conflict.wishes.is_empty() && !conflict.mends.is_empty();
                assert!(has_reason, "seed {seed}: {conflict}");
            }
            Err(refusal @ Refusal::Fatal(_)) => panic!("seed {seed}: {refusal}"),
        }
    }
    println!("{planned} of 2,000 households could be planned");
    assert!(
        planned >= 1_000,
        "only {planned} of 2,000 households could be planned"
    );
}
