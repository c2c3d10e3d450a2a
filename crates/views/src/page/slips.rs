//! Slips of a running session: what leaves the heat before a rest and how long the rest may wait; what follows from a
//! change.

use jiff::civil::DateTime;
use larderwright_model::{Act, ActKind, BatchId, Hygiene, Run, SittingId, Snapshot, WeekPlan};
use larderwright_quantity::duration_text;

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
    let short = duration_text(larderwright_quantity::Seconds::from_secs(left.max(0)));
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
        let raw = book
            .way(batch)
            .is_some_and(|(_, way)| way.steps.iter().any(|step| step.hygiene == Hygiene::RawMeat));
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

/// Batches that are not finished any more: what of them has begun, who was to eat from them.
pub type LeftOut = (BatchId, Vec<String>, Vec<SittingId>);

/// What follows from a change, in rows for a slip.
#[must_use]
pub fn consequence(
    (snapshot, plan): (&Snapshot, &WeekPlan),
    (before, after): (DateTime, DateTime),
    (left_out, follows): (&[LeftOut], &[String]),
) -> Consequence {
    let book = Book::new(snapshot, plan);
    let mut rows = Vec::new();
    for (batch, begun, sittings) in left_out {
        let name = book.component_name(batch);
        let state = if begun.is_empty() {
            "is not cooked; what was bought for it stays where it is kept.".to_owned()
        } else {
            format!(
                "is dropped. Done already: {}. Cover what is prepared and put it into the fridge at once, or throw it away.",
                listed(begun).to_lowercase()
            )
        };
        rows.push((name, state));
        let names = book.sitting_names(sittings);
        if !names.is_empty() {
            rows.push((
                "Dinners".into(),
                format!("{} want something else.", listed(&names)),
            ));
        }
    }
    rows.extend(follows.iter().map(|words| ("Then".to_owned(), words.clone())));
    if left_out.is_empty() {
        rows.push(("Dinners".into(), "no change.".into()));
    }
    Consequence {
        finish_before: book.clock(before),
        finish_after: book.clock(after),
        rows,
    }
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

    #[test]
    fn with_nothing_dropped_dinners_stay() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let finish = plan.runs[0].finish;
        let told = consequence((&snapshot, &plan), (finish, finish), (&[], &[]));
        assert_eq!(told.rows, vec![("Dinners".to_owned(), "no change.".to_owned())]);
        assert_eq!(told.finish_before, told.finish_after);
    }

    #[test]
    fn a_dropped_batch_names_its_dinners() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let batch = plan.batches[0].id.clone();
        let sitting = snapshot.sittings[0].id.clone();
        let out = vec![(batch, Vec::new(), vec![sitting])];
        let finish = plan.runs[0].finish;
        let told = consequence((&snapshot, &plan), (finish, finish), (&out, &[]));
        assert!(told.rows[1].1.contains("dinner"), "{:?}", told.rows);
    }
}
