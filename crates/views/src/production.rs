//! The production sheet: what is cooked in each session, from what, in which pots and boxes.

use larderwright_model::{Batch, BatchInput, CoolingMethod, Equipment, Session, Snapshot, Way, WeekPlan};
use larderwright_quantity::{Mass, Rounding};

use crate::book::{Book, counted, day};
use crate::sheet::{RowKind, Section, Sheet, SheetKind};

/// The production sheet of a week.
#[must_use]
pub fn production(snapshot: &Snapshot, plan: &WeekPlan) -> Sheet {
    let book = Book::new(snapshot, plan);
    let mut fields = book.fields();
    fields.push(("Batches".into(), plan.batches.len().to_string()));
    let per_session = |session| [batches(book, session), inputs(book, session), lots(book, session)];
    Sheet {
        kind: SheetKind::Production,
        title: "Production sheet".into(),
        fields,
        sections: book.sessions().flat_map(per_session).collect(),
        notes: vec![book.guidance()],
    }
}

/// `Sun 29 Nov 13:00 to 17:00, Ana and Ben`.
pub(crate) fn session_name(book: Book<'_>, session: &Session) -> String {
    let (from, to) = (book.when(session.from), book.clock(session.to));
    format!("{from} to {to}, {}", book.cooks(&session.cooks))
}

fn batches(book: Book<'_>, session: &Session) -> Section {
    let columns = [
        "batch",
        "way",
        ">size",
        ">makes",
        "from low to high",
        ">wanted",
        "cooked in",
    ];
    let mut section = Section::new(session_name(book, session), &columns);
    for batch in book.batches(&session.id) {
        let way = book.way(batch).map(|(_, way)| way);
        let [low, likely, high] = batch.yields.map(|mass| book.mass(mass));
        section.row([
            book.component_name(&batch.id),
            way.map_or_else(|| batch.way.to_string(), |way| way.name.clone()),
            size(book, batch, way),
            likely,
            format!("{low} to {high}"),
            book.mass(batch.demand),
            way.map_or_else(String::new, |way| vessels(book, batch, way)),
        ]);
    }
    section
}

/// The size of a batch in what is bought, or in its edible part when that differs.
fn size(book: Book<'_>, batch: &Batch, way: Option<&Way>) -> String {
    let driver = way.and_then(|way| batch.inputs.iter().find(|input| input.food == way.driver));
    driver.map_or_else(
        || book.mass(batch.x),
        |input| book.purchased(&input.food, input.ap),
    )
}

/// `pot of 3 l or more`, `2 trays, 2 loads`.
fn vessels(book: Book<'_>, batch: &Batch, way: &Way) -> String {
    let kitchen = &book.snapshot.household.kitchen;
    let mut words: Vec<String> = Vec::new();
    let mut say = |word: String| {
        if !words.contains(&word) {
            words.push(word);
        }
    };
    for step in &way.steps {
        let Some(load) = step.load_plan(batch.x, kitchen) else {
            continue;
        };
        if let Some(need) = load.pot {
            let fits = kitchen
                .pots
                .iter()
                .filter(|pot| pot.count > 0 && pot.volume >= need);
            let pot = fits.map(|pot| pot.volume).min().unwrap_or(need);
            say(format!("{} pot", book.volume(pot)));
        }
        if load.trays > 0 {
            say(counted(usize::try_from(load.trays).unwrap_or(0), "tray", "trays"));
        }
        if step.uses.contains(&Equipment::PressureCooker) {
            say("pressure cooker".into());
        }
    }
    if batch.loads > 1 {
        say(format!("{}\u{a0}loads", batch.loads));
    }
    words.join(", ")
}

fn inputs(book: Book<'_>, session: &Session) -> Section {
    let mut section = Section::new(
        "What goes in",
        &["food", ">as purchased", ">trim", ">goes in", "how"],
    );
    for batch in book.batches(&session.id) {
        section.head(format!(
            "{} ({})",
            book.component_name(&batch.id),
            book.mass(batch.x)
        ));
        for input in &batch.inputs {
            add_input(book, &mut section, input);
        }
    }
    section
}

fn add_input(book: Book<'_>, section: &mut Section, input: &BatchInput) {
    let trim = input.ap - input.ep;
    let drained = if input.drained { "poured away" } else { "" };
    let how: Vec<&str> = [input.prep.as_str(), drained]
        .into_iter()
        .filter(|word| !word.is_empty())
        .collect();
    let (trimmed, goes_in) = trim_words(book, trim, input.ep);
    section.add(
        RowKind::Sub,
        [
            book.food_name(&input.food),
            book.purchased(&input.food, input.ap),
            trimmed,
            goes_in,
            how.join("; "),
        ],
    );
}

/// Trim and what is left of it, when there is any worth weighing.
pub(crate) fn trim_words(book: Book<'_>, trim: Mass, ep: Mass) -> (String, String) {
    if trim.g(Rounding::Nearest) > 0 {
        (book.mass(trim), book.mass(ep))
    } else {
        (String::new(), String::new())
    }
}

fn lots(book: Book<'_>, session: &Session) -> Section {
    let columns = [
        "boxes", ">mass", "in", "place", ">deep", "cooling", "put away", "use by",
    ];
    let mut section = Section::new("What is put away", &columns);
    for lot in book.batches(&session.id).flat_map(|batch| book.lots(&batch.id)) {
        section.row([
            book.component_name(&lot.origin),
            book.mass(lot.mass),
            book.boxes(lot),
            lot.place.word().into(),
            format!("{}\u{a0}mm", lot.depth.mm(Rounding::Up)),
            cooling_words(lot.cooling).into(),
            book.clock(lot.stored),
            day(lot.keep.use_by.date()),
        ]);
    }
    section
        .notes
        .push("use by: as guidance says; the rule stands on the label.".into());
    section
}

/// How a lot is cooled, as it is said.
pub(crate) fn cooling_words(cooling: CoolingMethod) -> &'static str {
    match cooling {
        CoolingMethod::None => "not hot",
        CoolingMethod::Shallow => "shallow, lid off",
        CoolingMethod::Trays => "on trays, then boxes",
        CoolingMethod::ColdWater => "cold water",
        CoolingMethod::IceBath => "ice bath, stir",
        CoolingMethod::FreezerFirst => "an hour in the freezer, then the fridge",
    }
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;
    use crate::text;

    fn text() -> String {
        text::render(&production(&sample::snapshot(), &sample::plan()), 100)
    }

    #[test]
    fn a_batch_shows_its_way_and_what_it_makes() {
        let text = text();
        let line = text
            .lines()
            .find(|line| line.starts_with("Chickpeas"))
            .expect("chickpeas are cooked");
        assert!(line.contains("from dry"), "{line}");
        assert!(line.contains("500\u{a0}g"), "{line}");
        assert!(line.contains("1.11\u{a0}kg"), "{line}");
    }

    #[test]
    fn trimmed_food_is_shown_as_purchased_and_as_it_goes_in() {
        let text = text();
        let line = text
            .lines()
            .find(|line| line.contains("Carrot"))
            .expect("carrots are roasted");
        assert!(
            line.matches("\u{a0}g").count() + line.matches("\u{a0}kg").count() >= 3,
            "{line}"
        );
    }

    #[test]
    fn no_amount_is_shown_finer_than_a_kitchen_scale() {
        for figure in text()
            .split([' ', '(', ')', ','])
            .filter_map(|word| word.strip_suffix("\u{a0}g"))
        {
            let Ok(grams) = figure.parse::<i64>() else {
                continue;
            };
            assert!(grams < 100 || grams % 5 == 0, "{grams} g");
        }
    }

    #[test]
    fn the_pot_is_the_smallest_that_is_large_enough() {
        let text = text();
        let line = text
            .lines()
            .find(|line| line.starts_with("Chickpeas"))
            .expect("chickpeas are cooked");
        assert!(line.contains("pot"), "{line}");
    }
}
