//! A kitchen: the demo household's week in a fresh folder, served on a free port, on a clock that stands until it is
//! moved.

use std::path::PathBuf;
use std::sync::atomic::{AtomicI64, AtomicU64, Ordering};
use std::sync::{Arc, OnceLock};

use jiff::Span;
use jiff::civil::{Date, DateTime, date};
use larderwright_app::{Options, Planned, Threads, build_snapshot, plan, save};
use larderwright_model::Snapshot;
use larderwright_records::household::{DEMO_HOUSEHOLD, parse_household};
use larderwright_web::{Desk, Week, router};

/// Monday of the week.
const MONDAY: Date = date(2026, 11, 30);

/// When the plan is made.
const MADE: DateTime = DateTime::constant(2026, 11, 27, 18, 0, 0, 0);

/// The demo week, planned once for all journeys.
fn planned() -> &'static (Snapshot, Planned) {
    static WEEK: OnceLock<(Snapshot, Planned)> = OnceLock::new();
    WEEK.get_or_init(|| {
        let household = parse_household(DEMO_HOUSEHOLD).expect("the demo is well formed");
        let options = Options {
            menu_work: 3_000,
            session_work: 1_000,
            ..Options::default()
        };
        let snapshot =
            build_snapshot(household, MONDAY, MADE, options).expect("the demo names nothing unknown");
        let planned = plan(&snapshot, Threads::Two).expect("the demo week can be planned");
        (snapshot, planned)
    })
}

/// A served week.
#[derive(Debug)]
pub struct Kitchen {
    address: String,
    folder: PathBuf,
    seconds: Arc<AtomicI64>,
    /// What is served.
    pub week: Week,
}

impl Kitchen {
    /// Opens one on a free port; its clock stands at the time the plan was made.
    ///
    /// # Panics
    /// Panics when the machine refuses a folder or a port.
    pub async fn open() -> Self {
        let (snapshot, planned) = planned();
        let folder = fresh_folder();
        save(&folder, snapshot, planned).expect("the folder can be written");
        let seconds = Arc::new(AtomicI64::new(0));
        let clock = Arc::clone(&seconds);
        let clock = Arc::new(move |_: &str| Some(after(clock.load(Ordering::SeqCst))));
        let desk = Arc::new(Desk::open(&folder, clock).expect("the folder was written just now"));
        let listener = tokio::net::TcpListener::bind(("127.0.0.1", 0))
            .await
            .expect("a port is free");
        let address = format!(
            "http://{}",
            listener.local_addr().expect("it listens at an address")
        );
        let router = router(desk, "journey");
        tokio::spawn(async move { axum::serve(listener, router).await });
        Self {
            address,
            folder,
            seconds,
            week: Week::new(snapshot.clone(), planned.plan.clone()),
        }
    }

    /// The address of a page.
    #[must_use]
    pub fn page(&self, path: &str) -> String {
        format!("{}{path}", self.address)
    }

    /// Sets the clock.
    pub fn set(&self, at: DateTime) {
        let seconds = at.duration_since(MADE).as_secs();
        self.seconds.store(seconds, Ordering::SeqCst);
    }

    /// Moves the clock on.
    pub fn pass(&self, minutes: i64) {
        self.seconds.fetch_add(minutes * 60, Ordering::SeqCst);
    }

    /// What time it is in the kitchen.
    #[must_use]
    pub fn now(&self) -> DateTime {
        after(self.seconds.load(Ordering::SeqCst))
    }
}

impl Drop for Kitchen {
    fn drop(&mut self) {
        // A folder that stays behind harms nobody.
        let _ = std::fs::remove_dir_all(&self.folder);
    }
}

fn after(seconds: i64) -> DateTime {
    MADE.checked_add(Span::new().seconds(seconds))
        .expect("journeys stay inside the calendar")
}

fn fresh_folder() -> PathBuf {
    static NUMBER: AtomicU64 = AtomicU64::new(0);
    let number = NUMBER.fetch_add(1, Ordering::SeqCst);
    crate::folder().join(format!("kitchen-{}-{number}", std::process::id()))
}
