//! `plan --program FILE --solution FILE`: the menu's choice as an integer programme that any solver reads, and the point
//! that was chosen.

use std::fs;
use std::path::{Path, PathBuf};

use clap::Args;
use larderwright_app::{Threads, state_week};
use larderwright_model::Snapshot;

use crate::failure::Failure;

/// Where the programme and its point go.
#[derive(Debug, Clone, Args)]
pub(crate) struct ProgramArgs {
    /// Also write what the menu chose from as an integer programme, in free MPS.
    #[arg(long, value_name = "FILE")]
    pub(crate) program: Option<PathBuf>,
    /// Also write the chosen point of that programme: a name and a value on each line.
    #[arg(long, value_name = "FILE")]
    pub(crate) solution: Option<PathBuf>,
}

impl ProgramArgs {
    /// Writes what was asked for.
    ///
    /// # Errors
    /// When a file cannot be written.
    pub(crate) fn write(&self, snapshot: &Snapshot, threads: Threads) -> Result<(), Failure> {
        if self.program.is_none() && self.solution.is_none() {
            return Ok(());
        }
        let stated = state_week(snapshot, threads).map_err(|conflict| {
            Failure::Fault(format!(
                "the week that was planned cannot be stated: {}",
                conflict.message
            ))
        })?;
        if let Some(path) = &self.program {
            put(path, &stated.mps())?;
        }
        if let Some(path) = &self.solution {
            put(path, &stated.solution())?;
        }
        Ok(())
    }
}

fn put(path: &Path, text: &str) -> Result<(), Failure> {
    fs::write(path, text)
        .map_err(|error| Failure::Fault(format!("`{}` cannot be written: {error}", path.display())))
}
