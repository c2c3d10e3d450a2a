//! The solver on published instances with known optima, where they are at hand.
//!
//! PSPLIB: Kolisch and Sprecher, "PSPLIB - a project scheduling problem library" (1997); single-mode files with
//! renewable resources. They lie in `psplib` below the folder named by `LARDERWRIGHT_DATA`. Without it the
//! tests say so and pass.

use std::path::PathBuf;

use larderwright_solve::project::{
    Answer, Budget, Lag, Mode, Objective, Project, ProjectBuilder, Threads, check_schedule, solve,
};

#[expect(
    clippy::disallowed_methods,
    reason = "the data lies outside and may be absent"
)]
fn folder() -> Option<PathBuf> {
    let Some(data) = std::env::var_os("LARDERWRIGHT_DATA") else {
        println!("skipped: `LARDERWRIGHT_DATA` names no folder of data");
        return None;
    };
    let folder = PathBuf::from(data).join("psplib");
    if folder.is_dir() {
        return Some(folder);
    }
    println!("skipped: {} is not there", folder.display());
    None
}

/// The numbers of a line; none where anything else stands on it.
fn numbers(line: &str) -> Vec<i64> {
    let read: Result<Vec<i64>, _> = line.split_whitespace().map(str::parse).collect();
    read.unwrap_or_default()
}

/// The rows of numbers after a heading, up to the next line of stars.
fn table<'a>(text: &'a str, heading: &str) -> impl Iterator<Item = Vec<i64>> + 'a {
    let mut lines = text.lines();
    lines
        .find(|line| line.starts_with(heading))
        .expect("the heading is there");
    lines
        .take_while(|line| !line.starts_with('*'))
        .map(numbers)
        .filter(|row| !row.is_empty())
}

fn read(text: &str) -> Project {
    let requests: Vec<Vec<i64>> = table(text, "REQUESTS").collect();
    let horizon = requests.iter().map(|row| row[2]).sum();
    let mut builder = ProjectBuilder::new(horizon).expect("a horizon");
    let capacities = table(text, "RESOURCEAVAIL").next().expect("a row of capacities");
    let resources: Vec<_> = capacities
        .into_iter()
        .map(|capacity| builder.resource(capacity).expect("a capacity"))
        .collect();
    let mut tasks = Vec::new();
    for row in &requests {
        let uses = resources.iter().zip(&row[3..]);
        let mode = uses.fold(Mode::lasting(row[2]), |mode, (resource, amount)| {
            mode.using(*resource, *amount)
        });
        tasks.push(builder.task(vec![mode]).expect("a task"));
    }
    for row in table(text, "PRECEDENCE") {
        let place = |number: i64| usize::try_from(number - 1).expect("numbers start at one");
        for follower in &row[3..] {
            let (from, to) = (tasks[place(row[0])], tasks[place(*follower)]);
            builder
                .lag(Lag {
                    from,
                    to,
                    min: 0,
                    max: None,
                })
                .expect("a lag");
        }
    }
    builder.build().expect("no contradiction")
}

/// Name, project, lower bound and best makespan known, of every so many instances of a set.
fn known(set: &str, every: usize) -> Vec<(String, Project, i64, i64)> {
    let Some(folder) = folder() else { return Vec::new() };
    let bounds = std::fs::read_to_string(folder.join("bounds.csv")).expect("a table of bounds");
    let rows = bounds.lines().filter_map(|line| {
        let cells: Vec<&str> = line.split(',').collect();
        let file = folder.join(set).join(format!("{}.sm", cells[0]));
        let text = std::fs::read_to_string(file).ok()?;
        let number = |cell: &str| cell.parse::<i64>().expect("a number");
        Some((
            cells[0].to_owned(),
            read(&text),
            number(cells[1]),
            number(cells[2]),
        ))
    });
    rows.step_by(every).collect()
}

fn compare(known: Vec<(String, Project, i64, i64)>, budget: &Budget) {
    let (mut count, mut proven, mut excess) = (0, 0, 0);
    for (name, project, lower, best) in known {
        let answer = solve(&project, budget);
        let (Answer::Proven(schedule, bound) | Answer::Best(schedule, bound)) = &answer else {
            panic!("{name}: {answer:?}");
        };
        assert_eq!(check_schedule(&project, schedule), vec![], "{name}");
        let found = Objective::of(&project, schedule).makespan;
        assert!(found >= lower, "{name}: {found} is below the known bound {lower}");
        let claimed = bound.makespan;
        assert!(claimed <= best, "{name}: {claimed} is above the known {best}");
        count += 1;
        proven += i64::from(matches!(answer, Answer::Proven(..)));
        excess += (found - best) * 10_000 / best;
    }
    println!(
        "{count} instances, {proven} proven, mean excess {} hundredths of a percent",
        excess / i64::max(count, 1)
    );
}

#[test]
fn no_proof_contradicts_what_is_known_of_thirty_tasks() {
    let budget = Budget {
        work: 2000,
        seed: 1,
        threads: Threads::Two,
    };
    compare(known("j30", 4), &budget);
}

#[test]
fn no_proof_contradicts_what_is_known_of_sixty_tasks() {
    let budget = Budget {
        work: 1000,
        seed: 1,
        threads: Threads::Two,
    };
    compare(known("j60", 10), &budget);
}
