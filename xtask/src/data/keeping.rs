//! The hand-written table of how long kinds of food keep under each guidance profile: reads it, refuses what
//! is untidy, and writes it as Rust.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

use super::text::tab_rows;

/// Profiles as written, with their Rust names.
const PROFILES: [(&str, &str); 6] = [
    ("us-home", "UsHome"),
    ("us-food-service", "UsFoodService"),
    ("uk", "Uk"),
    ("ca", "Canada"),
    ("au", "Australia"),
    ("eu", "Eu"),
];

/// Flags as written, with their Rust names and what a source so flagged says of itself.
const FLAGS: [(&str, &str, &str); 5] = [
    ("read", "Read", ""),
    ("read-2", "SecondHand", ""),
    ("derived", "Derived", "derived"),
    ("memory", "Memory", "from memory"),
    ("practice", "Practice", "common practice, no source"),
];

const COLUMNS: usize = 9;
/// The kind every profile must have.
const GENERAL: &str = "leftovers";

type Days = Option<(u16, u16)>;

/// How long a kind of food keeps under some profiles, in days, low and high.
pub(super) struct Keeping {
    profiles: Vec<&'static str>,
    /// Refrigerator, freezer, cupboard, opened.
    days: [Days; 4],
    basis: &'static str,
    note: String,
    source: String,
}

/// All kinds of keeping, by id.
pub(super) type Kinds = BTreeMap<String, Vec<Keeping>>;

/// Reads the table.
pub(super) fn parse(content: &str) -> Result<Kinds, String> {
    let mut kinds = Kinds::new();
    for (line, cells) in tab_rows(content, COLUMNS)? {
        let row = row(&cells).map_err(|error| format!("keeping.tsv line {line}: {error}"))?;
        kinds.entry(cells[0].clone()).or_default().push(row);
    }
    for (id, rows) in &kinds {
        let named: Vec<&str> = rows.iter().flat_map(|row| row.profiles.iter().copied()).collect();
        let distinct: BTreeSet<&str> = named.iter().copied().collect();
        if distinct.len() != named.len() {
            return Err(format!("keeping.tsv: `{id}` has two rows for one profile"));
        }
        if id == GENERAL && distinct.len() != PROFILES.len() {
            return Err(format!("keeping.tsv: `{id}` needs a row for every profile"));
        }
    }
    if kinds.contains_key(GENERAL) {
        Ok(kinds)
    } else {
        Err(format!("keeping.tsv has no `{GENERAL}`"))
    }
}

fn row(cells: &[String]) -> Result<Keeping, String> {
    let days = [
        days(&cells[2])?,
        days(&cells[3])?,
        days(&cells[4])?,
        days(&cells[5])?,
    ];
    if days.iter().all(Option::is_none) {
        return Err("a row without a figure".to_owned());
    }
    let (_, basis, words) = FLAGS
        .into_iter()
        .find(|(flag, ..)| *flag == cells[6])
        .ok_or_else(|| format!("`{}` is not a flag", cells[6]))?;
    let source = cells[8].clone();
    if source.is_empty() || !source.contains(words) {
        return Err(format!("the source of a row flagged `{}` says so", cells[6]));
    }
    if cells[6] == "read" && source.contains("memory") {
        return Err("a figure from memory does not pose as read".to_owned());
    }
    Ok(Keeping {
        profiles: profiles(&cells[1])?,
        days,
        basis,
        note: cells[7].clone(),
        source,
    })
}

fn profiles(cell: &str) -> Result<Vec<&'static str>, String> {
    if cell == "all" {
        return Ok(PROFILES.map(|(_, variant)| variant).to_vec());
    }
    cell.split('+')
        .map(|word| {
            PROFILES
                .iter()
                .find(|(name, _)| *name == word)
                .map(|(_, variant)| *variant)
                .ok_or_else(|| format!("`{word}` is not a guidance profile"))
        })
        .collect()
}

fn days(cell: &str) -> Result<Days, String> {
    if cell.is_empty() {
        return Ok(None);
    }
    cell.split_once('-')
        .and_then(|(low, high)| Some((low.parse::<u16>().ok()?, high.parse::<u16>().ok()?)))
        .filter(|(low, high)| (1..=*high).contains(low))
        .map(Some)
        .ok_or_else(|| format!("`{cell}` is not a range of days such as `3-5`"))
}

/// The Rust text of all kinds.
pub(super) fn render(kinds: &Kinds) -> String {
    let mut text = String::new();
    for (id, rows) in kinds {
        writeln!(
            text,
            "pub(crate) static {}: [Keeping; {}] = [",
            constant(id),
            rows.len()
        )
        .expect("writing to a string cannot fail");
        for row in rows {
            let [fridge, freezer, cupboard, opened] = row.days.map(literal);
            let profiles: Vec<String> = row
                .profiles
                .iter()
                .map(|variant| format!("Profile::{variant}"))
                .collect();
            writeln!(
                text,
                " Keeping {{ profiles: &[{}], fridge_days: {fridge}, freezer_days: {freezer}, cupboard_days: {cupboard}, opened_days: {opened}, basis: KeepingBasis::{}, note: {:?}, source: {:?} }},",
                profiles.join(", "),
                row.basis,
                row.note,
                row.source
            )
            .expect("writing to a string cannot fail");
        }
        text.push_str("];\n");
    }
    text.push('\n');
    text
}

fn literal(days: Days) -> String {
    days.map_or_else(|| "N".to_owned(), |(low, high)| format!("S(({low}, {high}))"))
}

/// The name of a kind in Rust.
pub(super) fn constant(id: &str) -> String {
    format!("KEEP_{}", id.to_uppercase().replace('-', "_"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(rows: &str) -> Result<Kinds, String> {
        parse(&format!(
            "heading\nleftovers\tall\t2-2\t\t\t\tmemory\t\tfrom memory\n{rows}"
        ))
    }

    #[test]
    fn one_kind_has_a_row_for_each_profile_that_speaks() {
        let kinds = check("rice\tus-home+ca\t3-4\t\t\t\tread\t\tA\nrice\tuk\t1-1\t\t\t\tread\t\tB\n")
            .expect("the table is tidy");
        assert_eq!(kinds["rice"].len(), 2);
        assert!(render(&kinds).contains("KEEP_RICE: [Keeping; 2]"));
    }

    #[test]
    fn untidy_rows_are_refused() {
        for row in [
            "rice\tmars\t3-4\t\t\t\tread\t\tA",
            "rice\tuk\t4-3\t\t\t\tread\t\tA",
            "rice\tuk\t0-3\t\t\t\tread\t\tA",
            "rice\tuk\t\t\t\t\tread\t\tA",
            "rice\tuk\t3-4\t\t\t\tguess\t\tA",
            "rice\tuk\t3-4\t\t\t\tread\t\t",
            "rice\tuk\t3-4\t\t\t\tread\t\tfrom memory",
            "rice\tuk\t3-4\t\t\t\tmemory\t\tA chart",
            "rice\tuk+uk\t3-4\t\t\t\tread\t\tA",
            "rice\tall\t3-4\t\t\t\tread\t\tA\nrice\tuk\t1-1\t\t\t\tread\t\tA",
        ] {
            assert!(check(row).is_err(), "{row}");
        }
        assert!(parse("heading\nleftovers\tuk\t2-2\t\t\t\tread\t\tA\n").is_err());
        assert!(parse("heading\nrice\tuk\t2-2\t\t\t\tread\t\tA\n").is_err());
    }
}
