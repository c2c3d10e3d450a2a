//! Solves the fifty random bodies of the safety crate's tests anew with scipy and says whether the committed table
//! is what comes out. Python and scipy are needed for this chore alone; the tests compare without them.

use std::fs;
use std::process::Command;

use crate::machine::{root, run};

/// The release of scipy whose answers are committed.
const SCIPY: &str = "scipy==1.17.1";

/// Runs the script in a Python environment of its own below the build folder.
///
/// # Errors
/// A sentence naming the step that failed, or that the table came out otherwise.
pub fn run_all() -> Result<(), String> {
    let own = std::env::current_exe().map_err(|fault| format!("own program not found: {fault}"))?;
    let folder = own.with_file_name("conduction");
    let python = folder.join("bin/python");
    if !python.is_file() {
        run(Command::new("python3").args(["-m", "venv"]).arg(&folder))?;
        run(Command::new(&python).args(["-m", "pip", "install", "--quiet", SCIPY]))?;
    }
    let script = root().join("crates/safety/tests/scipy/solve.py");
    let copy = folder.join("solve.py");
    fs::copy(&script, &copy).map_err(|fault| format!("{}: {fault}", script.display()))?;
    // The script writes its table beside itself.
    run(Command::new(&python).arg(&copy))?;
    let read = |path: &std::path::Path| {
        fs::read_to_string(path).map_err(|fault| format!("{}: {fault}", path.display()))
    };
    let found = read(&folder.join("cases.tsv"))?;
    let committed = root().join("crates/safety/tests/scipy/cases.tsv");
    if found == read(&committed)? {
        println!("{} rows, each as committed", found.lines().count() - 2);
        return Ok(());
    }
    fs::write(&committed, found).map_err(|fault| format!("{}: {fault}", committed.display()))?;
    Err(
        "the table came out otherwise and was written: run the tests, look at the difference, commit it"
            .into(),
    )
}
