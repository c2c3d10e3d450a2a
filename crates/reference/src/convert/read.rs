//! Reading `2 cups chickpeas, dry`, `--to "cup, chopped"` and `1 cup = 120 g`.

use std::error::Error;
use std::fmt;

use larderwright_quantity::{Amount, AmountError, Mass, System, Unit, parse_amount_for};

use super::knowledge::container_word;
use super::measure::piece_of;
use super::resolve::{NotOneFood, Resolved, resolve};
use super::{Container, Given, Part, Piece, Said, Target};
use crate::food::FoodRow;
use crate::search::words;

/// An amount of a food, read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Request {
    /// The food.
    pub food: &'static FoodRow,
    /// How much of it.
    pub given: Given,
}

/// Why a text is no amount of a food.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ReadError {
    /// The amount cannot be read.
    Amount(AmountError),
    /// There is an amount and no food.
    NoFood(String),
    /// The food is none or several.
    Food(NotOneFood),
    /// The unit to convert to is none, of this food.
    Target(String),
    /// The figure of the cook is not an amount and a weight.
    Said(String),
}

impl ReadError {
    /// What to write instead, as a sentence.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::Amount(error) => error.help().to_owned(),
            Self::NoFood(_) => "Write what it is an amount of, as in `2 cups chickpeas, dry`.".to_owned(),
            Self::Food(error) => error.help(),
            Self::Target(_) => {
                "Name a unit such as g, oz, ml or cup, or what is counted: `cloves`, `large`, `cans`."
                    .to_owned()
            }
            Self::Said(_) => "Write an amount and its weight, as in `1 cup = 120 g`.".to_owned(),
        }
    }
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Amount(error) => error.fmt(f),
            Self::NoFood(text) => write!(f, "`{text}` names no food"),
            Self::Food(error) => error.fmt(f),
            Self::Target(text) => write!(f, "`{text}` is no unit or piece to convert to"),
            Self::Said(text) => write!(f, "`{text}` does not say how much an amount weighs"),
        }
    }
}

impl Error for ReadError {}

impl From<AmountError> for ReadError {
    fn from(error: AmountError) -> Self {
        Self::Amount(error)
    }
}

/// Reads an amount of a food: figure, unit, size, piece, pack, cut and name, in any order behind the figure.
///
/// # Errors
/// Says what cannot be read; see [`ReadError::help`] for how to mend it.
pub fn request(text: &str, system: System) -> Result<Request, ReadError> {
    let head = Head::read(text, system)?;
    if words(&head.rest).is_empty() {
        return Err(ReadError::NoFood(text.trim().to_owned()));
    }
    let counts_pieces = matches!(head.amount, Amount::Count(_));
    let resolved = resolve(&head.rest, counts_pieces).map_err(ReadError::Food)?;
    Ok(Request {
        food: resolved.food,
        given: given(&head, &resolved),
    })
}

fn given(head: &Head, resolved: &Resolved) -> Given {
    match head.amount {
        Amount::Mass(mass) => match &resolved.container {
            // `400 g can` is one can of that weight.
            Some(word) => Given::Packs(1000, container(word, Some(mass))),
            None if resolved.is_as_purchased => Given::Mass(mass, Part::AsPurchased),
            None => Given::Mass(mass, Part::Edible),
        },
        Amount::Volume(volume) => Given::Volume(volume, head.unit, resolved.forms.clone()),
        Amount::Count(count) => match &resolved.container {
            Some(word) => Given::Packs(count, container(word, head.net)),
            None if is_sold_by(resolved.food, resolved.noun.as_deref()) => {
                let word = resolved.noun.clone().unwrap_or_default();
                Given::Packs(count, container(&word, head.net))
            }
            None => Given::Pieces(count, piece(resolved)),
        },
    }
}

fn container(word: &str, net: Option<Mass>) -> Container {
    Container {
        word: word.to_owned(),
        net,
    }
}

/// A bunch or a block is a pack of what is sold so, unless the food is counted in it.
fn is_sold_by(food: &FoodRow, noun: Option<&str>) -> bool {
    let last_is = |text: &str| words(text).last().map(String::as_str) == noun;
    let is_counted = food.unit.is_some_and(|unit| last_is(unit.singular))
        || food
            .measures
            .iter()
            .any(|measure| words(measure.text).first().map(String::as_str) == noun);
    noun.is_some() && !is_counted && food.packs.iter().any(|pack| last_is(pack.label))
}

fn piece(resolved: &Resolved) -> Piece {
    let said: Vec<String> = resolved
        .sizes
        .iter()
        .cloned()
        .chain(resolved.noun.clone())
        .collect();
    piece_of(&said, resolved.food).unwrap_or_else(|| Piece {
        size: (!resolved.sizes.is_empty()).then(|| resolved.sizes.join(" ")),
        noun: resolved.noun.clone(),
    })
}

/// Reads what to convert to: a unit with or without a cut, a piece, a pack; a bare name of the food is a piece.
///
/// # Errors
/// When it is none of these.
pub fn read_target(text: &str, food: &'static FoodRow, system: System) -> Result<Target, ReadError> {
    let refused = || ReadError::Target(text.trim().to_owned());
    let spaced = text.replace(',', " ");
    let parts: Vec<&str> = spaced.split_whitespace().collect();
    for length in (1..=parts.len().min(3)).rev() {
        let Some(unit) = Unit::parse_for(&parts[..length].join(" "), system) else {
            continue;
        };
        let forms = words(&parts[length..].join(" "));
        if unit.to_volume(1, 1).is_some() {
            return Ok(Target::Volume(unit, forms));
        }
        if !forms.is_empty() {
            return Err(refused());
        }
        let is_mass = unit.to_mass(1, 1).is_some();
        return Ok(if is_mass {
            Target::Mass(unit)
        } else {
            Target::Pieces(Piece::default())
        });
    }
    let said = words(text);
    if let [word] = &said[..] {
        let word = container_word(word);
        let is_pack = food.packs.iter().any(|pack| {
            words(pack.label)
                .last()
                .is_some_and(|last| container_word(last) == word)
        });
        let is_counted = food
            .unit
            .is_some_and(|unit| words(unit.singular).iter().any(|own| own == word));
        if is_pack && !is_counted && word != "each" {
            return Ok(Target::Packs(container(word, None)));
        }
    }
    let piece = piece_of(&said, food)
        .filter(|_| !said.is_empty())
        .ok_or_else(refused)?;
    let is_known = piece.noun.is_none() || super::knowledge::piece_is_known(food, &piece);
    if is_known {
        Ok(Target::Pieces(piece))
    } else {
        Err(refused())
    }
}

/// Reads what the cook knows: `1 cup = 120 g`, `1 large = 60 g`, `1 can = 240 g`; the weight is of edible portion.
///
/// # Errors
/// When it is not an amount and a weight, both above nothing.
pub fn read_said(text: &str, food: &'static FoodRow, system: System) -> Result<Said, ReadError> {
    let refused = || ReadError::Said(text.trim().to_owned());
    let (amount, mass) = text.split_once('=').ok_or_else(refused)?;
    let Amount::Mass(mass) = parse_amount_for(mass, system)? else {
        return Err(refused());
    };
    let head = Head::read(amount, system)?;
    let given = match head.amount {
        Amount::Mass(_) => return Err(refused()),
        Amount::Volume(volume) => Given::Volume(volume, head.unit, Vec::new()),
        Amount::Count(count) => match read_target(&head.rest, food, system) {
            Ok(Target::Packs(container)) => Given::Packs(count, container),
            Ok(Target::Pieces(piece)) => Given::Pieces(count, piece),
            // A piece or a pack that nobody knew is why the cook says it.
            _ => {
                let said = words(&head.rest);
                match said.as_slice() {
                    [] => Given::Pieces(count, Piece::default()),
                    [word] if super::resolve::is_container(word) => {
                        Given::Packs(count, container(container_word(word), None))
                    }
                    said => Given::Pieces(count, piece_of(said, food).ok_or_else(refused)?),
                }
            }
        },
    };
    let is_positive = match &given {
        Given::Volume(volume, ..) => volume.is_positive(),
        Given::Pieces(count, _) | Given::Packs(count, _) => *count > 0,
        Given::Mass(..) => false,
    };
    if !is_positive || !mass.is_positive() {
        return Err(refused());
    }
    Ok(Said {
        given,
        mass,
        text: text.trim().to_owned(),
    })
}

/// The amount a text begins with.
struct Head {
    amount: Amount,
    /// The unit it was said in; a count when there is none.
    unit: Unit,
    /// The weight of a pack behind a number of packs: `2 400 g cans`.
    net: Option<Mass>,
    rest: String,
}

impl Head {
    fn read(text: &str, system: System) -> Result<Self, ReadError> {
        let spaced = spaced(text);
        let parts: Vec<&str> = spaced.split_whitespace().collect();
        let (mut amount, length) = leading_amount(&parts, system)?;
        let mut rest = &parts[length..];
        if let (Amount::Count(count), Some(&"dozen")) = (amount, rest.first()) {
            amount = Amount::Count(count * 12);
            rest = &rest[1..];
        }
        let mut net = None;
        if let Amount::Count(_) = amount
            && let Ok((Amount::Mass(mass), length)) = leading_amount(rest, system)
        {
            net = Some(mass);
            rest = &rest[length..];
        }
        let said = parts[..length].join(" ");
        Ok(Self {
            amount,
            unit: last_unit(&said, system),
            net,
            rest: rest.join(" "),
        })
    }
}

/// The text in words that the reader of amounts understands: `a` is 1, `2 x 400-g` is `2 400 g`.
fn spaced(text: &str) -> String {
    let letters: Vec<char> = text.chars().collect();
    let mut clean = String::new();
    for (at, &letter) in letters.iter().enumerate() {
        let next = letters.get(at + 1).copied().unwrap_or(' ');
        let last = at.checked_sub(1).map_or(' ', |last| letters[last]);
        match letter {
            '(' | ')' | '×' => clean.push(' '),
            '-' if last.is_ascii_digit() && next.is_alphabetic() => clean.push(' '),
            ',' if !last.is_ascii_digit() || !next.is_ascii_digit() => clean.push_str(" , "),
            other => clean.push(other),
        }
    }
    let mut parts: Vec<&str> = clean.split_whitespace().filter(|part| *part != "x").collect();
    let figure = match parts.first().map(|first| first.to_lowercase()).as_deref() {
        Some("a" | "an" | "one") => Some("1"),
        Some("half") => Some("1/2"),
        Some("two") => Some("2"),
        Some("three") => Some("3"),
        Some("four") => Some("4"),
        _ => None,
    };
    if let Some(figure) = figure {
        parts[0] = figure;
        if figure == "1/2" && matches!(parts.get(1), Some(&("a" | "an"))) {
            parts.remove(1);
        }
    }
    parts.join(" ")
}

/// The longest run of parts from the first that is one amount, and its length.
fn leading_amount(parts: &[&str], system: System) -> Result<(Amount, usize), AmountError> {
    const PARTS_MAX: usize = 6;
    let mut best = None;
    let mut first_error = None;
    for length in 1..=parts.len().min(PARTS_MAX) {
        match parse_amount_for(&parts[..length].join(" "), system) {
            // `2 400 g` is two of 400 g and never 2400.
            Ok(amount) => best = Some((amount, length)),
            Err(error @ AmountError::Range(_)) => return Err(error),
            Err(error) => first_error = first_error.or(Some(error)),
        }
    }
    best.ok_or_else(|| first_error.unwrap_or(AmountError::Empty))
}

/// The unit at the end of an amount.
fn last_unit(amount: &str, system: System) -> Unit {
    let begin = amount
        .rfind(|letter: char| letter.is_numeric())
        .map_or(0, |at| at + amount[at..].chars().next().map_or(0, char::len_utf8));
    Unit::parse_for(amount[begin..].trim(), system).unwrap_or(Unit::Count)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, id: &str, given: &Given) {
        let read = request(text, System::UsCustomary);
        let read = read.unwrap_or_else(|error| panic!("{text}: {error}; {}", error.help()));
        assert_eq!((read.food.id, &read.given), (id, given), "{text}");
    }

    fn pieces(count: i64, size: Option<&str>, noun: Option<&str>) -> Given {
        let owned = |word: Option<&str>| word.map(str::to_owned);
        Given::Pieces(
            count,
            Piece {
                size: owned(size),
                noun: owned(noun),
            },
        )
    }

    fn cans(count: i64, net: Option<Mass>) -> Given {
        Given::Packs(count, container("can", net))
    }

    #[test]
    fn weights_are_of_edible_portion_unless_they_say_otherwise() {
        let pound = Mass::from_mg(453_592);
        check("1 lb carrots", "carrot", &Given::Mass(pound, Part::Edible));
        check(
            "1 lb carrots, untrimmed",
            "carrot",
            &Given::Mass(pound, Part::AsPurchased),
        );
        check(
            "1 lb. carrots as purchased",
            "carrot",
            &Given::Mass(pound, Part::AsPurchased),
        );
    }

    #[test]
    fn numbers_count_pieces_with_their_size_and_part() {
        check("3 onions", "onion", &pieces(3000, None, None));
        check("1 medium onion", "onion", &pieces(1000, Some("medium"), None));
        check("an onion", "onion", &pieces(1000, None, None));
        check("half an onion, large", "onion", &pieces(500, Some("large"), None));
        check("2 cloves of garlic", "garlic", &pieces(2000, None, Some("clove")));
        check(
            "2 garlic cloves, crushed",
            "garlic",
            &pieces(2000, None, Some("clove")),
        );
        check("2 large eggs", "egg", &pieces(2000, Some("large"), None));
        check(
            "2 extra large eggs",
            "egg",
            &pieces(2000, Some("extra large"), None),
        );
        check("a dozen eggs", "egg", &pieces(12_000, None, None));
    }

    #[test]
    fn packs_are_read_with_their_weight() {
        check("1 can chickpeas", "chickpea-canned", &cans(1000, None));
        for text in [
            "2 x 400 g tins chickpeas",
            "2 (400 g) cans of chickpeas",
            "2 400-g cans chickpeas",
        ] {
            check(text, "chickpea-canned", &cans(2000, Some(Mass::from_g(400))));
        }
        check(
            "400 g can chickpeas",
            "chickpea-canned",
            &cans(1000, Some(Mass::from_g(400))),
        );
    }

    #[test]
    fn a_cut_stands_before_or_behind_the_name() {
        for text in ["1 cup chopped onions", "1 cup onions, chopped"] {
            let read = request(text, System::UsCustomary).expect(text);
            let Given::Volume(_, Unit::CupUs, forms) = read.given else {
                panic!("{text} is a cup: {:?}", read.given)
            };
            assert_eq!(forms, ["chopped"]);
        }
    }

    #[test]
    fn what_is_no_amount_of_a_food_is_refused() {
        for (text, message) in [
            ("", "there is no amount"),
            ("onions", "`onions` does not begin with a figure"),
            ("2 cups", "`2 cups` names no food"),
            ("2-3 onions", "`2-3` is a range"),
            ("2 to 3 onions", "`2 to 3` is a range"),
            ("-1 onion", "`-1` is less than nothing"),
            ("1,5 kg carrots", "the figure in `1,5` has a comma"),
            ("2 cups moon dust", "there is no food `moon dust`"),
            (
                "2 cups chickpeas",
                "`chickpea` may be several foods or states of one",
            ),
        ] {
            let error = request(text, System::UsCustomary).expect_err(text);
            assert_eq!(error.to_string(), message);
            assert!(error.help().ends_with(['.', '?']), "{text}: {}", error.help());
        }
    }

    #[test]
    fn targets_are_units_pieces_and_packs_of_the_food() {
        let target = |text: &str, id: &str| {
            let food = crate::food::food(id).expect(id);
            read_target(text, food, System::UsCustomary)
        };
        assert_eq!(target("g", "onion"), Ok(Target::Mass(Unit::G)));
        assert_eq!(
            target("cup, chopped", "onion"),
            Ok(Target::Volume(Unit::CupUs, vec!["chopped".to_owned()]))
        );
        assert_eq!(
            target("fl oz", "milk-whole"),
            Ok(Target::Volume(Unit::FlOzUs, Vec::new()))
        );
        assert_eq!(target("onions", "onion"), Ok(Target::Pieces(Piece::default())));
        assert_eq!(target("each", "onion"), Ok(Target::Pieces(Piece::default())));
        assert!(matches!(
            target("cloves", "garlic"),
            Ok(Target::Pieces(Piece { noun: Some(_), .. }))
        ));
        assert!(matches!(target("tins", "chickpea-canned"), Ok(Target::Packs(_))));
        for (text, id) in [
            ("", "onion"),
            ("spoonful", "onion"),
            ("g chopped", "onion"),
            ("cloves", "onion"),
        ] {
            assert!(target(text, id).is_err(), "{text}");
        }
    }

    #[test]
    fn a_figure_of_the_cook_needs_an_amount_and_a_weight() {
        let sumac = crate::food::food("sumac").expect("sumac is in the table");
        let read = |text: &str| read_said(text, sumac, System::UsCustomary);
        assert_eq!(read("1 tbsp = 9 g").map(|said| said.mass), Ok(Mass::from_g(9)));
        assert!(read("1 jar = 40 g").is_ok());
        for text in [
            "",
            "1 cup",
            "1 cup = 2 cups",
            "1 cup = 0 g",
            "0 cups = 1 g",
            "1 g = 1 g",
            "= 5 g",
        ] {
            assert!(read(text).is_err(), "{text}");
        }
    }
}
