//! What the tasks of a session's project mean.

use larderwright_model::{ActKind, BatchId, StepId};
use larderwright_quantity::Temperature;
use larderwright_solve::project::Lengths;

/// What a task stands for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::session) enum Kind {
    Preflight,
    Preheat,
    Step,
    Visit { of: usize },
    Cool,
    PackOut,
    CleanDown,
    ClearDown,
}

impl Kind {
    /// Whether an act is of this sort.
    pub(in crate::session) fn is(&self, act: &ActKind) -> bool {
        matches!(
            (self, act),
            (Self::Preflight, ActKind::Preflight)
                | (Self::Preheat, ActKind::Preheat)
                | (Self::Step, ActKind::Step)
                | (Self::Visit { .. }, ActKind::Visit { .. })
                | (Self::Cool, ActKind::Cool)
                | (Self::PackOut, ActKind::PackOut)
                | (Self::CleanDown, ActKind::CleanDown)
                | (Self::ClearDown, ActKind::ClearDown)
        )
    }
}

/// A task with what the run sheet says of it.
#[derive(Clone, Debug)]
pub(in crate::session) struct TaskInfo {
    pub kind: Kind,
    pub title: String,
    pub text: String,
    pub cue: String,
    pub batch: Option<BatchId>,
    /// The other batches it is done for: like work is done once.
    pub others: Vec<BatchId>,
    pub step: Option<StepId>,
    pub load: i64,
    pub oven: Option<Temperature>,
    /// For each mode the cooks whose hands it takes, by position in the session's cooks.
    pub cooks: Vec<Vec<usize>>,
    /// Least, likely and greatest length, in minutes.
    pub lengths: Lengths,
}

impl TaskInfo {
    /// The batches it is done for.
    pub(in crate::session) fn batches(&self) -> impl Iterator<Item = &BatchId> {
        self.batch.iter().chain(&self.others)
    }

    pub(in crate::session) fn serves(&self, batch: &BatchId) -> bool {
        self.batches().any(|own| own == batch)
    }
}

/// A length that is set, not guessed.
pub(in crate::session) fn certain(minutes: i64) -> Lengths {
    Lengths {
        low: minutes,
        likely: minutes,
        high: minutes,
    }
}
