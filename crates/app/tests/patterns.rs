//! Eight weeks in a row for every household to start from: each week is planned and passes the audit, what was eaten in
//! the fortnight before is told to the next week, and dinners change.
//!
//! The rule for dinners: nobody gets the same dinner twice in a week, and at most a third of a week's dinners were
//! dinners of the week before.

use std::collections::BTreeSet;

use jiff::civil::{Date, DateTime, date};
use jiff::{Span, ToSpan};
use larderwright_app::{Options, Planned, Threads, build_snapshot, plan};
use larderwright_model::{Item, MealId, Occasion, Severity, Sitting, Snapshot, Supply};
use larderwright_records::household::{DEMO_HOUSEHOLD, PATTERNS, parse_household, pattern};

const WEEKS: i64 = 8;
/// So many days the home remembers what was eaten, as `Home` does.
const LATELY_DAYS: i64 = 14;

/// What was eaten when, the last first.
#[derive(Default)]
struct Memory(Vec<(DateTime, MealId)>);

impl Memory {
    fn lately(&self, before: Date) -> Vec<MealId> {
        let from = before.saturating_sub(Span::new().days(LATELY_DAYS));
        let mut seen = BTreeSet::new();
        let recent = self.0.iter().filter(|(at, _)| at.date() >= from);
        recent
            .map(|(_, meal)| meal.clone())
            .filter(|meal| seen.insert(meal.clone()))
            .collect()
    }

    fn add(&mut self, snapshot: &Snapshot, planned: &Planned) {
        let choices = &planned.plan.menu.choices;
        for (sitting, choice) in snapshot.sittings.iter().zip(choices) {
            self.0.push((sitting.at, choice.meal.clone()));
        }
        self.0.sort_by(|one, other| other.cmp(one));
    }
}

fn week(text: &str, monday: Date, lately: Vec<MealId>) -> (Snapshot, Planned) {
    let household = parse_household(text).expect("the household file can be read");
    let options = Options {
        menu_work: 6000,
        session_work: 1500,
        eaten_lately: lately,
        ..Options::default()
    };
    let now = monday.saturating_sub(4.days()).at(8, 0, 0, 0);
    let snapshot = build_snapshot(household, monday, now, options).expect("every name is known");
    let planned = plan(&snapshot, Threads::One).unwrap_or_else(|refusal| panic!("{monday}: {refusal}"));
    (snapshot, planned)
}

/// The dinners of a week with their sittings.
fn dinners<'w>(snapshot: &'w Snapshot, planned: &'w Planned) -> Vec<(&'w Sitting, &'w MealId)> {
    let choices = planned.plan.menu.choices.iter();
    snapshot
        .sittings
        .iter()
        .zip(choices)
        .filter(|(sitting, _)| sitting.occasion == Occasion::Dinner)
        .map(|(sitting, choice)| (sitting, &choice.meal))
        .collect()
}

fn repeated(dinners: &[(&Sitting, &MealId)]) -> Option<String> {
    let shared = |one: &Sitting, other: &Sitting| one.eaters.iter().any(|eater| other.eaters.contains(eater));
    let mut pairs = dinners.iter().enumerate().flat_map(|(ix, one)| {
        let later = dinners[ix + 1..].iter();
        later.map(move |other| (one, other))
    });
    pairs
        .find(|(one, other)| one.1 == other.1 && shared(one.0, other.0))
        .map(|(one, other)| format!("{} at {} and {}", one.1, one.0.at, other.0.at))
}

/// Eight weeks of a household, one line for each.
fn eight_weeks(text: &str) {
    let mut memory = Memory::default();
    let mut before: BTreeSet<MealId> = BTreeSet::new();
    for number in 0..WEEKS {
        let monday = date(2026, 11, 30).saturating_add((7 * number).days());
        let (snapshot, planned) = week(text, monday, memory.lately(monday));
        println!("{monday}: {}", told(&snapshot, &planned));
        let grave = planned
            .plan
            .findings
            .iter()
            .find(|it| it.severity >= Severity::Warning);
        if let Some(finding) = grave {
            let acts = planned.plan.runs.iter().flat_map(|run| &run.acts);
            let act = acts.into_iter().find(|act| act.id.as_str() == finding.subject);
            panic!(
                "{monday}: {finding:?} {:?}",
                act.map(|act| (&act.title, &act.batches))
            );
        }
        let dinners = dinners(&snapshot, &planned);
        assert_eq!(repeated(&dinners), None, "{monday}");
        let now: BTreeSet<MealId> = dinners.iter().map(|(_, meal)| (*meal).clone()).collect();
        let again: Vec<&MealId> = now.intersection(&before).collect();
        assert!(
            3 * again.len() <= now.len(),
            "{monday}: {} of {} dinners again: {again:?}",
            again.len(),
            now.len()
        );
        before = now;
        memory.add(&snapshot, &planned);
    }
}

/// What a week comes to, for whoever reads the output.
fn told(snapshot: &Snapshot, planned: &Planned) -> String {
    let plan = &planned.plan;
    let sum: i64 = plan.order.lines.iter().map(|line| line.price.minor()).sum();
    let sessions: BTreeSet<_> = plan.batches.iter().map(|batch| &batch.session).collect();
    let picks = || {
        plan.menu
            .choices
            .iter()
            .flat_map(|choice| &choice.covers)
            .flat_map(|cover| &cover.picks)
    };
    let made = picks().filter(|pick| pick.supply != Supply::Bought).count();
    let foods: BTreeSet<&Item> = picks()
        .filter(|pick| pick.supply == Supply::Bought)
        .map(|pick| &pick.item)
        .collect();
    let dinners: Vec<&str> = dinners(snapshot, planned)
        .iter()
        .map(|(_, meal)| meal.as_str())
        .collect();
    let of: Vec<&str> = plan
        .batches
        .iter()
        .map(|batch| batch.component.as_str())
        .collect();
    format!(
        "{}.{:02} for {} plates, {} lines, {} batches in {} of {} sessions, {made} of {} helpings cooked, {} foods as they are\n   {}\n   {}",
        sum / 100,
        sum % 100,
        plan.plates.len(),
        plan.order.lines.len(),
        plan.batches.len(),
        sessions.len(),
        snapshot.sessions.len(),
        picks().count(),
        foods.len(),
        of.join(" "),
        dinners.join(" "),
    )
}

fn of_pattern(name: &str) {
    eight_weeks(pattern(name).expect("the pattern exists").text);
}

macro_rules! patterns {
    ($($test:ident: $name:literal,)*) => {
        $(#[test]
        fn $test() {
            of_pattern($name);
        })*

        #[test]
        fn every_pattern_is_tried() {
            let tried = [$($name),*];
            assert!(PATTERNS.iter().all(|pattern| tried.contains(&pattern.name)));
        }
    };
}

patterns! {
    a_couple_eats_for_eight_weeks: "couple",
    a_family_with_small_children_eats_for_eight_weeks: "family-small-children",
    a_kitchen_without_an_oven_feeds_two_for_eight_weeks: "no-oven",
    one_person_eats_for_eight_weeks: "one-person",
    one_shelf_without_a_freezer_feeds_for_eight_weeks: "shared-flat",
    a_tight_budget_feeds_three_for_eight_weeks: "tight-budget",
    a_vegan_household_eats_for_eight_weeks: "vegan",
}

#[test]
fn the_demo_household_eats_for_eight_weeks() {
    eight_weeks(DEMO_HOUSEHOLD);
}
