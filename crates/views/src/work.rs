//! Which food belongs to which step: recipes list inputs for a batch, a cook wants them where
//! they are handled.

use std::collections::BTreeMap;

use larderwright_model::{Batch, BatchInput, Department, Equipment, Food, Station, Step, StepId, Way};
use larderwright_quantity::Mass;

use crate::book::Book;

/// Inputs of one batch by the step that handles them, each input once.
pub(crate) fn inputs_by_step<'a>(book: Book<'a>, batch: &'a Batch) -> BTreeMap<StepId, Vec<&'a BatchInput>> {
    let mut by_step: BTreeMap<StepId, Vec<&BatchInput>> = BTreeMap::new();
    let Some((_, way)) = book.way(batch) else {
        return by_step;
    };
    for input in &batch.inputs {
        let Some(food) = book.food(&input.food) else {
            continue;
        };
        let step = if food.is_tap() {
            step_for_water(way, food)
        } else {
            step_for(way, food)
        };
        if let Some(step) = step {
            by_step.entry(step.id.clone()).or_default().push(input);
        }
    }
    by_step
}

/// The step that is merged by this food's name, else the first that speaks of it, else the first
/// on the day, else the first.
fn step_for<'a>(way: &'a Way, food: &Food) -> Option<&'a Step> {
    let words = stems(&food.name);
    let merged = |step: &&Step| {
        let key = step.merge.as_deref().and_then(|merge| merge.split(':').nth(1));
        key.is_some_and(|key| food.id.as_str() == key || food.id.as_str().starts_with(&format!("{key}-")))
    };
    let driver = food.id == way.driver;
    let speaks = |step: &&Step| (driver || !step.lead) && speaks_of(step, &words);
    let seasons = |step: &&Step| {
        food.department == Department::Spices && speaks_of(step, &["spice".into(), "season".into()])
    };
    let everything = |step: &&Step| !step.lead && speaks_of(step, &["everything".into()]);
    let steps = || way.steps.iter();
    let named = steps()
        .find(merged)
        .or_else(|| steps().find(speaks))
        .or_else(|| steps().find(seasons));
    let any = || {
        steps()
            .find(everything)
            .or_else(|| steps().find(|step| driver || !step.lead))
    };
    named.or_else(any).or_else(|| steps().next())
}

/// Water belongs where it is boiled, else in the pot, else where the recipe speaks of it.
fn step_for_water<'a>(way: &'a Way, food: &Food) -> Option<&'a Step> {
    let mut steps = way.steps.iter().filter(|step| !step.lead);
    let pot = |step: &&Step| {
        step.uses
            .iter()
            .any(|used| matches!(used, Equipment::Pot | Equipment::PressureCooker))
    };
    let boil = steps.clone().find(|step| step.boil.is_some());
    boil.or_else(|| steps.clone().find(pot))
        .or_else(|| steps.find(|step| speaks_of(step, &stems(&food.name))))
}

fn speaks_of(step: &Step, words: &[String]) -> bool {
    let text = format!("{} {}", step.title, step.text).to_lowercase();
    let mut spoken = text.split(|letter: char| !letter.is_alphabetic());
    spoken.any(|spoken| words.iter().any(|word| spoken.starts_with(word.as_str())))
}

/// The words of a name without the ends that a plural changes; words that only tell kinds apart
/// are left out.
fn stems(name: &str) -> Vec<String> {
    const KINDS: [&str; 18] = [
        "leaf", "leaves", "fresh", "tap", "dry", "dried", "canned", "ground", "powder", "white", "brown",
        "red", "green", "black", "whole", "plain", "long", "grain",
    ];
    let lower = name.to_lowercase();
    let words = lower.split(|letter: char| !letter.is_alphabetic());
    let long = words.filter(|word| word.len() >= 3 && !KINDS.contains(word));
    long.map(|word| {
        let cut = match word {
            word if word.ends_with("ies") => word.len() - 3,
            word if word.ends_with("oes") => word.len() - 2,
            word => word.len(),
        };
        let stem = word.get(..cut).unwrap_or(word);
        stem.strip_suffix(['s', 'y'])
            .filter(|stem| stem.len() >= 3)
            .unwrap_or(stem)
            .to_owned()
    })
    .collect()
}

/// One food at one step, summed over the batches that the step serves together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Handled {
    pub(crate) input: BatchInput,
    pub(crate) name: String,
}

/// What the batches hand to a step, equal foods and cuts added up.
pub(crate) fn handled(book: Book<'_>, batches: &[&Batch], step: &StepId) -> Vec<Handled> {
    let mut all: Vec<Handled> = Vec::new();
    for batch in batches {
        for input in matching(book, batch, step) {
            let same = all
                .iter_mut()
                .find(|seen| seen.input.food == input.food && seen.input.prep == input.prep);
            match same {
                Some(seen) => {
                    seen.input.ap += input.ap;
                    seen.input.ep += input.ep;
                }
                None => all.push(Handled {
                    input: input.clone(),
                    name: book.food_name(&input.food),
                }),
            }
        }
    }
    all
}

/// Inputs of the batch at that step; a merged step may have another name in another recipe, then
/// the step with the same merge key counts.
fn matching<'a>(book: Book<'a>, batch: &'a Batch, step: &StepId) -> Vec<&'a BatchInput> {
    let mut by_step = inputs_by_step(book, batch);
    if let Some(found) = by_step.remove(step) {
        return found;
    }
    let ways = book.plan.batches.iter().filter_map(|batch| book.way(batch));
    let mut keys = ways
        .flat_map(|(_, way)| &way.steps)
        .filter(|other| other.id == *step);
    let key = keys.find_map(|other| other.merge.clone());
    let here = book.way(batch).and_then(|(_, way)| {
        way.steps
            .iter()
            .find(|other| other.merge.is_some() && other.merge == key)
    });
    here.and_then(|other| by_step.remove(&other.id))
        .unwrap_or_default()
}

/// What is taken, as purchased.
pub(crate) fn quantity(book: Book<'_>, handled: &Handled) -> String {
    book.purchased(&handled.input.food, handled.input.ap)
}

/// What is taken with its name: `Salt 1 tsp`; a count that already says what is counted stands alone:
/// `20 carrots (1.35 kg)`.
pub(crate) fn named_quantity(book: Book<'_>, handled: &Handled) -> String {
    let quantity = quantity(book, handled);
    let unit = book.food(&handled.input.food).and_then(|food| food.unit.as_ref());
    let says_it = unit.is_some_and(|unit| {
        quantity.contains(&unit.singular)
            && handled
                .name
                .to_lowercase()
                .contains(&unit.singular.to_lowercase())
    });
    if says_it {
        quantity
    } else {
        format!("{} {quantity}", handled.name)
    }
}

/// The prepped mass when something was trimmed off.
pub(crate) fn prepped(book: Book<'_>, handled: &Handled) -> String {
    let trim: Mass = handled.input.ap - handled.input.ep;
    crate::production::trim_words(book, trim, handled.input.ep).1
}

/// A station as it is said.
pub(crate) fn station_name(station: Station) -> &'static str {
    match station {
        Station::Board => "Board",
        Station::Counter => "Counter",
        Station::Sink => "Sink",
        Station::Stove => "Stove",
        Station::Oven => "Oven",
        Station::Fridge => "Fridge",
    }
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;

    #[test]
    fn stems_are_the_words_a_recipe_uses() {
        assert_eq!(stems("chickpeas, dry"), ["chickpea"]);
        assert_eq!(stems("white rice"), ["rice"]);
        assert_eq!(stems("tomatoes"), ["tomato"]);
    }

    #[test]
    fn every_bought_input_is_handled_at_exactly_one_step() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let book = Book::new(&snapshot, &plan);
        for batch in &plan.batches {
            let by_step = inputs_by_step(book, batch);
            let mut at: Vec<&BatchInput> = by_step.into_values().flatten().collect();
            let mut bought: Vec<&BatchInput> = batch.inputs.iter().collect();
            at.retain(|input| !book.food(&input.food).is_some_and(Food::is_tap));
            bought.retain(|input| !book.food(&input.food).is_some_and(Food::is_tap));
            at.sort_by_key(|input| &input.food);
            bought.sort_by_key(|input| &input.food);
            assert_eq!(at, bought, "{}", batch.id);
        }
    }

    #[test]
    fn a_word_inside_another_is_not_spoken_of() {
        let snapshot = sample::snapshot();
        let rice = snapshot
            .components
            .get(&"white-rice".into())
            .expect("the sample cooks rice");
        let simmer = rice.ways[0]
            .steps
            .iter()
            .find(|step| step.id.as_str() == "simmer")
            .expect("rice simmers");
        assert!(speaks_of(simmer, &["boil".into()]));
        assert!(!speaks_of(simmer, &["oil".into()]));
    }

    #[test]
    fn a_count_that_says_what_is_counted_stands_alone() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let book = Book::new(&snapshot, &plan);
        let carrots = plan
            .batches
            .iter()
            .find(|batch| batch.component.as_str() == "roast-carrots")
            .expect("cooked");
        let at_board = handled(book, &[carrots], &"peel".into());
        assert!(named_quantity(book, &at_board[0]).starts_with("13"));
        let on_tray = handled(book, &[carrots], &"spread".into());
        assert!(named_quantity(book, &on_tray[0]).starts_with("Olive oil"));
    }

    #[test]
    fn water_goes_where_it_is_boiled() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let book = Book::new(&snapshot, &plan);
        let rice = plan
            .batches
            .iter()
            .find(|batch| batch.component.as_str() == "white-rice")
            .expect("rice is cooked");
        let by_step = inputs_by_step(book, rice);
        let simmer = by_step
            .get(&"simmer".into())
            .expect("the rice simmers in something");
        assert_eq!(simmer[0].food.as_str(), "water");
    }

    #[test]
    fn equal_foods_of_two_batches_are_added_up() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let book = Book::new(&snapshot, &plan);
        let batch = &plan.batches[0];
        let (step, inputs) = inputs_by_step(book, batch)
            .pop_first()
            .expect("a batch handles food");
        let twice = handled(book, &[batch, batch], &step);
        assert_eq!(twice[0].input.ap, inputs[0].ap.times(2));
    }
}
