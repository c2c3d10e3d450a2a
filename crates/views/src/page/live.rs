//! A session while it runs: for each cook what is now and next, timers, what is on the heat, and how late it is. How
//! times move with what cooks report is worked out by the caller and comes in as [`Progress`].

use std::collections::BTreeMap;

use jiff::civil::DateTime;
use larderwright_model::{
    Act, ActId, ActKind, CookId, Run, Session, SessionId, Snapshot, Standing, WeekPlan,
};
use larderwright_quantity::{Seconds, duration_text};

use crate::book::{Book, capital, listed};
use crate::page::boxing::{PackOut, pack_out};
use crate::page::session::session_title;
use crate::page::timeline::{Timeline, timeline};
use crate::page::{Block, Named};
use crate::run::{how_much, standing_words};

/// Where an act stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Still to come.
    Ahead,
    /// Going on.
    Now,
    /// Its time is up and nobody has said that it is done.
    Over,
    /// Done.
    Done,
    /// Dropped from the session.
    Dropped,
}

impl Stage {
    /// The word a style sheet knows it by.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Ahead => "ahead",
            Self::Now => "now",
            Self::Over => "over",
            Self::Done => "done",
            Self::Dropped => "dropped",
        }
    }
}

/// When an act really goes, as far as is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pace {
    /// Start.
    pub start: DateTime,
    /// End.
    pub end: DateTime,
    /// Where it stands.
    pub stage: Stage,
}

/// A session as it goes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Progress {
    /// When somebody started it; `None` before.
    pub started: Option<DateTime>,
    /// Since when everything rests.
    pub paused: Option<DateTime>,
    /// Whether somebody ended it.
    pub ended: bool,
    /// The pace of each act.
    pub paces: BTreeMap<ActId, Pace>,
    /// When the last act ends.
    pub finish: DateTime,
}

impl Progress {
    /// Nothing has happened yet: all as planned.
    #[must_use]
    pub fn planned(run: &Run) -> Self {
        let pace = |act: &Act| Pace {
            start: act.start,
            end: act.end,
            stage: Stage::Ahead,
        };
        Self {
            started: None,
            paused: None,
            ended: false,
            paces: run.acts.iter().map(|act| (act.id.clone(), pace(act))).collect(),
            finish: run.finish,
        }
    }

    /// The pace of an act; as planned when nothing is known of it.
    #[must_use]
    pub fn pace(&self, act: &Act) -> Pace {
        self.paces.get(&act.id).copied().unwrap_or(Pace {
            start: act.start,
            end: act.end,
            stage: Stage::Ahead,
        })
    }
}

/// A running session's page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LivePage {
    /// The session's identifier.
    pub session: String,
    /// Title block: clock, done, next timer.
    pub block: Block,
    /// How late, and what that means; empty when in time.
    pub late: String,
    /// Since when everything rests; empty when it does not.
    pub paused: String,
    /// A column for each cook.
    pub cooks: Vec<CookColumn>,
    /// What looks after itself until a bell rings, soonest first.
    pub timers: Vec<Timer>,
    /// What is on the heat.
    pub heat: Vec<Heat>,
    /// The run.
    pub timeline: Timeline,
    /// Seconds until something changes by itself.
    pub changes_in: i64,
    /// What goes into boxes, as far as it is cooked.
    pub pack_out: Vec<PackOut>,
    /// Whether all is done.
    pub all_done: bool,
    /// Whose guidance it repeats.
    pub guidance: String,
}

/// A cook's column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CookColumn {
    /// The cook's identifier.
    pub id: String,
    /// Name.
    pub name: String,
    /// What they are doing.
    pub now: Option<ActCard>,
    /// What follows.
    pub next: Option<ActCard>,
    /// What comes after that, with times.
    pub then: Vec<Named>,
    /// What to say when there is nothing now.
    pub idle: String,
}

/// An act to be read from afar.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ActCard {
    /// Its identifier.
    pub id: String,
    /// Three words or fewer.
    pub title: String,
    /// `until 2:55 pm`, `over by 3 min`, `at 2:55 pm`.
    pub when: String,
    /// What to do.
    pub text: String,
    /// What it takes in hand, and where.
    pub with: String,
    /// How to see that it is done.
    pub cue: String,
    /// Its time is up.
    pub over: bool,
    /// It may begin now: nothing it needs is missing.
    pub may_start: bool,
}

/// How near a timer is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Near {
    /// Runs.
    Waiting,
    /// The next to ring.
    Soon,
    /// Rings.
    Over,
}

/// A timer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Timer {
    /// The act's identifier.
    pub id: String,
    /// What is cooking.
    pub name: String,
    /// What to do when it rings, where and when.
    pub words: String,
    /// Seconds left; negative when over.
    pub left: i64,
    /// `3:10`, `+0:40`.
    pub digits: String,
    /// What is left of it in steps of five per cent.
    pub part: i64,
    /// How near it is.
    pub near: Near,
    /// It is in the oven.
    pub oven: bool,
}

/// A place on the heat.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Heat {
    /// `Oven`, `Burner 2`.
    pub place: String,
    /// What is there.
    pub what: String,
    /// The setting, or until when.
    pub setting: String,
}

/// The page of a session while it runs; `None` when there is no such session.
#[must_use]
pub fn live(
    snapshot: &Snapshot,
    plan: &WeekPlan,
    id: &SessionId,
    (progress, now): (&Progress, DateTime),
) -> Option<LivePage> {
    let book = Book::new(snapshot, plan);
    let run = plan.runs.iter().find(|run| run.session == *id)?;
    let session = snapshot.session(id)?;
    let timers = timers(book, run, progress, now);
    let pack_out = pack_out(book, run, progress);
    Some(LivePage {
        session: id.to_string(),
        block: block(book, session, run, (progress, now), &timers),
        late: late(book, session, run, progress),
        paused: progress.paused.map_or_else(String::new, |since| {
            format!("Resting since {}.", book.clock(since))
        }),
        cooks: cooks(run)
            .into_iter()
            .map(|cook| column(book, run, &cook, (progress, now)))
            .collect(),
        heat: heat(book, run, progress),
        timeline: timeline(book, run, progress, now),
        changes_in: changes_in(run, progress, now),
        all_done: run
            .acts
            .iter()
            .all(|act| matches!(progress.pace(act).stage, Stage::Done | Stage::Dropped)),
        timers,
        pack_out,
        guidance: book.guidance(),
    })
}

/// Those who have something to do, in the order of their first act.
fn cooks(run: &Run) -> Vec<CookId> {
    let mut cooks: Vec<CookId> = Vec::new();
    for cook in run.acts.iter().flat_map(|act| &act.who) {
        if !cooks.contains(cook) {
            cooks.push(cook.clone());
        }
    }
    cooks
}

fn block(
    book: Book<'_>,
    session: &Session,
    run: &Run,
    (progress, now): (&Progress, DateTime),
    timers: &[Timer],
) -> Block {
    let next = timers.iter().find(|timer| timer.near != Near::Waiting);
    let standing = standing(session, run, progress);
    let mut fields = vec![
        Named::new("Clock", book.clock(now)),
        Named::new(
            format!("Done, {}", standing_words(standing)),
            book.clock(progress.finish),
        ),
    ];
    if let Some(timer) = next {
        let name = match timer.near {
            Near::Over => format!("{}, over by", timer.name),
            _ => format!("{}, next timer", timer.name),
        };
        fields.push(Named::new(name, timer.digits.clone()));
    }
    Block {
        title: session_title(session),
        sub: format!(
            "Planned {} to {}, window to {}",
            run.acts
                .iter()
                .map(|act| act.start)
                .min()
                .map_or_else(String::new, |at| book.clock(at)),
            book.clock(run.finish),
            book.clock(session.to)
        ),
        fields,
    }
}

fn standing(session: &Session, run: &Run, progress: &Progress) -> Standing {
    let slack = run
        .finish
        .checked_add(jiff::Span::new().minutes(5))
        .unwrap_or(run.finish);
    if progress.finish > session.to {
        Standing::WontFit
    } else if progress.finish > slack {
        run.standing.max(Standing::Tight)
    } else {
        run.standing
    }
}

fn late(book: Book<'_>, session: &Session, run: &Run, progress: &Progress) -> String {
    let secs = progress.finish.duration_since(run.finish).as_secs();
    if secs < 120 {
        return String::new();
    }
    let by = duration_text(Seconds::from_secs(secs));
    let done = book.clock(progress.finish);
    if progress.finish <= session.to {
        return format!(
            "{by} late. Done at {done}, still before {}. Dinners stay as they are.",
            book.clock(session.to)
        );
    }
    format!(
        "{by} late. Done at {done}, after {}: won't fit. “Must stop” says what to drop and which dinners change.",
        book.clock(session.to)
    )
}

fn column(book: Book<'_>, run: &Run, cook: &CookId, (progress, now): (&Progress, DateTime)) -> CookColumn {
    let mut acts: Vec<(&Act, Pace)> = run
        .acts
        .iter()
        .filter(|act| act.who.contains(cook))
        .map(|act| (act, progress.pace(act)))
        .filter(|(_, pace)| !matches!(pace.stage, Stage::Done | Stage::Dropped))
        .collect();
    acts.sort_by_key(|(act, pace)| (pace.start, act.start));
    let mut acts = acts.into_iter().peekable();
    let current = acts.next_if(|(_, pace)| matches!(pace.stage, Stage::Now | Stage::Over));
    let next = acts.next();
    let idle = match (&current, &next) {
        (Some(_), _) => String::new(),
        (None, Some((_, pace))) => format!("Free until {}", book.clock(pace.start)),
        (None, None) => "All done".into(),
    };
    let then = acts
        .take(2)
        .map(|(act, pace)| Named::new(book.clock(pace.start), act.title.clone()));
    CookColumn {
        id: cook.to_string(),
        name: book.cooks(std::slice::from_ref(cook)),
        then: then.collect(),
        now: current.map(|(act, pace)| card(book, act, pace, (run, progress, now))),
        next: next.map(|(act, pace)| card(book, act, pace, (run, progress, now))),
        idle,
    }
}

fn card(book: Book<'_>, act: &Act, pace: Pace, (run, progress, now): (&Run, &Progress, DateTime)) -> ActCard {
    let over = now.duration_since(pace.end).as_secs();
    let when = match pace.stage {
        Stage::Over | Stage::Now if over >= 60 => {
            format!("over by {}", duration_text(Seconds::from_secs(over)))
        }
        Stage::Now | Stage::Over => format!("until {}", book.clock(pace.end)),
        _ => format!("at {}", book.clock(pace.start)),
    };
    let stations: Vec<String> = act
        .stations
        .iter()
        .map(|station| station.replace(' ', "\u{a0}"))
        .collect();
    let with: Vec<String> = [how_much(book, act), listed(&stations)]
        .into_iter()
        .filter(|words| !words.is_empty())
        .collect();
    ActCard {
        id: act.id.to_string(),
        title: act.title.clone(),
        when,
        text: if act.text == act.title {
            String::new()
        } else {
            act.text.clone()
        },
        with: capital(&with.join(" · ")),
        cue: act.cue.clone(),
        over: pace.stage == Stage::Over,
        may_start: waits_for(run, act, progress).is_empty(),
    }
}

/// Acts that have to end before this one and have not: earlier ones of the same batch or at the same place.
fn waits_for<'a>(run: &'a Run, act: &Act, progress: &Progress) -> Vec<&'a Act> {
    let before = |other: &&Act| {
        other.end <= act.start
            && other.id != act.id
            && (other.batches.iter().any(|batch| act.batches.contains(batch))
                || other
                    .stations
                    .iter()
                    .any(|station| act.stations.contains(station)))
    };
    let open = |other: &&Act| !matches!(progress.pace(other).stage, Stage::Done | Stage::Dropped);
    run.acts.iter().filter(before).filter(open).collect()
}

/// Passive acts that go on, and those whose bell nobody has answered.
fn timers(book: Book<'_>, run: &Run, progress: &Progress, now: DateTime) -> Vec<Timer> {
    let mut running: Vec<(&Act, Pace)> = run
        .acts
        .iter()
        .filter(|act| act.who.is_empty())
        .map(|act| (act, progress.pace(act)))
        .filter(|(_, pace)| matches!(pace.stage, Stage::Now | Stage::Over))
        .collect();
    running.sort_by_key(|(_, pace)| pace.end);
    let soon = running.iter().position(|(_, pace)| pace.end > now);
    let timer = |(at, (act, pace)): (usize, &(&Act, Pace))| {
        let left = pace.end.duration_since(now).as_secs();
        let all = pace.end.duration_since(pace.start).as_secs().max(1);
        let places: Vec<String> = act
            .stations
            .iter()
            .filter(|station| !station.starts_with("pot"))
            .cloned()
            .collect();
        let places = listed(&places);
        let words = format!("{} · {}", act.title.to_lowercase(), book.clock(pace.end));
        Timer {
            id: act.id.to_string(),
            name: timer_name(book, act),
            words: if places.is_empty() {
                words
            } else {
                format!("{words} · {places}")
            },
            left,
            digits: digits(left),
            part: (left.clamp(0, all) * 20 + all - 1) / all * 5,
            near: if left <= 0 {
                Near::Over
            } else if Some(at) == soon {
                Near::Soon
            } else {
                Near::Waiting
            },
            oven: act.oven.is_some() || act.kind == ActKind::Preheat,
        }
    };
    running.iter().enumerate().map(timer).collect()
}

fn timer_name(book: Book<'_>, act: &Act) -> String {
    match act.batches.as_slice() {
        [] => act.title.clone(),
        [one] => book.component_name(one),
        [one, ..] => format!("{} and more", book.component_name(one)),
    }
}

/// `3:10`, `1:03:10`, `+0:40`.
fn digits(left: i64) -> String {
    let (sign, secs) = if left <= 0 { ("+", -left) } else { ("", left) };
    let (hours, minutes, seconds) = (secs / 3600, secs / 60 % 60, secs % 60);
    if hours > 0 {
        format!("{sign}{hours}:{minutes:02}:{seconds:02}")
    } else {
        format!("{sign}{minutes}:{seconds:02}")
    }
}

fn heat(book: Book<'_>, run: &Run, progress: &Progress) -> Vec<Heat> {
    let mut heat: Vec<(u8, Heat)> = Vec::new();
    for act in &run.acts {
        let pace = progress.pace(act);
        if !matches!(pace.stage, Stage::Now | Stage::Over) {
            continue;
        }
        let burner = act.stations.iter().find(|station| station.starts_with("burner"));
        let oven =
            act.kind == ActKind::Preheat || act.stations.iter().any(|station| station.starts_with("rack"));
        if oven {
            heat.push((
                0,
                Heat {
                    place: "Oven".into(),
                    what: act.title.clone(),
                    setting: act
                        .oven
                        .map_or_else(String::new, |degrees| book.temperature(degrees)),
                },
            ));
        } else if let Some(burner) = burner {
            heat.push((
                1,
                Heat {
                    place: capital(burner),
                    what: act.title.clone(),
                    setting: format!("until {}", book.clock(pace.end)),
                },
            ));
        }
    }
    heat.sort_by(|one, other| (one.0, &one.1.place).cmp(&(other.0, &other.1.place)));
    heat.into_iter().map(|(_, place)| place).collect()
}

/// Seconds until an act starts or ends.
fn changes_in(run: &Run, progress: &Progress, now: DateTime) -> i64 {
    let paces = run.acts.iter().map(|act| progress.pace(act));
    let open = paces.filter(|pace| !matches!(pace.stage, Stage::Done | Stage::Dropped));
    let times = open.flat_map(|pace| [pace.start, pace.end]);
    let ahead = times
        .map(|at| at.duration_since(now).as_secs())
        .filter(|secs| *secs > 0);
    ahead.min().unwrap_or(60).clamp(1, 60)
}

#[cfg(test)]
mod tests {
    use larderwright_model::BatchId;
    use larderwright_testkit::sample;

    use super::*;

    fn parts() -> (Snapshot, WeekPlan, SessionId) {
        let plan = sample::plan();
        let id = plan.runs[0].session.clone();
        (sample::snapshot(), plan, id)
    }

    #[test]
    fn a_timer_counts_down_and_then_up() {
        assert_eq!(digits(190), "3:10");
        assert_eq!(digits(3790), "1:03:10");
        assert_eq!(digits(-40), "+0:40");
        assert_eq!(digits(0), "+0:00");
    }

    #[test]
    fn before_anything_is_now_every_cook_is_free_until_the_first_act() {
        let (snapshot, plan, id) = parts();
        let progress = Progress::planned(&plan.runs[0]);
        let page = live(&snapshot, &plan, &id, (&progress, plan.runs[0].acts[0].start)).expect("it runs");
        assert!(!page.cooks.is_empty());
        for cook in &page.cooks {
            assert!(cook.now.is_none() && cook.next.is_some(), "{}", cook.name);
            assert!(cook.idle.starts_with("Free until"), "{}", cook.idle);
        }
        assert!(page.timers.is_empty() && page.heat.is_empty() && page.late.is_empty());
    }

    #[test]
    fn what_goes_on_is_shown_where_it_belongs() {
        let (snapshot, plan, id) = parts();
        let run = &plan.runs[0];
        let mut progress = Progress::planned(run);
        for pace in progress.paces.values_mut() {
            pace.stage = Stage::Now;
        }
        let page = live(&snapshot, &plan, &id, (&progress, run.acts[0].start)).expect("it runs");
        assert!(page.cooks.iter().all(|cook| cook.now.is_some()));
        let passive = run.acts.iter().filter(|act| act.who.is_empty()).count();
        assert_eq!(page.timers.len(), passive);
        assert_eq!(
            page.timers
                .iter()
                .filter(|timer| timer.near == Near::Soon)
                .count(),
            usize::from(passive > 0)
        );
    }

    #[test]
    fn lateness_past_the_window_says_that_it_will_not_fit() {
        let (snapshot, plan, id) = parts();
        let run = &plan.runs[0];
        let session = snapshot.session(&id).expect("the session is there");
        let mut progress = Progress::planned(run);
        progress.finish = run
            .finish
            .checked_add(jiff::Span::new().minutes(3))
            .expect("later");
        let words = |progress: &Progress| late(Book::new(&snapshot, &plan), session, run, progress);
        assert!(
            words(&progress).contains("3\u{a0}min late"),
            "{}",
            words(&progress)
        );
        progress.finish = session
            .to
            .checked_add(jiff::Span::new().minutes(1))
            .expect("later");
        assert!(words(&progress).contains("won't fit"), "{}", words(&progress));
    }

    #[test]
    fn only_what_is_cooked_is_packed_out() {
        let (snapshot, plan, id) = parts();
        let run = &plan.runs[0];
        let mut progress = Progress::planned(run);
        let page =
            |progress: &Progress| live(&snapshot, &plan, &id, (progress, run.finish)).expect("it runs");
        assert!(page(&progress).pack_out.is_empty());
        for act in run.acts.iter().filter(|act| act.kind == ActKind::Step) {
            let pace = progress.paces.get_mut(&act.id).expect("every act has a pace");
            pace.stage = Stage::Done;
        }
        let packed: Vec<BatchId> = page(&progress)
            .pack_out
            .iter()
            .map(|line| line.batch.as_str().into())
            .collect();
        assert!(!packed.is_empty());
        assert!(
            packed
                .iter()
                .all(|id| plan.batches.iter().any(|batch| batch.id == *id))
        );
    }
}
