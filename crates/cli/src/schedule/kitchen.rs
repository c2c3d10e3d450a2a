//! Kitchen projects as JSON: minutes are whole; tasks, resources and their links go by name.
//!
//! `resources[{id, capacity}]`; `tasks[{id, modes[{minutes, uses{resource: amount}}]}]`; and, all of them
//! optional, `lags[{after, task, min, max?}]` from an end to a start, `offsets[{task, of, min, max}]` between
//! starts, `changeovers[{a, a_mode, b, b_mode, a_to_b, b_to_a}]`, `ready[{task, mode, earliest}]`,
//! `holds[{after, task, weight}]`. Modes count from zero.

use std::collections::BTreeMap;

use larderwright_records::Problem;
use larderwright_solve::project::{
    Changeover, Hold, Lag, Mode, Offset, ProjectBuilder, ProjectError, ResourceIx, TaskIx,
};
use serde_json::Value;

use super::{Reading, problem};

/// Reads a project.
///
/// # Errors
/// The first field that cannot be read.
pub(super) fn read(text: &str) -> Result<Reading, Problem> {
    let value: Value = serde_json::from_str(text)
        .map_err(|error| problem(error.line(), "", format!("this is no JSON: {error}")))?;
    let file = At {
        value: &value,
        path: String::new(),
    };
    let mut builder = ProjectBuilder::new(horizon(&file)?).map_err(|error| file.refused(&error))?;
    let resources = resources(&file, &mut builder)?;
    let mut tasks = BTreeMap::new();
    let mut names = Vec::new();
    let ready = ready(&file)?;
    for task in file.list("tasks")? {
        let id = task.text("id")?;
        let mut modes = Vec::new();
        for (index, mode) in task.list("modes")?.iter().enumerate() {
            modes.push(read_mode(mode, &resources, ready.get(&(id, index)).copied())?);
        }
        let ix = builder.task(modes).map_err(|error| task.refused(&error))?;
        if tasks.insert(id, ix).is_some() {
            return Err(task.wrong("id", &format!("there are two tasks `{id}`")));
        }
        names.push(id.to_owned());
    }
    link(&file, &tasks, &mut builder)?;
    let project = builder.build().map_err(|error| file.refused(&error))?;
    Ok(Reading { project, names })
}

/// A value of the file, and where it stands.
struct At<'a> {
    value: &'a Value,
    path: String,
}

impl<'a> At<'a> {
    fn wrong(&self, field: &str, message: &str) -> Problem {
        problem(1, format!("{}{field}", self.path), message)
    }

    fn refused(&self, error: &ProjectError) -> Problem {
        self.wrong("", &error.to_string())
    }

    /// The values of a list; none where the field is missing.
    fn list(&self, field: &str) -> Result<Vec<At<'a>>, Problem> {
        let list = match &self.value[field] {
            Value::Null => return Ok(Vec::new()),
            Value::Array(list) => list,
            _ => return Err(self.wrong(field, "a list is expected")),
        };
        let at = |(index, value)| At {
            value,
            path: format!("{}{field}[{index}].", self.path),
        };
        Ok(list.iter().enumerate().map(at).collect())
    }

    fn text(&self, field: &str) -> Result<&'a str, Problem> {
        let text = self.value[field].as_str();
        text.ok_or_else(|| self.wrong(field, "a name is expected"))
    }

    fn whole(&self, field: &str) -> Result<i64, Problem> {
        let whole = self.value[field].as_i64();
        whole.ok_or_else(|| self.wrong(field, "a whole number is expected"))
    }

    fn maybe(&self, field: &str) -> Result<Option<i64>, Problem> {
        match &self.value[field] {
            Value::Null => Ok(None),
            _ => self.whole(field).map(Some),
        }
    }

    fn place(&self, field: &str) -> Result<usize, Problem> {
        let place = usize::try_from(self.whole(field)?);
        place.map_err(|_| self.wrong(field, "a number from zero is expected"))
    }

    fn task(&self, field: &str, tasks: &BTreeMap<&str, TaskIx>) -> Result<TaskIx, Problem> {
        let name = self.text(field)?;
        let task = tasks.get(name).copied();
        task.ok_or_else(|| self.wrong(field, &format!("there is no task `{name}`")))
    }
}

/// Late enough for everything one after the other, with every wait.
fn horizon(file: &At<'_>) -> Result<i64, Problem> {
    let mut sum: i64 = 0;
    for task in file.list("tasks")? {
        let mut longest = 0;
        for mode in task.list("modes")? {
            longest = longest.max(mode.whole("minutes")?);
        }
        sum = sum.saturating_add(longest);
    }
    let mut waits = |list: &str, field: &str| -> Result<(), Problem> {
        for entry in file.list(list)? {
            sum = sum.saturating_add(entry.maybe(field)?.unwrap_or(0).max(0));
        }
        Ok(())
    };
    waits("lags", "min")?;
    waits("offsets", "max")?;
    waits("ready", "earliest")?;
    let mut turn: i64 = 0;
    for change in file.list("changeovers")? {
        turn = turn.max(change.whole("a_to_b")?).max(change.whole("b_to_a")?);
    }
    let count = i64::try_from(file.list("tasks")?.len()).unwrap_or(i64::MAX);
    Ok(sum.saturating_add(turn.saturating_mul(count)))
}

fn resources<'a>(
    file: &At<'a>,
    builder: &mut ProjectBuilder,
) -> Result<BTreeMap<&'a str, ResourceIx>, Problem> {
    let mut resources = BTreeMap::new();
    for resource in file.list("resources")? {
        let ix = builder
            .resource(resource.whole("capacity")?)
            .map_err(|error| resource.refused(&error))?;
        resources.insert(resource.text("id")?, ix);
    }
    Ok(resources)
}

/// By task and mode, the soonest start.
fn ready<'a>(file: &At<'a>) -> Result<BTreeMap<(&'a str, usize), i64>, Problem> {
    let mut ready = BTreeMap::new();
    for entry in file.list("ready")? {
        ready.insert(
            (entry.text("task")?, entry.place("mode")?),
            entry.whole("earliest")?,
        );
    }
    Ok(ready)
}

fn read_mode(
    at: &At<'_>,
    resources: &BTreeMap<&str, ResourceIx>,
    earliest: Option<i64>,
) -> Result<Mode, Problem> {
    let mut mode = Mode::lasting(at.whole("minutes")?).not_before(earliest.unwrap_or(0));
    let uses = match &at.value["uses"] {
        Value::Null => return Ok(mode),
        Value::Object(uses) => uses,
        _ => return Err(at.wrong("uses", "amounts by resource are expected")),
    };
    for (name, amount) in uses {
        let resource = resources.get(name.as_str());
        let resource = resource.ok_or_else(|| at.wrong("uses", &format!("there is no resource `{name}`")))?;
        let amount = amount
            .as_i64()
            .ok_or_else(|| at.wrong("uses", "a whole amount is expected"))?;
        mode = mode.using(*resource, amount);
    }
    Ok(mode)
}

fn link(file: &At<'_>, tasks: &BTreeMap<&str, TaskIx>, builder: &mut ProjectBuilder) -> Result<(), Problem> {
    for at in file.list("lags")? {
        let lag = Lag {
            from: at.task("after", tasks)?,
            to: at.task("task", tasks)?,
            min: at.whole("min")?,
            max: at.maybe("max")?,
        };
        builder.lag(lag).map_err(|error| at.refused(&error))?;
    }
    for at in file.list("offsets")? {
        let offset = Offset {
            task: at.task("task", tasks)?,
            of: at.task("of", tasks)?,
            min: at.whole("min")?,
            max: at.whole("max")?,
        };
        builder.offset(offset).map_err(|error| at.refused(&error))?;
    }
    for at in file.list("changeovers")? {
        let change = Changeover {
            a: at.task("a", tasks)?,
            a_mode: at.place("a_mode")?,
            b: at.task("b", tasks)?,
            b_mode: at.place("b_mode")?,
            a_to_b: at.whole("a_to_b")?,
            b_to_a: at.whole("b_to_a")?,
        };
        builder.changeover(change).map_err(|error| at.refused(&error))?;
    }
    for at in file.list("holds")? {
        let (from, to) = (at.task("after", tasks)?, at.task("task", tasks)?);
        let weight = at.whole("weight")?;
        builder
            .hold(Hold { from, to, weight })
            .map_err(|error| at.refused(&error))?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = r#"{
        "resources": [{ "id": "hands", "capacity": 1 }],
        "tasks": [
            { "id": "cut", "modes": [{ "minutes": 5, "uses": { "hands": 1 } }] },
            { "id": "roast", "modes": [{ "minutes": 30, "uses": {} }, { "minutes": 20 }] }
        ],
        "lags": [{ "after": "cut", "task": "roast", "min": 0, "max": 10 }],
        "ready": [{ "task": "roast", "mode": 1, "earliest": 12 }]
    }"#;

    #[test]
    fn a_file_becomes_a_project() {
        let reading = read(FILE).expect("the file is well formed");
        let tasks = reading.project.tasks();
        assert_eq!(reading.names, ["cut", "roast"]);
        assert_eq!((tasks[1].modes[0].earliest, tasks[1].modes[1].earliest), (0, 12));
        assert_eq!(reading.project.horizon(), 47);
    }

    #[test]
    fn what_is_wrong_is_named_with_its_field() {
        let told = |from: &str, to: &str| {
            read(&FILE.replace(from, to))
                .expect_err("the file is not well formed")
                .field
        };
        assert_eq!(told(r#""after": "cut""#, r#""after": "cup""#), "lags[0].after");
        assert_eq!(
            told(r#""minutes": 5"#, r#""minutes": "x""#),
            "tasks[0].modes[0].minutes"
        );
        assert_eq!(told(r#""hands": 1"#, r#""legs": 1"#), "tasks[0].modes[0].uses");
        assert_eq!(told(r#""max": 10"#, r#""max": -10"#), "lags[0].");
    }
}
