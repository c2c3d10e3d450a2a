//! What no committed file may name: a folder of somebody's machine, or the host of a package registry. Both work
//! on one machine only.

use super::Problem;

/// Openings of absolute paths that belong to one machine. They are written in two parts, so that this file
/// passes its own rule.
const MACHINE_PATHS: &[&str] = &[
    concat!("/ro", "ot/"),
    concat!("/ho", "me/"),
    concat!("/Us", "ers/"),
    concat!("/wo", "rk/"),
    concat!("/tm", "p/"),
    concat!("C:", "\\"),
];

const REGISTRIES: &[&str] = &[
    concat!("crates", ".io"),
    concat!("sparse", "+http"),
    concat!("registry", "+http"),
    concat!("npm", "js."),
    concat!("pypi", ".org"),
    concat!("replace", "-with"),
];

/// The default index as Cargo itself writes it into its lock file.
const DEFAULT_INDEX: &str = concat!(
    "registry",
    "+https://github.com/rust-lang/",
    "crates",
    ".io-index"
);

/// Judges the text of one file of any kind.
pub fn check(path: &str, text: &str) -> Vec<Problem> {
    let is_lock = path.ends_with("Cargo.lock");
    let mut problems = Vec::new();
    for (index, line) in text.lines().enumerate() {
        let line = if is_lock {
            line.replace(DEFAULT_INDEX, "")
        } else {
            line.to_owned()
        };
        let mut refuse = |message: String| problems.push(Problem::new(path, Some(index + 1), message));
        if let Some(found) = MACHINE_PATHS.iter().find(|start| names_path(&line, start)) {
            refuse(format!("`{found}` names a folder of one machine"));
        }
        if let Some(found) = REGISTRIES.iter().find(|host| line.contains(*host)) {
            refuse(format!(
                "`{found}` names a package registry; the machine's own settings choose it"
            ));
        }
    }
    problems
}

/// Whether the line holds `start` as the beginning of a path; the middle of an address does not count.
fn names_path(line: &str, start: &str) -> bool {
    line.match_indices(start).any(|(at, _)| {
        let before = line[..at].chars().next_back();
        !before.is_some_and(|c| c.is_alphanumeric() || "_.-~/}*".contains(c))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_of_one_machine_is_refused() {
        for start in MACHINE_PATHS {
            let text = format!("first line\nopen \"{start}jars.txt\"\n");
            let problems = check("docs/a.md", &text);
            assert_eq!(problems.len(), 1, "{start}");
            assert_eq!(problems[0].line, Some(2));
        }
    }

    #[test]
    fn the_middle_of_an_address_or_a_relative_path_passes() {
        let text = format!(
            "see https://example.org{} and kitchen{}",
            MACHINE_PATHS[3], MACHINE_PATHS[1]
        );
        assert!(check("docs/a.md", &text).is_empty());
    }

    #[test]
    fn a_registry_is_refused() {
        for host in REGISTRIES {
            assert_eq!(check("deny.toml", host).len(), 1, "{host}");
        }
    }

    #[test]
    fn the_default_index_passes_in_the_lock_file_only() {
        let text = format!("source = \"{DEFAULT_INDEX}\"");
        assert!(check("Cargo.lock", &text).is_empty());
        assert_eq!(check("Cargo.toml", &text).len(), 1);
        let other = text.replace("rust-lang", "somebody");
        assert_eq!(check("Cargo.lock", &other).len(), 1);
    }
}
