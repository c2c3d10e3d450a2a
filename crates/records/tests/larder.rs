//! The recipe format: what is read, what is assumed when nothing is written, what is refused and where.

use std::fs;
use std::path::{Path, PathBuf};

use larderwright_model::{Component, Hygiene, Item, Skill, Spread, Step};
use larderwright_records::Problem;
use larderwright_records::larder::{parse_component, parse_meal};

const COMPONENT: &str = include_str!("golden/component.toml");
const MEAL: &str = include_str!("golden/meal.toml");

fn component() -> Component {
    parse_component("beans", COMPONENT).expect("the golden component is well formed")
}

fn step<'c>(component: &'c Component, id: &str) -> &'c Step {
    let found = component.ways[0].steps.iter().find(|step| step.id.as_str() == id);
    found.expect("the golden component has the step")
}

fn before(step: &Step) -> Vec<&str> {
    step.after.iter().map(|after| after.step.as_str()).collect()
}

/// The problems of the golden component after one replacement, as `line field: message`.
fn check_component(from: &str, to: &str) -> Vec<String> {
    assert!(COMPONENT.contains(from), "{from}");
    told(parse_component("beans", &COMPONENT.replacen(from, to, 1)))
}

fn check_meal(from: &str, to: &str) -> Vec<String> {
    assert!(MEAL.contains(from), "{from}");
    told(parse_meal("bowl", &MEAL.replacen(from, to, 1)))
}

fn told<T>(result: Result<T, Vec<Problem>>) -> Vec<String> {
    let problems = result.err().unwrap_or_default();
    problems
        .iter()
        .map(|it| format!("{} {}: {}", it.line, it.field, it.message))
        .collect()
}

fn files(folder: &str) -> Vec<(String, String)> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../reference/data/larder")
        .join(folder);
    let mut paths: Vec<PathBuf> = fs::read_dir(path)
        .expect("the recipes are there")
        .map(|entry| entry.expect("an entry").path())
        .collect();
    paths.sort();
    let stem = |path: &Path| {
        path.file_stem()
            .map(|it| it.to_string_lossy().into_owned())
            .unwrap_or_default()
    };
    paths
        .iter()
        .map(|path| (stem(path), fs::read_to_string(path).expect("a readable file")))
        .collect()
}

#[test]
fn every_built_in_component_is_well_formed() {
    for (id, text) in files("components") {
        assert_eq!(told(parse_component(&id, &text)), [""; 0], "{id}");
    }
}

#[test]
fn every_built_in_meal_is_well_formed() {
    for (id, text) in files("meals") {
        assert_eq!(told(parse_meal(&id, &text)), [""; 0], "{id}");
    }
}

#[test]
fn a_step_without_after_follows_the_step_before_of_its_sort() {
    let component = component();
    assert_eq!(before(step(&component, "soak")), [""; 0]);
    assert_eq!(before(step(&component, "drain-soak")), [""; 0]);
    assert_eq!(before(step(&component, "boil")), ["drain-soak"]);
    assert_eq!(before(step(&component, "crisp")), ["boil"]);
}

#[test]
fn what_is_not_written_is_assumed_plain() {
    let component = component();
    let drain = step(&component, "drain-soak");
    assert_eq!(
        (drain.hygiene, drain.skill, drain.hands),
        (Hygiene::Plain, Skill::Any, 1)
    );
    assert_eq!(step(&component, "crisp").law.spread, Spread::NONE);
    assert_eq!(step(&component, "crisp").hands, 0);
}

#[test]
fn an_option_without_portion_takes_that_of_its_element() {
    let meal = parse_meal("bowl", MEAL).expect("the golden meal is well formed");
    let options = &meal.elements[0].options;
    assert_eq!(options[0].portion, meal.elements[0].portion);
    assert!(options[1].portion < meal.elements[0].portion);
    assert!(matches!(options[1].item, Item::Food(_)));
}

/// What is replaced, by what, and what is told then.
const COMPONENT_MISTAKES: &[(&str, &str, &str)] = &[
    (
        "family = \"pulse\"",
        "family = \"puls\"",
        "3 family: `puls` is no known family",
    ),
    ("serve = \"either\"", "", "1 serve: is missing"),
    (
        "season = [1, 12]",
        "season = [0, 12]",
        "10 season[1]: `0` is out of range",
    ),
    (
        "bulk_g_per_l = 700",
        "bulk_g_per_l = \"700\"",
        "7 bulk_g_per_l: the text `700` stands where a whole number is wanted",
    ),
    (
        "min_g = 250",
        "min_g = 2500",
        "17 way[1].size.min_g: `2500` is more than max_g, `1500`",
    ),
    (
        "step_g = 50",
        "step = \"cup\"",
        "17 way[1].size.step: `cup` is no known way to grow",
    ),
    (
        "step_g = 50",
        "step_g = 50, step = \"pack\"",
        "17 way[1].size: has both step_g and step",
    ),
    (
        "[2000, 2200, 2600]",
        "[2300, 2200, 2600]",
        "18 way[1].yield.permille: is not in order",
    ),
    (
        "[2000, 2200, 2600]",
        "[2200]",
        "18 way[1].yield.permille: has not three numbers",
    ),
    ("per_kg_mg = 10500", "", "32 way[1].input[3]: has no amount"),
    (
        "lead = true",
        "",
        "41 way[1].step[1].min_s: belongs to a lead step only",
    ),
    (
        "title = \"Boil beans\"",
        "title = \"Boil the beans now\"",
        "55 way[1].step[3].title: `Boil the beans now` has more than three words",
    ),
    (
        "step = \"drain-soak\", max",
        "step = \"rinse\", max",
        "60 way[1].step[3].after[1].step: no earlier step is called `rinse`",
    ),
    (
        "uses = [\"rack\", \"tray\"]",
        "uses = [\"tray\"]",
        "79 way[1].step[4].oven: is set, but the step holds no rack",
    ),
    (
        "best_c = 200",
        "best_c = 240",
        "79 way[1].step[4].oven.best_c: does not lie between min_c and max_c",
    ),
    (
        "hygiene = \"ready\"",
        "hygeine = \"ready\"",
        "80 way[1].step[4].hygeine: is no field that is known here",
    ),
    (
        "id = \"canned\"",
        "id = \"dry\"",
        "1 : the id `dry` is used twice",
    ),
];

#[test]
fn a_mistake_in_a_component_is_shown_at_its_line() {
    for (from, to, expected) in COMPONENT_MISTAKES {
        assert_eq!(check_component(from, to), [*expected], "{from} -> {to}");
    }
}

#[test]
fn a_mistake_in_a_meal_is_shown_at_its_line() {
    let cases = [
        (
            "at = [\"dinner\", ",
            "at = [\"diner\", ",
            "4 at[1]: `diner` is no known occasion",
        ),
        ("at = [\"dinner\", \"packed-cold\"]", "at = []", "4 at: is empty"),
        (
            "kind = \"bowl\"",
            "kind = \"heap\"",
            "5 kind: `heap` is no known kind of meal",
        ),
        (
            "food = \"bread\"",
            "food = \"bread\"\ncomponent = \"bun\"",
            "17 element[1].option[2]: does not say what it is",
        ),
        (
            "base:bread",
            "base:rice",
            "32 rule[1].not[1]: `base:rice` is no option of this meal",
        ),
        (
            "need = \"optional\"",
            "need = 1",
            "26 element[2].need: the number `1` stands where text is wanted",
        ),
    ];
    for (from, to, expected) in cases {
        let told = check_meal(from, to);
        assert!(told.contains(&expected.to_owned()), "{from} -> {to}: {told:?}");
    }
}

#[test]
fn all_mistakes_of_a_file_are_told_at_once() {
    let broken = COMPONENT
        .replace("family = \"pulse\"", "family = \"puls\"")
        .replace("freeze = \"good\"", "freeze = 3")
        .replace("pot_ml = 500", "pot_ml = -500")
        .replace("text = \"Open, drain, rinse.\"", "");
    assert_eq!(told(parse_component("beans", &broken)).len(), 4);
}

#[test]
fn a_broken_line_is_told_without_complaints_about_what_follows() {
    let told = check_component("keep = \"pulse-cooked\"", "keep = pulse cooked\"");
    assert!(
        told.iter().all(|it| it.starts_with("4 : cannot be read")),
        "{told:?}"
    );
    assert!(!told.is_empty());
}
