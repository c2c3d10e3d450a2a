//! A home: one household's memory with everything a cook can say and ask of it. Every word becomes an event; every
//! answer is a fold of events and the current plan. Where events are kept, and what time it is, the caller says.

mod before;
mod books;
mod cart;
mod instead;
mod kitchen;
mod look_back;
mod lots;
mod names;
mod presume;
mod reality;
mod shop;
mod table;
mod week;

use std::fmt;
use std::sync::atomic::{AtomicU64, Ordering};

use jiff::civil::DateTime;
use larderwright_ledger::{Deed, Oddity};
use larderwright_model::{Clock, DeviceId, Event, EventId, Household, Moment};
use larderwright_records::household::parse_household;
use larderwright_records::{Problem, RecordError};
use larderwright_store::{Appended, Document, Put, Store, StoreError};

pub use books::KeptFoods;
pub use cart::CartLine;
pub use instead::Instead;
pub use kitchen::{Cooking, Portioned};
pub use look_back::WeekReview;
pub use lots::{Look, Shelf, ShelfLot};
pub use names::{Named, goods_name as name_of_goods, sitting_words};
pub use presume::Settled;
pub use shop::Buying;
pub use table::Tonight;
pub use week::{Draft, Week};

use crate::locate;
use crate::planned::Refusal;

/// The name of the document that keeps the household's file.
pub const HOUSEHOLD: &str = "household";

/// How far back an event may lie that is taken back by name.
const TAKE_BACK_MAX: usize = 1_000;

/// What time it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Now {
    /// Milliseconds since 1970-01-01T00:00Z.
    pub ms: i64,
    /// The same on the wall of the household's kitchen.
    pub moment: Moment,
}

impl Now {
    /// Local time to the minute, as plans count it.
    #[must_use]
    pub fn minute(&self) -> DateTime {
        let at = self.moment.at;
        at.date().at(at.hour(), at.minute(), 0, 0)
    }
}

/// Why something could not be done.
#[derive(Debug, thiserror::Error)]
pub enum HomeError {
    /// The store failed.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// A text in the store cannot be read.
    #[error(transparent)]
    Record(#[from] RecordError),
    /// A document in the store cannot be read.
    #[error("the document `{name}` cannot be read")]
    Document {
        /// Which.
        name: String,
        /// Why.
        #[source]
        cause: serde_json::Error,
    },
    /// The household's file has mistakes.
    #[error("the household's file has {} mistakes", .0.len())]
    Household(Vec<Problem>),
    /// There is no plan, for a reason of the kitchen.
    #[error("{0}")]
    Refused(Box<Refusal>),
    /// A name leads nowhere, or to several things.
    #[error("{message}")]
    Unknown {
        /// What is wrong.
        message: String,
        /// What to do.
        help: String,
    },
    /// Somebody else was quicker.
    #[error("the week was changed meanwhile")]
    Overtaken,
}

impl HomeError {
    pub(crate) fn unknown(message: impl Into<String>, help: impl Into<String>) -> Self {
        Self::Unknown {
            message: message.into(),
            help: help.into(),
        }
    }

    /// What to do about it, where there is something to do.
    #[must_use]
    pub fn help(&self) -> &str {
        match self {
            Self::Unknown { help, .. } => help,
            Self::Overtaken => "Look at the week as it is now, and say it again.",
            _ => "",
        }
    }
}

/// What became of a word.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Told {
    /// The events, in order.
    pub events: Vec<EventId>,
    /// What was written down, a sentence each.
    pub lines: Vec<String>,
    /// What does not add up since, a sentence each.
    pub findings: Vec<String>,
}

impl Told {
    fn nothing(line: impl Into<String>) -> Self {
        Self {
            lines: vec![line.into()],
            ..Self::default()
        }
    }

    /// This and then that.
    #[must_use]
    pub fn and(mut self, other: Self) -> Self {
        self.events.extend(other.events);
        self.lines.extend(other.lines);
        self.findings.extend(other.findings);
        self
    }
}

/// One household's memory.
pub struct Home<S> {
    store: S,
    device: DeviceId,
    /// How many events came in through this home.
    written: AtomicU64,
}

impl<S> fmt::Debug for Home<S> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Home")
            .field("device", &self.device)
            .finish_non_exhaustive()
    }
}

impl<S: Store> Home<S> {
    /// Opens the memory in a store. `fresh` names the device when the store has no name for it yet.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn open(store: S, fresh: &DeviceId) -> Result<Self, HomeError> {
        let device = store.device(fresh).await?;
        Ok(Self {
            store,
            device,
            written: AtomicU64::new(0),
        })
    }

    /// How many events in the store came in by other ways than this home: from before it was opened, or from another
    /// program at the same time.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn elsewhere(&self) -> Result<u64, HomeError> {
        let arrived = self.store.arrived().await?;
        Ok(arrived.saturating_sub(self.written.load(Ordering::SeqCst)))
    }

    /// The store itself, for what needs no kitchen words: backups, checks, exports.
    pub fn store(&self) -> &S {
        &self.store
    }

    /// The household's file as last kept; `None` before the first.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn household_file(&self) -> Result<Option<Document>, HomeError> {
        Ok(self.store.document(HOUSEHOLD).await?)
    }

    /// The household.
    ///
    /// # Errors
    /// When there is none yet, or its file cannot be read.
    pub async fn household(&self) -> Result<Household, HomeError> {
        let Some(document) = self.household_file().await? else {
            return Err(HomeError::unknown(
                "there is no household here yet",
                "Start with `larderwright example household > home.toml`, then `larderwright plan --household home.toml`.",
            ));
        };
        parse_household(&document.text).map_err(HomeError::Household)
    }

    /// Keeps the household's file, when it is well formed; the earlier one stays in the history. The same text again
    /// changes nothing.
    ///
    /// # Errors
    /// Every mistake in the file.
    pub async fn keep_household(&self, text: &str) -> Result<Household, HomeError> {
        let household =
            parse_household(text).map_err(|problems| HomeError::Household(locate(text, problems)))?;
        let known = self.household_file().await?;
        if known.as_ref().is_none_or(|document| document.text != text) {
            let version = known.map_or(0, |document| document.version);
            if let Put::Overtaken(_) = self.store.put_document(HOUSEHOLD, text, version).await? {
                return Err(HomeError::Overtaken);
            }
        }
        Ok(household)
    }

    /// Writes deeds down: each gets identifier, clock and time, all of them or none.
    ///
    /// # Errors
    /// When the store fails; then nothing was written down.
    pub async fn tell(&self, deeds: Vec<Deed>, now: &Now) -> Result<Told, HomeError> {
        self.tell_at(deeds, &now.moment, now).await
    }

    /// The same about another moment.
    ///
    /// # Errors
    /// As [`Home::tell`].
    pub async fn tell_at(&self, deeds: Vec<Deed>, moment: &Moment, now: &Now) -> Result<Told, HomeError> {
        let mut events = Vec::new();
        for deed in deeds {
            let clock = self.store.next_clock(&self.device, now.ms).await?;
            events.push(stamped(deed, clock, moment));
        }
        self.keep(events, now).await
    }

    pub(crate) async fn keep(&self, events: Vec<Event>, now: &Now) -> Result<Told, HomeError> {
        let receipt = self.store.append(&events, now.ms).await?;
        let new = receipt
            .appended
            .iter()
            .filter(|appended| **appended == Appended::New);
        self.written.fetch_add(new.count() as u64, Ordering::SeqCst);
        let mut findings = Vec::new();
        for lot in &receipt.lots {
            if let Some(state) = self.store.lot(lot).await?
                && state.overdrawn.is_positive()
            {
                let oddity = Oddity::Overdrawn {
                    lot: lot.clone(),
                    mass: state.overdrawn,
                };
                findings.push(oddity.message());
            }
        }
        let reported = receipt.appended.iter().zip(&events);
        let differing = reported.filter(|(appended, _)| matches!(appended, Appended::KnownDiffers(_)));
        findings.extend(differing.map(|(_, event)| {
            format!(
                "`{}` had been reported otherwise; the first report counts",
                event.id
            )
        }));
        Ok(Told {
            events: events.into_iter().map(|event| event.id).collect(),
            lines: Vec::new(),
            findings,
        })
    }

    /// Takes back the last words: of the events that count and that somebody reported, the last `count`.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn undo(&self, count: usize, now: &Now) -> Result<Told, HomeError> {
        let last = self.store.last_events(count * 4 + 200).await?;
        let reported = last.iter().filter(|kept| {
            kept.counts && !larderwright_ledger::is_undoing(&kept.event) && !presume::is_presumed(&kept.event)
        });
        let chosen: Vec<&Event> = reported.take(count).map(|kept| &kept.event).collect();
        if chosen.is_empty() {
            return Ok(Told::nothing("there is nothing to take back"));
        }
        let words = self.words().await?;
        let lines = chosen
            .iter()
            .map(|event| format!("taken back: {}", names::say_event(event, &words)));
        let lines: Vec<String> = lines.collect();
        let deeds = chosen.iter().map(|event| Deed::undo(&event.id)).collect();
        let told = self.tell(deeds, now).await?;
        Ok(Told { lines, ..told })
    }

    /// Takes these events back, the last one first, as far as they still count.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn take_back(&self, events: &[EventId], now: &Now) -> Result<Told, HomeError> {
        let last = self.store.last_events(TAKE_BACK_MAX).await?;
        let counts = |id: &&EventId| last.iter().any(|kept| kept.counts && kept.event.id == **id);
        let deeds: Vec<Deed> = events.iter().rev().filter(counts).map(Deed::undo).collect();
        if deeds.is_empty() {
            return Ok(Told::nothing("it was taken back already, or lies too far back"));
        }
        let told = self.tell(deeds, now).await?;
        Ok(Told {
            lines: vec!["taken back".to_owned()],
            ..told
        })
    }

    /// The last events, newest first, a line each: what happened, when, and whether it still counts.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn history(&self, count: usize) -> Result<Vec<String>, HomeError> {
        let said = self.said_lately(count).await?;
        let line = |said: Said| {
            let mark = if said.counts {
                ""
            } else {
                " (taken back or corrected)"
            };
            format!("{}  {}{mark}", said.when, said.line)
        };
        Ok(said.into_iter().map(line).collect())
    }

    /// The last events, newest first, to be shown and taken back one by one.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn said_lately(&self, count: usize) -> Result<Vec<Said>, HomeError> {
        let last = self.store.last_events(count).await?;
        let words = self.words().await?;
        let said = |kept: &larderwright_store::Kept| Said {
            id: kept.event.id.clone(),
            when: words.when(kept.event.moment.at),
            line: names::say_event(&kept.event, &words),
            counts: kept.counts,
            undoing: larderwright_ledger::is_undoing(&kept.event),
        };
        Ok(last.iter().map(said).collect())
    }
}

/// An event in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Said {
    /// Its identifier.
    pub id: EventId,
    /// When it happened.
    pub when: String,
    /// What happened.
    pub line: String,
    /// Whether it counts.
    pub counts: bool,
    /// It says only that another one did not happen.
    pub undoing: bool,
}

/// The event of a deed.
pub(crate) fn stamped(deed: Deed, clock: Clock, moment: &Moment) -> Event {
    let fresh = || {
        EventId::new(&format!(
            "{:013x}-{:04x}-{}",
            clock.wall_ms, clock.count, clock.device
        ))
    };
    Event {
        id: deed.id.unwrap_or_else(fresh),
        moment: moment.clone(),
        by: String::new(),
        plan: None,
        corrects: deed.corrects,
        cards: deed.cards,
        moves: deed.moves,
        fact: deed.fact,
        clock,
    }
}
