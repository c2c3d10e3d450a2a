//! What could not be read: where, what is wrong with it, what to do. Rows that lead nowhere are told once for each
//! thing they speak of, because a single missing line can leave hundreds of them behind.

use std::collections::BTreeMap;
use std::fmt;

/// Something in a file that could not be read; the rest was.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Problem {
    /// The file's name.
    pub file: String,
    /// The line, counted from one; zero when the file as a whole is meant.
    pub line: u32,
    /// What is wrong: lower case, no final stop, the file's own text in back-ticks.
    pub message: String,
    /// What was done, or what to do next, as a sentence.
    pub help: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.file)?;
        if self.line > 0 {
            write!(f, ", line {}", self.line)?;
        }
        write!(f, ": {}", self.message)?;
        if !self.help.is_empty() {
            write!(f, "\n  {}", self.help)?;
        }
        Ok(())
    }
}

/// Why a row is not kept.
#[derive(Debug)]
pub(crate) struct Trouble {
    pub(crate) message: String,
    pub(crate) help: &'static str,
}

/// A row that is left out alone.
pub(crate) fn row_out(message: impl Into<String>) -> Trouble {
    Trouble {
        message: message.into(),
        help: "This row is left out.",
    }
}

/// A figure that is left out, so that it stays unknown.
pub(crate) fn figure_out(message: impl Into<String>) -> Trouble {
    Trouble {
        message: message.into(),
        help: "The figure is left out and counts as not known.",
    }
}

/// All problems so far.
#[derive(Debug, Default)]
pub(crate) struct Log {
    problems: Vec<Problem>,
}

impl Log {
    pub(crate) fn add(&mut self, file: &str, line: u32, trouble: Trouble) {
        self.problems.push(Problem {
            file: file.into(),
            line,
            message: trouble.message,
            help: trouble.help.into(),
        });
    }

    /// Notes that a file is not there.
    pub(crate) fn missing(&mut self, file: &str, help: &'static str) {
        let message = "is missing".into();
        self.add(file, 0, Trouble { message, help });
    }

    /// Notes that a file belongs to no known layout.
    pub(crate) fn unknown_layout(&mut self, file: &str) {
        let help =
            "Name the files of USDA FoodData Central (SR Legacy, Foundation) or of the Standard Reference.";
        let message = "is no file of food composition that is known".into();
        self.add(file, 0, Trouble { message, help });
    }

    pub(crate) fn add_strays(&mut self, file: &str, strays: Strays) {
        for (thing, (line, count)) in strays.0 {
            let rows = match count {
                1 => "a row speaks".to_owned(),
                count => format!("{count} rows speak"),
            };
            let help = "The rows are left out.";
            let message = format!("{rows} of {thing}, which is in no file");
            self.add(file, line, Trouble { message, help });
        }
    }

    /// All problems, by file and line.
    pub(crate) fn into_problems(self) -> Vec<Problem> {
        let mut problems = self.problems;
        problems.sort();
        problems.dedup();
        problems
    }
}

/// Things of one file that are spoken of and nowhere declared, each with its first line and its count.
#[derive(Debug, Default)]
pub(crate) struct Strays(BTreeMap<String, (u32, u64)>);

impl Strays {
    pub(crate) fn add(&mut self, thing: String, line: u32) {
        self.0.entry(thing).or_insert((line, 0)).1 += 1;
    }
}
