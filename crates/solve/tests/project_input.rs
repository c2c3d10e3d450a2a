//! What the builder refuses and what it lets pass.

use larderwright_solve::project::{
    Absence, Changeover, Due, Hold, Lag, Mode, Offset, Project, ProjectBuilder, ProjectError, TaskIx,
};

fn two_tasks() -> (ProjectBuilder, TaskIx, TaskIx) {
    let mut builder = ProjectBuilder::new(100).expect("a horizon");
    let one = builder.task(vec![Mode::lasting(5)]).expect("a task");
    let two = builder.task(vec![Mode::lasting(7)]).expect("a task");
    (builder, one, two)
}

fn contradiction(builder: ProjectBuilder) -> Vec<usize> {
    match builder.build() {
        Err(ProjectError::Contradiction(tasks)) => tasks.into_iter().map(TaskIx::position).collect(),
        other => panic!("{other:?}"),
    }
}

#[test]
fn figures_out_of_range_are_refused() {
    assert_eq!(ProjectBuilder::new(-1).err(), Some(ProjectError::OutOfRange(-1)));
    let (mut builder, one, two) = two_tasks();
    assert_eq!(builder.resource(-2), Err(ProjectError::OutOfRange(-2)));
    assert_eq!(
        builder.task(vec![Mode::lasting(-3)]),
        Err(ProjectError::OutOfRange(-3))
    );
    let far = 1 << 31;
    assert_eq!(
        builder.lag(Lag {
            from: one,
            to: two,
            min: far,
            max: None
        }),
        Err(ProjectError::OutOfRange(far))
    );
    assert_eq!(
        builder.hold(Hold {
            from: one,
            to: two,
            weight: -1
        }),
        Err(ProjectError::OutOfRange(-1))
    );
    assert_eq!(
        builder.due(one, Due { time: 3, weight: -1 }),
        Err(ProjectError::OutOfRange(-1))
    );
}

#[test]
fn strangers_are_refused() {
    let (mut other, ..) = two_tasks();
    let stranger = other.task(vec![Mode::lasting(1)]).expect("a task");
    let hands = other.resource(1).expect("a capacity");
    let (mut builder, one, two) = two_tasks();
    let unknown = Err(ProjectError::UnknownTask(stranger));
    assert_eq!(builder.late(stranger), unknown);
    assert_eq!(
        builder.lag(Lag {
            from: one,
            to: stranger,
            min: 0,
            max: None
        }),
        unknown
    );
    assert_eq!(
        builder.task(vec![Mode::lasting(1).using(hands, 1)]),
        Err(ProjectError::UnknownResource(hands))
    );
    assert_eq!(
        builder.absence(
            hands,
            Absence {
                from: 0,
                to: 1,
                amount: 1
            }
        ),
        Err(ProjectError::UnknownResource(hands))
    );
    let change = Changeover {
        a: one,
        a_mode: 0,
        b: two,
        b_mode: 1,
        a_to_b: 0,
        b_to_a: 0,
    };
    assert_eq!(builder.changeover(change), Err(ProjectError::UnknownMode(two, 1)));
}

#[test]
fn senseless_pieces_are_refused() {
    let (mut builder, one, two) = two_tasks();
    assert_eq!(builder.task(Vec::new()), Err(ProjectError::NoMode));
    assert_eq!(
        builder.lag(Lag {
            from: one,
            to: one,
            min: 0,
            max: None
        }),
        Err(ProjectError::SameTask(one))
    );
    assert_eq!(
        builder.lag(Lag {
            from: one,
            to: two,
            min: 3,
            max: Some(2)
        }),
        Err(ProjectError::EmptyWindow)
    );
    assert_eq!(
        builder.offset(Offset {
            task: one,
            of: two,
            min: 3,
            max: 2
        }),
        Err(ProjectError::EmptyWindow)
    );
}

#[test]
fn a_circle_of_waits_is_a_contradiction_that_names_its_tasks() {
    let (mut builder, one, two) = two_tasks();
    let three = builder.task(vec![Mode::lasting(1)]).expect("a task");
    for (from, to) in [(one, two), (two, three), (two, one)] {
        builder
            .lag(Lag {
                from,
                to,
                min: 0,
                max: None,
            })
            .expect("a lag");
    }
    assert_eq!(contradiction(builder), [0, 1]);
}

#[test]
fn a_visit_that_its_window_does_not_admit_is_a_contradiction() {
    let (mut builder, one, two) = two_tasks();
    builder
        .lag(Lag {
            from: one,
            to: two,
            min: 1,
            max: None,
        })
        .expect("a lag");
    builder
        .offset(Offset {
            task: two,
            of: one,
            min: 0,
            max: 5,
        })
        .expect("an offset");
    assert_eq!(contradiction(builder), [0, 1]);
}

#[test]
fn a_circle_of_length_zero_is_no_contradiction() {
    let (mut builder, one, two) = two_tasks();
    builder
        .lag(Lag {
            from: one,
            to: two,
            min: 1,
            max: Some(1),
        })
        .expect("a lag");
    builder
        .offset(Offset {
            task: two,
            of: one,
            min: 6,
            max: 6,
        })
        .expect("an offset");
    let project: Project = builder.build().expect("no contradiction");
    assert_eq!(project.tasks().len(), 2);
}
