//! The desk: the one place from which pages take the household's weeks and what was told, and to which they write.
//! Behind it lies the household's memory. Plans are immutable, so each is read once and kept by its hash.

mod books;
mod course;
mod journal;
mod looks;

use std::collections::BTreeSet;
use std::sync::{Arc, Mutex, RwLock};

use jiff::Span;
use jiff::civil::{Date, DateTime};
use larderwright_app::dates::monday_of;
use larderwright_app::home::Home;
use larderwright_app::{HomeError, Now, Options, Threads};
use larderwright_model::{Household, Snapshot, WeekPlan};
use larderwright_store::{Store, StoreError};
use tokio::sync::broadcast;

use crate::marks::Board;
use crate::progress::Reordered;
use journal::Journal;
use looks::Looked;

/// A plan that the house goes by, with what it was made from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Week {
    /// What tells this plan from others.
    pub hash: String,
    /// Monday of its week.
    pub monday: Date,
    /// What the plan depends on.
    pub snapshot: Snapshot,
    /// The plan.
    pub plan: WeekPlan,
}

impl Week {
    /// A week.
    #[must_use]
    pub fn new(hash: impl Into<String>, snapshot: Snapshot, plan: WeekPlan) -> Self {
        Self {
            hash: hash.into(),
            monday: plan.monday,
            snapshot,
            plan,
        }
    }

    /// What tells this plan from others.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.hash
    }
}

/// Why the desk cannot answer.
#[derive(Debug, thiserror::Error)]
pub enum DeskError {
    /// There is no household yet.
    #[error("there is no household here yet")]
    NoHousehold,
    /// There is no plan yet.
    #[error("no week is planned yet")]
    NoWeek,
    /// The memory cannot answer.
    #[error(transparent)]
    Home(#[from] HomeError),
    /// The household's time zone is not known.
    #[error("there is no time zone `{0}`")]
    Zone(String),
}

impl From<StoreError> for DeskError {
    fn from(error: StoreError) -> Self {
        Self::Home(HomeError::Store(error))
    }
}

impl DeskError {
    /// What happened, with everything that caused it.
    #[must_use]
    pub fn words(&self) -> String {
        let mut words = self.to_string();
        let mut cause = std::error::Error::source(self);
        while let Some(error) = cause {
            words = format!("{words}: {error}");
            cause = error.source();
        }
        words
    }
}

/// What time it is on the wall of a kitchen in a zone; `None` when there is no such zone.
pub type Clock = Arc<dyn Fn(&str) -> Option<Now> + Send + Sync>;

/// The zone of a house nobody has described yet.
const NOWHERE: &str = "UTC";

/// Plans that are kept at hand.
const AT_HAND: usize = 12;

/// What has been read and cannot change.
#[derive(Debug, Default)]
struct Known {
    household: Option<(u32, Arc<Household>)>,
    weeks: Vec<Arc<Week>>,
}

/// The desk over a household's memory.
pub struct Desk<S> {
    home: Home<S>,
    clock: Clock,
    search: (Options, Threads),
    known: RwLock<Known>,
    board: Mutex<Board>,
    journal: tokio::sync::Mutex<Journal>,
    /// When something is presumed next.
    due: tokio::sync::Mutex<Option<DateTime>>,
    reordered: Mutex<Reordered>,
    looked: tokio::sync::Mutex<Looked>,
    /// How many events came in elsewhere, as far as devices were told.
    heard: tokio::sync::Mutex<Option<u64>>,
    news: broadcast::Sender<&'static str>,
}

impl<S> std::fmt::Debug for Desk<S> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Desk")
            .field("home", &self.home)
            .finish_non_exhaustive()
    }
}

/// Hours after which what was planned and nobody spoke of is looked at again: as long as anything may be reported.
const LOOK_HOURS: i64 = 4;

impl<S: Store> Desk<S> {
    /// Opens a household's memory; it need not hold a household or a plan yet. Weeks are planned with this search.
    ///
    /// # Errors
    /// When what was marked cannot be read.
    pub async fn open(home: Home<S>, clock: Clock, search: (Options, Threads)) -> Result<Self, DeskError> {
        let (journal, board) = Journal::read(home.store()).await?;
        Ok(Self {
            home,
            clock,
            search,
            known: RwLock::default(),
            board: Mutex::new(board),
            journal: tokio::sync::Mutex::new(journal),
            due: tokio::sync::Mutex::new(None),
            reordered: Mutex::new(Reordered::new()),
            looked: tokio::sync::Mutex::default(),
            heard: tokio::sync::Mutex::new(None),
            news: broadcast::Sender::new(64),
        })
    }

    /// The household's memory.
    pub fn home(&self) -> &Home<S> {
        &self.home
    }

    /// How weeks are planned.
    #[must_use]
    pub fn search(&self) -> (Options, Threads) {
        self.search.clone()
    }

    /// The household; `None` before its file was kept.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub async fn household(&self) -> Result<Option<Arc<Household>>, DeskError> {
        let Some(document) = self.home.household_file().await? else {
            return Ok(None);
        };
        if let Some((version, household)) = &self.read().household
            && *version == document.version
        {
            return Ok(Some(Arc::clone(household)));
        }
        let household = Arc::new(self.home.household().await?);
        self.write().household = Some((document.version, Arc::clone(&household)));
        Ok(Some(household))
    }

    fn read(&self) -> std::sync::RwLockReadGuard<'_, Known> {
        self.known
            .read()
            .expect("nothing panics while it holds what is known")
    }

    fn write(&self) -> std::sync::RwLockWriteGuard<'_, Known> {
        self.known
            .write()
            .expect("nothing panics while it holds what is known")
    }

    /// What time it is in the household's kitchen.
    ///
    /// # Errors
    /// When the zone is not known.
    pub async fn now(&self) -> Result<Now, DeskError> {
        let household = self.household().await?;
        let zone = household.as_ref().map_or(NOWHERE, |household| &household.zone);
        (self.clock)(zone).ok_or_else(|| DeskError::Zone(zone.to_owned()))
    }

    /// The week that a page is about when nobody named one: this week or the next, failing that the nearest.
    ///
    /// # Errors
    /// When there is none, or it cannot be read.
    pub async fn week(&self) -> Result<Arc<Week>, DeskError> {
        let mut weeks = self.weeks().await?;
        Ok(weeks.swap_remove(0))
    }

    /// The weeks that may be meant, the likeliest first: this one and the next as far as they are planned and open;
    /// failing that the nearest one. At least one.
    ///
    /// # Errors
    /// When there is none, or they cannot be read.
    pub async fn weeks(&self) -> Result<Vec<Arc<Week>>, DeskError> {
        if self.household().await?.is_none() {
            return Err(DeskError::NoHousehold);
        }
        let now = self.now().await?;
        self.settle(&now).await?;
        let mut weeks = Vec::new();
        for head in self.home.heads_at_hand(&now).await? {
            weeks.push(self.kept(&head.hash).await?);
        }
        if weeks.is_empty() {
            Err(DeskError::NoWeek)
        } else {
            Ok(weeks)
        }
    }

    /// The plan that the house goes by in a week; `None` when none was chosen.
    ///
    /// # Errors
    /// When it cannot be read.
    pub async fn week_of(&self, monday: Date) -> Result<Option<Arc<Week>>, DeskError> {
        match self.home.store().current(monday).await? {
            None => Ok(None),
            Some(head) => Ok(Some(self.kept(&head.hash).await?)),
        }
    }

    /// A kept plan, read once.
    ///
    /// # Errors
    /// When there is no such plan, or it cannot be read.
    pub async fn kept(&self, hash: &str) -> Result<Arc<Week>, DeskError> {
        let known = self.read().weeks.iter().find(|week| week.hash == hash).cloned();
        if let Some(week) = known {
            return Ok(week);
        }
        let week = self.home.kept(hash).await?.ok_or(DeskError::NoWeek)?;
        let mut snapshot = week.snapshot;
        self.only_own_wishes(&mut snapshot).await?;
        let week = Arc::new(Week::new(hash, snapshot, week.plan));
        let mut known = self.write();
        if known.weeks.len() >= AT_HAND {
            known.weeks.remove(0);
        }
        known.weeks.push(Arc::clone(&week));
        Ok(week)
    }

    /// A plan made from an earlier one holds on to its meals; on a page only those are called fixed that somebody fixed.
    async fn only_own_wishes(&self, snapshot: &mut Snapshot) -> Result<(), DeskError> {
        let (changes, _) = self.home.changes(snapshot.monday).await?;
        let mut own: BTreeSet<_> = changes.fixed().collect();
        if let Some(household) = self.household().await? {
            own.extend(household.wishes.fixed.clone());
        }
        let fixed = &mut snapshot.household.wishes.fixed;
        fixed.retain(|sitting, meal| own.contains(&(sitting.clone(), meal.clone())));
        Ok(())
    }

    /// Writes down what is presumed, when something may be due; asked again and again it costs nothing.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn settle(&self, now: &Now) -> Result<(), DeskError> {
        let mut due = self.due.lock().await;
        if due.is_some_and(|due| now.minute() < due) {
            return Ok(());
        }
        self.home.settle(now).await?;
        *due = Some(self.next_due(now.minute()).await?);
        Ok(())
    }

    /// When the next planned thing will have passed long enough.
    async fn next_due(&self, now: DateTime) -> Result<DateTime, DeskError> {
        let monday = monday_of(now.date());
        let mut next = later(now, LOOK_HOURS * 3);
        for week in [-7, 0, 7] {
            let Some(week) = self
                .week_of(monday.saturating_add(Span::new().days(week)))
                .await?
            else {
                continue;
            };
            let snapshot = &week.snapshot;
            let shops = snapshot.shops.iter().map(|shop| shop.at);
            let sessions = snapshot.sessions.iter().map(|session| session.to);
            let sittings = snapshot.sittings.iter().map(|sitting| sitting.at);
            for at in shops.chain(sessions).chain(sittings) {
                for hours in [LOOK_HOURS - 1, LOOK_HOURS] {
                    let due = later(at, hours);
                    if due > now {
                        next = next.min(due);
                    }
                }
            }
        }
        Ok(next)
    }

    /// The plan of a week is another one from now on: every page is looked at anew.
    pub async fn changed(&self) {
        *self.due.lock().await = None;
        self.tell("all");
    }

    /// Tells every device that something of a topic is different.
    pub fn tell(&self, topic: &'static str) {
        // Nobody listening is no fault.
        let _ = self.news.send(topic);
    }

    /// Tells every device when another program has written something into the same memory.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn hear(&self) -> Result<(), DeskError> {
        let mut heard = self.heard.lock().await;
        let elsewhere = self.home.elsewhere().await?;
        if heard.is_some_and(|known| known < elsewhere) {
            self.tell("all");
        }
        *heard = Some(heard.map_or(elsewhere, |known| known.max(elsewhere)));
        Ok(())
    }

    /// Every change from now on, by topic.
    pub(crate) fn news(&self) -> broadcast::Receiver<&'static str> {
        self.news.subscribe()
    }

    /// How many devices listen.
    pub(crate) fn listeners(&self) -> usize {
        self.news.receiver_count()
    }
}

fn later(at: DateTime, hours: i64) -> DateTime {
    at.saturating_add(Span::new().hours(hours))
}
