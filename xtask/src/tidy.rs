//! House rules as checks: dependencies between crates, sizes, what the core may not contain, how files open. It
//! reads text only; what needs types is left to the compiler and its lints.

pub mod edges;
pub mod house;
pub mod layout;
pub mod places;
pub mod purity;
pub mod size;
pub mod source;

use std::fmt;
use std::fs;
use std::path::{Path, PathBuf};

use edges::Manifest;
use source::Source;

/// One broken rule at one place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// Path from the repository's root.
    pub path: String,
    /// Line counted from one, when the rule concerns a line.
    pub line: Option<usize>,
    /// What is wrong and what to do.
    pub message: String,
}

impl Problem {
    fn new(path: &str, line: Option<usize>, message: String) -> Problem {
        Problem {
            path: path.to_owned(),
            line,
            message,
        }
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.line {
            Some(line) => write!(f, "{}:{line}: {}", self.path, self.message),
            None => write!(f, "{}: {}", self.path, self.message),
        }
    }
}

/// Judges the repository at `root` and prints every problem.
///
/// # Errors
/// A sentence counting the problems, or naming the file that could not be read.
pub fn run(root: &Path) -> Result<(), String> {
    let problems = check(root)?;
    for problem in &problems {
        eprintln!("{problem}");
    }
    match problems.len() {
        0 => Ok(()),
        1 => Err("tidy found 1 problem".to_owned()),
        count => Err(format!("tidy found {count} problems")),
    }
}

/// Every broken rule in the repository at `root`, in order of path.
///
/// # Errors
/// A sentence naming the file or folder that could not be read, or the manifest that is no TOML.
pub fn check(root: &Path) -> Result<Vec<Problem>, String> {
    let mut problems = Vec::new();
    let mut manifests = Vec::new();
    for path in files(root)? {
        let bytes = fs::read(&path).map_err(|fault| format!("{}: {fault}", path.display()))?;
        // A picture or another binary file holds no lines to judge.
        let Ok(text) = String::from_utf8(bytes) else {
            continue;
        };
        let name = relative(root, &path);
        problems.extend(check_text(&name, &text));
        if name.ends_with("Cargo.toml") && name != "Cargo.toml" {
            manifests.push(Manifest::parse(&name, &text)?);
        }
    }
    problems.extend(edges::check(&manifests));
    for listed in house::FLOAT_FILES {
        if !root.join(listed).is_file() {
            problems.push(Problem::new(
                listed,
                None,
                "listed as a float file but absent".to_owned(),
            ));
        }
    }
    problems.sort_by(|a, b| (&a.path, a.line).cmp(&(&b.path, b.line)));
    Ok(problems)
}

/// The rules that look at one file alone.
fn check_text(name: &str, text: &str) -> Vec<Problem> {
    let mut problems = places::check(name, text);
    if name.ends_with(".rs") {
        let source = Source::new(name, text);
        problems.extend(layout::check(&source));
        problems.extend(size::check(&source));
        problems.extend(purity::check(&source));
    }
    problems
}

fn relative(root: &Path, path: &Path) -> String {
    let inner = path.strip_prefix(root).unwrap_or(path);
    inner
        .components()
        .map(|part| part.as_os_str().to_string_lossy())
        .collect::<Vec<_>>()
        .join("/")
}

/// Every file below `root` that belongs to the project, sorted.
///
/// Build folders mark themselves with a tag file; the folders of `.gitignore` are skipped by name.
fn files(root: &Path) -> Result<Vec<PathBuf>, String> {
    let ignored = fs::read_to_string(root.join(".gitignore")).unwrap_or_default();
    let ignored: Vec<&str> = ignored
        .lines()
        .map(|line| line.trim().trim_matches('/'))
        .collect();
    let mut found = Vec::new();
    let mut open = vec![root.to_owned()];
    while let Some(folder) = open.pop() {
        let fault = |fault: std::io::Error| format!("{}: {fault}", folder.display());
        for entry in fs::read_dir(&folder).map_err(fault)? {
            let entry = entry.map_err(fault)?;
            let name = entry.file_name();
            let name = name.to_string_lossy();
            let kind = entry.file_type().map_err(fault)?;
            if name == ".git" || ignored.contains(&name.as_ref()) {
                continue;
            }
            if kind.is_file() {
                found.push(entry.path());
            } else if kind.is_dir() && !entry.path().join("CACHEDIR.TAG").exists() {
                open.push(entry.path());
            }
        }
    }
    found.sort();
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_kind_of_file_meets_its_rules() {
        assert_eq!(
            check_text("crates/model/src/jar.rs", "fn a(b: f64) {}\n").len(),
            2
        );
        assert_eq!(check_text("docs/jar.md", "a jar holds 1.5 litres\n"), []);
    }

    #[test]
    fn a_problem_names_its_place_first() {
        let problem = Problem::new("docs/jar.md", Some(3), "cracked".to_owned());
        assert_eq!(problem.to_string(), "docs/jar.md:3: cracked");
    }

    #[test]
    fn the_walk_sees_this_file_and_no_build_folder() {
        let root = crate::machine::root().join("xtask");
        let names: Vec<String> = files(&root)
            .expect("the crate's folder is readable")
            .iter()
            .map(|path| relative(&root, path))
            .collect();
        assert!(names.contains(&"src/tidy.rs".to_owned()), "{names:?}");
        assert!(names.iter().all(|name| !name.starts_with("target")), "{names:?}");
    }
}
