//! Small projects whose answers can be worked out by hand.

use larderwright_solve::project::{
    Absence, Answer, BoundReason, Budget, Changeover, Conflict, Due, Hold, Lag, Mode, Objective, Offset,
    Project, ProjectBuilder, ResourceIx, Schedule, TaskIx, Threads, check_schedule, solve,
};

fn builder(horizon: i64) -> ProjectBuilder {
    ProjectBuilder::new(horizon).expect("a horizon")
}

fn task(builder: &mut ProjectBuilder, duration: i64, resource: ResourceIx) -> TaskIx {
    builder
        .task(vec![Mode::lasting(duration).using(resource, 1)])
        .expect("a task")
}

fn answer(builder: ProjectBuilder) -> (Project, Answer) {
    let project = builder.build().expect("no contradiction");
    let answer = solve(
        &project,
        &Budget {
            work: 200,
            seed: 3,
            threads: Threads::One,
        },
    );
    if let Some(schedule) = answer.schedule() {
        assert_eq!(check_schedule(&project, schedule), []);
    }
    (project, answer)
}

fn proven(builder: ProjectBuilder) -> (Objective, Schedule, BoundReason) {
    match answer(builder) {
        (project, Answer::Proven(schedule, bound)) => {
            (Objective::of(&project, &schedule), schedule, bound.reason)
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn nothing_to_do_is_done_at_once() {
    assert_eq!(proven(builder(10)).0.makespan, 0);
}

#[test]
fn a_chain_is_proven_by_its_tasks_in_order() {
    let mut builder = builder(50);
    let room = builder.resource(5).expect("a capacity");
    let last = task(&mut builder, 4, room);
    let first = task(&mut builder, 3, room);
    task(&mut builder, 5, room);
    builder
        .lag(Lag {
            from: first,
            to: last,
            min: 2,
            max: None,
        })
        .expect("a lag");
    let (objective, _, reason) = proven(builder);
    assert_eq!(
        (objective.makespan, reason),
        (9, BoundReason::Chain(vec![first, last]))
    );
}

#[test]
fn a_busy_resource_is_named_with_its_tasks() {
    let mut builder = builder(50);
    let (idle, busy) = (
        builder.resource(9).expect("a capacity"),
        builder.resource(1).expect("a capacity"),
    );
    let tasks = [3, 4, 5].map(|duration| task(&mut builder, duration, busy));
    task(&mut builder, 6, idle);
    let (objective, _, reason) = proven(builder);
    assert_eq!(objective.makespan, 12);
    assert_eq!(
        reason,
        BoundReason::Resource {
            resource: busy,
            from: 0,
            tail: 0,
            tasks: tasks.to_vec()
        }
    );
}

#[test]
fn work_goes_around_an_absence() {
    let mut builder = builder(50);
    let hands = builder.resource(1).expect("a capacity");
    builder
        .absence(
            hands,
            Absence {
                from: 3,
                to: 10,
                amount: 1,
            },
        )
        .expect("an absence");
    let (short, long) = (task(&mut builder, 3, hands), task(&mut builder, 4, hands));
    let (objective, schedule, _) = proven(builder);
    assert_eq!(objective.makespan, 14);
    assert_eq!((schedule.of(short).start, schedule.of(long).start), (0, 10));
}

#[test]
fn a_visit_delays_its_long_task_when_hands_are_busy() {
    let mut builder = builder(50);
    let hands = builder.resource(1).expect("a capacity");
    let long = builder.task(vec![Mode::lasting(20)]).expect("a task");
    let visit = task(&mut builder, 2, hands);
    builder
        .offset(Offset {
            task: visit,
            of: long,
            min: 5,
            max: 6,
        })
        .expect("an offset");
    builder
        .absence(
            hands,
            Absence {
                from: 0,
                to: 15,
                amount: 1,
            },
        )
        .expect("an absence");
    let (objective, schedule, _) = proven(builder);
    assert_eq!((objective.makespan, schedule.of(visit).start), (29, 15));
}

#[test]
fn the_cheaper_direction_of_a_changeover_is_taken() {
    let mut builder = builder(50);
    let racks = builder.resource(2).expect("a capacity");
    let (a, b) = (task(&mut builder, 5, racks), task(&mut builder, 5, racks));
    let change = Changeover {
        a,
        a_mode: 0,
        b,
        b_mode: 0,
        a_to_b: 9,
        b_to_a: 2,
    };
    builder.changeover(change).expect("a changeover");
    let (project, answer) = answer(builder);
    let schedule = answer.schedule().expect("a schedule");
    assert_eq!(Objective::of(&project, schedule).makespan, 12);
}

#[test]
fn the_other_mode_is_taken_where_the_first_one_is_crowded() {
    let mut builder = builder(50);
    let rack = builder.resource(1).expect("a capacity");
    let either = || vec![Mode::lasting(10).using(rack, 1), Mode::lasting(12)];
    let (one, two) = (
        builder.task(either()).expect("a task"),
        builder.task(either()).expect("a task"),
    );
    let (project, answer) = answer(builder);
    let schedule = answer.schedule().expect("a schedule");
    assert_eq!(Objective::of(&project, schedule).makespan, 12);
    assert_eq!(schedule.of(one).mode + schedule.of(two).mode, 1);
}

#[test]
fn a_hold_is_shortened_by_starting_the_sooner_task_later() {
    let mut builder = builder(50);
    let hands = builder.resource(1).expect("a capacity");
    builder
        .absence(
            hands,
            Absence {
                from: 2,
                to: 10,
                amount: 1,
            },
        )
        .expect("an absence");
    let sooner = builder.task(vec![Mode::lasting(4)]).expect("a task");
    let later = task(&mut builder, 3, hands);
    builder
        .lag(Lag {
            from: sooner,
            to: later,
            min: 0,
            max: None,
        })
        .expect("a lag");
    builder
        .hold(Hold {
            from: sooner,
            to: later,
            weight: 2,
        })
        .expect("a hold");
    let (objective, schedule, _) = proven(builder);
    assert_eq!(
        (objective.makespan, objective.hold, schedule.of(sooner).start),
        (13, 0, 6)
    );
}

#[test]
fn only_flagged_tasks_start_late_and_no_later_than_others_allow() {
    let mut builder = builder(50);
    let room = builder.resource(5).expect("a capacity");
    let long = task(&mut builder, 20, room);
    let (flagged, plain) = (task(&mut builder, 3, room), task(&mut builder, 3, room));
    let (first, second) = (task(&mut builder, 2, room), task(&mut builder, 2, room));
    builder
        .lag(Lag {
            from: first,
            to: second,
            min: 1,
            max: None,
        })
        .expect("a lag");
    for task in [flagged, first, second] {
        builder.late(task).expect("a known task");
    }
    let (objective, schedule, _) = proven(builder);
    assert_eq!(objective.makespan, 20);
    let starts = [long, flagged, plain, first, second].map(|task| schedule.of(task).start);
    assert_eq!(starts, [0, 17, 0, 15, 18]);
}

#[test]
fn what_is_due_goes_first_even_if_the_whole_takes_longer() {
    let mut builder = builder(50);
    let hands = builder.resource(1).expect("a capacity");
    let (due, head) = (task(&mut builder, 5, hands), task(&mut builder, 3, hands));
    let tail = builder.task(vec![Mode::lasting(10)]).expect("a task");
    builder
        .lag(Lag {
            from: head,
            to: tail,
            min: 0,
            max: None,
        })
        .expect("a lag");
    builder
        .due(due, Due { time: 5, weight: 1 })
        .expect("a known task");
    let (project, answer) = answer(builder);
    let schedule = answer.schedule().expect("a schedule");
    let objective = Objective::of(&project, schedule);
    assert_eq!((objective.lateness, objective.makespan), (0, 18));
}

#[test]
fn a_task_that_exceeds_every_capacity_is_the_conflict() {
    let mut builder = builder(50);
    let rack = builder.resource(2).expect("a capacity");
    task(&mut builder, 3, rack);
    let big = builder
        .task(vec![Mode::lasting(3).using(rack, 3)])
        .expect("a task");
    assert_eq!(answer(builder).1, Answer::Infeasible(Conflict::Capacity(big)));
}

#[test]
fn a_chain_beyond_the_horizon_is_the_conflict() {
    let mut builder = builder(8);
    let room = builder.resource(5).expect("a capacity");
    let (first, last) = (task(&mut builder, 3, room), task(&mut builder, 4, room));
    task(&mut builder, 8, room);
    builder
        .lag(Lag {
            from: first,
            to: last,
            min: 2,
            max: None,
        })
        .expect("a lag");
    let Answer::Infeasible(conflict) = answer(builder).1 else {
        panic!("9 units fit into 8")
    };
    assert_eq!(conflict.tasks(), [first, last]);
}

#[test]
fn without_work_nothing_is_found_and_the_bound_is_told() {
    let mut builder = builder(50);
    let hands = builder.resource(1).expect("a capacity");
    task(&mut builder, 3, hands);
    task(&mut builder, 4, hands);
    let project = builder.build().expect("no contradiction");
    let answer = solve(
        &project,
        &Budget {
            work: 0,
            seed: 0,
            threads: Threads::One,
        },
    );
    assert!(matches!(answer, Answer::Stopped(bound) if bound.makespan == 7));
}
