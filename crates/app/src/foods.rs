//! Imported foods in a folder: one file, written whole or not at all. What stands there already is kept.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use larderwright_intake::ImportedFood;
use larderwright_records::foods::{FoodBook, Merged, foods_from_json, foods_to_json};

use crate::folder::FolderError;

const FOODS: &str = "foods.json";
/// Where the book is written before it takes the place of the old one.
const NEW: &str = ".larderwright-foods-new";

/// What was kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kept {
    /// The file.
    pub file: PathBuf,
    /// What the import changed.
    pub merged: Merged,
    /// How many foods the file holds now.
    pub foods: usize,
}

/// The imported foods in a folder; none when nothing was imported yet.
///
/// # Errors
/// When the file cannot be read, or is not what was written there.
pub fn load_foods(folder: &Path) -> Result<FoodBook, FolderError> {
    let path = folder.join(FOODS);
    let text = match fs::read_to_string(&path) {
        Err(cause) if cause.kind() == io::ErrorKind::NotFound => return Ok(FoodBook::default()),
        Err(cause) => {
            let verb = "read";
            return Err(FolderError::Io { verb, path, cause });
        }
        Ok(text) => text,
    };
    foods_from_json(&text).map_err(|cause| FolderError::Record { path, cause })
}

/// Takes foods into the book of a folder, which is made when it is missing.
///
/// # Errors
/// When the book cannot be read or written; then it stands as it was.
pub fn keep_foods(folder: &Path, foods: Vec<ImportedFood>) -> Result<Kept, FolderError> {
    let (book, merged) = load_foods(folder)?.merge(foods);
    let file = folder.join(FOODS);
    write(folder, &file, &foods_to_json(&book)).map_err(|cause| FolderError::Io {
        verb: "written",
        path: file.clone(),
        cause,
    })?;
    Ok(Kept {
        file,
        merged,
        foods: book.foods.len(),
    })
}

/// The new text lies on the disk before it takes the old one's place.
fn write(folder: &Path, file: &Path, text: &str) -> io::Result<()> {
    fs::create_dir_all(folder)?;
    let new = folder.join(NEW);
    let written = fs::File::create(&new).and_then(|mut file| {
        file.write_all(text.as_bytes())?;
        file.sync_all()
    });
    written
        .and_then(|()| fs::rename(&new, file))
        .inspect_err(|_| drop(fs::remove_file(&new)))
}
