//! How many slips of the pen lie between two words.

/// Letters put in, left out or changed, and neighbours swapped; `None` when there are more than `most`.
/// Words longer than 32 letters are not compared.
pub(super) fn slips(one: &[char], other: &[char], most: usize) -> Option<usize> {
    const LONGEST: usize = 32;
    if one.len().abs_diff(other.len()) > most || one.len().max(other.len()) > LONGEST {
        return None;
    }
    let mut rows = [[0_usize; LONGEST + 1]; 3];
    for (column, cell) in rows[0].iter_mut().enumerate() {
        *cell = column;
    }
    for (at, &letter) in one.iter().enumerate() {
        let [before, last, now] = [(at + 2) % 3, at % 3, (at + 1) % 3];
        rows[now][0] = at + 1;
        let mut least = at + 1;
        for (column, &wanted) in other.iter().enumerate() {
            let change = rows[last][column] + usize::from(letter != wanted);
            let mut best = change.min(rows[last][column + 1] + 1).min(rows[now][column] + 1);
            let swapped = at > 0 && column > 0 && letter == other[column - 1] && one[at - 1] == wanted;
            if swapped {
                best = best.min(rows[before][column - 1] + 1);
            }
            rows[now][column + 1] = best;
            least = least.min(best);
        }
        if least > most {
            return None;
        }
    }
    let slips = rows[one.len() % 3][other.len()];
    (slips <= most).then_some(slips)
}

/// How many slips a word of this length may hold and still be meant.
pub(super) fn slips_allowed(letters: usize) -> usize {
    match letters {
        0..=3 => 0,
        4..=6 => 1,
        _ => 2,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(one: &str, other: &str, expected: Option<usize>) {
        let letters = |word: &str| word.chars().collect::<Vec<_>>();
        assert_eq!(
            slips(&letters(one), &letters(other), 3),
            expected,
            "{one} {other}"
        );
        assert_eq!(
            slips(&letters(other), &letters(one), 3),
            expected,
            "{other} {one}"
        );
    }

    #[test]
    fn slips_are_counted() {
        check("carot", "carrot", Some(1));
        check("kitten", "sitting", Some(3));
        check("cinammon", "cinnamon", Some(2));
        check("bread", "braed", Some(1));
        check("same", "same", Some(0));
        check("", "abc", Some(3));
    }

    #[test]
    fn too_many_slips_are_no_answer() {
        check("carrot", "chickpea", None);
        check("", "abcd", None);
        check(&"a".repeat(40), &"a".repeat(40), None);
    }
}
