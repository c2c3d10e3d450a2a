//! Size limits: lines in a file before its tests, lines in a function. Long things are allowed when a comment
//! says why; the rule judges length only, never how the code is arranged.

use super::Problem;
use super::source::{Source, joins};

/// The most lines a file may hold before its test module.
pub const FILE_LINES_MAX: usize = 600;
/// The most lines from a function's `fn` to its closing brace, both counted.
pub const FUNCTION_LINES_MAX: usize = 70;

/// Judges the size of one file and of each function in it; generated files are not judged.
pub fn check(source: &Source) -> Vec<Problem> {
    if source.is_generated() {
        return Vec::new();
    }
    let lines = source.shipped_lines();
    let mut problems = Vec::new();
    if lines > FILE_LINES_MAX {
        let message = format!("{lines} lines before the tests; at most {FILE_LINES_MAX}: split it by topic");
        problems.push(Problem::new(&source.path, None, message));
    }
    problems.extend(
        functions(source)
            .into_iter()
            .filter_map(|function| judge(source, &function)),
    );
    problems
}

fn judge(source: &Source, function: &Function) -> Option<Problem> {
    let lines = function.last_line + 1 - function.first_line;
    if lines <= FUNCTION_LINES_MAX || has_reason(source, function.first_line) {
        return None;
    }
    let message = format!(
        "`{}` has {lines} lines; at most {FUNCTION_LINES_MAX}, or a comment `// long: reason` above it",
        function.name
    );
    Some(Problem::new(&source.path, Some(function.first_line), message))
}

struct Function {
    name: String,
    first_line: usize,
    last_line: usize,
}

fn functions(source: &Source) -> Vec<Function> {
    source
        .find_word("fn")
        .into_iter()
        .filter_map(|at| function_at(source, at))
        .collect()
}

/// The function whose `fn` stands at `at`; none for a pointer type or a signature without a body.
fn function_at(source: &Source, at: usize) -> Option<Function> {
    let after = &source.code[at + 2..];
    let name: String = after
        .trim_start()
        .chars()
        .take_while(|c| *c == '_' || c.is_alphanumeric())
        .collect();
    if name.is_empty() {
        return None;
    }
    let open = body_start(&source.code, at)?;
    let close = matching_brace(&source.code, open);
    Some(Function {
        name,
        first_line: source.line_of(at),
        last_line: source.line_of(close),
    })
}

/// The brace that opens the body; none when a semicolon ends the signature first.
fn body_start(code: &str, from: usize) -> Option<usize> {
    let mut depth = 0_usize;
    for (offset, byte) in code.as_bytes()[from..].iter().enumerate() {
        match byte {
            b'(' | b'[' => depth += 1,
            b')' | b']' => depth = depth.checked_sub(1)?,
            b'{' if depth == 0 => return Some(from + offset),
            b';' if depth == 0 => return None,
            _ => {}
        }
    }
    None
}

fn matching_brace(code: &str, open: usize) -> usize {
    let mut depth = 0_usize;
    for (offset, byte) in code.as_bytes()[open..].iter().enumerate() {
        match byte {
            b'{' => depth += 1,
            b'}' => {
                depth -= 1;
                if depth == 0 {
                    return open + offset;
                }
            }
            _ => {}
        }
    }
    code.len()
}

/// Looks for the reason among the comments and attributes that stand directly above the function.
fn has_reason(source: &Source, first_line: usize) -> bool {
    let lines: Vec<&str> = source.text.lines().collect();
    lines[..first_line - 1]
        .iter()
        .rev()
        .map(|line| line.trim())
        .take_while(|line| line.starts_with("//") || line.starts_with("#[") || line.ends_with(")]"))
        .any(|line| {
            line.strip_prefix("// long:")
                .is_some_and(|why| why.bytes().any(|b| joins(Some(b))))
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check_text(path: &str, text: &str) -> Vec<String> {
        check(&Source::new(path, text))
            .into_iter()
            .map(|problem| problem.to_string())
            .collect()
    }

    fn function_of(lines: usize) -> String {
        format!("fn stir() {{\n{}}}\n", "    step();\n".repeat(lines - 2))
    }

    #[test]
    fn a_function_of_seventy_lines_passes() {
        assert!(check_text("a.rs", &function_of(70)).is_empty());
    }

    #[test]
    fn a_function_of_seventy_one_lines_is_refused() {
        let problems = check_text("a.rs", &function_of(71));
        assert_eq!(problems.len(), 1, "{problems:?}");
        assert!(
            problems[0].starts_with("a.rs:1: `stir` has 71 lines"),
            "{problems:?}"
        );
    }

    #[test]
    fn a_long_function_with_a_reason_passes() {
        let text = format!(
            "/// Stirs.\n// long: one table of pots\n#[inline]\n{}",
            function_of(90)
        );
        assert!(check_text("a.rs", &text).is_empty());
    }

    #[test]
    fn a_reason_without_words_is_no_reason() {
        let text = format!("// long:\n{}", function_of(90));
        assert_eq!(check_text("a.rs", &text).len(), 1);
    }

    #[test]
    fn the_reason_of_the_function_above_does_not_count() {
        let text = format!("// long: one table\n{}\n{}", function_of(90), function_of(80));
        assert_eq!(check_text("a.rs", &text).len(), 1);
    }

    #[test]
    fn braces_in_strings_do_not_lengthen_a_function() {
        let text = format!("fn a() {{ f(\"{{\"); }}\n{}", "const B: u8 = 1;\n".repeat(90));
        assert!(check_text("a.rs", &text).is_empty());
    }

    #[test]
    fn a_signature_without_a_body_is_not_measured() {
        let text = format!(
            "trait A {{\nfn a(b: [u8; 4]);\n{}}}\n",
            "const B: u8;\n".repeat(90)
        );
        assert!(check_text("a.rs", &text).is_empty());
    }

    #[test]
    fn six_hundred_lines_before_the_tests_pass() {
        let text = format!(
            "{}#[cfg(test)]\nmod tests {{\n{}}}\n",
            "use a;\n".repeat(600),
            "use b;\n".repeat(50)
        );
        assert!(check_text("a.rs", &text).is_empty());
    }

    #[test]
    fn six_hundred_and_one_lines_are_refused_unless_generated() {
        let text = "use a;\n".repeat(601);
        assert_eq!(check_text("src/a.rs", &text).len(), 1);
        assert!(check_text("src/a.rs", &format!("// @generated from a table\n{text}")).is_empty());
        assert!(check_text("crates/a/tests/a.rs", &text).is_empty());
    }
}
