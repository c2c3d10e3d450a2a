//! Rows of cells between commas, with quotes around cells as RFC 4180 describes them. A row that breaks the rules
//! ends at its line's end, so that one lost quote does not swallow the rest of the file.

use std::borrow::Cow;

use super::{Broken, Row};

/// More lines than any published cell has; beyond them a quote was lost.
const CELL_LINES_MAX: usize = 20;

/// The rows of a text, without blank lines.
pub(crate) fn commas(text: &str) -> impl Iterator<Item = Result<Row<'_>, Broken>> {
    let mut rest = text.trim_start_matches('\u{feff}');
    let mut line: u32 = 1;
    std::iter::from_fn(move || {
        while !rest.is_empty() {
            let start = line;
            let (read, end) = match row(rest) {
                Ok((cells, end)) => (Ok(Row { line: start, cells }), end),
                Err(what) => {
                    let end = rest.find('\n').map_or(rest.len(), |at| at + 1);
                    (Err(Broken { line: start, what }), end)
                }
            };
            line = line.saturating_add(breaks(&rest[..end]));
            rest = &rest[end..];
            if !matches!(&read, Ok(row) if is_blank(row)) {
                return Some(read);
            }
        }
        None
    })
}

fn breaks(text: &str) -> u32 {
    let count = text.bytes().filter(|byte| *byte == b'\n').count();
    u32::try_from(count).unwrap_or(u32::MAX)
}

fn is_blank(row: &Row<'_>) -> bool {
    row.cells.len() == 1 && row.cells[0].trim().is_empty()
}

/// The cells of the first row, and where the next one starts.
fn row(text: &str) -> Result<(Vec<Cow<'_, str>>, usize), &'static str> {
    let bytes = text.as_bytes();
    let mut cells = Vec::new();
    let mut at = 0;
    loop {
        let (cell, end) = match bytes.get(at) {
            Some(b'"') => quoted(text, at + 1)?,
            _ => plain(text, at)?,
        };
        cells.push(cell);
        match (bytes.get(end), bytes.get(end + 1)) {
            (Some(b','), _) => at = end + 1,
            (None, _) => return Ok((cells, end)),
            (Some(b'\n'), _) | (Some(b'\r'), None) => return Ok((cells, end + 1)),
            (Some(b'\r'), Some(b'\n')) => return Ok((cells, end + 2)),
            (Some(_), _) => return Err("text follows a closing quote"),
        }
    }
}

/// A cell without quotes from `at` on, and where it ends.
fn plain(text: &str, at: usize) -> Result<(Cow<'_, str>, usize), &'static str> {
    let rest = &text[at..];
    let cell = &rest[..rest.find([',', '\n']).unwrap_or(rest.len())];
    let ends_line = !rest[cell.len()..].starts_with(',');
    let cell = if ends_line {
        cell.strip_suffix('\r').unwrap_or(cell)
    } else {
        cell
    };
    if cell.contains('"') {
        return Err("a quote stands inside a cell that does not open with one");
    }
    Ok((Cow::Borrowed(cell), at + cell.len()))
}

/// A cell whose text starts at `at`, behind its opening quote, and where it ends behind the closing one.
fn quoted(text: &str, at: usize) -> Result<(Cow<'_, str>, usize), &'static str> {
    let bytes = text.as_bytes();
    let mut lines = 0;
    let mut doubled = false;
    let mut here = at;
    while let Some(byte) = bytes.get(here) {
        match byte {
            b'"' if bytes.get(here + 1) == Some(&b'"') => {
                doubled = true;
                here += 1;
            }
            b'"' => {
                let inner = &text[at..here];
                let cell = if doubled {
                    Cow::Owned(inner.replace("\"\"", "\""))
                } else {
                    Cow::Borrowed(inner)
                };
                return Ok((cell, here + 1));
            }
            b'\n' if lines == CELL_LINES_MAX => break,
            b'\n' => lines += 1,
            _ => {}
        }
        here += 1;
    }
    Err("a quote is not closed")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rows as `line: cell|cell`, or `line! what is wrong`.
    fn check(text: &str, expected: &[&str]) {
        let shown: Vec<String> = commas(text)
            .map(|row| match row {
                Ok(row) => format!("{}: {}", row.line, row.cells.join("|")),
                Err(broken) => format!("{}! {}", broken.line, broken.what),
            })
            .collect();
        assert_eq!(shown, expected, "{text:?}");
    }

    #[test]
    fn cells_stand_between_commas() {
        check("a,b\nc,d\n", &["1: a|b", "2: c|d"]);
        check("a,b\r\nc,d\r\n", &["1: a|b", "2: c|d"]);
        check("a,,", &["1: a||"]);
        check("\u{feff}a,b\r", &["1: a|b"]);
    }

    #[test]
    fn a_quoted_cell_may_hold_commas_quotes_and_breaks() {
        check("\"a, b\",\"3\"\" round\"\n", &["1: a, b|3\" round"]);
        check("\"a\nb\",c\nd,e", &["1: a\nb|c", "3: d|e"]);
        check("\"\",\"\"", &["1: |"]);
    }

    #[test]
    fn blank_lines_are_no_rows() {
        check("\n\na,b\n\n  \nc,d", &["3: a|b", "6: c|d"]);
    }

    #[test]
    fn a_lost_quote_costs_its_own_line_only() {
        check("\"a,b\nc,d\n", &["1! a quote is not closed", "2: c|d"]);
        check(
            "\"a,b\n\"c\",\"d\"\n",
            &["1! text follows a closing quote", "2: c|d"],
        );
        check(
            "a\"b,c\nd,e",
            &[
                "1! a quote stands inside a cell that does not open with one",
                "2: d|e",
            ],
        );
    }

    #[test]
    fn a_cell_of_too_many_lines_lost_its_quote() {
        let lines = "x\n".repeat(CELL_LINES_MAX + 1);
        let rows: Vec<_> = commas(&format!("\"{lines}\"")).map(|row| row.is_ok()).collect();
        assert!(!rows[0] && rows[1..].iter().any(|good| *good), "{rows:?}");
    }
}
