//! Changes of a week: what can be changed, and what follows when a draft is laid beside the week.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::DateTime;
use larderwright_model::{Conflict, Meal, Sitting, Snapshot, WeekPlan};
use larderwright_quantity::{Mass, Seconds, duration_text};

use crate::book::Book;
use crate::order::total;
use crate::page::session::session_title;

/// What can be changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChangesPage {
    /// Sittings that are still to come.
    pub sittings: Vec<SittingChoice>,
    /// Meals that fit the sitting that was chosen first.
    pub meals: Vec<(String, String)>,
    /// Meals of this week, to be switched off.
    pub served: Vec<(String, String)>,
    /// Sessions that are still to come: identifier, name, start of the window as `13:00`.
    pub sessions: Vec<(String, String, String)>,
}

/// A sitting that can be changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SittingChoice {
    /// Its identifier.
    pub id: String,
    /// `Mon 30 Nov dinner: Mexican bean bowl`.
    pub name: String,
}

/// What can be changed from a moment on; meals are those that fit the chosen sitting.
#[must_use]
pub fn changes(snapshot: &Snapshot, plan: &WeekPlan, (chosen, now): (Option<&str>, DateTime)) -> ChangesPage {
    let book = Book::new(snapshot, plan);
    let ahead: Vec<&Sitting> = snapshot
        .sittings
        .iter()
        .filter(|sitting| sitting.leaves_fridge() > now)
        .collect();
    let sitting = ahead
        .iter()
        .find(|sitting| Some(sitting.id.as_str()) == chosen)
        .or(ahead.first());
    let fits =
        |meal: &&Meal| sitting.is_some_and(|sitting| meal.at.iter().any(|at| sitting.serves().contains(at)));
    let pair = |meal: &Meal| (meal.id.to_string(), meal.name.clone());
    let served: BTreeSet<_> = plan.menu.choices.iter().map(|choice| &choice.meal).collect();
    let mut meals: Vec<(String, String)> = snapshot.meals.values().filter(fits).map(pair).collect();
    meals.sort_by(|one, other| one.1.cmp(&other.1));
    ChangesPage {
        sittings: ahead
            .iter()
            .map(|sitting| SittingChoice {
                id: sitting.id.to_string(),
                name: format!(
                    "{}: {}",
                    book.sitting_name(&sitting.id),
                    book.meal_name(&sitting.id)
                ),
            })
            .collect(),
        meals,
        served: served
            .into_iter()
            .filter_map(|id| snapshot.meals.get(id))
            .map(pair)
            .collect(),
        sessions: snapshot
            .sessions
            .iter()
            .filter(|session| session.from > now)
            .map(|session| {
                (
                    session.id.to_string(),
                    session_title(session),
                    format!("{:02}:{:02}", session.from.hour(), session.from.minute()),
                )
            })
            .collect(),
    }
}

/// A figure or word before and after; equal ones say that nothing changes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Compared {
    /// What.
    pub name: String,
    /// As it is.
    pub before: String,
    /// As it would be.
    pub after: String,
}

/// What follows from a draft, most important first.
#[must_use]
pub fn compare(
    (old_snapshot, old): (&Snapshot, &WeekPlan),
    (new_snapshot, new): (&Snapshot, &WeekPlan),
) -> Vec<Compared> {
    let (before, after) = (Book::new(old_snapshot, old), Book::new(new_snapshot, new));
    let mut rows = sittings(before, after);
    rows.extend(food(before, after));
    rows.extend(sessions(before, after));
    rows.extend(batches(before, after));
    let row = |name: &str, before: String, after: String| Compared {
        name: name.into(),
        before,
        after,
    };
    rows.push(row(
        "To buy",
        before.money(total(&old.order.lines)),
        after.money(total(&new.order.lines)),
    ));
    rows.push(row("Hands", hands(old), hands(new)));
    rows
}

fn hands(plan: &WeekPlan) -> String {
    let acts = plan.runs.iter().flat_map(|run| &run.acts);
    let secs = acts.map(|act| act.length().secs() * i64::try_from(act.who.len()).unwrap_or(0));
    duration_text(Seconds::from_secs(secs.sum()))
}

/// Sittings whose meal or number of plates changes.
fn sittings(before: Book<'_>, after: Book<'_>) -> Vec<Compared> {
    let words = |book: Book<'_>, sitting: &Sitting| {
        let plates = book.plates(&sitting.id).count();
        match plates {
            0 => "nobody in".to_owned(),
            plates => format!(
                "{}, {}",
                book.meal_name(&sitting.id),
                crate::book::counted(plates, "plate", "plates")
            ),
        }
    };
    let mut rows = Vec::new();
    for sitting in &before.snapshot.sittings {
        let old = words(before, sitting);
        let new = after
            .snapshot
            .sitting(&sitting.id)
            .map_or_else(|| "nobody in".to_owned(), |sitting| words(after, sitting));
        if old != new {
            rows.push(Compared {
                name: before.sitting_name(&sitting.id),
                before: old,
                after: new,
            });
        }
    }
    rows
}

fn sessions(before: Book<'_>, after: Book<'_>) -> Vec<Compared> {
    let words = |book: Book<'_>, id: &larderwright_model::SessionId| {
        let run = book
            .plan
            .runs
            .iter()
            .find(|run| run.session == *id && !run.acts.is_empty());
        run.map_or_else(
            || "nothing to cook".to_owned(),
            |run| {
                let start = run.acts.iter().map(|act| act.start).min().unwrap_or(run.finish);
                format!("{} to {}", book.when(start), book.clock(run.finish))
            },
        )
    };
    let all = before.snapshot.sessions.iter();
    all.map(|session| Compared {
        name: session_title(session),
        before: words(before, &session.id),
        after: words(after, &session.id),
    })
    .collect()
}

/// Components of which another amount is cooked.
fn batches(before: Book<'_>, after: Book<'_>) -> Vec<Compared> {
    let amounts = |book: Book<'_>| {
        let mut amounts: BTreeMap<String, Mass> = BTreeMap::new();
        for batch in &book.plan.batches {
            *amounts
                .entry(book.component_name(&batch.id))
                .or_insert(Mass::ZERO) += batch.yields[1];
        }
        amounts
    };
    let (old, new) = (amounts(before), amounts(after));
    let names: BTreeSet<&String> = old.keys().chain(new.keys()).collect();
    let words = |book: Book<'_>, mass: Option<&Mass>| {
        mass.map_or_else(|| "not cooked".to_owned(), |mass| book.mass(*mass))
    };
    names
        .into_iter()
        .map(|name| Compared {
            name: name.clone(),
            before: words(before, old.get(name)),
            after: words(after, new.get(name)),
        })
        .filter(|row| row.before != row.after)
        .collect()
}

/// What becomes of food that is in the house: who eats each lot, before and after.
fn food(before: Book<'_>, after: Book<'_>) -> Vec<Compared> {
    let eaten = |book: Book<'_>, lot: &larderwright_model::StoredLot| {
        let draws = |sitting: &&Sitting| book.drawn(&lot.id, &sitting.id).is_positive();
        let sittings = book.snapshot.sittings.iter().filter(draws);
        let names: Vec<String> = sittings.map(|sitting| book.sitting_name(&sitting.id)).collect();
        if names.is_empty() {
            format!(
                "nobody plans to eat it; use by {}",
                crate::words::Words::of(&book.snapshot.household).until(lot.keep.use_by)
            )
        } else {
            crate::book::listed(&names)
        }
    };
    let lots = after.snapshot.lots.iter();
    let row = |lot: &larderwright_model::StoredLot| Compared {
        name: format!("{}, {}", after.lot_name(&lot.id), after.mass(lot.mass)),
        before: eaten(before, lot),
        after: eaten(after, lot),
    };
    lots.map(row).filter(|row| row.before != row.after).collect()
}

/// What of a week still lies ahead at a moment, to be compared with a plan made for that rest alone.
#[must_use]
pub fn ahead(snapshot: &Snapshot, plan: &WeekPlan, now: DateTime) -> (Snapshot, WeekPlan) {
    let (mut snapshot, mut plan) = (snapshot.clone(), plan.clone());
    snapshot.sittings.retain(|sitting| sitting.leaves_fridge() >= now);
    snapshot.sessions.retain(|session| session.from >= now);
    snapshot.shops.retain(|shop| shop.at >= now);
    let (sessions, shops) = (&snapshot.sessions, &snapshot.shops);
    plan.runs
        .retain(|run| sessions.iter().any(|session| session.id == run.session));
    plan.batches
        .retain(|batch| sessions.iter().any(|session| session.id == batch.session));
    plan.order
        .lines
        .retain(|line| shops.iter().any(|shop| shop.id == line.shop));
    (snapshot, plan)
}

/// A conflict in rows: the wishes that collide, and what would mend it.
#[must_use]
pub fn conflict_rows(conflict: &Conflict) -> Vec<(String, String)> {
    let wishes = conflict
        .wishes
        .iter()
        .map(|wish| ("Wish".to_owned(), wish.clone()));
    let mends = conflict
        .mends
        .iter()
        .map(|mend| ("Would mend it".to_owned(), mend.clone()));
    wishes.chain(mends).collect()
}

/// `Mon 30 Nov dinner`, or the identifier when there is no such sitting.
#[must_use]
pub fn sitting_words(snapshot: &Snapshot, plan: &WeekPlan, id: &str) -> String {
    Book::new(snapshot, plan).sitting_name(&id.into())
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;
    use larderwright_testkit::sample;

    use super::*;

    #[test]
    fn a_week_beside_itself_changes_nothing() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let rows = compare((&snapshot, &plan), (&snapshot, &plan));
        assert!(rows.iter().all(|row| row.before == row.after), "{rows:?}");
    }

    #[test]
    fn a_sitting_that_falls_out_is_told() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let mut other = plan.clone();
        let gone = snapshot.sittings[0].id.clone();
        other.plates.retain(|plate| plate.sitting != gone);
        let rows = compare((&snapshot, &plan), (&snapshot, &other));
        assert_eq!(rows[0].after, "nobody in");
    }

    #[test]
    fn only_what_lies_ahead_can_be_changed() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let all = changes(&snapshot, &plan, (None, date(2026, 11, 1).at(0, 0, 0, 0)));
        assert_eq!(all.sittings.len(), snapshot.sittings.len());
        assert!(!all.meals.is_empty());
        let none = changes(&snapshot, &plan, (None, date(2027, 1, 1).at(0, 0, 0, 0)));
        assert!(none.sittings.is_empty() && none.sessions.is_empty());
    }
}
