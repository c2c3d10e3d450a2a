//! A kitchen: the demo household's week in a store without a database, served on a free port, on a clock that stands
//! until it is moved.

use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use jiff::Span;
use jiff::civil::{Date, DateTime, date};
use larderwright_app::changes::Changes;
use larderwright_app::home::{Home, Now};
use larderwright_app::{Options, Planned, Threads};
use larderwright_model::{DeviceId, Moment, Snapshot};
use larderwright_records::household::DEMO_HOUSEHOLD;
use larderwright_records::snapshot::snapshot_to_json;
use larderwright_store::{MemoryStore, PlanHead, PlanRow, Store};
use larderwright_web::{Desk, Week, router};
use tokio::sync::OnceCell;

/// Monday of the week.
pub const MONDAY: Date = date(2026, 11, 30);

/// When the plan is made.
const MADE: DateTime = DateTime::constant(2026, 11, 27, 18, 0, 0, 0);

/// Seconds that the clock of the demo household is ahead of UTC: it stands in Chicago, in winter.
const OFFSET_S: i32 = -6 * 3600;

/// A small search: journeys are about pages.
fn search() -> (Options, Threads) {
    let options = Options {
        menu_work: 3_000,
        session_work: 1_000,
        ..Options::default()
    };
    (options, Threads::Two)
}

/// The time in the kitchen at a local time.
fn now_at(at: DateTime) -> Now {
    let moment = Moment {
        at,
        offset_s: OFFSET_S,
        zone: "America/Chicago".into(),
    };
    Now {
        ms: moment.instant_s() * 1000,
        moment,
    }
}

async fn furnished() -> Home<MemoryStore> {
    let home = Home::open(MemoryStore::new(), &DeviceId::new("journey"))
        .await
        .expect("a store in memory opens");
    home.keep_household(DEMO_HOUSEHOLD)
        .await
        .expect("the demo is well formed");
    home.take_in_stock(&now_at(MADE))
        .await
        .expect("the demo names nothing unknown");
    home
}

/// The demo week, planned once for all journeys.
async fn planned() -> &'static (Snapshot, Planned) {
    static WEEK: OnceCell<(Snapshot, Planned)> = OnceCell::const_new();
    WEEK.get_or_init(|| async {
        let home = furnished().await;
        let draft = home
            .draft(MONDAY, &Changes::default(), search(), &now_at(MADE))
            .await
            .expect("the demo week can be planned");
        (draft.snapshot, draft.planned)
    })
    .await
}

/// A served week.
#[derive(Debug)]
pub struct Kitchen {
    address: String,
    seconds: Arc<AtomicI64>,
    /// Its pages, to be asked without a browser.
    pub router: axum::Router,
    /// What they stand on.
    pub desk: Arc<Desk<MemoryStore>>,
    /// What is served.
    pub week: Week,
}

impl Kitchen {
    /// Opens one on a free port; its clock stands at the time the plan was made.
    ///
    /// # Panics
    /// Panics when the machine refuses a port.
    pub async fn open() -> Self {
        let (snapshot, planned) = planned().await;
        let home = furnished().await;
        let row = PlanRow {
            head: PlanHead {
                hash: larderwright_records::plan::plan_hash(&planned.plan),
                parent: None,
                snapshot_hash: planned.plan.snapshot_hash.clone(),
                monday: MONDAY,
                made_at: MADE,
            },
            plan_json: planned.json.clone(),
            snapshot_json: snapshot_to_json(snapshot),
        };
        home.store()
            .save_plan(&row)
            .await
            .expect("it was planned for this store");
        home.choose(MONDAY, &row.head.hash)
            .await
            .expect("nothing was chosen before");
        let week = Week::new(row.head.hash, snapshot.clone(), planned.plan.clone());
        Self::serve(home, week).await
    }

    /// Opens a house of which nothing is known yet.
    ///
    /// # Panics
    /// Panics when the machine refuses a port.
    pub async fn empty() -> Self {
        let (snapshot, planned) = planned().await;
        let home = Home::open(MemoryStore::new(), &DeviceId::new("journey"))
            .await
            .expect("a store in memory opens");
        Self::serve(home, Week::new("", snapshot.clone(), planned.plan.clone())).await
    }

    async fn serve(home: Home<MemoryStore>, week: Week) -> Self {
        let seconds = Arc::new(AtomicI64::new(0));
        let clock = Arc::clone(&seconds);
        let clock = Arc::new(move |_: &str| Some(now_at(after(clock.load(Ordering::SeqCst)))));
        let desk = Desk::open(home, clock, search())
            .await
            .expect("a store in memory can be read");
        let listener = tokio::net::TcpListener::bind(("127.0.0.1", 0))
            .await
            .expect("a port is free");
        let address = format!(
            "http://{}",
            listener.local_addr().expect("it listens at an address")
        );
        let desk = Arc::new(desk);
        let router = router(Arc::clone(&desk), "journey");
        let served = router.clone();
        tokio::spawn(async move { axum::serve(listener, served).await });
        Self {
            address,
            seconds,
            router,
            desk,
            week,
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

fn after(seconds: i64) -> DateTime {
    MADE.checked_add(Span::new().seconds(seconds))
        .expect("journeys stay inside the calendar")
}
