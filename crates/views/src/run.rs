//! The run sheet: each session by the clock, one action a line.

use jiff::civil::DateTime;
use larderwright_model::{Act, ActKind, Lot, OvenSetting, Run, Snapshot, Standing, WeekPlan};

use crate::book::{Book, listed};
use crate::production::{cooling_words, session_name};
use crate::sheet::{RowKind, Section, Sheet, SheetKind};
use crate::work::{handled, named_quantity};

/// The run sheets of a week.
#[must_use]
pub fn run(snapshot: &Snapshot, plan: &WeekPlan) -> Sheet {
    let book = Book::new(snapshot, plan);
    let sections = plan.runs.iter().flat_map(|run| run_sections(book, run)).collect();
    Sheet {
        kind: SheetKind::Run,
        title: "Run sheet".into(),
        fields: book.fields(),
        sections,
        notes: vec![book.guidance()],
    }
}

fn run_sections(book: Book<'_>, run: &Run) -> Vec<Section> {
    let mut sections = Vec::new();
    sections.extend(leads(book, run));
    sections.push(acts(book, run));
    sections.extend(cooling(book, run));
    sections
}

fn leads(book: Book<'_>, run: &Run) -> Option<Section> {
    let mut section = Section::new("Before the day", &["when", "do", "for"]);
    for lead in &run.leads {
        let text = format!("{}. {}", lead.title, lead.text);
        section.row([book.when(lead.at), text, book.component_name(&lead.batch)]);
    }
    (!section.rows.is_empty()).then_some(section)
}

/// What happens at one moment.
enum Line<'a> {
    Oven(&'a OvenSetting),
    OvenOff,
    Act(&'a Act),
}

fn acts(book: Book<'_>, run: &Run) -> Section {
    let name = book
        .snapshot
        .session(&run.session)
        .map_or_else(|| run.session.to_string(), |session| session_name(book, session));
    let mut section = Section::new(name, &["time", "who", "where", "do", "how much", "look for"]);
    let mut lines: Vec<(DateTime, u8, Line<'_>)> = Vec::new();
    for setting in run.oven.iter().filter(|setting| !preheated(run, setting)) {
        lines.push((setting.from, 0, Line::Oven(setting)));
    }
    if let Some(last) = run.oven.iter().map(|setting| setting.to).max() {
        lines.push((last, 2, Line::OvenOff));
    }
    lines.extend(run.acts.iter().map(|act| (act.start, 1, Line::Act(act))));
    lines.sort_by_key(|(at, rank, _)| (*at, *rank));
    for (at, _, line) in &lines {
        add_line(book, &mut section, *at, line);
    }
    section.notes.push(finish_words(book, run));
    section
}

/// Whether a preheating act already says what the setting is.
fn preheated(run: &Run, setting: &OvenSetting) -> bool {
    let says = |act: &Act| act.kind == ActKind::Preheat && act.oven == Some(setting.temperature);
    run.acts
        .iter()
        .any(|act| says(act) && act.start <= setting.from && setting.from <= act.end)
}

fn add_line(book: Book<'_>, section: &mut Section, at: DateTime, line: &Line<'_>) {
    let blank = String::new;
    let oven = |text: String| [book.clock(at), blank(), "oven".into(), text, blank(), blank()];
    match line {
        Line::Oven(setting) => {
            section.add(
                RowKind::Mind,
                oven(format!("OVEN TO {}", book.temperature(setting.temperature))),
            );
        }
        Line::OvenOff => section.add(RowKind::Mind, oven("OVEN OFF".into())),
        Line::Act(act) if act.kind == ActKind::Preheat => {
            let heat = act
                .oven
                .map_or_else(blank, |oven| format!(" {}", book.temperature(oven)));
            section.add(
                RowKind::Mind,
                oven(format!("OVEN TO{heat}, hot at {}", book.clock(act.end))),
            );
        }
        Line::Act(act) => {
            section.add(row_kind(act), act_cells(book, act));
            if act.kind == ActKind::PackOut {
                packed(book, act)
                    .into_iter()
                    .for_each(|cells| section.add(RowKind::Sub, cells));
            }
        }
    }
}

fn row_kind(act: &Act) -> RowKind {
    match act.kind {
        ActKind::Visit { .. } => RowKind::Sub,
        ActKind::CleanDown => RowKind::Mind,
        _ => RowKind::Plain,
    }
}

fn act_cells(book: Book<'_>, act: &Act) -> [String; 6] {
    let text = if act.text.is_empty() || act.text == act.title {
        String::new()
    } else {
        format!(". {}", act.text)
    };
    let visit = matches!(act.kind, ActKind::Visit { .. });
    let who = match act.who.as_slice() {
        [] => format!("by itself to\u{a0}{}", book.clock(act.end)),
        who => book.cooks(who),
    };
    [
        book.clock(act.start),
        who,
        stations(act),
        format!("{}{text}", act.title.to_uppercase()),
        how_much(book, act),
        if visit { String::new() } else { act.cue.clone() },
    ]
}

/// Each station held together: a burner stays with its number.
fn stations(act: &Act) -> String {
    let names: Vec<String> = act
        .stations
        .iter()
        .map(|station| station.replace(' ', "\u{a0}"))
        .collect();
    names.join(", ")
}

/// One line for each lot that is packed out.
fn packed(book: Book<'_>, act: &Act) -> Vec<[String; 6]> {
    let lots = act.batches.iter().flat_map(|batch| book.lots(batch));
    let line = |lot: &Lot| {
        let boxes = format!("into {}", book.boxes(lot));
        let place = lot.place.word();
        let what = format!("{}: {boxes}, {place}", book.component_name(&lot.origin));
        [
            String::new(),
            String::new(),
            String::new(),
            what,
            book.mass(lot.mass),
            String::new(),
        ]
    };
    lots.map(line).collect()
}

/// What the action takes in hand: foods of a step, boxes of a pack-out, the way of cooling.
pub(crate) fn how_much(book: Book<'_>, act: &Act) -> String {
    let lots = || act.batches.iter().flat_map(|batch| book.lots(batch));
    let mut words: Vec<String> = match (&act.kind, &act.step) {
        (ActKind::Step, Some(step)) => {
            let batches: Vec<_> = act.batches.iter().filter_map(|id| book.batch(id)).collect();
            let foods = handled(book, &batches, step);
            foods.iter().map(|food| named_quantity(book, food)).collect()
        }
        (ActKind::Cool, _) => lots().map(|lot| cooling_words(lot.cooling).to_owned()).collect(),
        _ => Vec::new(),
    };
    words.dedup();
    let loads = act
        .batches
        .iter()
        .filter_map(|id| book.batch(id))
        .map(|batch| batch.loads)
        .max();
    if act.kind == ActKind::Step && loads.is_some_and(|loads| loads > 1) && act.load > 0 && several(book, act)
    {
        words.push(format!("load\u{a0}{}", act.load));
    }
    words.join(", ")
}

/// Whether the same step is done more than once.
fn several(book: Book<'_>, act: &Act) -> bool {
    let acts = book.plan.runs.iter().flat_map(|run| &run.acts);
    let same = acts.filter(|other| {
        other.kind == ActKind::Step && other.step == act.step && other.batches == act.batches
    });
    same.count() > 1
}

/// When it ends, how surely, and why not earlier.
pub(crate) fn finish_words(book: Book<'_>, run: &Run) -> String {
    let mut words = format!(
        "Done at {}: {}.",
        book.clock(run.finish),
        standing_words(run.standing)
    );
    if !run.decided_by.is_empty() {
        let reason = format!(
            " No plan finishes before {}, because of {}.",
            book.clock(run.bound),
            run.decided_by
        );
        words.push_str(&reason);
    }
    words
}

/// How surely a run fits its window.
pub(crate) fn standing_words(standing: Standing) -> &'static str {
    match standing {
        Standing::Likely => "likely to fit",
        Standing::Tight => "tight",
        Standing::WontFit => "won't fit",
    }
}

/// A log to write the cooling down in.
fn cooling(book: Book<'_>, run: &Run) -> Option<Section> {
    let columns = ["cooling", "how", "off the heat", "put away by", "measured", "at"];
    let mut section = Section::new("Cooling log", &columns);
    let hot = book.batches(&run.session).flat_map(|batch| book.lots(&batch.id));
    for lot in hot.filter(|lot| lot.cooling != larderwright_model::CoolingMethod::None) {
        let place = lot.place.word();
        section.row([
            listed(&[book.component_name(&lot.origin)]),
            cooling_words(lot.cooling).into(),
            book.clock(lot.made),
            format!("{}, {place}", book.clock(lot.stored)),
            "______".into(),
            "______".into(),
        ]);
    }
    (!section.rows.is_empty()).then_some(section)
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;
    use crate::text;

    fn text() -> String {
        text::render(&run(&sample::snapshot(), &sample::plan()), 100)
    }

    #[test]
    fn lines_stand_in_the_order_of_the_clock() {
        let sheet = run(&sample::snapshot(), &sample::plan());
        let section = sheet
            .sections
            .iter()
            .find(|section| section.columns[0].name == "time")
            .expect("a run has acts");
        let times: Vec<&String> = section
            .rows
            .iter()
            .map(|row| &row.cells[0])
            .filter(|time| !time.is_empty())
            .collect();
        assert!(times.is_sorted(), "{times:?}");
        assert!(times.len() > 5);
    }

    #[test]
    fn soaking_stands_before_the_first_act() {
        let text = text();
        assert!(text.find("Soak chickpeas") < text.find("13:00  "), "{text}");
    }

    #[test]
    fn the_oven_is_set_once_and_switched_off() {
        let text = text();
        assert_eq!(text.matches("OVEN TO 220\u{a0}°C").count(), 1, "{text}");
        assert_eq!(text.matches("OVEN OFF").count(), 1, "{text}");
    }

    #[test]
    fn the_foot_says_why_it_takes_so_long() {
        assert!(text().contains("No plan finishes before"));
    }

    #[test]
    fn a_visit_is_set_back() {
        let sheet = run(&sample::snapshot(), &sample::plan());
        let rows = sheet.sections.iter().flat_map(|section| &section.rows);
        assert!(
            rows.filter(|row| row.kind == RowKind::Sub)
                .any(|row| row.cells[3].starts_with("SKIM"))
        );
    }
}
