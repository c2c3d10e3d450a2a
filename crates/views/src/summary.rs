//! The week at a glance: when to cook, what, what to buy, what to freeze, what is eaten when.

use std::collections::BTreeMap;

use larderwright_model::{
    Answer, Fate, Finding, OrderLine, PriceBasis, Run, Severity, Snapshot, Stage, WeekPlan,
};

use crate::book::{Book, counted, day, listed, occasion};
use crate::order::{label_words, total, trip_name, trips};
use crate::run::{finish_words, standing_words};
use crate::sheet::{RowKind, Section, Sheet, SheetKind};

/// How many pieces of advice are shown; warnings are all shown.
const ADVICE_MAX: usize = 6;

/// The summary of a week.
#[must_use]
pub fn summary(snapshot: &Snapshot, plan: &WeekPlan) -> Sheet {
    let book = Book::new(snapshot, plan);
    let mut fields = book.fields();
    fields.push(("Eaters".into(), snapshot.household.eaters.len().to_string()));
    fields.push(("To buy".into(), book.money(total(&plan.order.lines))));
    let sections = [
        when(book),
        before(book),
        cook(book),
        buy(book),
        freeze(book),
        eat(book),
        know(book),
        why(book),
    ];
    Sheet {
        kind: SheetKind::Summary,
        title: "The week at a glance".into(),
        fields,
        sections: sections
            .into_iter()
            .filter(|section| !section.rows.is_empty() || !section.notes.is_empty())
            .collect(),
        notes: vec![book.guidance()],
    }
}

fn when(book: Book<'_>) -> Section {
    let mut section = Section::new("When to cook", &["session", "start", "done", "hands", "how sure"]);
    for run in book.plan.runs.iter().filter(|run| !run.acts.is_empty()) {
        let start = run.acts.iter().map(|act| act.start).min().unwrap_or(run.finish);
        section.row([
            day(start.date()),
            book.clock(start),
            book.clock(run.finish),
            hands(book, run),
            standing_words(run.standing).into(),
        ]);
        section
            .notes
            .push(format!("{}: {}", day(start.date()), finish_words(book, run)));
    }
    section
}

fn hands(book: Book<'_>, run: &Run) -> String {
    book.snapshot
        .session(&run.session)
        .map_or_else(String::new, |session| book.cooks(&session.cooks))
}

fn before(book: Book<'_>) -> Section {
    let mut section = Section::new("Before the day", &["when", "do", "for"]);
    for lead in book.plan.runs.iter().flat_map(|run| &run.leads) {
        section.row([
            book.when(lead.at),
            lead.title.clone(),
            book.component_name(&lead.batch),
        ]);
    }
    section
}

fn cook(book: Book<'_>) -> Section {
    let mut section = Section::new(
        "What to cook",
        &["component", "way", "from", ">makes", "fridge", "freezer"],
    );
    for session in book.sessions() {
        section.head(book.when(session.from));
        for batch in book.batches(&session.id) {
            let way = book.way(batch).map(|(_, way)| way);
            let driver = way.and_then(|way| batch.inputs.iter().find(|input| input.food == way.driver));
            section.add(
                RowKind::Sub,
                [
                    book.component_name(&batch.id),
                    way.map_or_else(String::new, |way| way.name.clone()),
                    driver.map_or_else(String::new, |input| book.purchased(&input.food, input.ap)),
                    book.mass(batch.yields[1]),
                    stored(book, batch, |fate| fate != Fate::Freezer),
                    stored(book, batch, |fate| fate == Fate::Freezer),
                ],
            );
        }
    }
    section
}

/// What of a batch has that fate, and until when it is to be eaten.
fn stored(book: Book<'_>, batch: &larderwright_model::Batch, wanted: fn(Fate) -> bool) -> String {
    let lots = book.lots(&batch.id).filter(|lot| wanted(lot.fate));
    let words = lots.map(|lot| format!("{} to {}", book.mass(lot.mass), day(lot.keep.use_by.date())));
    words.collect::<Vec<_>>().join(", ")
}

fn buy(book: Book<'_>) -> Section {
    let mut section = Section::new("What to buy", &["trip", ">lines", ">price"]);
    for (shop, lines) in trips(book.plan) {
        let price = book.money(total(lines.iter().copied()));
        section.row([trip_name(book, &shop), lines.len().to_string(), price]);
    }
    let lines = &book.plan.order.lines;
    if lines.is_empty() {
        return section;
    }
    section.add(
        RowKind::Total,
        ["total".into(), lines.len().to_string(), book.money(total(lines))],
    );
    section.notes.extend(buy_notes(book, lines));
    section
}

fn buy_notes(book: Book<'_>, lines: &[OrderLine]) -> Vec<String> {
    let mut notes = Vec::new();
    let invented = lines
        .iter()
        .filter(|line| line.basis == PriceBasis::Estimate)
        .count();
    if invented > 0 {
        let have = if invented == 1 { "has" } else { "have" };
        notes.push(format!(
            "{} {have} an invented price.",
            counted(invented, "line", "lines")
        ));
    }
    let home = book
        .plan
        .order
        .from_stock
        .iter()
        .filter(|stock| book.food(&stock.food).is_some_and(|food| !food.is_tap()));
    let home = home.count();
    if home > 0 {
        notes.push(format!("Check {} at home first.", counted(home, "food", "foods")));
    }
    notes.extend(label_notes(book, lines));
    notes
}

/// Foods whose label has to be read, together when it is for the same allergens.
fn label_notes(book: Book<'_>, lines: &[OrderLine]) -> Vec<String> {
    let mut labels: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for line in lines.iter().filter(|line| !line.read_label.is_empty()) {
        let foods = labels.entry(label_words(&line.read_label)).or_default();
        let name = book.food_name(&line.food);
        if !foods.contains(&name) {
            foods.push(name);
        }
    }
    let note = |(label, foods): (String, Vec<String>)| format!("{label}. On: {}.", foods.join("; "));
    labels.into_iter().map(note).collect()
}

fn freeze(book: Book<'_>) -> Section {
    let mut section = Section::new(
        "What to freeze",
        &["component", ">mass", "boxes", "frozen", "pull", "for"],
    );
    for lot in book.plan.lots.iter().filter(|lot| lot.fate == Fate::Freezer) {
        let sittings = book.sitting_names(&lot.sittings);
        section.row([
            book.component_name(&lot.origin),
            book.mass(lot.mass),
            book.boxes(lot),
            day(lot.stored.date()),
            lot.pull.map_or_else(|| "stays".into(), |pull| book.when(pull)),
            sittings.join(", "),
        ]);
    }
    section
}

fn eat(book: Book<'_>) -> Section {
    let mut section = Section::new("What is eaten when", &["day", "when", "meal", "who", ">min"]);
    for sitting in &book.snapshot.sittings {
        let names: Vec<String> = book
            .plates(&sitting.id)
            .map(|plate| book.cover_name(&plate.cover))
            .collect();
        let everybody = names.len() == book.snapshot.household.eaters.len() && sitting.guests == 0;
        let service = book
            .plan
            .services
            .iter()
            .find(|service| service.sitting == sitting.id);
        section.row([
            day(sitting.at.date()),
            format!("{} {}", book.clock(sitting.at), occasion(sitting)),
            book.meal_name(&sitting.id),
            if everybody { "all".into() } else { listed(&names) },
            service.map_or_else(String::new, |service| {
                service
                    .length
                    .mins(larderwright_quantity::Rounding::Up)
                    .to_string()
            }),
        ]);
    }
    section
}

fn know(book: Book<'_>) -> Section {
    let mut section = Section::new("Worth knowing", &["what", "measured and allowed"]);
    let grave = book
        .plan
        .findings
        .iter()
        .filter(|finding| finding.severity > Severity::Advice);
    for finding in grave {
        section.add(RowKind::Mind, finding_cells(book, finding));
    }
    let advice: Vec<&Finding> = book
        .plan
        .findings
        .iter()
        .filter(|finding| finding.severity == Severity::Advice)
        .collect();
    for finding in advice.iter().take(ADVICE_MAX) {
        section.row(finding_cells(book, finding));
    }
    if advice.len() > ADVICE_MAX {
        section.notes.push(format!(
            "{}\u{a0}more in the plan's findings.",
            advice.len() - ADVICE_MAX
        ));
    }
    section
}

fn finding_cells(book: Book<'_>, finding: &Finding) -> [String; 2] {
    let what = format!("{}: {}", finding.subject, finding.message);
    [plain(book, &what), plain(book, &finding.evidence)]
}

/// Identifiers turned into the words a person uses.
pub(crate) fn plain(book: Book<'_>, text: &str) -> String {
    let mut text = text.to_owned();
    for sitting in book.snapshot.sittings.iter().rev() {
        if text.contains(sitting.id.as_str()) {
            text = text.replace(sitting.id.as_str(), &book.sitting_name(&sitting.id));
        }
    }
    for lot in book.plan.lots.iter().rev() {
        if text.contains(lot.id.as_str()) {
            let name = book.component_name(&lot.origin);
            text = text.replace(lot.id.as_str(), &format!("{name} in {}", book.boxes(lot)));
        }
    }
    for eater in &book.snapshot.household.eaters {
        text = text.replace(&format!(" {}:", eater.id), &format!(", {}:", eater.name));
    }
    let components = book
        .snapshot
        .components
        .values()
        .map(|component| (component.id.as_str(), &component.name));
    let foods = book
        .snapshot
        .foods
        .values()
        .map(|food| (food.id.as_str(), &food.name));
    for (id, name) in components.chain(foods) {
        let quoted = format!("`{id}`");
        if text.contains(&quoted) {
            text = text.replace(&quoted, &name.to_lowercase());
        }
    }
    text
}

/// What the stages that had a choice chose, and how good that is.
fn why(book: Book<'_>) -> Section {
    let mut section = Section::new("Why this week", &["stage", "how good", "chosen"]);
    let had_a_choice = [
        Stage::Menu,
        Stage::Order,
        Stage::Packing,
        Stage::Session,
        Stage::Plates,
    ];
    for report in book
        .plan
        .reports
        .iter()
        .filter(|report| had_a_choice.contains(&report.stage))
    {
        for chosen in &report.chosen {
            section.row([
                report.stage.word().into(),
                answer_words(report.answer),
                chosen.clone(),
            ]);
        }
    }
    for lesson in &book.snapshot.learnt {
        section.row(["your kitchen".into(), "learnt".into(), lesson.clone()]);
    }
    section
}

pub(crate) fn answer_words(answer: Answer) -> String {
    match answer {
        Answer::Proven => "none better exists".into(),
        Answer::Within(permille) => format!("within {}.{}\u{a0}% of the best", permille / 10, permille % 10),
        Answer::Found => "found, none better known".into(),
        Answer::Computed => "computed".into(),
    }
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;
    use crate::text;

    #[test]
    fn the_summary_answers_the_questions_of_a_week() {
        let text = text::render(&summary(&sample::snapshot(), &sample::plan()), 100);
        let heads = [
            "WHEN TO COOK",
            "BEFORE THE DAY",
            "WHAT TO COOK",
            "WHAT TO BUY",
            "WHAT TO FREEZE",
            "WHAT IS EATEN WHEN",
        ];
        let places: Vec<Option<usize>> = heads.iter().map(|head| text.find(head)).collect();
        assert!(places.iter().all(Option::is_some), "{text}");
        assert!(places.is_sorted(), "{text}");
    }

    #[test]
    fn every_warning_is_shown_and_advice_is_cut_short() {
        let mut plan = sample::plan();
        let finding = |severity, at: usize| Finding {
            rule: "test".into(),
            severity,
            subject: format!("lot {at}"),
            message: "is deep".into(),
            evidence: String::new(),
            source: String::new(),
        };
        plan.findings = (0..9).map(|at| finding(Severity::Warning, at)).collect();
        plan.findings
            .extend((0..9).map(|at| finding(Severity::Advice, at)));
        let (snapshot, plan) = (sample::snapshot(), plan);
        let section = know(Book::new(&snapshot, &plan));
        assert_eq!(section.rows.len(), 9 + ADVICE_MAX);
        assert_eq!(section.notes.len(), 1);
    }

    #[test]
    fn how_good_an_answer_is_is_said_without_jargon() {
        assert_eq!(answer_words(Answer::Within(25)), "within 2.5\u{a0}% of the best");
        assert_eq!(answer_words(Answer::Proven), "none better exists");
    }
}
