//! The tables behind the house rules: which crates are core, who may use whom, which files may hold floats. A new
//! edge or file changes its table in the same commit, which says why.

/// The crates that hold no effect: no files, clock, randomness, environment, logging or wire formats.
pub const CORE: &[&str] = &[
    "quantity",
    "solve",
    "model",
    "reference",
    "safety",
    "planning",
    "audit",
    "intake",
    "ledger",
    "views",
];

/// The packages from outside that a core crate may use in what ships. `libm`: functions that give the same digits on
/// every machine.
pub const CORE_OUTSIDE: &[&str] = &["jiff", "libm"];

/// The core files that may hold floating point: whole numbers in, whole numbers out.
pub const FLOAT_FILES: &[&str] = &[
    // Prices of rows, judged in whole numbers.
    "crates/solve/src/linear/climb.rs",
    // Physics of cooling and freezing.
    "crates/safety/src/cooling/block.rs",
    "crates/safety/src/cooling/composition.rs",
    "crates/safety/src/cooling/freezing.rs",
    "crates/safety/src/cooling/growth.rs",
    "crates/safety/src/cooling/kinetics.rs",
    "crates/safety/src/cooling/roots.rs",
    "crates/safety/src/cooling/series.rs",
    "crates/safety/src/cooling/stirred.rs",
    "crates/safety/src/cooling/units.rs",
    "crates/safety/src/cooling/volumes.rs",
];

/// One crate and the workspace crates it may use.
#[derive(Debug, Clone, Copy)]
pub struct Row {
    /// The crate's folder name.
    pub name: &'static str,
    /// The crates it may use in what ships.
    pub uses: &'static [&'static str],
    /// The crates only its tests may use, beside `testkit`, which every test may use.
    pub tests_use: &'static [&'static str],
}

const fn row(name: &'static str, uses: &'static [&'static str], tests_use: &'static [&'static str]) -> Row {
    Row {
        name,
        uses,
        tests_use,
    }
}

/// Every crate of the workspace, from arithmetic to surfaces.
pub const EDGES: &[Row] = &[
    row("quantity", &[], &[]),
    row("solve", &[], &[]),
    row("model", &["quantity"], &[]),
    row("reference", &["quantity", "model"], &[]),
    row("safety", &["quantity", "model", "reference"], &[]),
    // Every planner test also runs the audit and expects silence.
    row(
        "planning",
        &["quantity", "model", "reference", "safety", "solve"],
        &["audit"],
    ),
    // The judge of recipes is shown the built-in recipe files.
    row(
        "audit",
        &["quantity", "model", "reference", "safety"],
        &["records"],
    ),
    // The figures of an imported food are those of the food table.
    row("intake", &["quantity", "reference"], &[]),
    // Lots that came to the house carry the dates that guidance gives them.
    row("ledger", &["quantity", "model", "safety"], &[]),
    // Labels and plate cards repeat what guidance says of reheating; the page of a food shows its row of the table.
    row("views", &["quantity", "model", "reference", "safety"], &[]),
    // A sheet, an imported food and the fold of a lot have wire types of their own.
    row(
        "records",
        &["quantity", "model", "intake", "ledger", "views"],
        &[],
    ),
    // The port speaks of folds, and its import and export of records.
    row("store", &["quantity", "model", "ledger", "records"], &[]),
    row(
        "store-sqlite",
        &["model", "ledger", "records", "store"],
        &["quantity"],
    ),
    row(
        "app",
        &[
            "quantity",
            "model",
            "reference",
            "safety",
            "planning",
            "audit",
            "intake",
            "ledger",
            "records",
            "store",
            "views",
        ],
        &[],
    ),
    row(
        "testkit",
        &["quantity", "model", "reference", "records", "app"],
        &[],
    ),
    // Pages show views; a session that changes while it runs is put in order anew at once. What pages keep and ask for
    // goes through the port of the store, never through one adapter; what was found on a shelf is said in the ledger's words.
    row(
        "web",
        &[
            "quantity", "model", "planning", "ledger", "records", "store", "app", "views",
        ],
        &[],
    ),
    row(
        "cli",
        &[
            "quantity",
            "model",
            "reference",
            "app",
            "intake",
            "records",
            // `keep` and `cool` answer from the rules themselves.
            "safety",
            // `schedule` answers project files, nothing of the kitchen.
            "solve",
            "views",
            "web",
            // The composition root chooses the store; a verb hands over what the ledger's deeds want.
            "ledger",
            "store",
            "store-sqlite",
        ],
        &[],
    ),
    // Journeys plan the demo week into a store without a database and walk through its pages.
    row("e2e", &["model", "records", "store", "app", "web"], &["ledger"]),
    row("xtask", &[], &[]),
];

/// Pairs that must not be connected by any chain of shipping dependencies: the judge must not share the cook's
/// brain.
pub const APART: &[(&str, &str)] = &[("audit", "planning"), ("audit", "solve")];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_uses_only_rows_above_it() {
        for (at, row) in EDGES.iter().enumerate() {
            for used in row.uses {
                assert!(
                    EDGES[..at].iter().any(|above| above.name == *used),
                    "{} uses {used}",
                    row.name
                );
            }
        }
    }

    #[test]
    fn core_rows_use_only_core() {
        for row in EDGES.iter().filter(|row| CORE.contains(&row.name)) {
            assert!(row.uses.iter().all(|used| CORE.contains(used)), "{}", row.name);
        }
    }
}
