//! From a session's marks to the books: what was boxed is told as cooked, cooled and stored, what was given up as not
//! cooked, and how long a session took. The books are compared with the marks each time, so that what a break-down kept
//! from being told is told with the next mark, and nothing twice.

use std::collections::BTreeSet;

use jiff::civil::DateTime;
use larderwright_app::home::{Cooking, Portioned};
use larderwright_app::{Now, Told};
use larderwright_ledger::Subject;
use larderwright_model::{Act, ActKind, Batch, BatchId, Fact, Moment, Reported, SessionId};
use larderwright_store::Store;
use larderwright_views::page::live::Stage;

use super::{Desk, DeskError, Week};
use crate::marks::{SessionEntries, SessionMark};
use crate::progress::Course;

/// What the marks say of a batch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Fate {
    /// It is still cooking, or nobody has boxed it.
    Open,
    /// It is in the cold.
    Boxed,
    /// It was given up; lost when what went into it is thrown away.
    GivenUp { lost: bool },
}

impl<S: Store> Desk<S> {
    /// Tells the books what the marks of a session mean by now.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn keep_books(&self, week: &Week, session: &SessionId, now: &Now) -> Result<Told, DeskError> {
        // What was bought before is in the house first.
        self.settle(now).await?;
        let entries = self.marked().session(week.name(), session).to_vec();
        let Some(course) = self.course(week, session, now.moment.at).await else {
            return Ok(Told::default());
        };
        let mut told = Told::default();
        for batch in week.plan.batches.iter().filter(|batch| batch.session == *session) {
            told = told.and(self.book_batch(batch, (&course, &entries), now).await?);
        }
        if let Some(minutes) = minutes_in_all(&entries) {
            told = told.and(self.book_end(session, minutes, now).await?);
        }
        Ok(told)
    }

    async fn book_batch(
        &self,
        batch: &Batch,
        (course, entries): (&Course, &SessionEntries),
        now: &Now,
    ) -> Result<Told, DeskError> {
        let (home, name) = (&self.home, batch.id.as_str());
        let state = self.home.store().batch(&batch.id).await?;
        let cooked = state.as_ref().and_then(|state| state.cooked.as_ref());
        let known = cooked.is_some_and(|fact| fact.reported != Reported::Presumed);
        match fate(&batch.id, course, entries) {
            Fate::GivenUp { lost } if !known => Ok(home.not_cooked(name, lost, now).await?),
            Fate::Boxed => {
                let mut told = Told::default();
                if !known {
                    let (end, cooking) = cooking(&batch.id, course, entries);
                    told = home.cooked(name, cooking, &at(now, end)).await?;
                }
                let readings = cooling(&batch.id, course);
                if !known && !readings.is_empty() {
                    told = told.and(home.cooled(name, readings, now).await?);
                }
                let waits = home.store().batch(&batch.id).await?;
                if waits.is_some_and(|state| state.in_pot.mass.is_positive()) {
                    told = told.and(home.stored(name, &Portioned::default(), now).await?);
                }
                Ok(told)
            }
            _ => Ok(Told::default()),
        }
    }

    async fn book_end(&self, session: &SessionId, minutes: i64, now: &Now) -> Result<Told, DeskError> {
        let subject = Subject::Session(session.clone());
        let events = self.home.store().events_about(&subject).await?;
        if events
            .iter()
            .any(|event| matches!(event.fact, Fact::SessionEnded { .. }))
        {
            return Ok(Told::default());
        }
        Ok(self.home.session_done(Some(session), Some(minutes), now).await?)
    }
}

/// The same on a clock that stood earlier.
fn at(now: &Now, at: DateTime) -> Now {
    Now {
        moment: Moment {
            at: at.min(now.moment.at),
            ..now.moment.clone()
        },
        ..now.clone()
    }
}

fn fate(batch: &BatchId, course: &Course, entries: &SessionEntries) -> Fate {
    if let Some(out) = course.left_out.iter().find(|out| out.batch == *batch) {
        let lost = |mark: &SessionMark| matches!(mark, SessionMark::GivenUp { batches, .. } if batches.iter().any(|id| id == batch.as_str()));
        return Fate::GivenUp {
            lost: out.hot || entries.iter().any(|(_, _, mark)| lost(mark)),
        };
    }
    let mut boxing = own(batch, course, ActKind::PackOut).peekable();
    let boxed = boxing.peek().is_some() && boxing.all(|act| course.progress.pace(act).stage == Stage::Done);
    if boxed { Fate::Boxed } else { Fate::Open }
}

fn own<'a>(batch: &'a BatchId, course: &'a Course, kind: ActKind) -> impl Iterator<Item = &'a Act> {
    let acts = course.run.acts.iter();
    acts.filter(move |act| act.kind == kind && act.batches.contains(batch))
}

/// When cooking ended, and how long it took where somebody said of each step that it was done: what is only taken to be
/// done is no measured time.
fn cooking(batch: &BatchId, course: &Course, entries: &SessionEntries) -> (DateTime, Cooking) {
    let said: BTreeSet<&str> = entries
        .iter()
        .filter_map(|(_, _, mark)| match mark {
            SessionMark::Done { acts } => acts.last().map(String::as_str),
            _ => None,
        })
        .collect();
    let pace = |act: &Act| course.progress.pace(act);
    let start = own(batch, course, ActKind::Step).map(|act| pace(act).start).min();
    let end = own(batch, course, ActKind::Step).map(|act| pace(act).end).max();
    let measured = own(batch, course, ActKind::Step).all(|act| said.contains(act.id.as_str()));
    let minutes = start
        .zip(end)
        .filter(|_| measured)
        .map(|(start, end)| end.duration_since(start).as_mins());
    let cooking = Cooking {
        minutes,
        ..Cooking::default()
    };
    (end.unwrap_or(course.progress.finish), cooking)
}

/// When a batch began to cool and when it went into its box, where the run has a line for it.
fn cooling(batch: &BatchId, course: &Course) -> Vec<(DateTime, Option<larderwright_quantity::Temperature>)> {
    let paces = own(batch, course, ActKind::Cool).map(|act| course.progress.pace(act));
    paces
        .flat_map(|pace| [(pace.start, None), (pace.end, None)])
        .collect()
}

/// Minutes from the beginning to the end, rests apart; `None` before the end.
fn minutes_in_all(entries: &SessionEntries) -> Option<i64> {
    let first = |wanted: SessionMark| {
        let found = entries.iter().find(|(_, _, mark)| *mark == wanted);
        found.map(|(_, at, _)| *at)
    };
    let (began, ended) = (first(SessionMark::Began)?, first(SessionMark::Ended)?);
    let mut rested = 0;
    let mut since = None;
    for (_, at, mark) in entries {
        match mark {
            SessionMark::Rested => since = since.or(Some(*at)),
            SessionMark::Resumed => {
                rested += since.take().map_or(0, |from| at.duration_since(from).as_mins());
            }
            _ => {}
        }
    }
    Some((ended.duration_since(began).as_mins() - rested).max(0))
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    #[test]
    fn rests_are_no_work() {
        let at = |minute: i8| date(2026, 11, 29).at(14, minute, 0, 0);
        let mut entries: SessionEntries = [
            (0, SessionMark::Began),
            (10, SessionMark::Rested),
            (25, SessionMark::Resumed),
        ]
        .into_iter()
        .map(|(minute, mark)| (minute.to_string(), at(minute), mark))
        .collect();
        assert_eq!(minutes_in_all(&entries), None);
        entries.push(("end".into(), at(55), SessionMark::Ended));
        assert_eq!(minutes_in_all(&entries), Some(40));
    }
}
