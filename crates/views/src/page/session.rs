//! A session before it starts: what to have ready, what starts the day before, the run, and what decides when it is
//! done.

use std::collections::BTreeMap;

use jiff::civil::DateTime;
use larderwright_model::{CoolingMethod, Session, SessionId, Snapshot, WeekPlan};

use crate::book::{Book, capital, counted, day, listed};
use crate::page::cooling::{BatchCooling, cooling};
use crate::page::live::Progress;
use crate::page::timeline::{Timeline, timeline};
use crate::page::{Block, Named, Todo};
use crate::run::{finish_words, standing_words};
use crate::sheet::{Section, SheetKind};

/// A session's page before it starts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SessionPage {
    /// Its identifier.
    pub id: String,
    /// Title block.
    pub block: Block,
    /// When it is done, how surely, and what decides that.
    pub finish: String,
    /// Work before the day.
    pub leads: Vec<Todo>,
    /// What to have ready.
    pub preflight: Vec<Named>,
    /// The run.
    pub timeline: Timeline,
    /// How each batch gets cold.
    pub cooling: Vec<BatchCooling>,
    /// The run by the clock, and the cooling log.
    pub sections: Vec<Section>,
    /// Other sessions of the week, with their names.
    pub others: Vec<(String, String)>,
    /// Whose guidance it repeats.
    pub guidance: String,
}

/// `Sunday session`.
#[must_use]
pub fn session_title(session: &Session) -> String {
    const DAYS: [&str; 7] = [
        "Monday",
        "Tuesday",
        "Wednesday",
        "Thursday",
        "Friday",
        "Saturday",
        "Sunday",
    ];
    let weekday = session.from.weekday().to_monday_zero_offset();
    let name = usize::try_from(weekday).ok().and_then(|at| DAYS.get(at)).copied();
    format!("{} session", name.unwrap_or("The"))
}

/// The session that is next at a moment, or the last one; one that began today counts as next until midnight.
#[must_use]
pub fn next(plan: &WeekPlan, snapshot: &Snapshot, now: DateTime) -> Option<SessionId> {
    let run = |session: &&Session| {
        plan.runs
            .iter()
            .any(|run| run.session == session.id && !run.acts.is_empty())
    };
    let sessions: Vec<&Session> = snapshot.sessions.iter().filter(run).collect();
    let next = sessions.iter().find(|session| session.to.date() >= now.date());
    next.or(sessions.last()).map(|session| session.id.clone())
}

/// The page of a session; `None` when there is none.
#[must_use]
pub fn session(snapshot: &Snapshot, plan: &WeekPlan, id: &SessionId, now: DateTime) -> Option<SessionPage> {
    let book = Book::new(snapshot, plan);
    let run = plan.runs.iter().find(|run| run.session == *id)?;
    let session = snapshot.session(id)?;
    let start = run.acts.iter().map(|act| act.start).min().unwrap_or(run.finish);
    let one = WeekPlan {
        runs: vec![run.clone()],
        ..plan.clone()
    };
    let sheet = crate::build(SheetKind::Run, snapshot, &one);
    Some(SessionPage {
        id: id.to_string(),
        block: Block {
            title: session_title(session),
            sub: format!("{}, {}", day(session.from.date()), book.cooks(&session.cooks)),
            fields: vec![
                Named::new("Start", book.clock(start)),
                Named::new(
                    format!("Done, {}", standing_words(run.standing)),
                    book.clock(run.finish),
                ),
                Named::new("Batches", book.batches(&session.id).count().to_string()),
                Named::new("Window ends", book.clock(session.to)),
            ],
        },
        finish: finish_words(book, run),
        leads: run
            .leads
            .iter()
            .map(|lead| Todo {
                when: book.when(lead.at),
                title: lead.title.clone(),
                text: format!("{} At the latest {}.", lead.text, book.when(lead.latest)),
            })
            .collect(),
        preflight: preflight(book, session),
        timeline: timeline(book, run, &Progress::planned(run), now),
        cooling: cooling(snapshot, plan, id),
        sections: sheet
            .sections
            .into_iter()
            .filter(|section| section.title != "Before the day")
            .collect(),
        others: book
            .sessions()
            .filter(|other| other.id != session.id)
            .map(|other| {
                (
                    other.id.to_string(),
                    format!("{}, {}", session_title(other), day(other.from.date())),
                )
            })
            .collect(),
        guidance: book.guidance(),
    })
}

/// Boxes by kind against those there are, room in fridge and freezer, ice, and the sink.
fn preflight(book: Book<'_>, session: &Session) -> Vec<Named> {
    let kitchen = &book.snapshot.household.kitchen;
    let lots: Vec<_> = book
        .batches(&session.id)
        .flat_map(|batch| book.lots(&batch.id))
        .collect();
    let mut boxes: BTreeMap<&str, u32> = BTreeMap::new();
    for (kind, count) in lots.iter().flat_map(|lot| &lot.boxes) {
        *boxes.entry(kind.as_str()).or_default() += count;
    }
    let mut ready = Vec::new();
    for kind in &kitchen.boxes {
        if let Some(count) = boxes.get(kind.id.as_str()) {
            ready.push(Named::new(
                capital(&kind.name),
                format!("{count} clean, with lids; you own {}", kind.count),
            ));
        }
    }
    let labels: u32 = boxes.values().sum();
    ready.push(Named::new(
        "Labels or tape",
        format!("{labels}, and a pen that does not rub off"),
    ));
    let ice: Vec<String> = lots
        .iter()
        .filter(|lot| matches!(lot.cooling, CoolingMethod::IceBath | CoolingMethod::ColdWater))
        .map(|lot| book.component_name(&lot.origin).to_lowercase())
        .collect::<std::collections::BTreeSet<_>>()
        .into_iter()
        .collect();
    if !ice.is_empty() {
        ready.push(Named::new(
            "Ice or very cold water",
            format!("for {}", listed(&ice)),
        ));
    }
    let frozen = lots
        .iter()
        .filter(|lot| lot.place == larderwright_model::Place::Freezer)
        .count();
    ready.push(Named::new(
        "Room in the cold",
        format!(
            "{} in the fridge, {} in the freezer",
            counted(lots.len() - frozen, "lot", "lots"),
            counted(frozen, "lot", "lots")
        ),
    ));
    ready.push(Named::new("Sink", "empty, hot water, soap, fresh cloths"));
    ready
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;
    use larderwright_testkit::sample;

    use super::*;

    fn page() -> SessionPage {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let id = plan.runs[0].session.clone();
        session(&snapshot, &plan, &id, date(2026, 11, 27).at(9, 0, 0, 0)).expect("it is in the sample")
    }

    #[test]
    fn boxes_to_have_ready_are_those_of_the_lots() {
        let plan = sample::plan();
        let boxes: u32 = plan
            .lots
            .iter()
            .flat_map(|lot| &lot.boxes)
            .map(|(_, count)| count)
            .sum();
        let page = page();
        let tape = page
            .preflight
            .iter()
            .find(|named| named.name == "Labels or tape")
            .expect("tape is always wanted");
        assert!(tape.value.starts_with(&format!("{boxes},")), "{}", tape.value);
    }

    #[test]
    fn what_decides_the_finish_is_said() {
        assert!(page().finish.contains("because of"), "{}", page().finish);
    }

    #[test]
    fn a_session_is_named_after_its_day() {
        assert_eq!(page().block.title, "Sunday session");
    }

    #[test]
    fn a_session_of_today_is_still_the_next_one() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let id = plan.runs[0].session.clone();
        let late = date(2026, 11, 29).at(23, 0, 0, 0);
        assert_eq!(next(&plan, &snapshot, late), Some(id));
    }
}
