//! The prep list: for each session what every station does, like work together.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_model::{Act, ActKind, Batch, Run, Snapshot, Station, StepId, StorageClass, WeekPlan};
use larderwright_quantity::{Seconds, duration_text};

use crate::book::Book;
use crate::production::session_name;
use crate::sheet::{RowKind, Section, Sheet, SheetKind};
use crate::work::{handled, prepped, quantity, station_name};

/// The prep list of a week.
#[must_use]
pub fn prep(snapshot: &Snapshot, plan: &WeekPlan) -> Sheet {
    let book = Book::new(snapshot, plan);
    let sections = plan.runs.iter().flat_map(|run| run_sections(book, run)).collect();
    Sheet {
        kind: SheetKind::Prep,
        title: "Prep list by station".into(),
        fields: book.fields(),
        sections,
        notes: Vec::new(),
    }
}

/// One task: all loads of a step, for all batches it serves.
struct Task<'a> {
    title: &'a str,
    text: &'a str,
    step: StepId,
    batches: Vec<&'a Batch>,
    time: Seconds,
    hands: bool,
}

fn run_sections(book: Book<'_>, run: &Run) -> Vec<Section> {
    let name = book
        .snapshot
        .session(&run.session)
        .map_or_else(|| run.session.to_string(), |session| session_name(book, session));
    let mut sections = vec![get_out(book, run, &name)];
    for (station, tasks) in by_station(book, run) {
        let columns = ["do", "as purchased", "prepped", "how", "for", "time"];
        let mut section = Section::new(station_name(station), &columns);
        for task in &tasks {
            add_task(book, &mut section, task);
        }
        sections.push(section);
    }
    sections
}

fn by_station<'a>(book: Book<'a>, run: &'a Run) -> BTreeMap<Station, Vec<Task<'a>>> {
    let mut stations: BTreeMap<Station, Vec<Task<'a>>> = BTreeMap::new();
    for act in run.acts.iter().filter(|act| act.kind == ActKind::Step) {
        let Some((station, task)) = task(book, act) else {
            continue;
        };
        let tasks = stations.entry(station).or_default();
        let same = tasks.iter_mut().find(|seen| {
            seen.step == task.step
                && seen
                    .batches
                    .iter()
                    .map(|batch| &batch.id)
                    .eq(task.batches.iter().map(|batch| &batch.id))
        });
        match same {
            Some(seen) => seen.time += task.time,
            None => tasks.push(task),
        }
    }
    stations
}

fn task<'a>(book: Book<'a>, act: &'a Act) -> Option<(Station, Task<'a>)> {
    let step_id = act.step.as_ref()?;
    let batches: Vec<&Batch> = act.batches.iter().filter_map(|id| book.batch(id)).collect();
    let steps = batches
        .iter()
        .filter_map(|batch| book.way(batch))
        .flat_map(|(_, way)| &way.steps);
    let step = steps.into_iter().find(|step| step.id == *step_id)?;
    let task = Task {
        title: &act.title,
        text: &act.text,
        step: step_id.clone(),
        batches,
        time: act.length(),
        hands: !act.who.is_empty(),
    };
    Some((step.station, task))
}

fn add_task(book: Book<'_>, section: &mut Section, task: &Task<'_>) {
    let names: BTreeSet<String> = task
        .batches
        .iter()
        .map(|batch| book.component_name(&batch.id))
        .collect();
    let names: Vec<String> = names.into_iter().collect();
    let alone = if task.hands { "" } else { ", by itself" };
    let foods = handled(book, &task.batches, &task.step);
    section.row([
        format!("[ ] {}", task.title),
        String::new(),
        String::new(),
        if foods.is_empty() {
            task.text.into()
        } else {
            String::new()
        },
        names.join(", "),
        format!("{}{alone}", duration_text(task.time)),
    ]);
    for food in foods {
        let cells = [
            food.name.clone(),
            quantity(book, &food),
            prepped(book, &food),
            food.input.prep.clone(),
        ];
        section.add(RowKind::Sub, cells);
    }
}

/// Everything the session needs, by where it is kept.
fn get_out(book: Book<'_>, run: &Run, name: &str) -> Section {
    let mut section = Section::new(format!("{name}: get out"), &["food", "as purchased", "for"]);
    type Uses<'a> = Vec<(&'a Batch, usize)>;
    let mut places: BTreeMap<StorageClass, BTreeMap<String, Uses<'_>>> = BTreeMap::new();
    for batch in book.batches(&run.session) {
        for (at, input) in batch.inputs.iter().enumerate() {
            let Some(food) = book.food(&input.food).filter(|food| !food.is_tap()) else {
                continue;
            };
            let foods = places.entry(kept(food.storage)).or_default();
            foods
                .entry(book.food_name(&food.id))
                .or_default()
                .push((batch, at));
        }
    }
    for (place, foods) in places {
        section.head(place_name(place));
        for (name, uses) in foods {
            let (batch, at) = uses[0];
            let sum = uses.iter().map(|(batch, at)| batch.inputs[*at].ap).sum();
            let names: BTreeSet<String> = uses
                .iter()
                .map(|(batch, _)| book.component_name(&batch.id))
                .collect();
            let names: Vec<String> = names.into_iter().collect();
            let amount = book.purchased(&batch.inputs[at].food, sum);
            section.add(RowKind::Sub, [format!("[ ] {name}"), amount, names.join(", ")]);
        }
    }
    section
}

/// Both kinds of chilled food come out of one door.
fn kept(storage: StorageClass) -> StorageClass {
    if storage == StorageClass::FridgeShort {
        StorageClass::Fridge
    } else {
        storage
    }
}

fn place_name(storage: StorageClass) -> &'static str {
    match storage {
        StorageClass::Cupboard => "Cupboard",
        StorageClass::Counter => "Counter and rack",
        StorageClass::Fridge | StorageClass::FridgeShort => "Fridge",
        StorageClass::Freezer => "Freezer",
        StorageClass::Tap => "Tap",
    }
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;
    use crate::text;

    #[test]
    fn a_vegetable_is_prepared_at_the_board_with_both_weights() {
        let text = text::render(&prep(&sample::snapshot(), &sample::plan()), 100);
        let board = text
            .split("\nBOARD\n")
            .nth(1)
            .expect("there is work at the board");
        let board = board.split("\n\n").next().expect("a station has lines");
        let carrots = board
            .lines()
            .find(|line| line.starts_with("  Carrot"))
            .expect("carrots are cut");
        assert!(carrots.contains("carrots ("), "{carrots}");
        assert!(carrots.contains("batons"), "{carrots}");
    }

    #[test]
    fn every_food_of_a_session_is_got_out_once() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let sheet = prep(&snapshot, &plan);
        let out = sheet
            .sections
            .iter()
            .find(|section| section.title.ends_with("get out"))
            .expect("there is a session");
        let salt = out.rows.iter().filter(|row| row.cells[0] == "[ ] Salt").count();
        assert_eq!(salt, 1);
    }
}
