//! The pull list: what moves from freezer to fridge and when, and what starts before a session.

use jiff::civil::DateTime;
use larderwright_model::{Carried, Fate, Lead, Lot, Snapshot, WeekPlan};

use crate::book::{Book, day};
use crate::sheet::{Section, Sheet, SheetKind};

/// The pull list of a week.
#[must_use]
pub fn pull(snapshot: &Snapshot, plan: &WeekPlan) -> Sheet {
    let book = Book::new(snapshot, plan);
    let mut sections = vec![moves(book)];
    sections.extend(stock(book));
    Sheet {
        kind: SheetKind::Pull,
        title: "Pull list".into(),
        fields: book.fields(),
        sections,
        notes: vec![book.guidance()],
    }
}

enum Move<'a> {
    Lead(&'a Lead),
    Pull(&'a Lot),
    Before(&'a Carried),
}

/// Everything that has to be thought of outside a session, by time.
fn moves(book: Book<'_>) -> Section {
    let mut section = Section::new("By day", &["when", "do", "how much", "for", "eat by"]);
    let leads = book
        .plan
        .runs
        .iter()
        .flat_map(|run| &run.leads)
        .map(|lead| (lead.at, Move::Lead(lead)));
    let lots = book
        .plan
        .lots
        .iter()
        .filter_map(|lot| Some((lot.pull?, Move::Pull(lot))));
    let before = book
        .plan
        .carried
        .iter()
        .filter_map(|entry| Some((entry.pull?, Move::Before(entry))));
    let mut moves: Vec<(DateTime, Move<'_>)> = leads.chain(lots).chain(before).collect();
    moves.sort_by_key(|(at, _)| *at);
    for (at, action) in &moves {
        match action {
            Move::Lead(lead) => add_lead(book, &mut section, lead),
            Move::Pull(lot) => add_pull(book, &mut section, *at, lot),
            Move::Before(entry) => add_before(book, &mut section, *at, entry),
        }
    }
    if moves.is_empty() {
        section
            .notes
            .push("Nothing to pull and nothing to start before the day.".into());
    }
    section
}

fn add_lead(book: Book<'_>, section: &mut Section, lead: &Lead) {
    let batch = book.batch(&lead.batch);
    let amount = batch.and_then(|batch| {
        let (_, way) = book.way(batch)?;
        let input = batch.inputs.iter().find(|input| input.food == way.driver)?;
        Some(book.purchased(&input.food, input.ap))
    });
    let latest = if lead.latest > lead.at {
        format!(" At the latest {}.", book.when(lead.latest))
    } else {
        String::new()
    };
    section.row([
        book.when(lead.at),
        format!("{}. {}{latest}", lead.title, lead.text),
        amount.unwrap_or_default(),
        book.component_name(&lead.batch),
        String::new(),
    ]);
}

fn add_pull(book: Book<'_>, section: &mut Section, at: DateTime, lot: &Lot) {
    let sittings = book.sitting_names(&lot.sittings);
    section.row([
        book.when(at),
        format!(
            "{}: from the freezer into the fridge, on a plate",
            book.component_name(&lot.origin)
        ),
        format!("{}, {}", book.mass(lot.mass), book.boxes(lot)),
        sittings.join(", "),
        day(lot.keep.use_by.date()),
    ]);
}

/// A lot that was frozen before this week.
fn add_before(book: Book<'_>, section: &mut Section, at: DateTime, entry: &Carried) {
    let sittings = book.sitting_names(&entry.sittings);
    let whole = book.snapshot.lot(&entry.lot).map_or(entry.mass, |lot| lot.mass);
    section.row([
        book.when(at),
        format!(
            "{}: from the freezer into the fridge, on a plate",
            book.lot_name(&entry.lot)
        ),
        book.mass(whole),
        sittings.join(", "),
        day(entry.keep.use_by.date()),
    ]);
}

/// Frozen lots that nobody pulls this week.
fn stock(book: Book<'_>) -> Option<Section> {
    let mut section = Section::new("Stays in the freezer", &["what", "how much", "frozen", "best by"]);
    let lots = book
        .plan
        .lots
        .iter()
        .filter(|lot| lot.fate == Fate::Freezer && lot.pull.is_none());
    for lot in lots {
        section.row([
            book.component_name(&lot.origin),
            format!("{}, {}", book.mass(lot.mass), book.boxes(lot)),
            day(lot.stored.date()),
            day(lot.keep.best_by.date()),
        ]);
    }
    (!section.rows.is_empty()).then_some(section)
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;

    #[test]
    fn soaking_comes_before_pulling_in_the_order_of_time() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let sheet = pull(&snapshot, &plan);
        let acts: Vec<&str> = sheet.sections[0]
            .rows
            .iter()
            .map(|row| row.cells[1].as_str())
            .collect();
        let soak = acts.iter().position(|act| act.starts_with("Soak"));
        let from = acts.iter().position(|act| act.contains("from the freezer"));
        assert!(soak.is_some() && soak < from, "{acts:?}");
    }

    #[test]
    fn a_week_without_a_freezer_says_so() {
        let (snapshot, mut plan) = (sample::snapshot(), sample::plan());
        plan.lots.retain(|lot| lot.pull.is_none());
        plan.runs.iter_mut().for_each(|run| run.leads.clear());
        let sheet = pull(&snapshot, &plan);
        assert!(sheet.sections[0].rows.is_empty());
        assert_eq!(sheet.sections[0].notes.len(), 1);
    }
}
