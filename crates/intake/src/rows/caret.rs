//! Rows of cells between carets, one row to a line, with tildes around text, as the documentation of the USDA National
//! Nutrient Database for Standard Reference describes its ASCII files.

use std::borrow::Cow;

use super::{Broken, Row};

/// The rows of a text, without blank lines.
pub(crate) fn carets(text: &str) -> impl Iterator<Item = Result<Row<'_>, Broken>> {
    let lines = text.trim_start_matches('\u{feff}').lines().zip(1_u32..);
    lines
        .filter(|(line, _)| !line.trim().is_empty())
        .map(|(line, number)| {
            let cells: Option<Vec<Cow<'_, str>>> = line.split('^').map(cell).collect();
            let what = "a tilde is not closed";
            cells
                .map(|cells| Row { line: number, cells })
                .ok_or(Broken { line: number, what })
        })
}

fn cell(text: &str) -> Option<Cow<'_, str>> {
    let inner = text
        .strip_prefix('~')
        .map_or(Some(text), |rest| rest.strip_suffix('~'))?;
    (!inner.contains('~')).then(|| Cow::Borrowed(inner.trim()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, expected: &[&str]) {
        let shown: Vec<String> = carets(text)
            .map(|row| match row {
                Ok(row) => format!("{}: {}", row.line, row.cells.join("|")),
                Err(broken) => format!("{}! {}", broken.line, broken.what),
            })
            .collect();
        assert_eq!(shown, expected, "{text:?}");
    }

    #[test]
    fn text_stands_in_tildes_and_figures_bare() {
        check(
            "~01~^1^~cup, \"heaped\"~^2.5^\r\n",
            &["1: 01|1|cup, \"heaped\"|2.5|"],
        );
        check("~~^^~~", &["1: ||"]);
    }

    #[test]
    fn a_lost_tilde_costs_its_line() {
        check("~01^2\n\n~02~^3", &["1! a tilde is not closed", "3: 02|3"]);
        check(
            "0~1^2\n~",
            &["1! a tilde is not closed", "2! a tilde is not closed"],
        );
    }
}
