//! The name that somebody probably meant.

/// The candidate nearest to what was typed, when it is near enough to be meant: a third of its letters may
/// differ.
pub(crate) fn nearest<'a>(typed: &str, candidates: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let near = candidates.map(|candidate| (distance(typed, candidate), candidate));
    let (distance, found) = near.min()?;
    let whole = found.starts_with(typed) || found.split('-').any(|part| part == typed);
    (whole || distance * 3 <= typed.chars().count().max(3)).then_some(found)
}

/// How many letters have to be put in, taken out or changed. A name that the typed one opens or is a part of
/// counts as near.
fn distance(one: &str, other: &str) -> usize {
    if other.starts_with(one) || other.split('-').any(|part| part == one) {
        return 1;
    }
    let other: Vec<char> = other.chars().collect();
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (at, letter) in one.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = at + 1;
        for (column, &wanted) in other.iter().enumerate() {
            let change = diagonal + usize::from(letter != wanted);
            diagonal = row[column + 1];
            row[column + 1] = change.min(diagonal + 1).min(row[column] + 1);
        }
    }
    row[other.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    const NAMES: [&str; 4] = ["chickpea-dry", "chickpea-canned", "carrot", "red-onion"];

    fn check(typed: &str, expected: Option<&str>) {
        assert_eq!(nearest(typed, NAMES.into_iter()), expected, "{typed}");
    }

    #[test]
    fn a_slip_of_the_pen_is_forgiven() {
        check("carot", Some("carrot"));
        check("chikpea-dry", Some("chickpea-dry"));
    }

    #[test]
    fn a_part_of_a_name_finds_it() {
        check("onion", Some("red-onion"));
        check("chickpea", Some("chickpea-canned"));
    }

    #[test]
    fn something_else_is_not_guessed_at() {
        check("swordfish", None);
    }

    #[test]
    fn distance_counts_letters() {
        assert_eq!(distance("kitten", "sitting"), 3);
        assert_eq!(distance("same", "same"), 1);
        assert_eq!(distance("", "abc"), 1);
    }
}
