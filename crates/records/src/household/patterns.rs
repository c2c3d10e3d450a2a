//! Patterns: invented households of several sorts, to start from. Only the texts; `parse_household` reads them.

/// A household file to start from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pattern {
    /// The word that asks for it.
    pub name: &'static str,
    /// Whom it is for, in one line.
    pub about: &'static str,
    /// The household file.
    pub text: &'static str,
}

macro_rules! pattern {
    ($name:literal, $about:literal) => {
        Pattern {
            name: $name,
            about: $about,
            text: include_str!(concat!("../../data/patterns/", $name, ".toml")),
        }
    };
}

/// The patterns, by name.
pub const PATTERNS: &[Pattern] = &[
    pattern!(
        "couple",
        "two adults who both cook, one of whom eats fish but no meat"
    ),
    pattern!(
        "family-small-children",
        "two adults and two small children, early dinners"
    ),
    pattern!("no-oven", "two people with two burners, a microwave and no oven"),
    pattern!(
        "one-person",
        "one person with a small kitchen and lunch carried to work"
    ),
    pattern!(
        "shared-flat",
        "one shelf in a shared fridge, no freezer, two burners"
    ),
    pattern!(
        "tight-budget",
        "a parent and two teenagers, one trip to the shop, cheap first"
    ),
    pattern!(
        "vegan",
        "two people who eat nothing from animals, one of them no gluten either"
    ),
];

/// The pattern of a name.
#[must_use]
pub fn pattern(name: &str) -> Option<&'static Pattern> {
    PATTERNS.iter().find(|pattern| pattern.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::household::parse_household;

    #[test]
    fn every_pattern_is_a_household_file_without_a_mistake() {
        for pattern in PATTERNS {
            let read = parse_household(pattern.text);
            assert!(read.is_ok(), "{}: {:?}", pattern.name, read.err());
        }
    }

    #[test]
    fn patterns_say_that_they_are_invented() {
        assert!(PATTERNS.iter().all(|pattern| pattern.text.contains("(invented)")));
    }

    #[test]
    fn patterns_stand_in_the_order_of_their_names() {
        assert!(PATTERNS.is_sorted_by_key(|pattern| pattern.name));
    }
}
