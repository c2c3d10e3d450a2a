//! Sessions as they stand: the plan they are cooked by, and their course by what was marked.

use std::sync::Arc;

use jiff::Span;
use jiff::civil::{Date, DateTime};
use larderwright_app::dates::monday_of;
use larderwright_model::{Conflict, SessionId};
use larderwright_planning::session::replan::Replanned;
use larderwright_store::Store;

use super::{Desk, DeskError, Week};
use crate::marks::SessionMark;
use crate::progress::{Course, course, preview};

impl<S: Store> Desk<S> {
    /// The plan that a session is cooked by: the one it was begun with, else the latest one that knows it.
    ///
    /// # Errors
    /// When a plan cannot be read.
    pub async fn week_with(&self, session: &SessionId) -> Result<Option<Arc<Week>>, DeskError> {
        let mut found: Option<Arc<Week>> = None;
        let now = self.now().await?;
        let monday = monday_of(now.minute().date());
        for days in [7, 0, -7] {
            let monday = monday.saturating_add(Span::new().days(days));
            for hash in self.home.store().choices(monday).await?.into_iter().rev() {
                let begun = !self.marked().session(&hash, session).is_empty();
                if found.is_some() && !begun {
                    continue;
                }
                let week = self.kept(&hash).await?;
                if week.plan.runs.iter().any(|run| run.session == *session) {
                    if begun {
                        return Ok(Some(week));
                    }
                    found = Some(week);
                }
            }
        }
        Ok(found)
    }

    /// Every plan that was in force in the weeks around a day, the latest first.
    ///
    /// # Errors
    /// When a plan cannot be read.
    pub async fn earlier(&self, day: Date) -> Result<Vec<Arc<Week>>, DeskError> {
        let mut weeks = Vec::new();
        for days in [7, 0, -7] {
            let monday = monday_of(day).saturating_add(Span::new().days(days));
            for hash in self.home.store().choices(monday).await?.into_iter().rev() {
                weeks.push(self.kept(&hash).await?);
            }
        }
        Ok(weeks)
    }

    /// A session's course at a moment; `None` when the plan has no such session.
    pub async fn course(&self, week: &Week, session: &SessionId, now: DateTime) -> Option<Course> {
        let entries = self.marked().session(week.name(), session).to_vec();
        let mut known = self
            .reordered
            .lock()
            .expect("nothing panics while it holds the runs");
        course(week, session, &entries, (now, &mut known))
    }

    /// What would follow from a mark.
    ///
    /// # Errors
    /// What is left can be put in no order.
    ///
    /// # Panics
    /// Panics when the plan has no such session.
    pub async fn preview(
        &self,
        week: &Week,
        session: &SessionId,
        (mark, now): (&SessionMark, DateTime),
    ) -> Result<Replanned, Conflict> {
        let entries = self.marked().session(week.name(), session).to_vec();
        let mut known = self
            .reordered
            .lock()
            .expect("nothing panics while it holds the runs");
        preview(week, session, &entries, (mark, now), &mut known)
    }

    /// A session that was begun not long ago and has not ended: until it has, the week cannot be planned anew.
    pub fn running(&self, now: DateTime) -> Option<String> {
        self.marked().running(now)
    }
}
