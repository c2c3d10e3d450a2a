//! The review: what the week was meant to cost in money, hours and waste, and what it did.

use larderwright_model::{Fate, Snapshot, WeekPlan};
use larderwright_quantity::{Mass, Money, Rounding, Seconds, duration_text, mul_div};

use crate::book::Book;
use crate::order::total;
use crate::page::week::left_of;
use crate::page::{Block, Named, Told};
use crate::words::Words;

/// What was reported of a week, and presumed where nobody said anything.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Happened {
    /// Plates eaten.
    pub plates: u32,
    /// Of these, plates that nobody reported.
    pub presumed: u32,
    /// What was paid.
    pub spent: Option<Money>,
    /// Whether a part of that is an estimate.
    pub estimated: bool,
    /// The worth of what was eaten, in thousandths of the smallest unit of money.
    pub eaten_worth: i64,
    /// What was thrown away: name, why, how much, worth in thousandths.
    pub waste: Vec<(String, String, Mass, i64)>,
    /// What nobody can explain; positive when it vanished.
    pub unaccounted: Mass,
    /// Given away.
    pub given: Mass,
    /// Minutes of sessions: title, planned, real where somebody said so.
    pub sessions: Vec<(String, i64, Option<i64>)>,
    /// What the household's own weeks teach.
    pub learnt: Vec<String>,
    /// The week is closed.
    pub closed: bool,
}

/// The review page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReviewPage {
    /// Title block.
    pub block: Block,
    /// Planned figures with what was reported, where anything was.
    pub rows: Vec<ReviewRow>,
    /// What was thrown away.
    pub waste: Vec<Told>,
    /// What was learnt, for the weeks to come.
    pub learnt: Vec<String>,
    /// What the figures rest on.
    pub words: String,
    /// The week is closed.
    pub closed: bool,
}

/// A figure of the review.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReviewRow {
    /// What.
    pub name: String,
    /// As planned.
    pub planned: String,
    /// As reported; empty when nobody said.
    pub happened: String,
}

/// The review of a week; without reports it is what was planned.
#[must_use]
pub fn review(snapshot: &Snapshot, plan: &WeekPlan, happened: &Happened) -> ReviewPage {
    let book = Book::new(snapshot, plan);
    let cost = total(&plan.order.lines);
    let plates = i64::try_from(plan.plates.len()).unwrap_or(i64::MAX).max(1);
    let per_plate = Money::from_minor((cost.minor() + plates / 2) / plates);
    ReviewPage {
        block: Block {
            title: "Review".into(),
            sub: crate::book::week(plan.monday),
            fields: vec![
                Named::new("Plates", plan.plates.len().to_string()),
                Named::new("Cost of a plate", book.money(per_plate)),
                Named::new("State", if happened.closed { "closed" } else { "open" }),
            ],
        },
        rows: rows(book, (cost, per_plate), happened),
        waste: waste(book, happened),
        learnt: happened.learnt.clone(),
        words: words(happened),
        closed: happened.closed,
    }
}

fn rows(book: Book<'_>, (cost, per_plate): (Money, Money), happened: &Happened) -> Vec<ReviewRow> {
    let plan = book.plan;
    let hands: i64 = plan
        .runs
        .iter()
        .flat_map(|run| &run.acts)
        .map(|act| act.length().secs() * i64::try_from(act.who.len()).unwrap_or(0))
        .sum();
    let spare: Mass = plan
        .lots
        .iter()
        .filter(|lot| lot.fate == Fate::Fridge)
        .map(|lot| left_of(book, lot))
        .sum();
    let money = |worth: i64| book.money(Money::from_minor(mul_div(worth, 1, 1000, Rounding::Nearest)));
    let any = happened.plates > 0;
    let spent = happened.spent.map_or_else(String::new, |spent| {
        format!(
            "{}{}",
            book.money(spent),
            if happened.estimated {
                ", a part estimated"
            } else {
                ""
            }
        )
    });
    let eaten = i64::from(happened.plates.max(1));
    let mut rows = vec![
        row("Plates", plan.plates.len().to_string(), plates_words(happened)),
        row("Cost", book.money(cost), spent),
        row(
            "Cost of a plate",
            book.money(per_plate),
            if any {
                money(happened.eaten_worth / eaten)
            } else {
                String::new()
            },
        ),
        row(
            "Hands in sessions",
            duration_text(Seconds::from_secs(hands)),
            String::new(),
        ),
        row("Left in boxes beyond the plates", book.mass(spare), String::new()),
    ];
    rows.extend(sessions(happened));
    rows.extend(masses(book, happened));
    rows
}

fn row(name: &str, planned: String, happened: String) -> ReviewRow {
    ReviewRow {
        name: name.into(),
        planned,
        happened,
    }
}

fn sessions(happened: &Happened) -> impl Iterator<Item = ReviewRow> {
    let minutes = |minutes: i64| duration_text(Seconds::from_mins(minutes));
    happened.sessions.iter().map(move |(title, planned, real)| {
        row(title, minutes(*planned), real.map_or_else(String::new, minutes))
    })
}

/// What went elsewhere than onto plates.
fn masses(book: Book<'_>, happened: &Happened) -> Vec<ReviewRow> {
    let wasted: Mass = happened.waste.iter().map(|(_, _, mass, _)| *mass).sum();
    let masses = [
        ("Thrown away", wasted),
        ("Given away", happened.given),
        ("Unexplained", happened.unaccounted),
    ];
    let words = |mass: Mass| match mass.mg() {
        0 => "none".to_owned(),
        1.. => book.mass(mass),
        _ => format!("{} more than was written down", book.mass(Mass::ZERO - mass)),
    };
    let told = |(_, mass): &(&str, Mass)| happened.plates > 0 || *mass != Mass::ZERO;
    let rows = masses.into_iter().filter(told);
    rows.map(|(name, mass)| row(name, "none".into(), words(mass)))
        .collect()
}

fn plates_words(happened: &Happened) -> String {
    match (happened.plates, happened.presumed) {
        (0, _) => String::new(),
        (plates, 0) => plates.to_string(),
        (plates, presumed) => format!("{plates}, of which {presumed} presumed"),
    }
}

fn waste(book: Book<'_>, happened: &Happened) -> Vec<Told> {
    let words = Words::of(&book.snapshot.household);
    let line = |(name, why, mass, worth): &(String, String, Mass, i64)| Told {
        what: format!("{name}, {}", words.mass(*mass)),
        why: format!(
            "{why}; worth {}",
            book.money(Money::from_minor(mul_div(*worth, 1, 1000, Rounding::Nearest)))
        ),
        source: String::new(),
    };
    happened.waste.iter().map(line).collect()
}

fn words(happened: &Happened) -> String {
    let told = happened.spent.is_some() || happened.sessions.iter().any(|(_, _, real)| real.is_some());
    let words = if happened.plates == 0 && told {
        "Nothing has been eaten yet, as far as is told or presumed. Cost includes what goes back on the shelf."
    } else if happened.plates == 0 {
        "Nothing has been reported or presumed yet. Cost includes what goes back on the shelf."
    } else if happened.presumed > 0 {
        "What nobody reported is presumed to have been eaten as planned; it teaches nothing. Cost includes what goes back on \
         the shelf."
    } else {
        "Everything was reported. Cost includes what goes back on the shelf."
    };
    words.to_owned()
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;

    #[test]
    fn a_review_without_reports_shows_only_what_was_planned() {
        let page = review(&sample::snapshot(), &sample::plan(), &Happened::default());
        assert!(
            page.rows
                .iter()
                .all(|row| !row.planned.is_empty() && row.happened.is_empty())
        );
    }

    #[test]
    fn what_is_presumed_is_called_so() {
        let happened = Happened {
            plates: 12,
            presumed: 4,
            spent: Some(Money::from_minor(5_000)),
            estimated: true,
            ..Happened::default()
        };
        let page = review(&sample::snapshot(), &sample::plan(), &happened);
        assert_eq!(page.rows[0].happened, "12, of which 4 presumed");
        assert!(page.rows[1].happened.contains("estimated") && page.words.contains("presumed"));
    }
}
