//! Pages: one typed view for each, of ready text. A template arranges it and adds nothing; identifiers are there so
//! that links can be built.

pub mod boxing;
pub mod calendar;
pub mod changes;
pub mod cooling;
pub mod foods;
pub mod house;
pub mod instead;
pub mod larder;
pub mod lines;
pub mod live;
pub mod recipes;
pub mod review;
pub mod room;
pub mod session;
pub mod shopping;
pub mod sitting;
pub mod slips;
pub mod sources;
pub mod timeline;
pub mod turns;
pub mod week;

/// A field of a title block, or a figure with its name.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Named {
    /// What it is.
    pub name: String,
    /// The figure or words.
    pub value: String,
}

impl Named {
    /// A field.
    pub fn new(name: impl Into<String>, value: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            value: value.into(),
        }
    }
}

/// The title block of a page.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Block {
    /// The sheet's name.
    pub title: String,
    /// One line below it.
    pub sub: String,
    /// Three to five fields.
    pub fields: Vec<Named>,
}

/// Something said, with what it rests on.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Told {
    /// What is so.
    pub what: String,
    /// What was measured, what is allowed, or why.
    pub why: String,
    /// Document and section; may be empty.
    pub source: String,
}

/// Something to do, with its time.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Todo {
    /// When.
    pub when: String,
    /// Three words or fewer.
    pub title: String,
    /// What to do.
    pub text: String,
}

/// A line broken between pounds and ounces where a cell is narrow: the figure and its unit stay together.
pub(crate) fn breakable(mass: &str) -> String {
    mass.replace("lb\u{a0}", "lb ")
}
