//! The menu as an integer programme: what `plan --program --solution` writes is read back by a reader of its own, and the
//! point satisfies every row at the cost that the rows say.

use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;
use std::process::Command;

/// A programme as it is read back.
#[derive(Default)]
struct Read {
    /// By row: its kind and the right side.
    rows: BTreeMap<String, (char, i128)>,
    ranges: BTreeMap<String, i128>,
    /// By column: rows with coefficients.
    columns: BTreeMap<String, Vec<(String, i128)>>,
    bounds: BTreeMap<String, (i128, i128)>,
}

fn read(text: &str) -> Read {
    let mut read = Read::default();
    let mut section = String::new();
    for line in text.lines().filter(|line| !line.starts_with('*')) {
        let words: Vec<&str> = line.split_whitespace().collect();
        if !line.starts_with(' ') {
            words[0].clone_into(&mut section);
            continue;
        }
        let number = |word: &str| word.parse::<i128>().expect("a whole number");
        match (section.as_str(), words.as_slice()) {
            ("ROWS", [kind, name]) => {
                let kind = kind.chars().next().expect("a kind");
                read.rows.insert((*name).to_owned(), (kind, 0));
            }
            ("COLUMNS", [_, "'MARKER'", _]) => {}
            ("COLUMNS", [column, row, value]) => {
                let terms = read.columns.entry((*column).to_owned()).or_default();
                let value = if *row == "cost" {
                    parts(value)
                } else {
                    number(value)
                };
                terms.push(((*row).to_owned(), value));
            }
            ("RHS", [_, "cost", value]) => read.rows.get_mut("cost").expect("a cost").1 = parts(value),
            ("RHS", [_, row, value]) => read.rows.get_mut(*row).expect("a known row").1 = number(value),
            ("RANGES", [_, row, value]) => {
                read.ranges.insert((*row).to_owned(), number(value));
            }
            ("BOUNDS", ["UP", _, column, value]) => {
                read.bounds.entry((*column).to_owned()).or_insert((0, 0)).1 = number(value);
            }
            ("BOUNDS", ["LO", _, column, value]) => {
                read.bounds.entry((*column).to_owned()).or_insert((0, 0)).0 = number(value);
            }
            _ => panic!("`{line}` is not understood in {section}"),
        }
    }
    read
}

/// A decimal with up to nine places, in thousand millionths.
fn parts(word: &str) -> i128 {
    let (sign, digits) = word.strip_prefix('-').map_or((1, word), |digits| (-1, digits));
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    let number = |digits: &str| digits.parse::<i128>().expect("a number");
    sign * (number(whole) * 1_000_000_000 + number(&format!("{part:0<9}")))
}

/// The cost of a point, after every row and bound was looked at; all its values are whole.
fn judged(read: &Read, point: &BTreeMap<String, i128>) -> i128 {
    let mut sums: BTreeMap<&str, i128> = BTreeMap::new();
    for (column, terms) in &read.columns {
        let value = point.get(column).copied().unwrap_or(0);
        let (low, high) = read.bounds[column];
        assert!(
            value >= low && value <= high,
            "{column} is {value}, not in {low} to {high}"
        );
        for (row, coefficient) in terms {
            *sums.entry(row).or_default() += coefficient * value;
        }
    }
    for name in point.keys() {
        assert!(read.columns.contains_key(name), "{name} is no column");
    }
    let mut cost = 0;
    for (row, (kind, side)) in &read.rows {
        let sum = sums.get(row.as_str()).copied().unwrap_or(0);
        let range = read.ranges.get(row).copied();
        let (least, most) = match kind {
            'N' => {
                cost = sum - side;
                continue;
            }
            'E' => (*side, *side),
            'G' => (*side, range.map_or(i128::MAX, |range| side + range)),
            _ => (i128::MIN, *side),
        };
        assert!(
            sum >= least && sum <= most,
            "{row}: {sum} is not in {least} to {most}"
        );
    }
    cost
}

#[test]
fn the_programme_and_its_point_agree_when_read_back() {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("program");
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder can be made");
    let demo = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../records/data/demo-household.toml");
    let done = Command::new(env!("CARGO_BIN_EXE_larderwright"))
        .current_dir(&folder)
        .args([
            "plan", "--week", "2026-W49", "--data", "home", "--work", "2000", "--clock",
        ])
        .args([
            "2026-11-27T20:00",
            "--program",
            "week.mps",
            "--solution",
            "week.sol",
            "--household",
        ])
        .arg(demo)
        .output()
        .expect("the program can be started");
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let text = |name: &str| fs::read_to_string(folder.join(name)).expect("it was written");
    let programme = read(&text("week.mps"));
    let mut point = BTreeMap::new();
    for line in text("week.sol").lines() {
        let (name, value) = line.split_once(' ').expect("a name and a value");
        point.insert(name.to_owned(), value.parse().expect("a number"));
    }
    let cost = judged(&programme, &point);
    assert!(cost > 100 * 1_000_000_000, "a week costs something: {cost}");
    let sittings = point.keys().filter(|name| name.starts_with("meal_")).count();
    assert!(sittings > 10, "{sittings} sittings have a meal");
    // A point that leaves out what is cooked breaks rows.
    let cooked = point
        .keys()
        .find(|name| name.starts_with("cook_"))
        .expect("something is cooked");
    let mut less = point.clone();
    less.remove(&cooked.clone());
    assert!(std::panic::catch_unwind(|| judged(&programme, &less)).is_err());
}
