//! Finding foods by what a person types: any order of words, British or American, with slips of the pen. It only
//! finds; what is meant when several foods fit is for the caller to ask.

mod distance;
mod index;
mod words;

use crate::food::{FoodRow, all};
use index::index;

pub use words::words;

/// How well a name fits what was typed, best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fit {
    /// The same words in the same order.
    Exact,
    /// The same words in another order.
    SameWords,
    /// The name goes on after what was typed.
    Begins,
    /// All words stand in the name.
    Words,
    /// All words begin a word of the name.
    Prefix,
    /// All words are near to a word of the name.
    Near,
    /// Half of the words or more are in the name.
    Part,
}

impl Fit {
    /// The word for it in answers to programs.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Exact => "exact",
            Self::SameWords => "same words",
            Self::Begins => "begins",
            Self::Words => "words",
            Self::Prefix => "prefix",
            Self::Near => "near",
            Self::Part => "part",
        }
    }
}

/// A food that fits what was typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Found {
    /// The food.
    pub food: &'static FoodRow,
    /// The name that fits, as the table writes it: a name, a synonym, the identifier.
    pub name: &'static str,
    /// How well it fits.
    pub fit: Fit,
    /// How many slips of the pen lie between: letters put in, left out, changed or swapped.
    pub slips: u16,
    /// How many words the name has more than were typed.
    pub extra_words: u16,
}

/// The foods that fit best, each once, best first and at most `limit`; of equal ones names before synonyms, then by length of name and
/// identifier. The same query always gives the same answer.
///
/// ```
/// # use larderwright_reference::search::find;
/// assert_eq!(find("zuchini", 1)[0].food.id, "courgette");
/// assert_eq!(find("dried garbanzo beans", 1)[0].food.id, "chickpea-dry");
/// assert!(find("xylophone", 5).is_empty());
/// ```
#[must_use]
pub fn find(query: &str, limit: usize) -> Vec<Found> {
    index().find(query, limit)
}

/// The foods that have exactly these words as a name, in any order, in the order of the identifiers. Words are
/// compared as [`words`] spells them.
#[must_use]
pub fn named(words: &[String]) -> Vec<&'static FoodRow> {
    index().named(words)
}

/// All states of the thing with this name: dry, canned and cooked chickpeas of `chickpea`.
#[must_use]
pub fn states_of(wanted: &[String]) -> Vec<&'static FoodRow> {
    let mut wanted = wanted.to_vec();
    wanted.sort();
    let is_it = |row: &&FoodRow| {
        let mut family = words(row.family);
        family.sort();
        !family.is_empty() && family == wanted
    };
    all().iter().filter(is_it).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(query: &str, id: &str) {
        let found: Vec<_> = find(query, 5)
            .into_iter()
            .map(|found| (found.food.id, found.fit))
            .collect();
        assert_eq!(found.first().map(|found| found.0), Some(id), "{query}: {found:?}");
    }

    #[test]
    fn foods_are_found_by_american_and_by_british_words() {
        for (query, id) in [
            ("zucchini", "courgette"),
            ("courgette", "courgette"),
            ("eggplant", "aubergine"),
            ("cilantro", "coriander-leaf"),
            ("scallions", "spring-onion"),
            ("green onion", "spring-onion"),
            ("ground beef", "beef-mince"),
            ("minced beef", "beef-mince"),
            ("arugula", "rocket"),
            ("rutabaga", "swede"),
            ("canola oil", "rapeseed-oil"),
            ("garbanzo beans, dry", "chickpea-dry"),
            ("tinned chickpeas", "chickpea-canned"),
            ("plain yoghurt", "yogurt-plain"),
        ] {
            check(query, id);
        }
    }

    #[test]
    fn slips_of_the_pen_are_forgiven() {
        for (query, id) in [
            ("carots", "carrot"),
            ("brocoli", "broccoli"),
            ("caulliflower", "cauliflower"),
            ("tomatos", "tomato"),
            ("ground tumeric", "turmeric-ground"),
            ("parmesean", "parmesan"),
            ("cinammon", "cinnamon"),
            ("chikpeas dry", "chickpea-dry"),
            ("avacado", "avocado"),
            ("sweet corn frozen", "sweetcorn-frozen"),
            ("tehini", "tahini"),
            ("corgette", "courgette"),
            ("aubergin", "aubergine"),
        ] {
            check(query, id);
        }
    }

    #[test]
    fn order_of_words_capitals_accents_and_stops_do_not_matter() {
        for (query, id) in [
            ("dry chickpeas", "chickpea-dry"),
            ("CHICKPEAS,  DRY", "chickpea-dry"),
            ("olive-oil", "olive-oil"),
            ("oil of olive", "olive-oil"),
            ("frisée", "endive-curly"),
            ("frisee", "endive-curly"),
            ("hen's eggs", "egg"),
        ] {
            check(query, id);
        }
    }

    #[test]
    fn better_fits_come_first() {
        let fits: Vec<Fit> = find("onion", 40).into_iter().map(|found| found.fit).collect();
        assert_eq!(fits.first(), Some(&Fit::Exact));
        assert!(fits.is_sorted(), "{fits:?}");
        assert!(fits.len() > 5);
    }

    #[test]
    fn a_food_is_found_once_whatever_the_number_of_its_names() {
        let mut ids: Vec<&str> = find("bean", 100).into_iter().map(|found| found.food.id).collect();
        let count = ids.len();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), count);
    }

    #[test]
    fn nonsense_finds_nothing() {
        for query in ["", "  ", ",", "xylophone", "qqqq", "12345", "ß∂ƒ"] {
            assert_eq!(find(query, 5), [], "{query}");
        }
        assert_eq!(find("onion", 0), []);
    }

    #[test]
    fn every_food_is_found_by_each_of_its_names() {
        for row in all() {
            for name in [row.name, row.name_us, row.id]
                .into_iter()
                .filter(|name| !name.is_empty())
            {
                let found = named(&words(name));
                assert!(found.iter().any(|found| found.id == row.id), "{name}");
            }
        }
    }

    #[test]
    fn states_of_chickpeas_are_dry_canned_and_cooked() {
        let ids: Vec<&str> = states_of(&words("chickpeas")).iter().map(|row| row.id).collect();
        assert!(
            ids.contains(&"chickpea-dry") && ids.contains(&"chickpea-canned"),
            "{ids:?}"
        );
        assert!(states_of(&[]).is_empty());
    }

    #[test]
    fn long_and_odd_queries_do_no_harm() {
        let long = "bean ".repeat(500);
        assert!(!find(&long, 3).is_empty());
        let _ = find(&"a".repeat(5_000), 3);
        let _ = find("\u{0}\u{ffff} \u{1f96b}", 3);
    }
}
