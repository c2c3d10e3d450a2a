//! Laws of the solver, on thousands of tiny random projects compared with brute force.

use std::sync::atomic::{AtomicU32, Ordering::Relaxed};

use proptest::collection::vec;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

use super::exact::optimum;
use super::types::{
    Absence, Changeover, Due, Hold, Lag, Mode, Offset, Project, Resource, ResourceIx, Supply, SupplyIx, Task,
    TaskIx,
};
use super::{Answer, Budget, Objective, Threads, check_schedule, solve, solve_until};

const TASKS: usize = 5;
const RESOURCES: usize = 2;
const SUPPLIES: usize = 1;

fn mode() -> impl Strategy<Value = Mode> {
    let amounts = vec(0_i64..=2, RESOURCES);
    let spends = vec(0_i64..=3, SUPPLIES);
    let window = (
        prop_oneof![3 => Just(0_i64), 1 => 1_i64..=4],
        prop_oneof![6 => Just(None), 1 => (0_i64..=6).prop_map(Some)],
    );
    (0_i64..=4, amounts, spends, window).prop_map(|(duration, amounts, spends, (earliest, latest))| {
        let uses = amounts
            .into_iter()
            .enumerate()
            .map(|(at, amount)| (ResourceIx(at), amount))
            .collect();
        let spends = spends
            .into_iter()
            .enumerate()
            .map(|(at, amount)| (SupplyIx(at), amount))
            .collect();
        Mode {
            duration,
            uses,
            spends,
            earliest,
            latest,
        }
    })
}

fn task() -> impl Strategy<Value = Task> {
    let due = prop_oneof![4 => Just(None), 1 => (1_i64..=8, 0_i64..=3).prop_map(Some)];
    (vec(mode(), 1..=2), due, any::<bool>()).prop_map(|(modes, due, late)| Task {
        modes,
        due: due.map(|(time, weight)| Due { time, weight }),
        late,
    })
}

fn resource() -> impl Strategy<Value = Resource> {
    let absence = (0_i64..=8, 1_i64..=3, 1_i64..=2);
    let absence = prop_oneof![2 => Just(None), 1 => absence.prop_map(Some)];
    (1_i64..=3, absence).prop_map(|(capacity, absence)| Resource {
        capacity,
        absences: absence
            .into_iter()
            .map(|(from, length, amount)| Absence {
                from,
                to: from + length,
                amount,
            })
            .collect(),
    })
}

fn pair() -> impl Strategy<Value = (TaskIx, TaskIx)> {
    (0..TASKS, 1..TASKS).prop_map(|(one, step)| (TaskIx(one), TaskIx((one + step) % TASKS)))
}

/// Mostly forwards, so that not every project is a contradiction.
fn lag() -> impl Strategy<Value = Lag> {
    let window = (-1_i64..=2, proptest::option::of(0_i64..=2));
    (pair(), window, 0..10).prop_map(|((one, other), (min, width), turn)| {
        let (from, to) = if turn > 0 {
            (one.min(other), one.max(other))
        } else {
            (one, other)
        };
        Lag {
            from,
            to,
            min,
            max: width.map(|width| min + width),
        }
    })
}

pub(super) fn project() -> impl Strategy<Value = Project> {
    let offset = (pair(), -1_i64..=3, 0_i64..=2).prop_map(|((task, of), min, width)| Offset {
        task,
        of,
        min,
        max: min + width,
    });
    let changeover = (pair(), 0_i64..=2, 0_i64..=2).prop_map(|((a, b), a_to_b, b_to_a)| Changeover {
        a,
        a_mode: 0,
        b,
        b_mode: 0,
        a_to_b,
        b_to_a,
    });
    let hold = (pair(), 0_i64..=3).prop_map(|((from, to), weight)| Hold { from, to, weight });
    (
        6_i64..=13,
        (
            vec(task(), TASKS),
            vec(resource(), RESOURCES),
            vec(4_i64..=16, SUPPLIES),
        ),
        (vec(lag(), 0..=4), vec(offset, 0..=1)),
        (vec(changeover, 0..=2), vec(hold, 0..=2)),
    )
        .prop_map(
            |(horizon, (tasks, resources, supplies), (lags, offsets), (changeovers, holds))| Project {
                horizon,
                tasks,
                resources,
                supplies: supplies.into_iter().map(|amount| Supply { amount }).collect(),
                lags,
                offsets,
                changeovers,
                holds,
            },
        )
}

/// The same cases in every run.
pub(super) fn config() -> ProptestConfig {
    ProptestConfig {
        cases: 3000,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(1),
        ..ProptestConfig::default()
    }
}

fn budget(work: u64, threads: Threads) -> Budget {
    Budget {
        work,
        seed: 5,
        threads,
    }
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn an_answer_never_contradicts_brute_force(project in project()) {
        let best = optimum(&project);
        if let Some((_, schedule)) = &best {
            prop_assert_eq!(check_schedule(&project, schedule), vec![]);
        }
        let answer = solve(&project, &budget(200, Threads::One));
        if let Some(schedule) = answer.schedule() {
            prop_assert_eq!(check_schedule(&project, schedule), vec![]);
            let (best, _) = best.clone().expect("a feasible schedule was found, so brute force finds one");
            prop_assert!(Objective::of(&project, schedule) >= best);
        }
        match answer {
            Answer::Proven(schedule, bound) => {
                let (best, _) = best.expect("brute force finds what is proven");
                let found = Objective::of(&project, &schedule);
                prop_assert_eq!((found.lateness, found.makespan), (best.lateness, best.makespan));
                prop_assert_eq!((bound.lateness, bound.makespan), (best.lateness, best.makespan));
            }
            Answer::Best(_, bound) => {
                let (best, _) = best.expect("brute force finds what was found");
                prop_assert!(bound.makespan <= best.makespan && bound.lateness <= best.lateness);
            }
            Answer::Stopped(bound) => {
                prop_assert!(best.is_none_or(|(best, _)| bound.makespan <= best.makespan));
            }
            Answer::Infeasible(conflict) => {
                prop_assert!(best.is_none(), "{conflict:?} but {best:?}");
                prop_assert!(!conflict.tasks().is_empty());
            }
        }
    }

    #[test]
    fn with_enough_work_every_tiny_project_is_decided(project in project()) {
        match (solve(&project, &budget(60_000, Threads::One)), optimum(&project)) {
            (Answer::Infeasible(_), None) => {}
            (Answer::Proven(schedule, _), Some((best, _))) => {
                let found = Objective::of(&project, &schedule);
                prop_assert_eq!((found.lateness, found.makespan), (best.lateness, best.makespan));
            }
            (answer, best) => prop_assert!(false, "{answer:?} but {best:?}"),
        }
    }

    #[test]
    fn one_thread_and_two_give_the_same_answer(project in project()) {
        prop_assert_eq!(
            solve(&project, &budget(60, Threads::One)),
            solve(&project, &budget(60, Threads::Two))
        );
    }

    #[test]
    fn the_work_told_repeats_what_a_stop_cut_short(project in project(), polls in 0_u32..4) {
        let left = AtomicU32::new(polls);
        let stop = || left.fetch_update(Relaxed, Relaxed, |left| left.checked_sub(1)).is_err();
        let solved = solve_until(&project, &budget(1_000_000, Threads::One), &stop);
        let again = solve_until(&project, &budget(solved.work, Threads::Two), &|| false);
        prop_assert_eq!(solved, again);
    }

    #[test]
    fn the_tasks_of_a_conflict_alone_are_in_conflict(project in project()) {
        if let Answer::Infeasible(super::Conflict::Windows(tasks)) = solve(&project, &budget(0, Threads::One)) {
            let inside = |one: &TaskIx, other: &TaskIx| tasks.contains(one) && tasks.contains(other);
            let mut alone = project.clone();
            alone.horizon = 40;
            alone.changeovers.clear();
            alone.resources.iter_mut().for_each(|resource| resource.absences.clear());
            alone.lags.retain(|lag| inside(&lag.from, &lag.to));
            alone.offsets.retain(|visit| inside(&visit.task, &visit.of));
            prop_assert!(matches!(
                solve(&alone, &budget(60, Threads::One)),
                Answer::Infeasible(super::Conflict::Windows(_) | super::Conflict::Capacity(_))
            ));
        }
    }
}
