//! How a session goes: from what cooks marked to the time of every act. An act starts when it was meant to, and not
//! before those it follows have ended; lateness is taken up by gaps. Where the rest was put in order anew, the new run
//! counts from then on.

use std::collections::{BTreeMap, BTreeSet};

use jiff::Span;
use jiff::civil::DateTime;
use larderwright_model::{Act, ActId, BatchId, Conflict, LeftOut, Run, SessionId};
use larderwright_planning::session::replan::{self, Away, Replanned, State, replan};
use larderwright_views::page::live::{Pace, Progress, Stage};

use crate::desk::Week;
use crate::marks::{SessionEntries, SessionMark, acts, batches, cook};

/// A session in its course.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Course {
    /// The run as it stands now.
    pub run: Run,
    /// The pace of its acts.
    pub progress: Progress,
    /// Batches that are not finished any more.
    pub left_out: Vec<LeftOut>,
}

/// What was marked, in the order of time, as far as it bears on the pace.
#[derive(Clone, Debug, Default)]
struct Log {
    began: Option<DateTime>,
    ended: bool,
    done: BTreeMap<ActId, DateTime>,
    started: BTreeMap<ActId, DateTime>,
    longer: BTreeMap<ActId, i64>,
    rests: Vec<(DateTime, Option<DateTime>)>,
    away: Vec<Away>,
    stop: Option<DateTime>,
    given_up: BTreeSet<BatchId>,
}

impl Log {
    fn take(&mut self, at: DateTime, mark: &SessionMark) {
        match mark {
            SessionMark::Began => self.began = self.began.or(Some(at)),
            SessionMark::Ended => self.ended = true,
            SessionMark::Rested if !self.resting() => self.rests.push((at, None)),
            SessionMark::Resumed => {
                if let Some(rest) = self.rests.last_mut() {
                    rest.1 = rest.1.or(Some(at));
                }
            }
            SessionMark::Started { act } => drop(self.started.insert(ActId::new(act), at)),
            SessionMark::Done { acts: ids } => acts(ids).for_each(|id| {
                self.done.entry(id).or_insert(at);
            }),
            SessionMark::Reopened { act } => drop(self.done.remove(&ActId::new(act))),
            SessionMark::Longer { act, minutes } => {
                *self.longer.entry(ActId::new(act)).or_default() += minutes;
            }
            SessionMark::Away { cook: who, minutes } => self.away.push(Away {
                cook: cook(who),
                from: at,
                to: Some(later(at, minutes * 60)),
            }),
            SessionMark::Stop { by } => self.stop = Some(*by),
            SessionMark::GivenUp { batches: ids, .. } => self.given_up.extend(batches(ids)),
            SessionMark::Rested => {}
        }
    }

    fn resting(&self) -> bool {
        self.rests.last().is_some_and(|(_, end)| end.is_none())
    }
}

fn later(at: DateTime, seconds: i64) -> DateTime {
    at.checked_add(Span::new().seconds(seconds)).unwrap_or(at)
}

fn seconds(from: DateTime, to: DateTime) -> i64 {
    to.duration_since(from).as_secs()
}

/// Runs that were put in order anew, by the identifier of the mark that did it: the same marks before it always give
/// the same run, so none is worked out twice.
pub type Reordered = BTreeMap<String, Replanned>;

/// A session's course at a moment; `None` when the plan has no such session.
pub fn course(
    week: &Week,
    session: &SessionId,
    entries: &SessionEntries,
    (now, known): (DateTime, &mut Reordered),
) -> Option<Course> {
    let mut run = week.plan.runs.iter().find(|run| run.session == *session)?.clone();
    let mut log = Log::default();
    let mut since = None;
    let mut left_out = Vec::new();
    for (id, at, mark) in entries {
        log.take(*at, mark);
        if !mark.reorders() {
            continue;
        }
        if !known.contains_key(id) {
            let pace = pace(&run, &log, since, *at);
            let Ok(replanned) = anew(week, session, (&run, &log), (&pace, *at)) else {
                continue;
            };
            known.insert(id.clone(), replanned);
        }
        let replanned = known.get(id)?;
        run = replanned.run.clone();
        left_out.clone_from(&replanned.left_out);
        since = Some(*at);
    }
    Some(Course {
        progress: pace(&run, &log, since, now),
        run,
        left_out,
    })
}

/// What would follow if this were marked now.
///
/// # Errors
/// What is left can be put in no order.
///
/// # Panics
/// Panics when the plan has no such session.
pub fn preview(
    week: &Week,
    session: &SessionId,
    entries: &SessionEntries,
    (mark, now): (&SessionMark, DateTime),
    known: &mut Reordered,
) -> Result<Replanned, Conflict> {
    let course = course(week, session, entries, (now, known)).expect("the caller has seen the session");
    let mut log = Log::default();
    for (_, at, mark) in entries {
        log.take(*at, mark);
    }
    log.take(now, mark);
    anew(week, session, (&course.run, &log), (&course.progress, now))
}

/// Puts the rest in order anew.
fn anew(
    week: &Week,
    session: &SessionId,
    (run, log): (&Run, &Log),
    (progress, now): (&Progress, DateTime),
) -> Result<Replanned, Conflict> {
    let session = week
        .snapshot
        .session(session)
        .expect("a run belongs to a session of its snapshot");
    let state = |act: &Act| {
        let pace = progress.pace(act);
        let state = match pace.stage {
            Stage::Done => replan::Progress::Finished {
                at: pace.start.min(pace.end),
                end: pace.end,
            },
            Stage::Now | Stage::Over => replan::Progress::Started {
                at: pace.start,
                until: Some(pace.end.max(now)),
            },
            Stage::Ahead | Stage::Dropped => return None,
        };
        Some((act.id.clone(), state))
    };
    let state = State {
        now,
        acts: run.acts.iter().filter_map(state).collect(),
        away: log
            .away
            .iter()
            .filter(|away| away.to.is_none_or(|to| to > now))
            .cloned()
            .collect(),
        given_up: log.given_up.clone(),
        stop: log.stop,
    };
    replan(
        &week.snapshot,
        session,
        (&week.plan.batches, &week.plan.lots),
        (run, &state),
    )
}

/// The pace of a run. `since` is when the run was put in order anew: from then on its times are real ones.
fn pace(run: &Run, log: &Log, since: Option<DateTime>, now: DateTime) -> Progress {
    let mut progress = Progress::planned(run);
    progress.ended = log.ended;
    let Some(began) = log.began else {
        return progress;
    };
    progress.started = Some(began);
    progress.paused = log
        .rests
        .last()
        .filter(|(_, end)| end.is_none())
        .map(|(start, _)| *start);
    let shift = Shift::new(run, log, (began, since), now);
    let mut order: Vec<&Act> = run.acts.iter().collect();
    order.sort_by_key(|act| (act.start, act.end));
    let mut free: Vec<(&Act, DateTime)> = Vec::with_capacity(order.len());
    for act in order {
        let (pace, end) = act_pace(act, &free, (log, &shift), now);
        free.push((act, end));
        progress.paces.insert(act.id.clone(), pace);
    }
    answered(run, &mut progress);
    progress.finish = free.iter().map(|(_, end)| *end).max().unwrap_or(run.finish);
    progress
}

/// The pace of one act, and when those that follow it may start.
fn act_pace(
    act: &Act,
    earlier: &[(&Act, DateTime)],
    (log, shift): (&Log, &Shift),
    now: DateTime,
) -> (Pace, DateTime) {
    let follows = |(other, _): &&(&Act, DateTime)| {
        other.end <= act.start
            && (other.who.iter().any(|cook| act.who.contains(cook))
                || other
                    .stations
                    .iter()
                    .any(|station| act.stations.contains(station))
                || other.batches.iter().any(|batch| act.batches.contains(batch)))
    };
    let ready = earlier.iter().filter(follows).map(|(_, end)| *end).max();
    let meant = shift.of(act.start);
    let length = seconds(meant, shift.of(act.end)) + log.longer.get(&act.id).copied().unwrap_or(0) * 60;
    let start = match log.started.get(&act.id) {
        Some(at) => *at,
        None => ready.map_or(meant, |ready| ready.max(meant)),
    };
    let end = later(start, length);
    if let Some(done) = log.done.get(&act.id) {
        let pace = Pace {
            start: start.min(*done),
            end: *done,
            stage: Stage::Done,
        };
        return (pace, *done);
    }
    let stage = if now < start {
        Stage::Ahead
    } else if now < end {
        Stage::Now
    } else {
        Stage::Over
    };
    let waits = stage == Stage::Over && !act.who.is_empty();
    let free = if waits { end.max(now) } else { end };
    (Pace { start, end, stage }, free)
}

/// A bell is answered when something that follows it in its batch is going on or done.
fn answered(run: &Run, progress: &mut Progress) {
    let over: Vec<&Act> = run
        .acts
        .iter()
        .filter(|act| act.who.is_empty() && progress.pace(act).stage == Stage::Over)
        .collect();
    for act in over {
        let followed = run.acts.iter().any(|next| {
            next.start >= act.end
                && next.batches.iter().any(|batch| act.batches.contains(batch))
                && progress.pace(next).stage == Stage::Done
        });
        if followed && let Some(pace) = progress.paces.get_mut(&act.id) {
            pace.stage = Stage::Done;
        }
    }
}

/// From planned times to real ones: the late or early beginning, then every rest.
struct Shift {
    by: i64,
    rests: Vec<(DateTime, i64)>,
}

impl Shift {
    fn new(run: &Run, log: &Log, (began, since): (DateTime, Option<DateTime>), now: DateTime) -> Self {
        let first = run.acts.iter().map(|act| act.start).min().unwrap_or(began);
        let counts = |(start, _): &&(DateTime, Option<DateTime>)| since.is_none_or(|since| *start >= since);
        Self {
            by: if since.is_some() { 0 } else { seconds(first, began) },
            rests: log
                .rests
                .iter()
                .filter(counts)
                .map(|(start, end)| (*start, seconds(*start, end.unwrap_or(now)).max(0)))
                .collect(),
        }
    }

    fn of(&self, at: DateTime) -> DateTime {
        let mut at = later(at, self.by);
        for (start, length) in &self.rests {
            if at > *start {
                at = later(at, *length);
            }
        }
        at
    }
}

#[cfg(test)]
mod tests {
    use larderwright_model::ActKind;
    use larderwright_testkit::sample;

    use super::*;

    fn week() -> Week {
        Week::new("sample", sample::snapshot(), sample::plan())
    }

    fn begin(week: &Week) -> DateTime {
        let acts = week.plan.runs[0].acts.iter();
        acts.map(|act| act.start).min().expect("the run has acts")
    }

    struct Kitchen {
        week: Week,
        entries: SessionEntries,
    }

    impl Kitchen {
        fn new() -> Self {
            Self {
                week: week(),
                entries: Vec::new(),
            }
        }

        fn mark(&mut self, minute: i64, mark: SessionMark) -> &mut Self {
            let at = later(begin(&self.week), minute * 60);
            self.entries.push((format!("{}", self.entries.len()), at, mark));
            self
        }

        fn at(&self, minute: i64) -> Course {
            let id = self.week.plan.runs[0].session.clone();
            let now = later(begin(&self.week), minute * 60);
            course(&self.week, &id, &self.entries, (now, &mut Reordered::new())).expect("it runs")
        }

        fn planned_finish(&self) -> DateTime {
            self.week.plan.runs[0]
                .acts
                .iter()
                .map(|act| act.end)
                .max()
                .expect("the run has acts")
        }
    }

    /// Everything that is to be done by a minute, marked in time.
    fn in_time(kitchen: &mut Kitchen, until: i64) {
        let begin = begin(&kitchen.week);
        let mut ends: Vec<(i64, String)> = kitchen.week.plan.runs[0]
            .acts
            .iter()
            .map(|act| (seconds(begin, act.end) / 60, act.id.to_string()))
            .filter(|(end, _)| *end <= until)
            .collect();
        ends.sort();
        for (end, id) in ends {
            kitchen.mark(end, SessionMark::Done { acts: vec![id] });
        }
    }

    #[test]
    fn before_it_begins_all_is_as_planned() {
        let course = Kitchen::new().at(30);
        assert_eq!(course.progress, Progress::planned(&course.run));
    }

    #[test]
    fn who_marks_everything_in_time_ends_in_time() {
        let mut kitchen = Kitchen::new();
        kitchen.mark(0, SessionMark::Began);
        in_time(&mut kitchen, 60);
        let course = kitchen.at(60);
        assert_eq!(course.progress.finish, kitchen.planned_finish());
        assert!(
            course
                .progress
                .paces
                .values()
                .any(|pace| pace.stage == Stage::Now)
        );
    }

    #[test]
    fn a_late_beginning_moves_everything_by_as_much() {
        let mut kitchen = Kitchen::new();
        kitchen.mark(20, SessionMark::Began);
        let finish = kitchen.at(20).progress.finish;
        assert_eq!(seconds(kitchen.planned_finish(), finish), 20 * 60);
    }

    #[test]
    fn a_rest_moves_what_is_left_and_nothing_that_is_done() {
        let mut kitchen = Kitchen::new();
        kitchen.mark(0, SessionMark::Began);
        in_time(&mut kitchen, 30);
        let before = kitchen.at(30);
        kitchen
            .mark(30, SessionMark::Rested)
            .mark(45, SessionMark::Resumed);
        let after = kitchen.at(45);
        assert_eq!(seconds(before.progress.finish, after.progress.finish), 15 * 60);
        for act in &before.run.acts {
            let (one, other) = (before.progress.pace(act), after.progress.pace(act));
            if one.stage == Stage::Done {
                assert_eq!(one, other, "{}", act.title);
            }
        }
    }

    #[test]
    fn more_time_never_makes_the_end_earlier() {
        let kitchen = Kitchen::new();
        for act in &kitchen.week.plan.runs[0].acts {
            let mut longer = Kitchen::new();
            longer.mark(0, SessionMark::Began);
            let usual = longer.at(0).progress.finish;
            longer.mark(
                0,
                SessionMark::Longer {
                    act: act.id.to_string(),
                    minutes: 10,
                },
            );
            assert!(longer.at(0).progress.finish >= usual, "{}", act.title);
        }
    }

    #[test]
    fn nothing_starts_before_what_it_follows_has_ended() {
        let mut kitchen = Kitchen::new();
        kitchen.mark(0, SessionMark::Began);
        let course = kitchen.at(40);
        let runs = |act: &Act| course.progress.pace(act);
        for act in &course.run.acts {
            let follows = course.run.acts.iter().filter(|other| {
                other.end <= act.start && other.batches.iter().any(|batch| act.batches.contains(batch))
            });
            for other in follows {
                assert!(
                    runs(other).end <= runs(act).start,
                    "{} before {}",
                    act.title,
                    other.title
                );
            }
        }
    }

    #[test]
    fn an_act_reopened_is_not_done() {
        let mut kitchen = Kitchen::new();
        let id = kitchen.week.plan.runs[0].acts[0].id.to_string();
        kitchen.mark(0, SessionMark::Began);
        kitchen.mark(
            1,
            SessionMark::Done {
                acts: vec![id.clone()],
            },
        );
        assert_eq!(kitchen.at(1).progress.paces[&ActId::new(&id)].stage, Stage::Done);
        kitchen.mark(2, SessionMark::Reopened { act: id.clone() });
        assert_ne!(kitchen.at(2).progress.paces[&ActId::new(&id)].stage, Stage::Done);
    }

    #[test]
    fn a_stop_never_makes_the_end_later() {
        let mut kitchen = Kitchen::new();
        kitchen.mark(0, SessionMark::Began);
        in_time(&mut kitchen, 10);
        let usual = kitchen.at(10).progress.finish;
        let by = later(begin(&kitchen.week), 60 * 60);
        kitchen.mark(10, SessionMark::Stop { by });
        let course = kitchen.at(10);
        assert!(course.progress.finish <= usual.max(by));
        assert!(course.left_out.is_empty() || course.run.finish <= by);
    }

    #[test]
    fn what_would_follow_changes_nothing() {
        let mut kitchen = Kitchen::new();
        kitchen.mark(0, SessionMark::Began);
        in_time(&mut kitchen, 10);
        let before = kitchen.at(10);
        let cook = before
            .run
            .acts
            .iter()
            .find(|act| act.kind != ActKind::Preheat && !act.who.is_empty())
            .map(|act| act.who[0].to_string())
            .expect("somebody cooks");
        let id = kitchen.week.plan.runs[0].session.clone();
        let now = later(begin(&kitchen.week), 600);
        let mark = SessionMark::Away { cook, minutes: 15 };
        let mut known = Reordered::new();
        let shown = preview(&kitchen.week, &id, &kitchen.entries, (&mark, now), &mut known)
            .expect("a short absence can be made up for");
        assert_eq!(kitchen.at(10), before);
        kitchen.mark(10, mark);
        assert_eq!(kitchen.at(10).run, shown.run);
    }
}
