//! Guesses for mistyped words: the nearest known one, or the list of all.

/// The known word most like `typed`, when it is like enough to be meant.
pub(crate) fn nearest<'w>(typed: &str, known: impl IntoIterator<Item = &'w str>) -> Option<&'w str> {
    let typed = plain(typed);
    let allowed = (typed.chars().count() / 3).clamp(1, 3);
    known
        .into_iter()
        .map(|word| (distance(&typed, &plain(word)), word))
        .filter(|(distance, _)| *distance <= allowed)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, word)| word)
}

/// The words in back-ticks, with commas and a last `or`.
pub(crate) fn list_of<'w>(words: impl IntoIterator<Item = &'w str>) -> String {
    let ticked: Vec<String> = words.into_iter().map(|word| format!("`{word}`")).collect();
    match ticked.split_last() {
        None => "nothing".into(),
        Some((last, [])) => last.clone(),
        Some((last, front)) => format!("{} or {last}", front.join(", ")),
    }
}

fn plain(word: &str) -> String {
    let lower = word.chars().take(60).flat_map(char::to_lowercase);
    lower
        .map(|c| if c == '_' || c == ' ' { '-' } else { c })
        .collect()
}

/// Insertions, deletions, replacements and swaps of neighbours that turn one word into the other.
fn distance(a: &str, b: &str) -> usize {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    let mut rows = vec![vec![0; b.len() + 1]; a.len() + 1];
    for i in 0..=a.len() {
        for j in 0..=b.len() {
            rows[i][j] = if i == 0 || j == 0 {
                i + j
            } else {
                let replaced = rows[i - 1][j - 1] + usize::from(a[i - 1] != b[j - 1]);
                let best = replaced.min(rows[i - 1][j] + 1).min(rows[i][j - 1] + 1);
                let swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
                if swapped {
                    best.min(rows[i - 2][j - 2] + 1)
                } else {
                    best
                }
            };
        }
    }
    rows[a.len()][b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_of_the_finger_finds_its_word() {
        let known = ["burners", "boards", "boxes"];
        assert_eq!(nearest("burnrs", known), Some("burners"));
        assert_eq!(nearest("baords", known), Some("boards"));
        assert_eq!(nearest("Boxes", known), Some("boxes"));
    }

    #[test]
    fn a_different_word_finds_nothing() {
        assert_eq!(nearest("dishwasher", ["burners", "boards"]), None);
        assert_eq!(nearest("", ["oven"]), None);
    }

    #[test]
    fn words_are_listed_with_a_last_or() {
        assert_eq!(list_of(["us", "uk", "eu"]), "`us`, `uk` or `eu`");
        assert_eq!(list_of(["us"]), "`us`");
    }
}
