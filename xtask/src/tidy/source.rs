//! One Rust file made ready for line rules: its text, and the same text with comments and literals blanked, so
//! that a word inside a string never counts as code. It is a scanner, not a parser: it knows nothing of types.

/// A Rust file under inspection.
#[derive(Debug, Clone)]
pub struct Source {
    /// Path from the repository's root, with `/` between its parts.
    pub path: String,
    /// The file as written.
    pub text: String,
    /// The file with the inside of comments, strings and characters replaced by spaces; lines are unchanged.
    pub code: String,
}

impl Source {
    /// Reads `text` as the file at `path`.
    pub fn new(path: &str, text: &str) -> Source {
        Source {
            path: path.to_owned(),
            text: text.to_owned(),
            code: blank(text),
        }
    }

    /// Whether the whole file is test code: an integration test, a bench, an example, or a module named tests.
    pub fn is_test_file(&self) -> bool {
        let folder = |name: &str| self.path.split('/').any(|part| part == name);
        folder("tests") || folder("benches") || folder("examples") || self.path.ends_with("/tests.rs")
    }

    /// Whether one of the first five lines says `@generated`.
    pub fn is_generated(&self) -> bool {
        self.text
            .lines()
            .take(5)
            .any(|line| line.starts_with("//") && line.contains("@generated"))
    }

    /// How many lines come before the test module, its attribute not counted; zero in a test file.
    pub fn shipped_lines(&self) -> usize {
        if self.is_test_file() {
            return 0;
        }
        let lines: Vec<&str> = self.code.lines().collect();
        let tests = lines
            .iter()
            .position(|line| line.trim_start().starts_with("mod tests"));
        match tests {
            Some(at) if at > 0 && lines[at - 1].contains("#[cfg(test)]") => at - 1,
            Some(at) => at,
            None => lines.len(),
        }
    }

    /// The line, counted from one, on which byte `at` of the code stands.
    pub fn line_of(&self, at: usize) -> usize {
        self.code.as_bytes()[..at]
            .iter()
            .filter(|byte| **byte == b'\n')
            .count()
            + 1
    }

    /// Where `word` stands in the code as a word of its own: no letter, digit or underscore touches it.
    pub fn find_word(&self, word: &str) -> Vec<usize> {
        self.code
            .match_indices(word)
            .map(|(at, _)| at)
            .filter(|at| self.stands_alone(*at, word))
            .collect()
    }

    fn stands_alone(&self, at: usize, word: &str) -> bool {
        let bytes = self.code.as_bytes();
        let before = at.checked_sub(1).map(|index| bytes[index]);
        let after = bytes.get(at + word.len()).copied();
        let starts = word.as_bytes().first().copied();
        let ends = word.as_bytes().last().copied();
        let runs_on = |left, right| joins(left) && joins(right);
        !runs_on(before, starts) && !runs_on(ends, after)
    }
}

/// Whether the byte can be part of a name.
pub(crate) fn joins(byte: Option<u8>) -> bool {
    byte.is_some_and(|byte| byte == b'_' || byte.is_ascii_alphanumeric() || !byte.is_ascii())
}

/// Replaces the inside of comments, strings and character literals by spaces.
fn blank(text: &str) -> String {
    let bytes = text.as_bytes();
    let mut out = Vec::with_capacity(bytes.len());
    let mut at = 0;
    while at < bytes.len() {
        let end = literal_end(bytes, at);
        match end {
            Some(end) => {
                out.extend(
                    bytes[at..end]
                        .iter()
                        .map(|byte| if *byte == b'\n' { b'\n' } else { b' ' }),
                );
                at = end;
            }
            None => {
                out.push(bytes[at]);
                at += 1;
            }
        }
    }
    String::from_utf8(out).expect("whole characters are kept or blanked byte by byte")
}

/// The end of the comment or literal that starts at `at`, when one does.
fn literal_end(bytes: &[u8], at: usize) -> Option<usize> {
    let rest = &bytes[at..];
    if rest.starts_with(b"//") {
        return Some(at + rest.iter().position(|byte| *byte == b'\n').unwrap_or(rest.len()));
    }
    if rest.starts_with(b"/*") {
        return Some(block_comment_end(bytes, at));
    }
    match rest[0] {
        b'"' => Some(quoted_end(bytes, at + 1, b'"')),
        b'\'' => char_end(bytes, at),
        b'r' | b'b' | b'c' if !joins(at.checked_sub(1).map(|index| bytes[index])) => prefixed_end(bytes, at),
        _ => None,
    }
}

fn block_comment_end(bytes: &[u8], start: usize) -> usize {
    let mut depth = 0_usize;
    let mut at = start;
    while at < bytes.len() {
        if bytes[at..].starts_with(b"/*") {
            depth += 1;
            at += 2;
        } else if bytes[at..].starts_with(b"*/") {
            depth -= 1;
            at += 2;
            if depth == 0 {
                return at;
            }
        } else {
            at += 1;
        }
    }
    bytes.len()
}

/// The byte after the closing `quote`, reading escapes; `at` is the first byte inside.
fn quoted_end(bytes: &[u8], mut at: usize, quote: u8) -> usize {
    while at < bytes.len() {
        match bytes[at] {
            b'\\' => at += 2,
            byte if byte == quote => return at + 1,
            _ => at += 1,
        }
    }
    bytes.len()
}

/// The end of a character literal; none when the tick opens a lifetime or a label.
fn char_end(bytes: &[u8], at: usize) -> Option<usize> {
    match bytes.get(at + 1)? {
        b'\\' => Some(quoted_end(bytes, at + 1, b'\'')),
        b'\'' => None,
        first => {
            let width = match first {
                0..=0x7f => 1,
                0x80..=0xdf => 2,
                0xe0..=0xef => 3,
                _ => 4,
            };
            let close = at + 1 + width;
            (bytes.get(close) == Some(&b'\'')).then_some(close + 1)
        }
    }
}

/// The end of a literal with a prefix: raw, byte or C string, or a byte character.
fn prefixed_end(bytes: &[u8], start: usize) -> Option<usize> {
    let letters = bytes[start..]
        .iter()
        .take(2)
        .take_while(|byte| matches!(byte, b'r' | b'b' | b'c'))
        .count();
    let prefix = &bytes[start..start + letters];
    let after = start + letters;
    let hashes = bytes[after..].iter().take_while(|byte| **byte == b'#').count();
    let opens = bytes.get(after + hashes);
    match (prefix.contains(&b'r'), opens) {
        (true, Some(b'"')) => Some(raw_end(bytes, after + hashes + 1, hashes)),
        (false, Some(b'"')) if hashes == 0 => Some(quoted_end(bytes, after + 1, b'"')),
        (false, Some(b'\'')) if hashes == 0 && prefix == b"b" => char_end(bytes, after),
        _ => None,
    }
}

fn raw_end(bytes: &[u8], start: usize, hashes: usize) -> usize {
    let closes = |at: usize| {
        bytes[at] == b'"' && bytes[at + 1..].iter().take_while(|byte| **byte == b'#').count() >= hashes
    };
    (start..bytes.len())
        .find(|at| closes(*at))
        .map_or(bytes.len(), |at| at + 1 + hashes)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, expected: &str) {
        assert_eq!(Source::new("a.rs", text).code, expected);
    }

    #[test]
    fn comments_are_blanked_to_the_end_of_their_line() {
        check("a // f64\nb", "a       \nb");
    }

    #[test]
    fn block_comments_nest_and_keep_their_lines() {
        check("a /* x /* y */\n z */ b", "a             \n      b");
    }

    #[test]
    fn strings_are_blanked_and_escapes_do_not_end_them() {
        check(r#"f("a\"b", c)"#, "f(      , c)");
    }

    #[test]
    fn raw_strings_end_at_their_own_hashes() {
        check("x = r#\"a\"b\"#;", "x =         ;");
        check("x = br\"a\\\";", "x =       ;");
    }

    #[test]
    fn a_brace_in_a_character_is_no_brace() {
        check("if c == '{' {", "if c ==     {");
        check("if c == b'\\'' {", "if c ==       {");
        check("if c == '½' {", "if c ==      {");
    }

    #[test]
    fn a_lifetime_is_not_a_character() {
        check("fn f<'a>(x: &'a str) {}", "fn f<'a>(x: &'a str) {}");
    }

    #[test]
    fn a_name_ending_in_r_starts_no_raw_string() {
        check("for\"x\"", "for   ");
        check("r#fn + 1", "r#fn + 1");
    }

    #[test]
    fn words_inside_longer_names_are_not_found() {
        let source = Source::new("a.rs", "let f64_like = my_f64; let x: f64 = y;");
        assert_eq!(source.find_word("f64"), [30]);
    }

    #[test]
    fn shipped_lines_end_above_the_test_module() {
        let text = "fn a() {}\n\n#[cfg(test)]\nmod tests {\n}\n";
        assert_eq!(Source::new("src/a.rs", text).shipped_lines(), 2);
        assert_eq!(Source::new("crates/a/tests/a.rs", text).shipped_lines(), 0);
    }
}
