//! The list of problems of one file, and the way from a place in the text to its line.

use std::cell::RefCell;
use std::collections::BTreeSet;

use crate::problem::Problem;

/// Problems found so far.
pub(crate) struct Log {
    line_starts: Vec<usize>,
    broken: BTreeSet<u32>,
    problems: RefCell<Vec<Problem>>,
}

impl Log {
    /// Opens the list for a text.
    pub(crate) fn new(text: &str) -> Self {
        let after_breaks = text
            .bytes()
            .enumerate()
            .filter(|(_, byte)| *byte == b'\n')
            .map(|(at, _)| at + 1);
        let line_starts = std::iter::once(0).chain(after_breaks).collect();
        Self {
            line_starts,
            broken: BTreeSet::new(),
            problems: RefCell::new(Vec::new()),
        }
    }

    /// Whether the syntax has mistakes, so that absence proves nothing.
    pub(crate) fn is_broken(&self) -> bool {
        !self.broken.is_empty()
    }

    /// The line, counted from one, of a byte offset.
    pub(crate) fn line_of(&self, at: usize) -> u32 {
        let line = self.line_starts.partition_point(|start| *start <= at);
        u32::try_from(line).unwrap_or(u32::MAX)
    }

    /// Notes that a line cannot be read; further problems of the same line would only confuse.
    pub(crate) fn add_broken(&mut self, at: usize, what: &str) {
        let line = self.line_of(at);
        let help = "Text stands in quotes, lists in square brackets, and every line is `field = value`.";
        self.add(line, "", format!("cannot be read: {what}"), help);
        self.broken.insert(line);
    }

    /// Notes a problem.
    pub(crate) fn add(&self, line: u32, field: &str, message: impl Into<String>, help: impl Into<String>) {
        if self.broken.contains(&line) {
            return;
        }
        let problem = Problem {
            line,
            field: field.into(),
            message: message.into(),
            help: help.into(),
        };
        self.problems.borrow_mut().push(problem);
    }

    /// All problems, by line.
    pub(crate) fn into_problems(self) -> Vec<Problem> {
        let mut problems = self.problems.into_inner();
        problems.sort();
        problems.dedup();
        problems
    }
}
