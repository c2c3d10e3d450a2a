//! The run of a session: who does what, when, where; and what starts before the day.

use jiff::civil::DateTime;
use larderwright_quantity::{Seconds, Temperature};

use crate::id::{ActId, BatchId, CookId, SessionId, SittingId, StepId};

/// What sort of line this is on the run sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ActKind {
    /// Boxes, labels and ice out, sink clear, hands washed.
    Preflight,
    /// The oven heats up.
    Preheat,
    /// A step of a recipe.
    Step,
    /// A visit in the course of another act.
    Visit {
        /// The act visited.
        of: ActId,
    },
    /// Hot soapy wash, rinse, fresh cloth between two uses of a board.
    CleanDown,
    /// Food stands shallow until it stops steaming.
    Cool,
    /// Into boxes, labelled, into the fridge or freezer.
    PackOut,
    /// Wash up and wipe down.
    ClearDown,
}

/// One line of a run sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Act {
    /// Identifier within the session.
    pub id: ActId,
    /// What sort of line.
    pub kind: ActKind,
    /// Three words or fewer.
    pub title: String,
    /// What to do.
    pub text: String,
    /// How to see that it is done; may be empty.
    pub cue: String,
    /// The batches it serves: several when like work is done once.
    pub batches: Vec<BatchId>,
    /// The recipe's step, for steps and visits.
    pub step: Option<StepId>,
    /// Which load of the step, counted from one.
    pub load: i64,
    /// Start.
    pub start: DateTime,
    /// End.
    pub end: DateTime,
    /// Whose hands, for the whole act.
    pub who: Vec<CookId>,
    /// What is held, by kind and number in the order of the kitchen: `burner 1`, `pot 3`, `rack 2`, `board 1`.
    pub stations: Vec<String>,
    /// The oven's setting, when it is in the oven.
    pub oven: Option<Temperature>,
}

impl Act {
    /// How long it lasts.
    #[must_use]
    pub fn length(&self) -> Seconds {
        Seconds::from_secs(self.end.duration_since(self.start).as_secs())
    }
}

/// Work that starts before the session.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lead {
    /// The batch it serves.
    pub batch: BatchId,
    /// The recipe's step.
    pub step: StepId,
    /// Three words or fewer.
    pub title: String,
    /// What to do.
    pub text: String,
    /// When to start it.
    pub at: DateTime,
    /// The latest start that still works.
    pub latest: DateTime,
}

/// A batch that a session does not finish any more.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftOut {
    /// Which.
    pub batch: BatchId,
    /// What of it has been done already, by title; food that is there half prepared.
    pub begun: Vec<String>,
    /// Whether it has been on the fire or in the oven: it is there half cooked.
    pub hot: bool,
    /// The sittings that were to eat from it and want something else now.
    pub sittings: Vec<SittingId>,
}

/// The oven at one temperature for a while.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OvenSetting {
    /// From when.
    pub from: DateTime,
    /// Until when.
    pub to: DateTime,
    /// Setting.
    pub temperature: Temperature,
}

/// How surely the run ends inside its window.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// Ends inside the window even when the slowest steps run long.
    Likely,
    /// Ends inside the window when all goes as usual.
    Tight,
    /// Does not end inside the window.
    WontFit,
}

/// The run of one session.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Run {
    /// Which session.
    pub session: SessionId,
    /// Lines by start.
    pub acts: Vec<Act>,
    /// Work that starts before the day.
    pub leads: Vec<Lead>,
    /// The oven's settings.
    pub oven: Vec<OvenSetting>,
    /// When the last act ends.
    pub finish: DateTime,
    /// No plan finishes before this.
    pub bound: DateTime,
    /// What decides the bound, in words of the kitchen: `the oven`, `hands`, `chickpeas`.
    pub decided_by: String,
    /// How surely it fits.
    pub standing: Standing,
}
