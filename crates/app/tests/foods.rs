//! Imported foods in a folder: kept, renewed, and left as they stand when the file is not ours.

use std::fs;
use std::path::PathBuf;

use larderwright_app::{FolderError, keep_foods, load_foods};
use larderwright_intake::ImportedFood;

fn fresh(name: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    if folder.exists() {
        fs::remove_dir_all(&folder).expect("an earlier run's folder can be removed");
    }
    folder
}

fn food(id: &str) -> ImportedFood {
    ImportedFood {
        id: id.into(),
        description: "Beans, speckled".into(),
        source: "invented".into(),
        refuse_percent: None,
        nutrients: [].into(),
        portions: Vec::new(),
    }
}

#[test]
fn a_second_import_adds_to_the_first() {
    let folder = fresh("foods");
    keep_foods(&folder, vec![food("fdc-1")]).expect("the folder can be written");
    let kept = keep_foods(&folder, vec![food("fdc-1"), food("fdc-2")]).expect("the folder can be written");
    assert_eq!((kept.merged.added, kept.merged.renewed, kept.foods), (1, 1, 2));
    let book = load_foods(&folder).expect("the book was written just now");
    assert_eq!(book.foods, [food("fdc-1"), food("fdc-2")]);
    let names: Vec<_> = fs::read_dir(&folder).expect("the folder is there").collect();
    assert_eq!(names.len(), 1, "nothing but the book is left behind");
}

#[test]
fn a_file_that_is_not_ours_stays_as_it_is() {
    let folder = fresh("foods-of-others");
    fs::create_dir_all(&folder).expect("a folder can be made");
    fs::write(folder.join("foods.json"), "[]").expect("a file can be written");
    let refused = keep_foods(&folder, vec![food("fdc-1")]);
    assert!(matches!(refused, Err(FolderError::Record { .. })), "{refused:?}");
    assert_eq!(
        fs::read_to_string(folder.join("foods.json")).expect("it is there"),
        "[]"
    );
}
