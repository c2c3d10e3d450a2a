//! Journeys in a real browser: a kitchen that serves the demo week on a clock of its own, and a headless Chromium that
//! looks at it. A crate of its own, so that other tests do not build a browser's client.
//!
//! Where Chromium or its driver is missing the journeys are skipped, saying so; `scripts/test` installs both.

pub mod browser;
pub mod kitchen;

pub use browser::Browser;
pub use kitchen::Kitchen;

use std::path::PathBuf;

/// The folder where screenshots and tools of the journeys lie: `target/e2e` of this workspace.
#[must_use]
pub fn folder() -> PathBuf {
    PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/../../target/e2e"))
}

/// Runs a journey, or says why not.
///
/// # Panics
/// Panics when the journey does.
pub fn journey<F, J>(walk: F)
where
    F: FnOnce(Kitchen, Browser) -> J,
    J: Future<Output = Browser>,
{
    journey_in(Kitchen::open(), walk);
}

/// The same in another house.
///
/// # Panics
/// Panics when the journey does.
pub fn journey_in<F, J>(house: impl Future<Output = Kitchen>, walk: F)
where
    F: FnOnce(Kitchen, Browser) -> J,
    J: Future<Output = Browser>,
{
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
        .expect("the machine has threads");
    runtime.block_on(async {
        let Some(browser) = Browser::start().await else {
            println!("skipped: no chromium with its driver here; `scripts/test` installs them");
            return;
        };
        let kitchen = house.await;
        walk(kitchen, browser).await.end().await;
    });
}
