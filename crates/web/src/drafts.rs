//! Drafts: a change of the week planned beside it, to be looked at before it is accepted. Planning goes on on a thread of
//! its own; a page that asks too early says so and asks again. A draft replaces the week only while the week is still
//! the one it was made from.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex};
use std::time::Duration;

use jiff::civil::{Date, Time};
use larderwright_app::changes::{Changes, SessionChange};
use larderwright_app::home::Draft;
use larderwright_app::{HomeError, Now, Refusal};
use larderwright_model::{EaterId, MealId, SessionId, SittingId, WeekPlan};
use larderwright_store::Store;
use tokio::sync::watch;

use crate::desk::{Desk, DeskError, Week};

/// What is to be different.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Change {
    /// Nothing: what is left is planned from what is really there.
    Anew,
    /// This meal at this sitting.
    Meal {
        /// Where.
        sitting: SittingId,
        /// What.
        meal: MealId,
    },
    /// Not this meal at this sitting: whatever else fits best.
    NotThis {
        /// Where.
        sitting: SittingId,
    },
    /// This meal not at all this week.
    Off {
        /// Which.
        meal: MealId,
    },
    /// So many guests at this sitting.
    Guests {
        /// Where.
        sitting: SittingId,
        /// How many.
        count: u32,
    },
    /// Somebody of the household does not eat here.
    Without {
        /// Where.
        sitting: SittingId,
        /// Who.
        eater: EaterId,
    },
    /// The table is set at another time.
    At {
        /// Where.
        sitting: SittingId,
        /// When.
        time: Time,
    },
    /// Nobody eats here.
    Away {
        /// Where.
        sitting: SittingId,
    },
    /// A session begins at another time; its window keeps its length.
    Session {
        /// Which.
        session: SessionId,
        /// When its window begins.
        from: Time,
    },
}

/// The most guests a form may ask for.
pub const GUESTS_MAX: u32 = 12;

impl Change {
    /// Puts the change among those of its week; `None` when it speaks of something that is not there.
    #[must_use]
    pub fn apply(&self, week: &Week, changes: &mut Changes) -> Option<()> {
        let snapshot = &week.snapshot;
        match self {
            Self::Anew => {}
            Self::Meal { sitting, meal } => {
                snapshot.sitting(sitting)?;
                snapshot.meals.get(meal)?;
                changes.off.remove(meal.as_str());
                let slot = changes.sitting(sitting);
                slot.not.remove(meal.as_str());
                slot.meal = Some(meal.to_string());
            }
            Self::NotThis { sitting } => {
                let meal = chosen(&week.plan, sitting)?.to_string();
                let slot = changes.sitting(sitting);
                slot.meal = None;
                slot.not.insert(meal);
            }
            Self::Off { meal } => {
                snapshot.meals.get(meal)?;
                let wanted = |slot: &&mut _| fixes(slot, meal);
                changes
                    .sittings
                    .values_mut()
                    .filter(wanted)
                    .for_each(|slot| slot.meal = None);
                changes.off.insert(meal.to_string());
            }
            Self::Guests { sitting, count } => {
                let now = snapshot.sitting(sitting)?.guests;
                let slot = changes.sitting(sitting);
                let usual = now.saturating_sub(slot.guests);
                slot.guests = (*count).min(GUESTS_MAX).saturating_sub(usual);
            }
            Self::Without { sitting, eater } => {
                let known = snapshot.sitting(sitting)?.eaters.contains(eater);
                known.then(|| changes.sitting(sitting).away.insert(eater.to_string()))?;
            }
            Self::At { sitting, time } => {
                let at = snapshot.sitting(sitting)?.at;
                changes.sitting(sitting).at = Some(at.date().to_datetime(*time));
            }
            Self::Away { sitting } => {
                snapshot.sitting(sitting)?;
                let slot = changes.sitting(sitting);
                slot.skipped = true;
                slot.meal = None;
            }
            Self::Session { session, from } => {
                let old = snapshot.session(session)?;
                let from = old.from.date().to_datetime(*from);
                let to = from
                    .checked_add(jiff::Span::new().seconds(old.window().secs()))
                    .ok()?;
                *changes.session(session) = SessionChange {
                    skipped: false,
                    window: Some((from, to)),
                };
            }
        }
        Some(())
    }
}

fn fixes(slot: &larderwright_app::changes::SittingChange, meal: &MealId) -> bool {
    slot.meal.as_deref() == Some(meal.as_str())
}

/// The meal of a sitting.
#[must_use]
pub fn chosen<'a>(plan: &'a WeekPlan, sitting: &SittingId) -> Option<&'a MealId> {
    let mut choices = plan.menu.choices.iter();
    choices
        .find(|choice| choice.sitting == *sitting)
        .map(|choice| &choice.meal)
}

/// A change, planned.
#[derive(Clone, Debug)]
pub struct Trial {
    /// The draft as it is kept.
    pub draft: Draft,
    /// The week's changes with this one, and the version of those without it.
    pub changes: (Changes, u32),
}

/// Why there is no draft.
#[derive(Clone, Debug)]
pub enum NoDraft {
    /// The change speaks of something that is not there.
    Unknown,
    /// It cannot be planned.
    Refused(Box<Refusal>),
    /// The memory failed.
    Fault(String),
}

/// How planning a change came out.
pub type Outcome = Result<Arc<Trial>, NoDraft>;

/// Which draft: the plan it was made from (empty for the first one), its week, and the change.
type Key = (String, Date, Change);

/// Drafts that are being made or were made lately: accepting one takes what was seen.
#[derive(Debug, Default)]
pub struct Drafts {
    lately: Mutex<BTreeMap<Key, watch::Receiver<Option<Outcome>>>>,
}

/// How many drafts are kept.
const KEPT: usize = 8;

/// How long a page waits for a draft before it says that planning goes on.
const PATIENCE: Duration = Duration::from_millis(1_500);

impl Drafts {
    /// The outcome of a change, which is planned now unless it is already; `None` when that takes longer.
    pub async fn outcome<S: Store + 'static>(
        &self,
        desk: &Arc<Desk<S>>,
        (week, monday): (Option<&Arc<Week>>, Date),
        (change, now): (&Change, &Now),
    ) -> Option<Outcome> {
        let hash = week.map_or("", |week| week.name()).to_owned();
        let key = (hash, monday, change.clone());
        let mut seen = self.seen(&key, |say| {
            let (desk, week, change, now) = (Arc::clone(desk), week.cloned(), change.clone(), now.clone());
            let runtime = tokio::runtime::Handle::current();
            tokio::task::spawn_blocking(move || {
                let outcome = runtime.block_on(made(&desk, (week.as_deref(), monday), (&change, &now)));
                // Nobody may be waiting any more.
                let _ = say.send(Some(outcome));
            });
        });
        let waited = tokio::time::timeout(PATIENCE, seen.wait_for(Option::is_some)).await;
        match waited {
            Err(_) => None,
            Ok(Err(_)) => Some(Err(NoDraft::Fault("planning broke off".into()))),
            Ok(Ok(outcome)) => outcome.clone(),
        }
    }

    fn seen(
        &self,
        key: &Key,
        begin: impl FnOnce(watch::Sender<Option<Outcome>>),
    ) -> watch::Receiver<Option<Outcome>> {
        let mut lately = self
            .lately
            .lock()
            .expect("nothing panics while it holds the drafts");
        lately.retain(|(of, monday, _), _| *of == key.0 || *monday != key.1);
        if let Some(seen) = lately.get(key) {
            return seen.clone();
        }
        while lately.len() >= KEPT {
            lately.pop_first();
        }
        let (say, seen) = watch::channel(None);
        lately.insert(key.clone(), seen.clone());
        begin(say);
        seen
    }

    /// Forgets what was planned: the house is another one since.
    pub fn forget(&self) {
        self.lately
            .lock()
            .expect("nothing panics while it holds the drafts")
            .clear();
    }
}

/// Plans a change beside a week. Takes about as long as planning the week did.
async fn made<S: Store>(
    desk: &Desk<S>,
    (week, monday): (Option<&Week>, Date),
    (change, now): (&Change, &Now),
) -> Outcome {
    let fault = |error: HomeError| match error {
        HomeError::Refused(refusal) => NoDraft::Refused(refusal),
        other => NoDraft::Fault(DeskError::Home(other).words()),
    };
    let (mut changes, version) = desk.home().changes(monday).await.map_err(fault)?;
    if let Some(week) = week {
        change.apply(week, &mut changes).ok_or(NoDraft::Unknown)?;
    }
    let draft = desk.home().draft(monday, &changes, desk.search(), now).await;
    Ok(Arc::new(Trial {
        draft: draft.map_err(fault)?,
        changes: (changes, version),
    }))
}

/// Makes a draft the plan that the house goes by, with the changes it was made for.
///
/// # Errors
/// When the week was changed meanwhile, or the store fails.
pub async fn accept<S: Store>(desk: &Desk<S>, monday: Date, trial: &Trial) -> Result<(), DeskError> {
    let (changes, version) = &trial.changes;
    let (before, _) = desk.home().changes(monday).await?;
    if before != *changes {
        desk.home().keep_changes(monday, changes, *version).await?;
    }
    if let Err(error) = desk.home().choose(monday, &trial.draft.hash).await {
        // The wish goes back with the plan that was to fulfil it.
        if before != *changes {
            desk.home().keep_changes(monday, &before, version + 1).await?;
        }
        return Err(error.into());
    }
    desk.changed().await;
    Ok(())
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;

    fn week() -> Week {
        Week::new("sample", sample::snapshot(), sample::plan())
    }

    fn apply(change: &Change) -> Option<Changes> {
        let mut changes = Changes::default();
        change.apply(&week(), &mut changes)?;
        Some(changes)
    }

    #[test]
    fn a_fixed_meal_is_a_wish_and_no_longer_off() {
        let week = week();
        let sitting = week.snapshot.sittings[0].id.clone();
        let meal = week
            .snapshot
            .meals
            .keys()
            .next()
            .cloned()
            .expect("the sample has meals");
        let change = Change::Meal {
            sitting: sitting.clone(),
            meal: meal.clone(),
        };
        let mut changes = Changes::default();
        changes.off.insert(meal.to_string());
        change.apply(&week, &mut changes).expect("both are there");
        assert_eq!(changes.fixed().collect::<Vec<_>>(), [(sitting, meal)]);
        assert!(changes.off.is_empty());
    }

    #[test]
    fn what_is_not_wanted_is_no_longer_fixed() {
        let week = week();
        let sitting = week.snapshot.sittings[0].id.clone();
        let meal = chosen(&week.plan, &sitting).cloned().expect("it has a meal");
        let mut changes = Changes::default();
        changes.sitting(&sitting).meal = Some(meal.to_string());
        let change = Change::NotThis {
            sitting: sitting.clone(),
        };
        change.apply(&week, &mut changes).expect("it is there");
        assert_eq!(changes.fixed().count(), 0);
        assert!(changes.sitting(&sitting).not.contains(meal.as_str()));
    }

    #[test]
    fn a_moved_session_keeps_its_window() {
        let week = week();
        let session = &week.snapshot.sessions[0];
        let change = Change::Session {
            session: session.id.clone(),
            from: jiff::civil::time(10, 30, 0, 0),
        };
        let moved = apply(&change).expect("the session is there");
        let sessions = moved.apply_sessions(week.snapshot.sessions.clone());
        assert_eq!(sessions[0].window(), session.window());
        assert_eq!(sessions[0].from.hour(), 10);
    }

    #[test]
    fn a_change_of_something_that_is_not_there_is_none() {
        let sitting: SittingId = "nothing".into();
        for change in [
            Change::Away {
                sitting: sitting.clone(),
            },
            Change::NotThis {
                sitting: sitting.clone(),
            },
            Change::Without {
                sitting: week().snapshot.sittings[0].id.clone(),
                eater: "nobody".into(),
            },
            Change::At {
                sitting,
                time: Time::midnight(),
            },
            Change::Off {
                meal: "nothing".into(),
            },
            Change::Session {
                session: "nothing".into(),
                from: jiff::civil::time(10, 0, 0, 0),
            },
        ] {
            assert_eq!(apply(&change), None, "{change:?}");
        }
    }

    #[test]
    fn guests_are_counted_beyond_the_usual_ones_and_bounded() {
        let mut week = week();
        week.snapshot.sittings[0].guests = 3;
        let sitting = week.snapshot.sittings[0].id.clone();
        let mut changes = Changes::default();
        // One of the three comes by an earlier change.
        changes.sitting(&sitting).guests = 1;
        for (count, wanted) in [(4, 2), (1, 0), (4_000_000, GUESTS_MAX - 2)] {
            let mut changed = changes.clone();
            let change = Change::Guests {
                sitting: sitting.clone(),
                count,
            };
            change.apply(&week, &mut changed).expect("it is there");
            assert_eq!(changed.sitting(&sitting).guests, wanted);
        }
    }
}
