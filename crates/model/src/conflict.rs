//! Conflicts: wishes that cannot all come true, and what would mend it.

use std::fmt;

/// The stages of planning, in order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the names of the stages")]
pub enum Stage {
    Menu,
    Demand,
    Batches,
    Order,
    Packing,
    Session,
    Keeping,
    Plates,
}

impl Stage {
    /// The stage's name.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Menu => "menu",
            Self::Demand => "demand",
            Self::Batches => "batches",
            Self::Order => "order",
            Self::Packing => "packing",
            Self::Session => "session",
            Self::Keeping => "keeping",
            Self::Plates => "plates",
        }
    }
}

/// Why a week cannot be planned: which wishes collide and what would mend it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Conflict {
    /// The stage that could not succeed.
    pub stage: Stage,
    /// What cannot be, in one sentence of the kitchen.
    pub message: String,
    /// The wishes that collide, each in the household's own words.
    pub wishes: Vec<String>,
    /// What would mend it: any one of these.
    pub mends: Vec<String>,
}

impl fmt::Display for Conflict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "{}", self.message)?;
        for wish in &self.wishes {
            writeln!(f, "  wish: {wish}")?;
        }
        for mend in &self.mends {
            writeln!(f, "  what would mend it: {mend}")?;
        }
        Ok(())
    }
}
