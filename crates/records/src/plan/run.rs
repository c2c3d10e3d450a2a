//! The run of a session.

use jiff::civil::DateTime;
use larderwright_model::{
    Act, ActId, ActKind, BatchId, CookId, Lead, OvenSetting, Run, SessionId, Standing, StepId,
};
use larderwright_quantity::Temperature;

use crate::wire::{record, variants};

record! {
    /// The run of one session.
    RunRecord = Run {
        session: SessionId,
        acts: Vec<Act>,
        leads: Vec<Lead>,
        oven: Vec<OvenSetting>,
        finish: DateTime,
        /// No plan finishes before this.
        bound: DateTime,
        decided_by: String,
        standing: Standing,
    }
}

record! {
    /// One line of a run sheet.
    ActRecord = Act {
        id: ActId,
        kind: ActKind,
        title: String,
        text: String,
        cue: String,
        batches: Vec<BatchId>,
        step: Option<StepId>,
        load: i64,
        start: DateTime,
        end: DateTime,
        who: Vec<CookId>,
        stations: Vec<String>,
        #[serde(rename = "oven_deci_c")]
        oven: Option<Temperature>,
    }
}

variants! {
    /// What sort of line this is.
    ActKindRecord = ActKind { Preflight, Preheat, Step, Visit { of: ActId }, CleanDown, Cool, PackOut, ClearDown }
}

record! {
    /// Work that starts before the session.
    LeadRecord = Lead {
        batch: BatchId,
        step: StepId,
        title: String,
        text: String,
        at: DateTime,
        latest: DateTime,
    }
}

record! {
    /// The oven at one temperature for a while.
    OvenSettingRecord = OvenSetting {
        from: DateTime,
        to: DateTime,
        #[serde(rename = "deci_c")]
        temperature: Temperature,
    }
}
