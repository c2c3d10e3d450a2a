//! Project files of the PSPLIB: one mode a task (`.sm`) or several with supplies (`.mm`).
//!
//! The layout is that of Kolisch and Sprecher, "PSPLIB - a project scheduling problem library" (1997). Tasks
//! keep the order of the file, the two artificial ones included.

use std::collections::BTreeMap;

use larderwright_records::Problem;
use larderwright_solve::project::{Lag, Mode, ProjectBuilder, ProjectError, ResourceIx, SupplyIx, TaskIx};

use super::{Reading, problem};

/// A row of whole numbers with the number of its line.
type Row = (usize, Vec<i64>);

/// What a file says of its resources: how many give back, how many are used up.
#[derive(Clone, Copy, Debug)]
struct Kinds {
    renewable: usize,
    used_up: usize,
}

/// Reads a project.
///
/// # Errors
/// The first line that cannot be read.
pub(super) fn read(text: &str) -> Result<Reading, Problem> {
    let kinds = kinds(text)?;
    let modes = modes(text, kinds)?;
    let horizon = modes
        .values()
        .map(|modes| modes.iter().map(|row| row.1[0]).max().unwrap_or(0));
    let mut builder = ProjectBuilder::new(horizon.sum()).map_err(|error| refused(0, &error))?;
    let (resources, supplies) = capacities(text, kinds, &mut builder)?;
    let mut tasks: BTreeMap<i64, TaskIx> = BTreeMap::new();
    for (number, rows) in &modes {
        let line = rows.first().map_or(0, |row| row.0);
        let mode = |row: &Row| {
            let (uses, spends) = row.1[1..].split_at(kinds.renewable);
            let mode = Mode::lasting(row.1[0]);
            let mode = resources
                .iter()
                .zip(uses)
                .filter(|(_, amount)| **amount != 0)
                .fold(mode, |mode, (ix, amount)| mode.using(*ix, *amount));
            supplies
                .iter()
                .zip(spends)
                .filter(|(_, amount)| **amount != 0)
                .fold(mode, |mode, (ix, amount)| mode.spending(*ix, *amount))
        };
        let task = builder
            .task(rows.iter().map(mode).collect())
            .map_err(|error| refused(line, &error))?;
        tasks.insert(*number, task);
    }
    for (line, row) in rows(text, "PRECEDENCE RELATIONS")? {
        let task = |number: &i64| {
            tasks
                .get(number)
                .copied()
                .ok_or_else(|| problem(line, "jobnr.", format!("there is no job `{number}`")))
        };
        let (Some(number), Some(followers)) = (row.first(), row.get(3..)) else {
            return Err(problem(
                line,
                "successors",
                "a job, its modes and its successors are expected",
            ));
        };
        for follower in followers {
            let (from, to) = (task(number)?, task(follower)?);
            let lag = Lag {
                from,
                to,
                min: 0,
                max: None,
            };
            builder.lag(lag).map_err(|error| refused(line, &error))?;
        }
    }
    let names = tasks.keys().map(|number| format!("job {number}")).collect();
    let project = builder.build().map_err(|error| refused(0, &error))?;
    Ok(Reading { project, names })
}

fn refused(line: usize, error: &ProjectError) -> Problem {
    problem(line, "", error.to_string())
}

/// The rows of numbers below a heading, up to the next line of stars.
fn rows(text: &str, heading: &str) -> Result<Vec<Row>, Problem> {
    let mut lines = (1..).zip(text.lines());
    lines
        .find(|(_, line)| line.starts_with(heading))
        .ok_or_else(|| problem(1, heading, "this heading is missing"))?;
    let own = lines.take_while(|(_, line)| !line.starts_with('*'));
    let numbers = |line: &str| {
        line.split_whitespace()
            .map(|word| word.parse::<i64>().ok())
            .collect::<Option<Vec<i64>>>()
    };
    let rows = own.filter_map(|(number, line)| Some((number, numbers(line)?)));
    Ok(rows.filter(|(_, row)| !row.is_empty()).collect())
}

fn kinds(text: &str) -> Result<Kinds, Problem> {
    let count = |word: &str| {
        let found = (1..)
            .zip(text.lines())
            .find(|(_, line)| line.trim_start().starts_with(word));
        let (number, line) = found.ok_or_else(|| problem(1, word, "this line is missing"))?;
        let after = line.split_once(':').map_or("", |(_, rest)| rest);
        let count = after
            .split_whitespace()
            .next()
            .and_then(|word| word.parse::<usize>().ok());
        count
            .ok_or_else(|| problem(number, word, "a number of resources is expected"))
            .map(|count| (number, count))
    };
    let (line, both) = count("- doubly constrained")?;
    if both > 0 {
        return Err(problem(
            line,
            "doubly constrained",
            "resources of both kinds at once are not read",
        ));
    }
    Ok(Kinds {
        renewable: count("- renewable")?.1,
        used_up: count("- nonrenewable")?.1,
    })
}

/// By job its modes: the duration, then what it uses and spends.
fn modes(text: &str, kinds: Kinds) -> Result<BTreeMap<i64, Vec<Row>>, Problem> {
    let width = 1 + kinds.renewable + kinds.used_up;
    let mut modes: BTreeMap<i64, Vec<Row>> = BTreeMap::new();
    let mut job = None;
    for (line, row) in rows(text, "REQUESTS/DURATIONS")? {
        // The first row of a job names it, the others begin with the mode's number.
        let extra = row.len().saturating_sub(width);
        if row.len() < width + 1 || extra > 2 || (extra == 1 && job.is_none()) {
            return Err(problem(
                line,
                "REQUESTS/DURATIONS",
                format!("{width} numbers after the mode are expected"),
            ));
        }
        if extra == 2 {
            job = Some(row[0]);
        }
        let number = job.expect("a row without a job was refused");
        modes
            .entry(number)
            .or_default()
            .push((line, row[extra..].to_vec()));
    }
    Ok(modes)
}

type Holders = (Vec<ResourceIx>, Vec<SupplyIx>);

fn capacities(text: &str, kinds: Kinds, builder: &mut ProjectBuilder) -> Result<Holders, Problem> {
    let rows = rows(text, "RESOURCEAVAILABILITIES")?;
    let count = kinds.renewable + kinds.used_up;
    let Some((line, row)) = rows.first().filter(|(_, row)| row.len() == count) else {
        return Err(problem(
            1,
            "RESOURCEAVAILABILITIES",
            format!("{count} numbers are expected"),
        ));
    };
    let (renewable, used_up) = row.split_at(kinds.renewable);
    let mut holders: Holders = (Vec::new(), Vec::new());
    for amount in renewable {
        holders.0.push(
            builder
                .resource(*amount)
                .map_err(|error| refused(*line, &error))?,
        );
    }
    for amount in used_up {
        holders
            .1
            .push(builder.supply(*amount).map_err(|error| refused(*line, &error))?);
    }
    Ok(holders)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Three jobs, the middle one in two modes; figures are ours.
    const FILE: &str = "\
  - renewable                 :  1   R
  - nonrenewable              :  1   N
  - doubly constrained        :  0   D
****
PRECEDENCE RELATIONS:
jobnr.    #modes  #successors   successors
   1        1          1           2
   2        2          1           3
   3        1          0
****
REQUESTS/DURATIONS:
jobnr. mode duration  R 1  N 1
  1      1     0       0    0
  2      1     4       1    5
         2     6       2    0
  3      1     0       0    0
****
RESOURCEAVAILABILITIES:
  R 1  N 1
   2    9
";

    #[test]
    fn a_file_becomes_a_project() {
        let project = read(FILE).expect("the file is well formed").project;
        assert_eq!((project.tasks().len(), project.lags().len()), (3, 2));
        let modes = &project.tasks()[1].modes;
        assert_eq!((modes[0].duration, modes[0].spends[0].1), (4, 5));
        assert_eq!(
            (modes[1].duration, modes[1].uses[0].1, modes[1].spends.len()),
            (6, 2, 0)
        );
        assert_eq!(project.horizon(), 6);
    }

    #[test]
    fn what_is_missing_or_wrong_is_named_with_its_line() {
        let told = |from: &str, to: &str| {
            let problem = read(&FILE.replace(from, to)).expect_err("the file is not well formed");
            (problem.line, problem.message)
        };
        assert_eq!(told("RESOURCEAVAIL", "X").1, "this heading is missing");
        assert_eq!(
            told(
                "   2        2          1           3",
                "   2        2          1           7"
            ),
            (8, "there is no job `7`".to_owned())
        );
        assert_eq!(
            told("         2     6       2    0", "         2     6       2").0,
            15
        );
        assert_eq!(told("constrained        :  0", "constrained        :  1").0, 3);
    }
}
