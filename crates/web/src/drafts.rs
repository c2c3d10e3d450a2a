//! Drafts: a change of the week planned beside it, to be looked at before it is accepted. A draft replaces the week
//! only while the week is still the one it was made from.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex};

use jiff::civil::{DateTime, Time};
use larderwright_app::{Planned, Refusal, Threads, plan};
use larderwright_model::{MealId, SessionId, SittingId, Snapshot};

use crate::desk::Week;

/// What is to be different.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Change {
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
    /// The snapshot with the change in it; `None` when it speaks of something that is not there.
    #[must_use]
    pub fn apply(&self, week: &Week, now: DateTime) -> Option<Snapshot> {
        let mut snapshot = week.snapshot.clone();
        snapshot.now = now;
        snapshot.parent = Some(week.name().to_owned());
        match self {
            Self::Meal { sitting, meal } => {
                snapshot.sitting(sitting)?;
                snapshot.meals.get(meal)?;
                let wishes = &mut snapshot.household.wishes;
                wishes.off_meals.remove(meal);
                wishes.fixed.insert(sitting.clone(), meal.clone());
            }
            Self::NotThis { sitting } => {
                let choice = week
                    .plan
                    .menu
                    .choices
                    .iter()
                    .find(|choice| choice.sitting == *sitting)?;
                let wishes = &mut snapshot.household.wishes;
                wishes.fixed.remove(sitting);
                wishes.off_meals.insert(choice.meal.clone());
            }
            Self::Off { meal } => {
                snapshot.meals.get(meal)?;
                let wishes = &mut snapshot.household.wishes;
                wishes.fixed.retain(|_, fixed| fixed != meal);
                wishes.off_meals.insert(meal.clone());
            }
            Self::Guests { sitting, count } => {
                let at = snapshot.sittings.iter_mut().find(|other| other.id == *sitting)?;
                at.guests = (*count).min(GUESTS_MAX);
            }
            Self::Away { sitting } => {
                snapshot.sitting(sitting)?;
                snapshot.sittings.retain(|other| other.id != *sitting);
                snapshot.household.wishes.fixed.remove(sitting);
            }
            Self::Session { session, from } => {
                let at = snapshot.sessions.iter_mut().find(|other| other.id == *session)?;
                let window = at.window();
                at.from = at.from.date().to_datetime(*from);
                at.to = at
                    .from
                    .checked_add(jiff::Span::new().seconds(window.secs()))
                    .ok()?;
            }
        }
        Some(snapshot)
    }
}

/// A change, planned.
#[derive(Clone, Debug)]
pub struct Draft {
    /// The snapshot with the change.
    pub snapshot: Snapshot,
    /// Its plan, judged.
    pub planned: Planned,
}

/// Why there is no draft.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoDraft {
    /// The change speaks of something that is not there.
    Unknown,
    /// It cannot be planned.
    Refused(Box<Refusal>),
}

/// Plans a change beside a week. Takes about as long as planning the week did.
///
/// # Errors
/// Why there is no such week.
pub fn draft(week: &Week, change: &Change, now: DateTime) -> Result<Draft, NoDraft> {
    let snapshot = change.apply(week, now).ok_or(NoDraft::Unknown)?;
    let planned = plan(&snapshot, Threads::Two).map_err(|refusal| NoDraft::Refused(Box::new(refusal)))?;
    Ok(Draft { snapshot, planned })
}

/// Drafts that were shown lately, by the week they were made from and the change: accepting one takes what was seen.
#[derive(Debug, Default)]
pub struct Drafts {
    lately: Mutex<BTreeMap<(String, Change), Arc<Draft>>>,
}

/// How many drafts are kept.
const KEPT: usize = 8;

impl Drafts {
    /// Remembers a draft of a week.
    pub fn keep(&self, week: &Week, change: Change, draft: Arc<Draft>) {
        let mut lately = self
            .lately
            .lock()
            .expect("nothing panics while it holds the drafts");
        lately.retain(|(of, _), _| of == week.name());
        while lately.len() >= KEPT {
            lately.pop_first();
        }
        lately.insert((week.name().to_owned(), change), draft);
    }

    /// The draft that was shown for this change of this week.
    pub fn shown(&self, week: &Week, change: &Change) -> Option<Arc<Draft>> {
        let lately = self
            .lately
            .lock()
            .expect("nothing panics while it holds the drafts");
        lately.get(&(week.name().to_owned(), change.clone())).cloned()
    }
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;

    fn week() -> Week {
        Week::new(sample::snapshot(), sample::plan())
    }

    fn apply(change: &Change) -> Option<Snapshot> {
        let week = week();
        let now = week.snapshot.now;
        change.apply(&week, now)
    }

    #[test]
    fn a_fixed_meal_is_a_wish_and_no_longer_off() {
        let week = week();
        let (sitting, meal) = (
            week.snapshot.sittings[0].id.clone(),
            week.snapshot
                .meals
                .keys()
                .next()
                .cloned()
                .expect("the sample has meals"),
        );
        let change = Change::Meal {
            sitting: sitting.clone(),
            meal: meal.clone(),
        };
        let wishes = apply(&change).expect("both are there").household.wishes;
        assert_eq!(wishes.fixed.get(&sitting), Some(&meal));
        assert!(!wishes.off_meals.contains(&meal));
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
        assert_eq!(moved.sessions[0].window(), session.window());
        assert_eq!(moved.sessions[0].from.hour(), 10);
    }

    #[test]
    fn a_change_of_something_that_is_not_there_is_none() {
        for change in [
            Change::Away {
                sitting: "nothing".into(),
            },
            Change::Off {
                meal: "nothing".into(),
            },
            Change::NotThis {
                sitting: "nothing".into(),
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
    fn guests_are_bounded() {
        let change = Change::Guests {
            sitting: week().snapshot.sittings[0].id.clone(),
            count: 4_000_000,
        };
        assert_eq!(
            apply(&change).expect("the sitting is there").sittings[0].guests,
            GUESTS_MAX
        );
    }
}
