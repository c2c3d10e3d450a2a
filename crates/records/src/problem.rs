//! Problems: what is wrong in a file somebody wrote, where, and how to mend it. Not for faults of the machine.

use std::fmt;

/// One mistake in a file.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Problem {
    /// The line it stands on, counted from one.
    pub line: u32,
    /// The field it is about: `sitting[2].at`; empty when the text as a whole cannot be read.
    pub field: String,
    /// What is wrong: lower case, no final stop, the writer's own text in back-ticks.
    pub message: String,
    /// What to do next, as a sentence.
    pub help: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}", self.line)?;
        if !self.field.is_empty() {
            write!(f, ", {}", self.field)?;
        }
        write!(f, ": {}", self.message)?;
        if !self.help.is_empty() {
            write!(f, "\n  {}", self.help)?;
        }
        Ok(())
    }
}
