//! How much time has passed: on the clock, and of the processor. It only stops searches and reports.

use std::time::{Duration, Instant};

use cpu_time::ProcessTime;
use serde_json::Value;

/// Runs from its making.
#[derive(Debug)]
pub(crate) struct Watch {
    clock: Instant,
    processor: ProcessTime,
}

impl Watch {
    pub(crate) fn start() -> Self {
        #[expect(
            clippy::disallowed_methods,
            reason = "a limit in seconds is asked for; the work done is told"
        )]
        let clock = Instant::now();
        Self {
            clock,
            processor: ProcessTime::now(),
        }
    }

    /// Whether each of the threads has had so many milliseconds, or twice that has passed on the clock.
    pub(crate) fn is_past(&self, millis: u64, threads: u64) -> bool {
        self.processor.elapsed() >= Duration::from_millis(millis * threads)
            || self.clock.elapsed() >= Duration::from_millis(2 * millis)
    }

    /// Seconds of the processor, of all threads together, as a number with three decimals.
    pub(crate) fn cpu_seconds(&self) -> Value {
        let millis = self.processor.elapsed().as_millis();
        let text = format!("{}.{:03}", millis / 1000, millis % 1000);
        serde_json::from_str(&text).expect("a whole number and three decimals are a number")
    }
}
