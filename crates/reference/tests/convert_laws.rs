//! Laws that every conversion keeps, tried on every food of the table, and cases in words.

use larderwright_model::Region;
use larderwright_quantity::{Amount, Mass, System, Unit, Volume};
use larderwright_reference::convert::{
    Container, Context, Conversion, Given, Part, Piece, Spread, Target, convert, read_said, read_target,
    request,
};
use larderwright_reference::{FoodRow, all};

const PLAIN: Context = Context {
    region: Region::Us,
    said: None,
};

fn units(amount: Amount) -> i64 {
    match amount {
        Amount::Mass(mass) => mass.mg(),
        Amount::Volume(volume) => volume.ul(),
        Amount::Count(count) => count,
    }
}

fn container(word: &str) -> Container {
    Container {
        word: word.to_owned(),
        net: None,
    }
}

fn givens() -> Vec<Given> {
    let cup = Volume::from_ul(236_588);
    let words = |word: &str| vec![word.to_owned()];
    let piece = |size: Option<&str>, noun: Option<&str>| Piece {
        size: size.map(str::to_owned),
        noun: noun.map(str::to_owned),
    };
    vec![
        Given::Mass(Mass::from_g(250), Part::Edible),
        Given::Mass(Mass::from_g(250), Part::AsPurchased),
        Given::Volume(cup, Unit::CupUs, Vec::new()),
        Given::Volume(Volume::from_ml(5), Unit::TspMetric, Vec::new()),
        Given::Volume(cup, Unit::CupUs, words("chopped")),
        Given::Pieces(3000, piece(None, None)),
        Given::Pieces(1000, piece(Some("large"), None)),
        Given::Pieces(500, piece(None, Some("slice"))),
        Given::Packs(2000, container("can")),
        Given::Packs(1000, container("bag")),
    ]
}

fn targets() -> Vec<Target> {
    vec![
        Target::Mass(Unit::G),
        Target::Volume(Unit::CupUs, Vec::new()),
        Target::Volume(Unit::Ml, Vec::new()),
        Target::Pieces(Piece::default()),
        Target::Packs(container("jar")),
    ]
}

/// Every answer and every refusal there is, over all foods.
fn for_each(mut see: impl FnMut(&'static FoodRow, &Given, &Target, Option<&Conversion>)) {
    for food in all() {
        for given in givens() {
            for target in targets() {
                let answer = convert(food, &given, &target, &PLAIN);
                if let Err(missing) = &answer {
                    assert!(missing.to_string().contains(food.name), "{missing}");
                    assert!(missing.help().ends_with('.'), "{}", missing.help());
                }
                see(food, &given, &target, answer.ok().as_ref());
            }
        }
    }
}

#[test]
fn likely_lies_between_low_and_high_and_every_step_has_a_source() {
    let (mut answered, mut refused) = (0, 0);
    for_each(|food, given, target, answer| {
        let Some(answer) = answer else {
            refused += 1;
            return;
        };
        answered += 1;
        let Spread { low, likely, high } = answer.amount;
        let (low, likely, high) = (units(low), units(likely), units(high));
        assert!(
            0 <= low && low <= likely && likely <= high,
            "{} {given:?} {target:?}: {answer:?}",
            food.id
        );
        assert!(likely > 0, "{} {given:?} {target:?}", food.id);
        assert!(answer.edible.low <= answer.edible.likely && answer.edible.likely <= answer.edible.high);
        assert!(!answer.steps.is_empty(), "{}", food.id);
        for step in &answer.steps {
            assert!(
                !step.source.is_empty() && !step.fact.is_empty(),
                "{}: {step:?}",
                food.id
            );
        }
        assert_eq!(
            answer.as_purchased.is_some(),
            food.edible.permille < 1000,
            "{}",
            food.id
        );
    });
    assert!(answered > 10_000, "{answered} answers");
    assert!(refused > 10_000, "{refused} refusals");
}

#[test]
fn twice_as_much_is_twice_as_much() {
    for food in all() {
        let grams = |ml: i64| {
            let given = Given::Volume(Volume::from_ml(ml), Unit::CupUs, Vec::new());
            convert(food, &given, &Target::Mass(Unit::G), &PLAIN)
                .ok()
                .map(|answer| answer.edible.likely.mg())
        };
        if let (Some(one), Some(two)) = (grams(250), grams(500)) {
            assert!((two - 2 * one).abs() <= 1, "{}: {one} and {two}", food.id);
        }
    }
}

#[test]
fn there_and_back_again_is_the_same_amount() {
    let mut tried = 0;
    for food in all() {
        let cup = Volume::from_ul(236_588);
        let given = Given::Volume(cup, Unit::CupUs, Vec::new());
        let Ok(there) = convert(food, &given, &Target::Mass(Unit::G), &PLAIN) else {
            continue;
        };
        let weighed = Given::Mass(there.edible.likely, Part::Edible);
        let target = Target::Volume(Unit::CupUs, Vec::new());
        let back =
            convert(food, &weighed, &target, &PLAIN).expect("what is known one way is known the other");
        let apart = (units(back.amount.likely) - cup.ul()).abs();
        // A milligram of the lightest food of the table is about 30 microlitres.
        assert!(apart <= 60, "{}: {apart} microlitres", food.id);
        tried += 1;
    }
    assert!(tried > 600, "{tried} foods have a volume");
}

#[test]
fn what_the_cook_says_stands_in_for_what_is_missing_and_before_what_is_known() {
    for (text, to, said, expected) in [
        ("2 cups sumac", "g", "1 cup = 120 g", 240_000),
        ("1/2 cup onions, chopped", "g", "1 cup = 150 g", 75_000),
        ("3 jumbo onions", "g", "1 jumbo = 300 g", 900_000),
        ("2 cans chickpeas", "g", "1 can = 250 g", 500_000),
        ("300 g onions", "count", "1 = 150 g", 2_000),
    ] {
        let asked = request(text, System::UsCustomary).expect(text);
        let target = read_target(to, asked.food, System::UsCustomary).expect(to);
        let said = read_said(said, asked.food, System::UsCustomary).expect(said);
        let context = Context {
            said: Some(said),
            ..PLAIN
        };
        let answer = convert(asked.food, &asked.given, &target, &context).expect(text);
        let error = (units(answer.amount.likely) - expected).abs();
        assert!(error <= expected / 100_000, "{text}: off by {error}");
        assert!(answer.steps.iter().any(|step| step.source == "given by the cook"));
    }
}

fn check(text: &str, to: &str, region: Region) -> Result<String, String> {
    let asked = request(text, System::UsCustomary).map_err(|error| error.to_string())?;
    let target = read_target(to, asked.food, System::UsCustomary).map_err(|error| error.to_string())?;
    let context = Context { region, ..PLAIN };
    let answer =
        convert(asked.food, &asked.given, &target, &context).map_err(|missing| missing.to_string())?;
    let bases: Vec<&str> = answer.steps.iter().map(|step| step.basis.word()).collect();
    Ok(format!("{} by {}", units(answer.amount.likely), bases.join(", ")))
}

#[test]
fn answers_name_what_they_rest_on() {
    for (text, to, region, expected) in [
        (
            "1 can chickpeas",
            "g",
            Region::Us,
            "240262 by drained weight, pack",
        ),
        (
            "1 can chickpeas",
            "g",
            Region::Uk,
            "226000 by drained weight, pack",
        ),
        (
            "1 (448 g) can chickpeas",
            "g",
            Region::Us,
            "253120 by drained weight, pack",
        ),
        (
            "1 lb carrots, untrimmed",
            "g",
            Region::Us,
            "403697 by edible portion",
        ),
        ("1 lb carrots", "g", Region::Us, "453592 by weight"),
        ("100 ml chickpea-dry", "g", Region::Us, "84500 by density"),
        ("1 cup butter", "tbsp", Region::Us, "236588 by weight"),
        ("1 medium onion", "g", Region::Us, "110000 by count"),
    ] {
        assert_eq!(check(text, to, region).as_deref(), Ok(expected), "{text} to {to}");
    }
}

#[test]
fn what_nobody_has_told_is_named() {
    for (text, to, expected) in [
        (
            "1 jumbo onion",
            "g",
            "nobody has told how much one jumbo of `Onions, brown` weighs",
        ),
        ("2 garlic", "g", "it is not said what is counted of `Garlic`"),
        (
            "1 can onions",
            "g",
            "nobody has told how much `Onions, brown` a can holds",
        ),
        (
            "1 cup chicken-thigh-boneless",
            "g",
            "nobody has told how much a cup of `Chicken thighs, boneless, skinless` weighs",
        ),
        (
            "1 onion",
            "furlong",
            "`furlong` is no unit or piece to convert to",
        ),
        (
            "2 cups chickpeas",
            "g",
            "`chickpea` may be several foods or states of one",
        ),
    ] {
        assert_eq!(
            check(text, to, Region::Us),
            Err(expected.to_owned()),
            "{text} to {to}"
        );
    }
}

#[test]
fn the_largest_amounts_that_can_be_written_are_answered() {
    for (text, to) in [
        ("999999999.999999 gallons honey", "g"),
        ("999999999.999999 kg spinach", "ml"),
        ("999999999 pumpkin", "g"),
        ("999999999 kg garlic", "cloves"),
        ("999999999 kg alfalfa-sprouts", "tsp"),
    ] {
        let answer = check(text, to, Region::Us).expect(text);
        let figure = answer.split(' ').next().map_or(0, str::len);
        assert!(figure >= 12, "{text}: {answer}");
    }
}

#[test]
fn any_text_is_answered_or_refused() {
    let pieces = [
        "1",
        "1/2",
        "½",
        "-",
        "2-3",
        "cup",
        "can",
        "400 g",
        "(",
        "onion",
        "chickpeas",
        ",",
        "large",
        "é",
        "of",
        "x",
        "=",
        "999999999",
        "0",
    ];
    let mut state = 20_261_126_u64;
    for _ in 0..3_000 {
        let mut text = String::new();
        for _ in 0..6 {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            let at = usize::try_from(state >> 40).expect("24 bits fit") % pieces.len();
            text.push_str(pieces[at]);
            text.push(' ');
        }
        for to in ["g", "cup", "count", "can"] {
            let _ = check(&text, to, Region::Eu);
        }
    }
}
