//! Which food is meant, and which words beside it say the size, the piece, the pack or the cut.

use std::error::Error;
use std::fmt;

use super::knowledge::container_word;
use super::measure::{Counted, PARTS, counted};
use crate::food::{FoodRow, food};
use crate::search::{Fit, find, named, states_of, words};

/// A food with the words that stood beside its name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Resolved {
    /// The food.
    pub food: &'static FoodRow,
    /// Words for sizes: `medium`.
    pub sizes: Vec<String>,
    /// A word for a part of it: `clove`.
    pub noun: Option<String>,
    /// A word for a pack: `can`.
    pub container: Option<String>,
    /// Words for how it is cut or filled: `chopped`.
    pub forms: Vec<String>,
    /// Whether the words say that peel, bone or brine are weighed too.
    pub is_as_purchased: bool,
}

/// Why no one food is meant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NotOneFood {
    /// None has this name; these are near.
    Unknown {
        /// What was asked for.
        text: String,
        /// Foods with names near to it, best first.
        near: Vec<&'static FoodRow>,
    },
    /// Several have this name, or it is a thing in several states.
    Several {
        /// What was asked for.
        text: String,
        /// The foods, best first.
        foods: Vec<&'static FoodRow>,
    },
}

impl NotOneFood {
    /// The foods that may be meant.
    #[must_use]
    pub fn foods(&self) -> &[&'static FoodRow] {
        match self {
            Self::Unknown { near, .. } => near,
            Self::Several { foods, .. } => foods,
        }
    }

    /// What to do, as a sentence.
    #[must_use]
    pub fn help(&self) -> String {
        let names: Vec<String> = self.foods().iter().map(|row| format!("`{}`", row.id)).collect();
        match (self, names.is_empty()) {
            (Self::Unknown { .. }, true) => {
                "Use another name for it; `larderwright food NAME` searches the table.".to_owned()
            }
            (Self::Unknown { .. }, false) => format!("Did you mean {}?", names.join(", ")),
            (Self::Several { .. }, _) => format!("Say which: {}.", names.join(", ")),
        }
    }
}

impl fmt::Display for NotOneFood {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unknown { text, .. } => write!(f, "there is no food `{text}`"),
            Self::Several { text, .. } => write!(f, "`{text}` may be several foods or states of one"),
        }
    }
}

impl Error for NotOneFood {}

/// How many foods are named to somebody who has to choose.
const NAMED_MAX: usize = 8;

/// What a word beside the name of a food may say.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Says {
    Size,
    Noun,
    Container,
    Form,
    AsPurchased,
    Nothing,
}

const SIZES: &[&str] = &["tiny", "extra", "small", "medium", "large", "jumbo", "big"];
const NOUNS: &[&str] = &[
    "ball", "block", "breast", "bulb", "bunch", "clove", "cob", "crown", "cube", "ear", "fillet", "floret",
    "floweret", "fruit", "half", "head", "item", "kernel", "leaf", "pat", "piece", "rasher", "rib", "ring",
    "root", "sheet", "slice", "spear", "sprig", "square", "stalk", "steak", "stick", "strip", "unit",
    "wedge",
];
const CONTAINERS: &[&str] = &[
    "bag", "bottle", "box", "can", "carton", "jar", "loaf", "net", "pack", "package", "packet", "pot",
    "pouch", "punnet", "tin", "tray", "tub", "tube",
];
const FORMS: &[&str] = &[
    "chip",
    "chopped",
    "chunk",
    "crumb",
    "crumbled",
    "crushed",
    "cube",
    "cubed",
    "diced",
    "firmly",
    "floret",
    "grated",
    "half",
    "kernel",
    "mashed",
    "melted",
    "packed",
    "piece",
    "pureed",
    "quartered",
    "ring",
    "section",
    "shredded",
    "sifted",
    "slice",
    "sliced",
    "slivered",
    "strip",
    "unpacked",
    "unsifted",
    "whole",
];
const AS_PURCHASED: &[&str] = &["gross", "purchased", "undrained", "unpeeled", "untrimmed"];
const NOTHING: &[&str] = &[
    "as", "cored", "drained", "fresh", "level", "organic", "peeled", "pitted", "raw", "rinsed", "ripe",
    "seeded", "trimmed", "uncooked", "washed",
];

/// Whether a word is a kind of pack.
pub(super) fn is_container(word: &str) -> bool {
    CONTAINERS.contains(&word)
}

fn says(word: &str, counts_pieces: bool) -> Option<Says> {
    let lists = [
        (SIZES, Says::Size),
        (AS_PURCHASED, Says::AsPurchased),
        (NOTHING, Says::Nothing),
        (CONTAINERS, Says::Container),
    ];
    let found = lists.into_iter().find(|(list, _)| list.contains(&word));
    found.map(|(_, says)| says).or_else(|| {
        // `3 slices` are pieces, `1 cup slices` says how it is cut.
        let (noun, form) = (NOUNS.contains(&word), FORMS.contains(&word));
        match (noun, form) {
            (true, true) => Some(if counts_pieces { Says::Noun } else { Says::Form }),
            (true, false) => Some(Says::Noun),
            (false, true) => Some(Says::Form),
            (false, false) => None,
        }
    })
}

/// Finds the food that words mean; `counts_pieces` when they stand behind a bare number.
///
/// The name that leaves fewest words over wins; then a thing that has only one state; then a name near to it.
///
/// # Errors
/// When there is no such food, or several.
pub fn resolve(text: &str, counts_pieces: bool) -> Result<Resolved, NotOneFood> {
    match by_identifier(text, counts_pieces) {
        Some(resolved) => Ok(resolved),
        None => by_words(&words(text), counts_pieces),
    }
}

/// An identifier written out is meant, whatever else has such a name.
fn by_identifier(text: &str, counts_pieces: bool) -> Option<Resolved> {
    let mut found = None;
    let mut rest = Vec::new();
    for part in text.split_whitespace() {
        match food(part.trim_matches(',')) {
            Some(row) if row.id.contains('-') && found.is_none() => found = Some(row),
            _ => rest.extend(words(part)),
        }
    }
    let row = found?;
    let is_told = rest.iter().all(|word| says(word, counts_pieces).is_some());
    is_told.then(|| with_words(row, (&words(row.id), rest), counts_pieces))
}

fn by_words(said: &[String], counts_pieces: bool) -> Result<Resolved, NotOneFood> {
    let beside: Vec<usize> = said
        .iter()
        .enumerate()
        .filter(|(_, word)| says(word, counts_pieces).is_some())
        .map(|(at, _)| at)
        .take(6)
        .collect();
    let mut choices: Vec<u32> = (0..1_u32 << beside.len()).collect();
    choices.sort_by_key(|choice| choice.count_ones());
    let is_out = |choice: u32, at: usize| {
        let place = beside.iter().position(|&other| other == at);
        place.is_some_and(|place| choice >> place & 1 == 1)
    };
    let split = |choice: u32| -> (Vec<String>, Vec<String>) {
        let marked = said
            .iter()
            .enumerate()
            .map(|(at, word)| (is_out(choice, at), word.clone()));
        let (out, kept): (Vec<_>, Vec<_>) = marked.partition(|(is_out, _)| *is_out);
        let plain = |list: Vec<(bool, String)>| list.into_iter().map(|(_, word)| word).collect();
        (plain(kept), plain(out))
    };
    for lookup in [named, states_of] {
        for &choice in &choices {
            let (kept, out) = split(choice);
            if kept.is_empty() {
                continue;
            }
            if let Some(foods) = looked_up(&kept, &out, lookup) {
                let food = one_of(&foods, &kept).ok_or_else(|| NotOneFood::Several {
                    text: kept.join(" "),
                    foods,
                })?;
                return Ok(with_words(food, (&kept, out), counts_pieces));
            }
        }
    }
    let (mut kept, out) = split(choices.last().copied().unwrap_or(0));
    if out.iter().any(|word| container_word(word) == "can") {
        kept.push("canned".to_owned());
    }
    let text = if kept.is_empty() {
        said.join(" ")
    } else {
        kept.join(" ")
    };
    nearest(text).map(|food| with_words(food, (&kept, out), counts_pieces))
}

type Lookup = fn(&[String]) -> Vec<&'static FoodRow>;

/// What comes in a can is canned before it is anything else.
fn looked_up(kept: &[String], out: &[String], lookup: Lookup) -> Option<Vec<&'static FoodRow>> {
    if out.iter().any(|word| container_word(word) == "can") {
        let canned = [kept, &["canned".to_owned()]].concat();
        let foods = lookup(&canned);
        if !foods.is_empty() {
            return Some(foods);
        }
    }
    let foods = lookup(kept);
    (!foods.is_empty()).then_some(foods)
}

/// The only food, or the only one whose identifier or first name it is.
fn one_of(foods: &[&'static FoodRow], kept: &[String]) -> Option<&'static FoodRow> {
    if let [food] = foods {
        return Some(food);
    }
    let mut wanted = kept.to_vec();
    wanted.sort();
    let is_first = |row: &&&FoodRow| {
        [row.id, row.name, row.name_us].into_iter().any(|name| {
            let mut words = words(name);
            words.sort();
            words == wanted
        })
    };
    let mut first = foods.iter().filter(is_first);
    match (first.next(), first.next()) {
        (Some(food), None) => Some(food),
        _ => None,
    }
}

fn nearest(text: String) -> Result<&'static FoodRow, NotOneFood> {
    let found = find(&text, NAMED_MAX);
    let foods: Vec<&'static FoodRow> = found.iter().map(|found| found.food).collect();
    let Some(best) = found.first().filter(|best| best.fit < Fit::Part) else {
        return Err(NotOneFood::Unknown { text, near: foods });
    };
    let is_whole_name = best.fit <= Fit::SameWords || (best.fit == Fit::Near && best.extra_words == 0);
    let like = |other: &crate::search::Found| {
        (other.fit, other.slips, other.extra_words) == (best.fit, best.slips, best.extra_words)
    };
    let is_alone = found.len() == 1 || is_whole_name && !found[1..].iter().any(like);
    if is_alone {
        return Ok(best.food);
    }
    Err(NotOneFood::Several { text, foods })
}

fn with_words(
    food: &'static FoodRow,
    (kept, out): (&[String], Vec<String>),
    counts_pieces: bool,
) -> Resolved {
    let mut resolved = Resolved {
        food,
        sizes: Vec::new(),
        noun: None,
        container: None,
        forms: Vec::new(),
        is_as_purchased: false,
    };
    // `garlic clove` and `large egg` are names that tell the part and the size as well.
    let measured = counted(food);
    for word in kept.iter().filter(|_| counts_pieces) {
        if PARTS.contains(&word.as_str()) {
            resolved.noun = Some(word.clone());
        }
        let has_size = |counted: &Counted| counted.piece.size.as_deref() == Some(word);
        let is_said = out
            .iter()
            .any(|word| SIZES.contains(&word.as_str()) && word != "extra");
        if !is_said && SIZES.contains(&word.as_str()) && measured.iter().any(has_size) {
            resolved.sizes.push(word.clone());
        }
    }
    for word in out {
        match says(&word, counts_pieces) {
            // `extra` stands before the size it heightens, wherever that was found.
            Some(Says::Size) if word == "extra" => resolved.sizes.insert(0, word),
            Some(Says::Size) => resolved.sizes.push(word),
            Some(Says::Noun) => resolved.noun = Some(word),
            Some(Says::Container) => resolved.container = Some(container_word(&word).to_owned()),
            Some(Says::Form) => resolved.forms.push(word),
            Some(Says::AsPurchased) => resolved.is_as_purchased = true,
            Some(Says::Nothing) | None => {}
        }
    }
    resolved
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, id: &str) -> Resolved {
        let resolved = resolve(text, true);
        let resolved = resolved.unwrap_or_else(|error| panic!("{text}: {error}; {}", error.help()));
        assert_eq!(resolved.food.id, id, "{text}");
        resolved
    }

    #[test]
    fn words_beside_a_name_are_told_apart_from_it() {
        assert_eq!(check("medium onion", "onion").sizes, ["medium"]);
        assert_eq!(check("cloves garlic", "garlic").noun.as_deref(), Some("clove"));
        assert_eq!(check("garlic, cloves", "garlic").noun.as_deref(), Some("clove"));
        assert_eq!(check("chopped onions", "onion").forms, ["chopped"]);
        assert!(check("carrots, untrimmed", "carrot").is_as_purchased);
    }

    #[test]
    fn an_identifier_is_meant_whatever_else_has_such_a_name() {
        check("chilli-powder", "chilli-powder");
        check("chickpea-dry, drained", "chickpea-dry");
        assert!(
            resolve("chili powder", false).is_err(),
            "a blend to some, ground chillies to others"
        );
        assert!(resolve("chickpea-dry dust", false).is_err());
    }

    #[test]
    fn a_can_holds_what_is_canned() {
        let can = check("can chickpeas", "chickpea-canned");
        assert_eq!(can.container.as_deref(), Some("can"));
        check("tin of chickpeas", "chickpea-canned");
        check("can chikpeas", "chickpea-canned");
    }

    #[test]
    fn a_thing_in_several_states_is_asked_about() {
        let error = resolve("chickpeas", false).expect_err("dry or canned is not said");
        assert!(matches!(&error, NotOneFood::Several { .. }), "{error:?}");
        assert!(error.help().contains("`chickpea-dry`"), "{}", error.help());
    }

    #[test]
    fn unknown_foods_are_refused_with_what_is_near() {
        for text in ["xylophone", "moon dust", "qqq"] {
            let error = resolve(text, false).expect_err(text);
            assert!(matches!(&error, NotOneFood::Unknown { .. }), "{text}: {error:?}");
        }
        assert!(resolve("", false).is_err());
    }
}
