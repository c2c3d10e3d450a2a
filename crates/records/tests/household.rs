//! The household format: the files we hand out are well formed, every sort of mistake is told with its line, and
//! no text whatsoever brings the reader down.

use std::collections::BTreeSet;

use jiff::civil::Weekday;
use larderwright_model::{
    Allergen, Appetite, Contact, DayRef, Diet, Household, Occasion, Profile, Region, Skill, StockState, Where,
};
use larderwright_quantity::{Mass, Money, Rounding, Temperature};
use larderwright_records::household::{DEMO_HOUSEHOLD, EXAMPLE_HOUSEHOLD, parse_household};
use proptest::prelude::*;

fn read(text: &str) -> Household {
    match parse_household(text) {
        Ok(household) => household,
        Err(problems) => panic!(
            "{}",
            problems
                .iter()
                .map(ToString::to_string)
                .collect::<Vec<_>>()
                .join("\n")
        ),
    }
}

/// The problems of a text, as `line field: message`.
fn told(text: &str) -> Vec<String> {
    let problems = parse_household(text).err().unwrap_or_default();
    problems
        .iter()
        .map(|it| format!("{} {}: {}", it.line, it.field, it.message))
        .collect()
}

/// The problems of the example after one replacement.
fn check(from: &str, to: &str) -> Vec<String> {
    assert!(EXAMPLE_HOUSEHOLD.contains(from), "{from}");
    told(&EXAMPLE_HOUSEHOLD.replacen(from, to, 1))
}

fn line_of(fragment: &str) -> usize {
    let at = EXAMPLE_HOUSEHOLD
        .find(fragment)
        .expect("the example holds the fragment");
    EXAMPLE_HOUSEHOLD[..at].lines().count() + usize::from(EXAMPLE_HOUSEHOLD[..at].ends_with('\n'))
}

#[test]
fn the_example_says_what_it_means() {
    let household = read(EXAMPLE_HOUSEHOLD);
    assert_eq!((household.region, household.profile), (Region::Eu, Profile::Eu));
    assert_eq!(household.eaters.len(), 3);
    assert_eq!(household.eaters[0].diet, Diet::Vegetarian);
    let Appetite::Computed(body) = household.eaters[1].appetite else {
        panic!("a body was written")
    };
    assert_eq!(
        (body.age, body.height_cm, body.weight_hg, body.activity),
        (38, 181, 790, 1)
    );
    assert_eq!(
        household.eaters[1].allergies.get(&Allergen::Celery),
        Some(&Contact::Traces)
    );
    let breakfasts = household
        .sittings
        .iter()
        .filter(|it| it.occasion == Occasion::Breakfast)
        .count();
    assert_eq!(breakfasts, 5);
    let lunch = household
        .sittings
        .iter()
        .find(|it| it.occasion == Occasion::Lunch)
        .expect("a lunch");
    let Where::Packed(packed) = lunch.place else {
        panic!("the lunch is packed")
    };
    assert!(packed.ice_pack && packed.microwave && !packed.fridge);
    assert_eq!(household.sessions[0].day, DayRef::Before(Weekday::Sunday));
    assert_eq!(household.shops[0].day, DayRef::Before(Weekday::Saturday));
    assert_eq!(household.prices[0].price, Money::from_minor(229));
    assert_eq!(household.kitchen.pots.iter().map(|pot| pot.count).sum::<u32>(), 3);
    assert!(
        household
            .stock
            .iter()
            .any(|it| it.state == StockState::Amount(Mass::from_g(400)))
    );
}

#[test]
fn the_demonstration_seats_six_with_one_severe_allergy() {
    let household = read(DEMO_HOUSEHOLD);
    assert_eq!(household.eaters.len(), 6);
    let severe = household
        .eaters
        .iter()
        .filter(|it| it.allergies.values().any(|it| *it == Contact::Severe));
    assert_eq!(severe.count(), 1);
    let dinners = household
        .sittings
        .iter()
        .filter(|it| it.occasion == Occasion::Dinner);
    assert!(
        dinners
            .clone()
            .all(|it| (20..=35).contains(&it.minutes) && it.eaters.len() == 6)
    );
    assert_eq!(
        dinners
            .map(|it| format!("{:?}", it.day))
            .collect::<BTreeSet<_>>()
            .len(),
        7
    );
    let packed: BTreeSet<_> = household
        .sittings
        .iter()
        .filter(|it| it.place != Where::Home)
        .collect_eaters();
    assert_eq!(packed.len(), 3);
    let helper = household
        .cooks
        .iter()
        .find(|it| !it.can(Skill::Stove))
        .expect("a helper");
    assert!(helper.can(Skill::Knife) && household.sessions[0].cooks.contains(&helper.id));
    assert_eq!(
        household.kitchen.oven.expect("an oven").max,
        Temperature::from_f(500)
    );
    let sizes: Vec<i64> = household
        .kitchen
        .boxes
        .iter()
        .map(|it| it.volume.ml(Rounding::Nearest))
        .collect();
    assert_eq!(sizes, [473, 1183, 2129]);
}

trait CollectEaters {
    fn collect_eaters(self) -> BTreeSet<String>;
}

impl<'s, I: Iterator<Item = &'s larderwright_model::SittingPattern>> CollectEaters for I {
    fn collect_eaters(self) -> BTreeSet<String> {
        self.flat_map(|it| it.eaters.iter().map(ToString::to_string))
            .collect()
    }
}

/// What is replaced, by what, where the problem is told (a fragment of the same line), and as what.
const MISTAKES: &[(&str, &str, &str, &str)] = &[
    (
        "region = \"eu\"",
        "region = \"europe\"",
        "region =",
        "region: `europe` is no known region",
    ),
    (
        "guidance = \"eu\"",
        "guidance = \"usda\"",
        "guidance =",
        "guidance: `usda` is no known guidance profile",
    ),
    (
        "units = \"metric\"",
        "unit = \"metric\"",
        "units =",
        "unit: is no field that is known here",
    ),
    (
        "\"EUR\"",
        "\"euro\"",
        "currency =",
        "currency: `euro` is no currency code",
    ),
    (
        "\"Europe/Vienna\"",
        "\"CET\"",
        "time_zone =",
        "time_zone: `CET` is no time zone",
    ),
    (
        "altitude_m = 200",
        "altitude_m = \"high\"",
        "altitude_m =",
        "altitude_m: the text `high` stands where a whole number is wanted",
    ),
    (
        "altitude_m = 200",
        "altitude_m = 20000",
        "altitude_m =",
        "altitude_m: `20000` is out of range",
    ),
    (
        "shops = [\"Saturday before 11:00\"]",
        "shops = [\"Caturday 11:00\"]",
        "shops =",
        "shops[1]: `Caturday 11:00` is no day with a time",
    ),
    (
        "diet = \"vegetarian\"",
        "diet = \"vegitarian\"",
        "diet =",
        "eater[1].diet: `vegitarian` is no known diet",
    ),
    (
        "appetite = \"small\"",
        "appetite = \"tiny\"",
        "appetite = \"small\"",
        "eater[3].appetite: `tiny` is no known appetite",
    ),
    (
        "sex = \"male\"",
        "sex = \"m\"",
        "body =",
        "eater[2].body.sex: `m` is no known sex",
    ),
    (
        "\"79 kg\"",
        "\"79\"",
        "body =",
        "eater[2].body.weight: `79` is no weight",
    ),
    (
        "celery = \"traces\"",
        "cellery = \"traces\"",
        "allergies =",
        "eater[2].allergies.cellery: `cellery` is no known allergen",
    ),
    (
        "celery = \"traces\"",
        "celery = \"deadly\"",
        "allergies =",
        "eater[2].allergies.celery: `deadly` is no known strictness",
    ),
    (
        "avoid = [\"alcohol\"]",
        "avoid = [\"sugar\"]",
        "avoid =",
        "eater[3].avoid[1]: `sugar` is no known thing to leave out",
    ),
    (
        "dislikes = [\"capers\"]",
        "dislikes = [\"Capers!\"]",
        "dislikes =",
        "eater[1].dislikes[1]: `Capers!` is no identifier",
    ),
    (
        "burners = 4",
        "burners = -4",
        "burners =",
        "kitchen.burners: `-4` is out of range",
    ),
    (
        "burners = 4",
        "burners = 4.0",
        "burners =",
        "kitchen.burners: the number `4.0` stands where a whole number is wanted",
    ),
    (
        "pots = [\"5 l\"",
        "pots = [\"5 kg\"",
        "pots =",
        "kitchen.pots[1]: `5 kg` is no volume",
    ),
    (
        "trays = [\"2 x 46 x 33 cm\"]",
        "trays = [\"two large\"]",
        "trays =",
        "kitchen.trays[1]: `two large` is no size of a tray",
    ),
    (
        "lowest = \"50 C\"",
        "lowest = \"260 C\"",
        "oven =",
        "kitchen.oven.lowest: is not below highest",
    ),
    (
        "highest = \"250 C\"",
        "highest = \"hot\"",
        "oven =",
        "kitchen.oven.highest: `hot` is no oven temperature",
    ),
    (
        "depth = \"7 cm\"",
        "depth = \"7\"",
        "depth = \"7 cm\"",
        "kitchen.box[1].depth: `7` is no length",
    ),
    (
        "days = \"mon-fri\"",
        "days = \"moonday\"",
        "days =",
        "sitting[1].days: `moonday` is no weekday",
    ),
    (
        "days = \"mon-fri\"",
        "days = \"fri-mon\"",
        "days =",
        "sitting[1].days: `fri-mon` runs backwards",
    ),
    (
        "meal = \"lunch\"",
        "meal = \"tea\"",
        "meal = \"lunch\"",
        "sitting[2].meal: `tea` is no known meal of the day",
    ),
    (
        "at = \"12:30\"",
        "at = \"half past\"",
        "at = \"12:30\"",
        "sitting[2].at: `half past` is no time of the day",
    ),
    (
        "minutes = 25",
        "minutes = 0",
        "minutes = 25",
        "sitting[3].minutes: `0` is out of range",
    ),
    (
        "who = [\"Jon\"]",
        "who = [\"John\"]",
        "who = [\"Jon\"]",
        "sitting[2].who[1]: `John` is no known eater",
    ),
    (
        "hours = 5, ",
        "",
        "packed =",
        "sitting[2].packed.hours: is missing",
    ),
    (
        "10:00-13:30",
        "13:30-10:00",
        "when =",
        "session[1].when: `Sunday before 13:30-10:00` ends before it starts",
    ),
    (
        "cooks = [\"Mara\", \"Jon\"]",
        "cooks = [\"Mara\", \"Ida\"]",
        "cooks =",
        "session[1].cooks[2]: `Ida` is no known cook",
    ),
    (
        "amounts = { bulgur-dry = \"400 g\" }",
        "amounts = { salt = \"400 g\" }",
        "amounts =",
        "stock.amounts.salt: `salt` stands twice on the tick list",
    ),
    (
        "amount = \"2 kg\"",
        "amount = \"2 l\"",
        "amount =",
        "standing[1].amount: `2 l` is no weight",
    ),
    (
        "price = \"2.29\"",
        "price = \"2,29\"",
        "price = \"2.29\"",
        "price[1].price: `2,29` is no price",
    ),
    (
        "components_max = 7",
        "components_max = 0",
        "components_max =",
        "wishes.components_max: `0` is out of range",
    ),
    (
        "\"quicker\", ",
        "\"faster\", ",
        "priorities =",
        "wishes.priorities[2]: `faster` is no known priority",
    ),
    (
        "\"quicker\", ",
        "\"cheaper\", ",
        "priorities =",
        "wishes.priorities: names one twice",
    ),
];

#[test]
fn every_sort_of_mistake_is_told_once_at_its_line() {
    let mut wrong = Vec::new();
    for (from, to, place, message) in MISTAKES {
        let (told, expected) = (check(from, to), format!("{} {message}", line_of(place)));
        // A misspelt field is also a missing one.
        if !told.contains(&expected) || told.len() > if message.contains("unit:") { 2 } else { 1 } {
            wrong.push(format!("{from} -> {to}\n  want {expected}\n  told {told:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn an_unknown_word_comes_with_the_nearest_and_with_all() {
    let text = EXAMPLE_HOUSEHOLD.replace("celery = \"traces\"", "tree-nut = \"plate\"");
    let problems = parse_household(&text).expect_err("the allergen is misspelt");
    assert!(
        problems[0].help.starts_with("Did you mean `tree-nuts`?"),
        "{}",
        problems[0].help
    );
    assert!(
        Allergen::ALL
            .iter()
            .all(|it| problems[0].help.contains(it.word())),
        "{}",
        problems[0].help
    );
    let text = EXAMPLE_HOUSEHOLD.replace("burners = 4", "burnrs = 4");
    let problems = parse_household(&text).expect_err("the field is misspelt");
    assert_eq!(problems[0].help, "Did you mean `burners`?");
}

#[test]
fn two_people_of_one_name_need_ids() {
    let told = check("name = \"Ida\"", "name = \"Mara\"");
    assert_eq!(
        told,
        [format!(
            "{} eater[3]: the id `mara` is used twice",
            line_of("name = \"Ida\"") - 1
        )]
    );
    assert_eq!(
        check("name = \"Ida\"", "name = \"Mara\"\nid = \"mara-2\""),
        [""; 0]
    );
    assert!(check("name = \"Ida\"", "name = \"Ида\"")[0].contains("makes no id"));
}

#[test]
fn nobody_sits_at_two_dinners_at_once() {
    let told = check("meal = \"lunch\"", "meal = \"dinner\"");
    assert_eq!(told.len(), 3, "{told:?}");
    assert!(
        told[0].ends_with("`jon` already has another dinner on mon"),
        "{}",
        told[0]
    );
}

#[test]
fn a_file_without_anything_is_told_all_that_is_missing() {
    let told = told("");
    for field in [
        "name", "region", "guidance", "eater", "cook", "kitchen", "sitting", "session", "shops",
    ] {
        assert!(
            told.contains(&format!("1 {field}: is missing")),
            "{field}: {told:?}"
        );
    }
}

#[test]
fn a_meal_is_fixed_by_weekday_or_by_date() {
    let fixed = |day: &str| {
        format!(
            "{EXAMPLE_HOUSEHOLD}\n[[wishes.fixed]]\nday = \"{day}\"\nmeal = \"dinner\"\ndish = \"soup-supper\"\n"
        )
    };
    let keys = |text: &str| {
        read(text)
            .wishes
            .fixed
            .keys()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
    };
    assert_eq!(keys(&fixed("Friday")), ["fri-dinner"]);
    assert_eq!(keys(&fixed("2026-12-04")), ["2026-12-04-dinner"]);
    assert!(told(&fixed("sat"))[0].contains("nobody sits down to dinner on `sat`"));
    assert!(told(&fixed("2026-12-05"))[0].contains("nobody sits down to dinner"));
    assert!(told(&fixed("payday"))[0].contains("`payday` is no day"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn no_text_brings_the_reader_down(text in "\\PC{0,200}") {
        prop_assert!(parse_household(&text).is_err());
    }

    #[test]
    fn no_damage_to_a_file_brings_the_reader_down(at in 0_usize..6000, length in 0_usize..40, put in "[\\PC\n]{0,12}") {
        let mut text: Vec<char> = EXAMPLE_HOUSEHOLD.chars().collect();
        let from = at.min(text.len());
        let to = (from + length).min(text.len());
        text.splice(from..to, put.chars());
        let text: String = text.into_iter().collect();
        if let Err(problems) = parse_household(&text) {
            let lines = u32::try_from(text.lines().count() + 1).expect("a short text");
            prop_assert!(problems.iter().all(|it| (1..=lines).contains(&it.line) && !it.message.is_empty()));
        }
    }

    #[test]
    fn a_file_with_several_mistakes_tells_at_least_so_many(picks in prop::collection::btree_set(0..MISTAKES.len(), 1..8)) {
        let mut text = EXAMPLE_HOUSEHOLD.to_owned();
        let mut made = 0;
        let mut lines = BTreeSet::new();
        for (from, to, place, _) in picks.iter().map(|at| MISTAKES[*at]) {
            // Two mistakes on one line may hide each other; so may one that removes what the other is about.
            if lines.insert(line_of(place)) && text.contains(from) {
                text = text.replacen(from, to, 1);
                made += 1;
            }
        }
        let told = told(&text);
        prop_assert!(told.len() >= made, "{made} mistakes, told {told:?}");
    }
}
