//! What the core may not contain: unordered maps, floating point, the clock, the environment, files, printing.
//! Names are searched for in the code with comments and strings blanked; aliases made elsewhere are not followed.

use super::Problem;
use super::house::{CORE, FLOAT_FILES};
use super::source::{Source, joins};

/// A name the core may not use, and what to do instead.
struct Ban {
    word: &'static str,
    instead: &'static str,
}

const fn ban(word: &'static str, instead: &'static str) -> Ban {
    Ban { word, instead }
}

/// Refused in every file of a core crate, its tests included.
const ALWAYS: &[Ban] = &[
    ban("HashMap", "use BTreeMap: order is part of the result"),
    ban("HashSet", "use BTreeSet: order is part of the result"),
    ban("SystemTime", "take the time as an argument"),
    ban("Instant::now", "count work, or take the time as an argument"),
    ban("ZonedDateTime::now", "take the time as an argument"),
    ban("Timestamp::now", "take the time as an argument"),
    ban("std::net", "the core does not talk to the network"),
    ban("std::process", "return a value and let the shell act"),
    ban("serde", "wire types live in records"),
    ban("async fn", "the core is not asynchronous"),
    ban(".await", "the core is not asynchronous"),
];

/// Refused in what ships; tests may read their golden files and print.
const SHIPPED: &[Ban] = &[
    ban("std::env", "take the value as an argument"),
    ban("std::fs", "take the contents as an argument"),
    ban("std::io", "return a value and let the shell write it"),
    ban("print!", "return a value and let the shell print it"),
    ban("println!", "return a value and let the shell print it"),
    ban("eprint!", "return a value and let the shell print it"),
    ban("eprintln!", "return a value and let the shell print it"),
];

/// Judges one file; files outside the core are not judged.
pub fn check(source: &Source) -> Vec<Problem> {
    if !is_core(&source.path) {
        return Vec::new();
    }
    let mut problems = Vec::new();
    let shipped = source.shipped_lines();
    for ban in ALWAYS {
        problems.extend(
            find(source, ban)
                .into_iter()
                .map(|line| refuse(source, line, ban)),
        );
    }
    for ban in SHIPPED {
        let lines = find(source, ban).into_iter().filter(|line| *line <= shipped);
        problems.extend(lines.map(|line| refuse(source, line, ban)));
    }
    if !FLOAT_FILES.contains(&source.path.as_str()) {
        problems.extend(floats(source));
    }
    problems
}

fn is_core(path: &str) -> bool {
    let name = path
        .strip_prefix("crates/")
        .and_then(|rest| rest.split('/').next());
    name.is_some_and(|name| CORE.contains(&name))
}

fn refuse(source: &Source, line: usize, ban: &Ban) -> Problem {
    Problem::new(
        &source.path,
        Some(line),
        format!("`{}` in a core crate: {}", ban.word, ban.instead),
    )
}

/// The lines that use the banned name, written out or inside a grouped `use std::{...}`.
fn find(source: &Source, ban: &Ban) -> Vec<usize> {
    let mut lines: Vec<usize> = source
        .find_word(ban.word)
        .into_iter()
        .map(|at| source.line_of(at))
        .collect();
    if let Some(module) = ban.word.strip_prefix("std::") {
        for (start, group) in grouped_imports(source) {
            let names = group.split([',', '{', '}']).map(str::trim);
            if names
                .into_iter()
                .any(|name| name == module || name.starts_with(&format!("{module}::")))
            {
                lines.push(source.line_of(start));
            }
        }
    }
    lines
}

fn grouped_imports(source: &Source) -> Vec<(usize, &str)> {
    let starts = source.code.match_indices("use std::{");
    starts
        .map(|(at, _)| (at, source.code[at..].split(';').next().unwrap_or_default()))
        .collect()
}

fn floats(source: &Source) -> Vec<Problem> {
    let mut places: Vec<usize> = source.find_word("f32");
    places.extend(source.find_word("f64"));
    places.extend(float_literals(&source.code));
    let mut lines: Vec<usize> = places.into_iter().map(|at| source.line_of(at)).collect();
    lines.sort_unstable();
    lines.dedup();
    let message = "floating point in a core crate: use whole numbers of a small unit, or list the file in \
                   xtask/src/tidy/house.rs with the reason";
    lines
        .into_iter()
        .map(|line| Problem::new(&source.path, Some(line), message.to_owned()))
        .collect()
}

/// Where a number with a decimal point starts, such as `1.5`; a tuple's `pair.0.1` is none.
fn float_literals(code: &str) -> Vec<usize> {
    let bytes = code.as_bytes();
    let mut found = Vec::new();
    let mut at = 0;
    while at < bytes.len() {
        if !bytes[at].is_ascii_digit() {
            at += 1;
            continue;
        }
        let before = at.checked_sub(1).map(|index| bytes[index]);
        let digits = bytes[at..]
            .iter()
            .take_while(|byte| byte.is_ascii_digit() || **byte == b'_')
            .count();
        let end = at + digits;
        let starts_number = !joins(before) && before != Some(b'.');
        if starts_number
            && bytes.get(end) == Some(&b'.')
            && bytes.get(end + 1).is_some_and(u8::is_ascii_digit)
        {
            found.push(at);
        }
        at = end;
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check_core(text: &str) -> Vec<String> {
        let source = Source::new("crates/planning/src/menu.rs", text);
        check(&source)
            .into_iter()
            .map(|problem| problem.to_string())
            .collect()
    }

    fn refused(text: &str, word: &str) {
        let problems = check_core(text);
        assert_eq!(problems.len(), 1, "{text}: {problems:?}");
        assert!(problems[0].contains(word), "{problems:?}");
    }

    #[test]
    fn unordered_maps_are_refused_in_the_core() {
        refused("use std::collections::HashMap;", "BTreeMap");
        refused("use std::collections::HashSet;", "BTreeSet");
    }

    #[test]
    fn ordered_maps_pass() {
        assert!(check_core("use std::collections::{BTreeMap, BTreeSet};").is_empty());
    }

    #[test]
    fn floats_are_refused_in_the_core() {
        refused("fn a(b: f64) {}", "floating point");
        refused("const A: B = c(2.5);", "floating point");
    }

    #[test]
    fn tuple_fields_ranges_and_comments_are_no_floats() {
        assert!(check_core("let a = b.0.1 + c[0..5].len(); // 2.5 as f64\nlet d = \"1.5\";").is_empty());
    }

    #[test]
    fn the_clock_is_refused_even_in_tests() {
        refused("mod tests {\n let a = Instant::now();\n}", "count work");
        refused("use std::time::SystemTime;", "time as an argument");
        refused("let a = jiff::ZonedDateTime::now();", "time as an argument");
    }

    #[test]
    fn the_environment_files_and_printing_are_refused_in_what_ships() {
        refused("fn a() { std::env::var(\"B\"); }", "std::env");
        refused("use std::fs::read;", "std::fs");
        refused("fn a() { println!(\"b\"); }", "println!");
        refused("use std::{\n    fmt, fs,\n};", "std::fs");
    }

    #[test]
    fn a_test_may_read_its_golden_file() {
        assert!(check_core("fn a() {}\n#[cfg(test)]\nmod tests {\n use std::fs;\n}\n").is_empty());
        let source = Source::new("crates/planning/tests/week.rs", "use std::fs;\n");
        assert!(check(&source).is_empty());
    }

    #[test]
    fn formatting_and_compile_time_paths_pass() {
        assert!(
            check_core("use std::fmt;\nconst A: &str = env!(\"CARGO_PKG_NAME\");\nwrite!(f, \"x\");")
                .is_empty()
        );
    }

    #[test]
    fn the_shell_may_use_what_the_core_may_not() {
        let source = Source::new(
            "crates/cli/src/main.rs",
            "use std::fs; use std::collections::HashMap;",
        );
        assert!(check(&source).is_empty());
    }
}
