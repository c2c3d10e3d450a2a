//! Every kind of constraint does something: without it the solver answers with a schedule that breaks the whole project, and the
//! independent checker names exactly that kind.

use larderwright_solve::project::{
    Absence, Budget, Changeover, Due, Lag, Mode, Offset, Project, ProjectBuilder, Threads, Violation,
    check_schedule, solve,
};

/// What can be left out of a project.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Capacity,
    Absence,
    LeastLag,
    GreatestLag,
    Visit,
    Changeover,
    Supply,
    Ready,
    Latest,
}

const KINDS: [Kind; 9] = [
    Kind::Capacity,
    Kind::Absence,
    Kind::LeastLag,
    Kind::GreatestLag,
    Kind::Visit,
    Kind::Changeover,
    Kind::Supply,
    Kind::Ready,
    Kind::Latest,
];

/// A small generator of numbers, the same on every machine (an additive step, mixed by multiplication).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, most: i64) -> i64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        i64::try_from((mixed >> 33) % u64::try_from(most).expect("a positive bound")).expect("a small number")
    }
}

/// Eight tasks that share two resources and a supply, with every kind of constraint.
fn project(seed: u64) -> Project {
    let mut numbers = Numbers(seed);
    let mut builder = ProjectBuilder::new(200).expect("a horizon");
    let resources = [2, 1].map(|most| builder.resource(most).expect("a capacity"));
    let supply = builder.supply(5).expect("an amount");
    let absent = Absence {
        from: 4 + numbers.below(4),
        to: 12,
        amount: 1,
    };
    builder.absence(resources[1], absent).expect("a stay away");
    let mut tasks = Vec::new();
    for at in 0..8usize {
        let length = 2 + numbers.below(6);
        let quick = Mode::lasting(length)
            .using(resources[at % 2], 1)
            .spending(supply, 1);
        let slow = Mode::lasting(length + 3).using(resources[at % 2], 1);
        let modes = match at {
            0 => vec![quick.clone().not_before(5 + numbers.below(4)), slow.not_before(5)],
            1 => vec![quick.not_after(2 + numbers.below(3))],
            _ => vec![quick, slow],
        };
        tasks.push(builder.task(modes).expect("a task"));
    }
    builder
        .due(tasks[7], Due { time: 10, weight: 1 })
        .expect("a due time");
    let lag = |from: usize, to: usize, min, max| Lag {
        from: tasks[from],
        to: tasks[to],
        min,
        max,
    };
    builder.lag(lag(2, 3, 2 + numbers.below(4), None)).expect("a lag");
    builder.lag(lag(4, 5, 0, Some(numbers.below(3)))).expect("a lag");
    builder.lag(lag(4, 7, 6, None)).expect("a lag");
    builder
        .offset(Offset {
            task: tasks[6],
            of: tasks[5],
            min: 1,
            max: 2,
        })
        .expect("a visit");
    for mode in 0..2 {
        let change = Changeover {
            a: tasks[2],
            a_mode: mode,
            b: tasks[0],
            b_mode: mode,
            a_to_b: 4,
            b_to_a: 1,
        };
        builder.changeover(change).expect("a change");
    }
    builder.build().expect("no contradiction")
}

/// The same project without a kind of constraint.
fn without(whole: &Project, kind: Kind) -> Project {
    let mut builder = ProjectBuilder::new(whole.horizon()).expect("a horizon");
    for resource in whole.resources() {
        let most = if kind == Kind::Capacity {
            100
        } else {
            resource.capacity
        };
        let ix = builder.resource(most).expect("a capacity");
        for absence in resource.absences.iter().filter(|_| kind != Kind::Absence) {
            builder.absence(ix, *absence).expect("a stay away");
        }
    }
    for supply in whole.supplies() {
        let amount = if kind == Kind::Supply { 1000 } else { supply.amount };
        builder.supply(amount).expect("an amount");
    }
    for task in whole.tasks() {
        let modes = task.modes.iter().map(|mode| Mode {
            earliest: if kind == Kind::Ready { 0 } else { mode.earliest },
            latest: mode.latest.filter(|_| kind != Kind::Latest),
            ..mode.clone()
        });
        let ix = builder.task(modes.collect()).expect("a task");
        if let Some(due) = task.due {
            builder.due(ix, due).expect("a due time");
        }
    }
    for lag in whole.lags() {
        let greatest = lag.max.filter(|_| kind != Kind::GreatestLag);
        let least = if kind == Kind::LeastLag { -100 } else { lag.min };
        builder
            .lag(Lag {
                min: least,
                max: greatest,
                ..*lag
            })
            .expect("a lag");
    }
    for offset in whole.offsets().iter().filter(|_| kind != Kind::Visit) {
        builder.offset(*offset).expect("a visit");
    }
    for change in whole.changeovers().iter().filter(|_| kind != Kind::Changeover) {
        builder.changeover(*change).expect("a change");
    }
    builder
        .build()
        .expect("fewer constraints cannot contradict each other")
}

fn is_of(kind: Kind, violation: &Violation) -> bool {
    match kind {
        Kind::Capacity | Kind::Absence => matches!(violation, Violation::Capacity { .. }),
        Kind::LeastLag | Kind::GreatestLag => matches!(violation, Violation::Lag(_)),
        Kind::Visit => matches!(violation, Violation::Offset(_)),
        Kind::Changeover => matches!(violation, Violation::Changeover(_)),
        Kind::Supply => matches!(violation, Violation::Supply(_)),
        Kind::Ready => matches!(violation, Violation::TooEarly(_)),
        Kind::Latest => matches!(violation, Violation::TooLate(_)),
    }
}

#[test]
fn leaving_out_a_kind_of_constraint_breaks_some_project_in_that_kind_alone() {
    let budget = Budget {
        work: 200,
        seed: 1,
        threads: Threads::One,
    };
    for kind in KINDS {
        let (mut broken, mut solved) = (0, 0);
        for seed in 0..30 {
            let whole = project(seed);
            if let Some(schedule) = solve(&whole, &budget).schedule() {
                assert_eq!(check_schedule(&whole, schedule), [], "seed {seed}");
                solved += 1;
            }
            let answer = solve(&without(&whole, kind), &budget);
            let Some(schedule) = answer.schedule() else {
                continue;
            };
            let violations = check_schedule(&whole, schedule);
            assert!(
                violations.iter().all(|violation| is_of(kind, violation)),
                "{kind:?}, seed {seed}: {violations:?}"
            );
            broken += usize::from(!violations.is_empty());
        }
        assert!(
            broken > 0 && solved > 10,
            "{kind:?}: {broken} broken, {solved} solved"
        );
    }
}
