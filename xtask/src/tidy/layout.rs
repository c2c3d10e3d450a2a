//! How a Rust file presents itself: where it lies, how it opens, that generated code says so, that nothing in it
//! is left for later.

use super::Problem;
use super::source::Source;

/// Judges one file.
pub fn check(source: &Source) -> Vec<Problem> {
    let mut problems = Vec::new();
    let mut refuse = |line: Option<usize>, message: &str| {
        problems.push(Problem::new(&source.path, line, message.to_owned()));
    };
    if source.path.ends_with("/mod.rs") {
        refuse(
            None,
            "module `x` is `x.rs` beside the folder `x/`; rename this file",
        );
    }
    if !source.is_generated() && !opens_with_paragraph(source) {
        refuse(
            Some(1),
            "open the module with a `//!` paragraph: what it is, what it is not",
        );
    }
    if is_in_generated_folder(&source.path) && !source.is_generated() {
        refuse(
            Some(1),
            "a generated file says `@generated` and from what in its first five lines",
        );
    }
    for name in ["todo!", "unimplemented!"] {
        for at in source.find_word(name) {
            refuse(
                Some(source.line_of(at)),
                &format!("`{name}` stands for work not done"),
            );
        }
    }
    problems
}

/// Plain comments may stand above the paragraph.
fn opens_with_paragraph(source: &Source) -> bool {
    let is_plain = |line: &&str| line.is_empty() || (line.starts_with("//") && !line.starts_with("//!"));
    let opening = source.text.lines().map(str::trim).find(|line| !is_plain(line));
    opening
        .and_then(|line| line.strip_prefix("//!"))
        .is_some_and(|text| !text.trim().is_empty())
}

fn is_in_generated_folder(path: &str) -> bool {
    path.split('/').any(|part| part == "generated")
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

    #[test]
    fn a_module_that_opens_with_a_paragraph_passes() {
        assert_eq!(
            check_text("crates/a/src/b.rs", "//! Counts jars.\n\nfn a() {}\n"),
            [""; 0]
        );
        assert_eq!(
            check_text("crates/a/src/b.rs", "// Measured twice.\n//! Jars.\n"),
            [""; 0]
        );
    }

    #[test]
    fn a_module_without_a_paragraph_is_refused() {
        assert_eq!(check_text("crates/a/src/b.rs", "fn a() {}\n").len(), 1);
        assert_eq!(check_text("crates/a/src/b.rs", "//!\nfn a() {}\n").len(), 1);
        assert_eq!(check_text("crates/a/src/b.rs", "").len(), 1);
    }

    #[test]
    fn a_module_file_named_mod_is_refused() {
        assert_eq!(check_text("crates/a/src/b/mod.rs", "//! Jars.\n").len(), 1);
    }

    #[test]
    fn unfinished_work_is_refused_wherever_it_stands() {
        let problems = check_text(
            "crates/a/src/b.rs",
            "//! Jars.\nfn a() { todo!() }\nfn b() { unimplemented!(); }\n",
        );
        assert_eq!(problems.len(), 2, "{problems:?}");
        assert!(problems[0].starts_with("crates/a/src/b.rs:2:"), "{problems:?}");
    }

    #[test]
    fn the_word_todo_in_a_comment_or_string_passes() {
        assert_eq!(
            check_text(
                "crates/a/src/b.rs",
                "//! Jars.\n// todo!()\nconst A: &str = \"todo!\";\n"
            ),
            [""; 0]
        );
    }

    #[test]
    fn the_module_that_gathers_generated_files_is_written_by_hand() {
        assert_eq!(
            check_text("crates/reference/src/generated.rs", "//! Tables.\nmod foods;\n"),
            [""; 0]
        );
    }

    #[test]
    fn a_generated_file_without_its_mark_is_refused() {
        let path = "crates/reference/src/generated/foods.rs";
        assert_eq!(check_text(path, "//! Foods.\n").len(), 1);
        assert_eq!(
            check_text(path, "// @generated from foods.toml.\nfn a() {}\n"),
            [""; 0]
        );
    }
}
