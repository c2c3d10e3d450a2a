//! Which crate may use which: reads the manifests and compares them with the table in `house`. Versions and
//! features are not judged here.

use std::collections::{BTreeMap, BTreeSet};

use super::Problem;
use super::house::{APART, CORE, CORE_OUTSIDE, EDGES, Row};

const TABLE: &str = "xtask/src/tidy/house.rs";
const PREFIX: &str = "larderwright-";

/// What one manifest declares.
#[derive(Debug, Clone)]
pub struct Manifest {
    /// Path from the repository's root.
    pub path: String,
    /// The crate's name without the project's prefix.
    pub name: String,
    ships: BTreeSet<String>,
    tests: BTreeSet<String>,
}

impl Manifest {
    /// Reads a crate's manifest.
    ///
    /// # Errors
    /// A sentence naming the file, when it is no TOML or has no package name.
    pub fn parse(path: &str, text: &str) -> Result<Manifest, String> {
        let table: toml::Table = text.parse().map_err(|fault| format!("{path}: {fault}"))?;
        let package = table.get("package").and_then(|package| package.get("name"));
        let name = package
            .and_then(toml::Value::as_str)
            .ok_or(format!("{path}: no package name"))?;
        let mut manifest = Manifest {
            path: path.to_owned(),
            name: short(name).to_owned(),
            ships: BTreeSet::new(),
            tests: BTreeSet::new(),
        };
        manifest.collect(&table);
        for platform in table
            .get("target")
            .and_then(toml::Value::as_table)
            .into_iter()
            .flatten()
        {
            manifest.collect(
                platform
                    .1
                    .as_table()
                    .ok_or(format!("{path}: `{}` is no table", platform.0))?,
            );
        }
        Ok(manifest)
    }

    fn collect(&mut self, table: &toml::Table) {
        let names = |section: &str| {
            let section = table.get(section).and_then(toml::Value::as_table);
            section
                .into_iter()
                .flatten()
                .map(|(key, value)| package_of(key, value))
                .collect::<Vec<_>>()
        };
        self.ships.extend(names("dependencies"));
        self.ships.extend(names("build-dependencies"));
        self.tests.extend(names("dev-dependencies"));
    }
}

/// A renamed dependency counts under the name of its package.
fn package_of(key: &str, value: &toml::Value) -> String {
    value
        .get("package")
        .and_then(toml::Value::as_str)
        .unwrap_or(key)
        .to_owned()
}

fn short(name: &str) -> &str {
    name.strip_prefix(PREFIX).unwrap_or(name)
}

/// The workspace crate of that package name, if it is one.
fn inside(package: &str) -> Option<&str> {
    package
        .strip_prefix(PREFIX)
        .or((package == "xtask").then_some("xtask"))
}

/// Judges all manifests together.
pub fn check(manifests: &[Manifest]) -> Vec<Problem> {
    let mut problems: Vec<Problem> = manifests.iter().flat_map(check_one).collect();
    for row in EDGES {
        if manifests.iter().all(|manifest| manifest.name != row.name) {
            let message = format!("`{}` has a row but no manifest", row.name);
            problems.push(Problem::new(TABLE, None, message));
        }
    }
    problems.extend(check_apart(manifests));
    problems
}

fn check_one(manifest: &Manifest) -> Vec<Problem> {
    let refuse = |message: String| Problem::new(&manifest.path, None, message);
    let Some(row) = EDGES.iter().find(|row| row.name == manifest.name) else {
        return vec![refuse(format!(
            "crate `{}` has no row in the table of {TABLE}",
            manifest.name
        ))];
    };
    let mut problems = Vec::new();
    for package in &manifest.ships {
        match inside(package) {
            Some(used) if !row.uses.contains(&used) => problems.push(refuse(new_edge(row, used))),
            None if is_refused_outside(row, package) => problems.push(refuse(format!(
                "core crate `{}` may not use `{package}`; what the core may use stands in {TABLE}",
                row.name
            ))),
            _ => {}
        }
    }
    for used in manifest.tests.iter().filter_map(|package| inside(package)) {
        if used != "testkit" && !row.uses.contains(&used) && !row.tests_use.contains(&used) {
            problems.push(refuse(format!("in tests, {}", new_edge(row, used))));
        }
    }
    problems
}

fn is_refused_outside(row: &Row, package: &str) -> bool {
    CORE.contains(&row.name) && !CORE_OUTSIDE.contains(&package)
}

fn new_edge(row: &Row, used: &str) -> String {
    format!(
        "`{}` may not use `{used}`; a new edge changes the table in {TABLE} and says why",
        row.name
    )
}

/// The pairs of `APART`, followed through every chain the manifests declare.
fn check_apart(manifests: &[Manifest]) -> Vec<Problem> {
    let uses: BTreeMap<&str, &Manifest> = manifests.iter().map(|one| (one.name.as_str(), one)).collect();
    let mut problems = Vec::new();
    for (from, to) in APART {
        let mut reached = BTreeSet::new();
        let mut open = vec![*from];
        while let Some(name) = open.pop() {
            let next = uses.get(name).into_iter().flat_map(|one| one.ships.iter());
            for used in next.filter_map(|package| inside(package)) {
                if reached.insert(used) {
                    open.push(used);
                }
            }
        }
        if reached.contains(to) {
            let message = format!("`{from}` reaches `{to}`, and {TABLE} keeps these two apart");
            problems.push(Problem::new(&uses[from].path, None, message));
        }
    }
    problems
}

#[cfg(test)]
mod tests {
    use super::*;

    fn manifest(name: &str, sections: &str) -> Manifest {
        let package = if name == "xtask" {
            name.to_owned()
        } else {
            format!("{PREFIX}{name}")
        };
        let text = format!("[package]\nname = \"{package}\"\n{sections}");
        Manifest::parse(&format!("crates/{name}/Cargo.toml"), &text).expect("the manifest is TOML")
    }

    /// The workspace with one crate's sections replaced.
    fn check_with(name: &str, sections: &str) -> Vec<String> {
        let mut manifests: Vec<Manifest> = EDGES.iter().map(|row| manifest(row.name, "")).collect();
        manifests.retain(|one| one.name != name);
        manifests.push(manifest(name, sections));
        check(&manifests)
            .into_iter()
            .map(|problem| problem.to_string())
            .collect()
    }

    fn refused(name: &str, sections: &str, part: &str) {
        let problems = check_with(name, sections);
        assert!(
            problems.iter().any(|problem| problem.contains(part)),
            "{problems:?}"
        );
    }

    #[test]
    fn listed_edges_pass() {
        let sections = "[dependencies]\nlarderwright-quantity.workspace = true\njiff.workspace = true\n";
        assert_eq!(check_with("model", sections), [""; 0]);
    }

    #[test]
    fn a_new_edge_is_refused_and_names_the_table() {
        refused(
            "quantity",
            "[dependencies]\nlarderwright-model.workspace = true\n",
            TABLE,
        );
    }

    #[test]
    fn a_renamed_dependency_counts_under_its_package() {
        refused(
            "model",
            "[dependencies]\nfood = { package = \"larderwright-views\" }\n",
            "may not use `views`",
        );
    }

    #[test]
    fn a_dependency_of_one_platform_counts() {
        refused(
            "model",
            "[target.'cfg(unix)'.dependencies]\nlarderwright-views = {}\n",
            "may not use `views`",
        );
    }

    #[test]
    fn the_audit_may_not_use_planning_even_in_tests() {
        refused(
            "audit",
            "[dependencies]\nlarderwright-planning = {}\n",
            "keeps these two apart",
        );
        refused(
            "audit",
            "[dev-dependencies]\nlarderwright-planning = {}\n",
            "in tests",
        );
    }

    #[test]
    fn a_chain_from_the_audit_to_planning_is_refused() {
        let mut manifests: Vec<Manifest> = EDGES.iter().map(|row| manifest(row.name, "")).collect();
        manifests.retain(|one| one.name != "audit" && one.name != "safety");
        manifests.push(manifest("audit", "[dependencies]\nlarderwright-safety = {}\n"));
        manifests.push(manifest("safety", "[dependencies]\nlarderwright-solve = {}\n"));
        let apart: Vec<String> = check_apart(&manifests).iter().map(Problem::to_string).collect();
        assert_eq!(apart.len(), 1, "{apart:?}");
        assert!(apart[0].contains("`audit` reaches `solve`"), "{apart:?}");
    }

    #[test]
    fn a_core_crate_may_not_use_a_wire_format() {
        refused(
            "planning",
            "[dependencies]\nserde = \"1\"\n",
            "may not use `serde`",
        );
    }

    #[test]
    fn a_test_may_use_testkit_and_any_outside_package() {
        let sections = "[dev-dependencies]\nlarderwright-testkit = {}\nproptest = {}\n";
        assert_eq!(check_with("planning", sections), [""; 0]);
    }

    #[test]
    fn a_crate_without_a_row_is_refused() {
        refused("kitchen", "", "has no row");
    }

    #[test]
    fn a_row_without_a_crate_is_refused() {
        let problems: Vec<String> = check(&[]).iter().map(Problem::to_string).collect();
        assert_eq!(problems.len(), EDGES.len(), "{problems:?}");
    }
}
