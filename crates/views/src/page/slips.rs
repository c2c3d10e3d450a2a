//! Slips of a running session: what leaves the heat before a rest and how long the rest may wait; what follows from a
//! change.

use std::collections::BTreeSet;

use jiff::civil::DateTime;
use larderwright_model::{Act, ActKind, Batch, BatchId, Hygiene, LeftOut, Run, Snapshot, WeekPlan};
use larderwright_quantity::{Seconds, duration_text};

use crate::book::{Book, capital, listed};
use crate::page::Block;
use crate::page::live::{Progress, Stage};

/// What to do before everything rests.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RestPage {
    /// Title block.
    pub block: Block,
    /// What leaves the heat, most pressing first.
    pub offs: Vec<Off>,
    /// What may wait.
    pub waits: Vec<Wait>,
    /// Whose guidance it repeats.
    pub guidance: String,
}

/// Something that leaves the heat.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Off {
    /// What.
    pub what: String,
    /// Where it is.
    pub place: String,
    /// `off now`, `turn it off, door shut`.
    pub how: String,
    /// What becomes of it.
    pub then: String,
}

/// Something that may wait.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wait {
    /// What.
    pub what: String,
    /// Where it waits.
    pub how: String,
    /// Until when.
    pub until: String,
}

/// What a rest asks for at a moment.
#[must_use]
pub fn rest(
    (snapshot, plan): (&Snapshot, &WeekPlan),
    run: &Run,
    (progress, now): (&Progress, DateTime),
) -> RestPage {
    let book = Book::new(snapshot, plan);
    let going = |act: &&Act| matches!(progress.pace(act).stage, Stage::Now | Stage::Over);
    let mut hot: Vec<&Act> = run.acts.iter().filter(going).filter(|act| on_heat(act)).collect();
    hot.sort_by_key(|act| (in_oven(act), progress.pace(act).end));
    let offs: Vec<Off> = hot.iter().map(|act| off(act, (progress, now))).collect();
    RestPage {
        block: Block {
            title: format!("Pausing at {}", book.clock(now)),
            sub: match offs.len() {
                0 => "Nothing is on the heat.".into(),
                1 => "One thing leaves the heat first.".into(),
                count => format!("{count} things leave the heat first."),
            },
            fields: Vec::new(),
        },
        waits: waits(book, run, (progress, now)),
        offs,
        guidance: book.guidance(),
    }
}

fn in_oven(act: &Act) -> bool {
    act.kind == ActKind::Preheat || act.stations.iter().any(|station| station.starts_with("rack"))
}

fn on_heat(act: &Act) -> bool {
    in_oven(act) || act.stations.iter().any(|station| station.starts_with("burner"))
}

fn off(act: &Act, (progress, now): (&Progress, DateTime)) -> Off {
    let left = progress.pace(act).end.duration_since(now).as_secs();
    let short = duration_text(Seconds::from_secs(left.max(0)));
    let place = if in_oven(act) {
        "Oven".to_owned()
    } else {
        let burner = act.stations.iter().find(|station| station.starts_with("burner"));
        burner.map_or_else(String::new, |burner| capital(burner))
    };
    let how = if act.kind == ActKind::Preheat {
        "turn it off"
    } else if in_oven(act) {
        "turn it off, door shut"
    } else {
        "off now, lid on"
    };
    let then = match act.kind {
        ActKind::Preheat => "It heats up again when you carry on.".to_owned(),
        _ if left > 60 => {
            format!("It is {short} short, and finishes when you carry on. Bring it back to the heat first.")
        }
        _ => "Its time is up: look at it before you go.".to_owned(),
    };
    Off {
        what: act.title.clone(),
        place,
        how: how.into(),
        then,
    }
}

/// Perishable food in hand may stand for so long as guidance says, and no longer.
fn waits(book: Book<'_>, run: &Run, (progress, now): (&Progress, DateTime)) -> Vec<Wait> {
    let limits = larderwright_safety::limits(book.plan.profile);
    let limit = jiff::Span::new().seconds(limits.out_of_fridge_max.secs());
    let mut waits: Vec<Wait> = Vec::new();
    for batch in book.batches(&run.session) {
        let acts: Vec<&Act> = run
            .acts
            .iter()
            .filter(|act| act.batches.contains(&batch.id))
            .collect();
        let stage = |act: &&&Act| progress.pace(act).stage;
        let begun = acts.iter().any(|act| stage(&act) != Stage::Ahead);
        let boxed = acts
            .iter()
            .any(|act| act.kind == ActKind::PackOut && stage(&act) == Stage::Done);
        let dropped = acts.iter().all(|act| stage(&act) == Stage::Dropped);
        if !begun
            || boxed
            || dropped
            || acts
                .iter()
                .any(|act| on_heat(act) && matches!(stage(&act), Stage::Now | Stage::Over))
        {
            continue;
        }
        let last = acts
            .iter()
            .filter(|act| stage(act) == Stage::Done)
            .map(|act| progress.pace(act).end)
            .max();
        let from = last.unwrap_or(now);
        let until = from.checked_add(limit).unwrap_or(from);
        let raw = raw_meat(book, batch);
        let how = if raw {
            "into the fridge, covered, on the bottom shelf"
        } else {
            "covered; longer than that: into the fridge"
        };
        waits.push(Wait {
            what: book.component_name(&batch.id),
            how: how.into(),
            until: if raw {
                "at once".into()
            } else {
                format!("until {}", book.clock(until.max(now)))
            },
        });
    }
    waits
}

/// What follows from a change.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Consequence {
    /// When the session would have ended.
    pub finish_before: String,
    /// When it ends with the change.
    pub finish_after: String,
    /// What becomes of food and dinners.
    pub rows: Vec<(String, String)>,
}

/// A session put in order anew.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Anew {
    /// When it would have ended, and when it ends now.
    pub ends: (DateTime, DateTime),
    /// Batches that are not finished any more.
    pub left_out: Vec<LeftOut>,
    /// Of these, what went wrong and is no food any more.
    pub lost: BTreeSet<BatchId>,
    /// Minutes after the time at which everything is to be over.
    pub late_min: i64,
    /// Minutes that some food waits longer than its recipe says.
    pub overdue_min: i64,
}

/// What follows from a change, in rows for a slip.
#[must_use]
pub fn consequence((snapshot, plan): (&Snapshot, &WeekPlan), anew: &Anew) -> Consequence {
    let book = Book::new(snapshot, plan);
    let mut rows = Vec::new();
    if anew.late_min > 0 {
        let late = duration_text(Seconds::from_secs(anew.late_min * 60));
        rows.push((
            "Late".to_owned(),
            format!("{late} later than there is time for: nothing ends sooner."),
        ));
    }
    for out in &anew.left_out {
        let becomes = if anew.lost.contains(&out.batch) {
            "is lost: throw it away.".to_owned()
        } else {
            becomes(book, out)
        };
        rows.push((book.component_name(&out.batch), becomes));
        let names = book.sitting_names(&out.sittings);
        if !names.is_empty() {
            rows.push(("Meals".into(), format!("{} want something else.", listed(&names))));
        }
    }
    if anew.overdue_min > 0 {
        let waits = duration_text(Seconds::from_secs(anew.overdue_min * 60));
        rows.push((
            "Waiting".into(),
            format!(
                "something waits {waits} longer than its recipe says: keep it hot or cold, not in between."
            ),
        ));
    }
    if anew.left_out.is_empty() {
        rows.push(("Meals".into(), "no change.".into()));
    }
    Consequence {
        finish_before: book.clock(anew.ends.0),
        finish_after: book.clock(anew.ends.1),
        rows,
    }
}

/// What becomes of food that is not finished any more.
fn becomes(book: Book<'_>, out: &LeftOut) -> String {
    if out.begun.is_empty() {
        return "is not cooked; what was bought for it stays where it is kept.".to_owned();
    }
    let done = listed(&out.begun).to_lowercase();
    let batch = book.plan.batches.iter().find(|batch| batch.id == out.batch);
    if out.hot && batch.is_some_and(|batch| raw_meat(book, batch)) {
        return format!(
            "comes off the heat and is thrown away. Done already: {done}. Guidance says never to keep half-cooked meat, poultry or \
             fish (USDA FSIS, from memory)."
        );
    }
    if out.hot {
        return format!(
            "comes off the heat half cooked. Done already: {done}. Cool it at once as if it were done and cook it through \
             tomorrow, or throw it away (common practice, no source)."
        );
    }
    format!(
        "is dropped. Done already: {done}. Cover what is prepared and put it into the fridge at once, or throw it away."
    )
}

/// Whether raw meat goes into a batch.
fn raw_meat(book: Book<'_>, batch: &Batch) -> bool {
    book.way(batch)
        .is_some_and(|(_, way)| way.steps.iter().any(|step| step.hygiene == Hygiene::RawMeat))
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;

    #[test]
    fn everything_on_the_heat_is_told_and_nothing_else() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let run = &plan.runs[0];
        let mut progress = Progress::planned(run);
        for pace in progress.paces.values_mut() {
            pace.stage = Stage::Now;
        }
        let page = rest((&snapshot, &plan), run, (&progress, run.acts[0].start));
        assert_eq!(
            page.offs.len(),
            run.acts.iter().filter(|act| on_heat(act)).count()
        );
        assert!(page.offs.iter().all(|off| !off.place.is_empty()));
    }

    fn anew(left_out: Vec<LeftOut>, lost: bool) -> Anew {
        let finish = sample::plan().runs[0].finish;
        Anew {
            ends: (finish, finish),
            lost: left_out
                .iter()
                .filter(|_| lost)
                .map(|out| out.batch.clone())
                .collect(),
            left_out,
            late_min: 0,
            overdue_min: 0,
        }
    }

    #[test]
    fn with_nothing_dropped_dinners_stay() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let told = consequence((&snapshot, &plan), &anew(Vec::new(), false));
        assert_eq!(told.rows, vec![("Meals".to_owned(), "no change.".to_owned())]);
        assert_eq!(told.finish_before, told.finish_after);
    }

    #[test]
    fn a_dropped_batch_says_what_becomes_of_it_and_names_its_dinners() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let out = |hot, begun: &[&str]| LeftOut {
            batch: plan.batches[0].id.clone(),
            begun: begun.iter().map(|&title| title.to_owned()).collect(),
            hot,
            sittings: vec![snapshot.sittings[0].id.clone()],
        };
        for (out, lost, words) in [
            (out(false, &[]), false, "stays where it is kept"),
            (out(false, &["Peel"]), false, "into the fridge at once"),
            (out(true, &["Simmer"]), false, "comes off the heat"),
            (out(true, &["Simmer"]), true, "throw it away"),
        ] {
            let told = consequence((&snapshot, &plan), &anew(vec![out], lost));
            assert!(told.rows[0].1.contains(words), "{:?}", told.rows);
            assert!(told.rows[1].1.contains("dinner"), "{:?}", told.rows);
        }
    }
}
