//! Plain text tables: tab-separated files with one heading line, `#` comments, and quoted comma files.

use std::fs;
use std::path::Path;

/// Reads a whole file, naming it in the error.
pub(super) fn read(path: &Path) -> Result<String, String> {
    fs::read_to_string(path).map_err(|error| format!("cannot read {}: {error}", path.display()))
}

/// Rows of a tab-separated table below its heading, each with its line number; comment lines and empty
/// lines are skipped, short rows are filled with empty cells, cells are trimmed.
pub(super) fn tab_rows(content: &str, columns: usize) -> Result<Vec<(usize, Vec<String>)>, String> {
    let mut rows = Vec::new();
    let lines = content
        .lines()
        .enumerate()
        .filter(|(_, line)| !line.is_empty() && !line.starts_with('#'));
    for (index, line) in lines.skip(1) {
        let mut cells: Vec<String> = line.split('\t').map(|cell| cell.trim().to_owned()).collect();
        if cells.len() > columns {
            return Err(format!(
                "line {}: {} cells where {columns} are expected",
                index + 1,
                cells.len()
            ));
        }
        cells.resize(columns, String::new());
        rows.push((index + 1, cells));
    }
    Ok(rows)
}

/// Cells of one line of a comma-separated file with optional double quotes.
pub(super) fn comma_cells(line: &str) -> Vec<String> {
    let mut cells = vec![String::new()];
    let mut quoted = false;
    let mut chars = line.chars().peekable();
    while let Some(letter) = chars.next() {
        match letter {
            '"' if quoted && chars.peek() == Some(&'"') => {
                chars.next();
                push(&mut cells, '"');
            }
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(String::new()),
            other => push(&mut cells, other),
        }
    }
    cells
}

fn push(cells: &mut [String], letter: char) {
    cells
        .last_mut()
        .expect("a line has at least one cell")
        .push(letter);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quoted_cell_keeps_its_comma_and_its_doubled_quote() {
        assert_eq!(
            comma_cells(r#"01001,"Butter, ""salted""",0,"#),
            ["01001", r#"Butter, "salted""#, "0", ""]
        );
    }

    #[test]
    fn a_row_with_too_many_cells_is_refused_with_its_line() {
        let error = tab_rows("a\tb\n1\t2\n1\t2\t3\n", 2).expect_err("three cells do not fit two columns");
        assert!(error.starts_with("line 3"), "{error}");
    }
}
