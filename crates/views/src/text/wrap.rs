//! Breaking text into lines. A no-break space is not a place to break.

/// How many characters wide the text is.
pub(super) fn len(text: &str) -> usize {
    text.chars().count()
}

/// The text in lines of at most `width` characters; a longer word stands alone on its line. Empty
/// text is one empty line.
pub(super) fn wrap(text: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let line = lines.last_mut().expect("there is always a line to write on");
        if line.is_empty() {
            line.push_str(word);
        } else if len(line) + 1 + len(word) <= width {
            line.push(' ');
            line.push_str(word);
        } else {
            lines.push(word.to_owned());
        }
    }
    lines
}

/// The length of the longest word.
pub(super) fn longest_word(text: &str) -> usize {
    text.split(' ').map(len).max().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, width: usize, expected: &[&str]) {
        assert_eq!(wrap(text, width), expected, "{text:?} in {width}");
    }

    #[test]
    fn text_is_broken_at_spaces() {
        check("", 5, &[""]);
        check("simmer", 5, &["simmer"]);
        check("lid on, low heat", 7, &["lid on,", "low", "heat"]);
        check("two  spaces", 20, &["two spaces"]);
    }

    #[test]
    fn a_figure_stays_with_its_unit() {
        check("take 1.25\u{a0}kg of it", 9, &["take", "1.25\u{a0}kg", "of it"]);
    }
}
