//! Generated tables: turns the plain-text tables of the reference crate into committed Rust, and checks that
//! the committed files are current. It writes no table by hand and judges no figure.
//!
//! The way of a figure: `data/foods/*.tsv` is written by hand and says which published row a food takes its
//! figures from; with the published files at hand those figures are pulled into `data/compiled/*.tsv`, each
//! with its source; both texts together become `src/generated/*.rs`. Without the published files the second
//! step still works, and the first is skipped, saying so.

mod author;
mod compile;
mod decimal;
mod emit;
mod keeping;
mod packs;
mod price;
mod retention;
mod sr28;
mod text;

use std::fs;
use std::path::{Path, PathBuf};

/// One file that this chore writes: where, and what should stand in it.
struct Output {
    path: PathBuf,
    content: String,
}

/// Runs the `data` command with its remaining arguments: none writes the files, `--check` only compares.
///
/// # Errors
/// Returns a sentence naming the argument that is not understood, or the table row that is wrong.
pub fn run(args: &[String]) -> Result<(), String> {
    match args {
        [] => write_stale().map(|stale| match stale.as_slice() {
            [] => println!("every table is current"),
            files => files.iter().for_each(|file| println!("wrote {}", file.display())),
        }),
        [flag] if flag == "--check" => check(),
        [other, ..] => Err(format!("`{other}` is not an argument of data")),
    }
}

/// Checks that every generated file is what its table would generate now; a stale file is repaired, and
/// the check still fails so that the repair gets committed.
///
/// # Errors
/// Returns a sentence naming the stale files.
pub fn check() -> Result<(), String> {
    let stale = write_stale()?;
    if stale.is_empty() {
        return Ok(());
    }
    let names: Vec<String> = stale.iter().map(|path| path.display().to_string()).collect();
    Err(format!(
        "stale and now repaired, commit them: {}",
        names.join(", ")
    ))
}

/// Writes every file whose content differs and returns the paths written.
fn write_stale() -> Result<Vec<PathBuf>, String> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"))
        .parent()
        .expect("the chores live in a folder of the repository")
        .to_path_buf();
    let reference = root.join("crates/reference");
    let raw = raw_folder();
    if raw.is_none() {
        println!("published files not found: figures are not re-read, only the committed texts are compared");
    }
    let mut written = Vec::new();
    for output in outputs(&reference, raw.as_deref())? {
        if fs::read_to_string(&output.path).ok().as_deref() == Some(output.content.as_str()) {
            continue;
        }
        fs::write(&output.path, &output.content)
            .map_err(|error| format!("cannot write {}: {error}", output.path.display()))?;
        written.push(output.path);
    }
    Ok(written)
}

/// The folder of published files that the environment names.
#[expect(
    clippy::disallowed_methods,
    reason = "where the published files lie is a matter of the machine this chore runs on"
)]
fn raw_folder() -> Option<PathBuf> {
    let folder = PathBuf::from(std::env::var_os("LARDERWRIGHT_DATA")?);
    folder
        .join("usda-sr28/sr28_compact.csv")
        .exists()
        .then_some(folder)
}

fn outputs(reference: &Path, raw: Option<&Path>) -> Result<Vec<Output>, String> {
    let data = reference.join("data");
    let authored = author::load(&data)?;
    let foods_path = data.join("compiled/foods.tsv");
    let measures_path = data.join("compiled/measures.tsv");
    let compiled = match raw {
        Some(folder) => compile::from_published(&authored, folder)?,
        None => compile::read_committed(&authored, &foods_path, &measures_path)?,
    };
    let generated = reference.join("src/generated");
    let foods: Vec<(&str, &str)> = compiled
        .iter()
        .map(|(id, row)| (id.as_str(), row.source.as_str()))
        .collect();
    let mut outputs = retention::outputs(reference, raw, &foods)?;
    outputs.extend([
        Output {
            path: foods_path,
            content: compile::render_foods(&compiled),
        },
        Output {
            path: measures_path,
            content: compile::render_measures(&compiled),
        },
        Output {
            path: generated.join("foods.rs"),
            content: emit::render_foods(&authored, &compiled)?,
        },
    ]);
    Ok(outputs)
}
