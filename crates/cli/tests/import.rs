//! Journeys with food-composition files, small ones written by us in the published layout with invented figures.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const FOOD_DES: &[u8] =
    b"~90001~^~1600~^~Beans, jalape\xf1o, raw~^~BEANS~^~~^~~^~~^~~^0^~~^6.25^3.47^8.37^4.07\r\n";
const NUT_DATA: &[u8] = b"~90001~^~203~^21.5^4\r\n~90001~^~204~^lots^4\r\n~90001~^~208~^340^4\r\n";
const FOODS: &str = "fdc_id,data_type,description,food_category_id,publication_date\n7,foundation_food,\"Pears, hard\",9,2024-04-18\n";

/// A fresh folder below the one that the build gives to tests, with the files in `sr`.
fn fresh(name: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    if folder.exists() {
        fs::remove_dir_all(&folder).expect("an earlier run's folder can be removed");
    }
    fs::create_dir_all(folder.join("sr")).expect("a folder can be made");
    for (name, bytes) in [
        ("sr/FOOD_DES.txt", FOOD_DES),
        ("sr/NUT_DATA.txt", NUT_DATA),
        ("sr/README.txt", b"not a table"),
        ("food.csv", FOODS.as_bytes()),
    ] {
        fs::write(folder.join(name), bytes).expect("a file can be written");
    }
    folder
}

/// Runs a line, and answers with its exit status, what it printed and what it complained about.
fn check(folder: &Path, line: &str) -> (Option<i32>, String, String) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_larderwright"));
    let Output {
        status,
        stdout,
        stderr,
    } = command
        .current_dir(folder)
        .args(line.split(' '))
        .output()
        .expect("the program can be started");
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (status.code(), text(&stdout), text(&stderr))
}

#[test]
fn what_can_be_read_is_kept_and_the_rest_is_told() {
    let folder = fresh("import");
    let (code, printed, _) = check(&folder, "import sr --data home");
    assert_eq!(code, Some(0), "{printed}");
    assert!(printed.contains("Kept 1 food: 1 new"), "{printed}");
    assert!(
        printed.contains("NUT_DATA.txt, line 2: `lots` is no figure"),
        "{printed}"
    );
    let (code, printed, _) = check(&folder, "import sr food.csv --data home --format json");
    assert_eq!(code, Some(0), "{printed}");
    let answer: serde_json::Value = serde_json::from_str(&printed).expect("it is JSON");
    assert_eq!(
        (&answer["added"], &answer["renewed"], &answer["foods"]),
        (&1.into(), &1.into(), &2.into())
    );
    let (code, _, told) = check(&folder, "export out --data home");
    assert_eq!(code, Some(0), "{told}");
    let listed = fs::read_to_string(folder.join("out/documents.jsonl")).expect("documents are listed");
    let last = listed.lines().last().expect("the foods are a document");
    let last: serde_json::Value = serde_json::from_str(last).expect("it is JSON");
    assert_eq!((&last["name"], &last["version"]), (&"foods".into(), &2.into()));
    let file = last["file"].as_str().expect("it names its file");
    let record = fs::read_to_string(folder.join("out/documents").join(file)).expect("it was written");
    let record: serde_json::Value = serde_json::from_str(&record).expect("it is JSON");
    assert_eq!(record["foods"][1]["description"], "Beans, jalapeño, raw");
    assert_eq!(record["foods"][1]["nutrients"]["protein"]["thousandths"], 21_500);
    assert!(
        record["foods"][1]["nutrients"]["fat"].is_null(),
        "not known is not zero"
    );
}

#[test]
fn files_without_a_food_are_refused_and_nothing_is_written() {
    let folder = fresh("import-nothing");
    for line in [
        "import sr/README.txt --data home",
        "import sr/NUT_DATA.txt --data home",
        "import nowhere --data home",
        "import home-of-nobody sr --data home",
    ] {
        let (code, printed, told) = check(&folder, line);
        assert_eq!((code, printed.as_str()), (Some(2), ""), "{line}: {told}");
        assert!(!told.is_empty() && !folder.join("home").exists(), "{line}");
    }
    assert_eq!(check(&folder, "import").0, Some(2));
}
