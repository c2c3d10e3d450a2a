//! A table as aligned text. When it is too wide, the widest columns are narrowed and their cells
//! run over several lines.

use super::wrap::{len, longest_word, wrap};
use crate::sheet::{Align, Column, Row, RowKind, Section};

const GAP: usize = 2;
/// How often room is moved between columns at most.
const SHARE_ROUNDS: usize = 20;
/// How much room is moved at once.
const STEPS: [usize; 4] = [1, 2, 4, 8];

/// The table in lines of at most `width` characters where words allow it.
pub(super) fn lines(section: &Section, width: usize) -> Vec<String> {
    let widths = widths(section, width);
    let mut lines = Vec::new();
    if section.columns.iter().any(|column| !column.name.is_empty()) {
        let names = section.columns.iter().map(|column| column.name.clone()).collect();
        let head = Row {
            cells: names,
            kind: RowKind::Plain,
        };
        lines.extend(row_lines(&head, &section.columns, &widths));
        lines.push(rule(&widths));
    }
    for (at, row) in section.rows.iter().enumerate() {
        match row.kind {
            RowKind::Head => {
                if at > 0 {
                    lines.push(String::new());
                }
                lines.extend(wrap(row.cells.first().map_or("", String::as_str), width));
            }
            RowKind::Total => {
                lines.push(rule(&widths));
                lines.extend(row_lines(row, &section.columns, &widths));
            }
            RowKind::Plain | RowKind::Sub | RowKind::Mind => {
                lines.extend(row_lines(row, &section.columns, &widths));
            }
        }
    }
    lines
}

fn rule(widths: &[usize]) -> String {
    let parts: Vec<String> = widths.iter().map(|&width| "-".repeat(width)).collect();
    parts.join(&" ".repeat(GAP))
}

/// How far the mark of a row's kind sets a cell back.
fn indent(row: &Row, at: usize) -> usize {
    if at == 0 && matches!(row.kind, RowKind::Sub | RowKind::Mind) {
        2
    } else {
        0
    }
}

/// The cell's text with the mark that its row's kind puts before it.
fn cell(row: &Row, at: usize) -> String {
    let text = row.cells.get(at).map_or("", String::as_str);
    match (at, row.kind) {
        (0, RowKind::Sub) => format!("  {text}"),
        (0, RowKind::Mind) => format!("! {text}"),
        _ => text.to_owned(),
    }
}

/// The width of every column: what it wants, less what has to give so that the table fits.
fn widths(section: &Section, width: usize) -> Vec<usize> {
    let rows = || section.rows.iter().filter(|row| row.kind != RowKind::Head);
    let want = |at: usize, name: &str| rows().map(|row| len(&cell(row, at))).chain([len(name)]).max();
    let need = |at: usize, name: &str| {
        let words =
            rows().map(|row| longest_word(row.cells.get(at).map_or("", String::as_str)) + indent(row, at));
        words.chain([longest_word(name)]).max()
    };
    let columns = || section.columns.iter().enumerate();
    let mut widths: Vec<usize> = columns()
        .map(|(at, column)| want(at, &column.name).unwrap_or(0))
        .collect();
    let least: Vec<usize> = columns()
        .map(|(at, column)| need(at, &column.name).unwrap_or(0))
        .collect();
    let room = width.saturating_sub(GAP * widths.len().saturating_sub(1));
    let over = widths.iter().sum::<usize>().saturating_sub(room);
    for _ in 0..over {
        let Some(at) = least_harm(section, &widths, &least) else {
            break;
        };
        widths[at] -= 1;
    }
    if over > 0 {
        share_out(section, &mut widths, &least);
    }
    widths
}

/// The column that adds the fewest lines when it is narrowed by one; of equals the widest.
fn least_harm(section: &Section, widths: &[usize], least: &[usize]) -> Option<usize> {
    let narrowable = (0..widths.len()).filter(|&at| widths[at] > least[at]);
    narrowable.min_by_key(|&at| {
        let mut tried = widths.to_vec();
        tried[at] -= 1;
        (height(section, &tried), std::cmp::Reverse(widths[at]))
    })
}

/// Moves room between columns as long as that saves lines.
fn share_out(section: &Section, widths: &mut Vec<usize>, least: &[usize]) {
    let mut lines = height(section, widths);
    for _ in 0..SHARE_ROUNDS {
        let pairs = (0..widths.len()).flat_map(|from| (0..widths.len()).map(move |to| (from, to)));
        let moves = pairs.flat_map(|(from, to)| STEPS.map(|step| (from, to, step)));
        let tried = moves.filter(|&(from, to, step)| from != to && widths[from] >= least[from] + step);
        let best = tried.map(|(from, to, step)| {
            let mut tried = widths.clone();
            tried[from] -= step;
            tried[to] += step;
            (height(section, &tried), tried)
        });
        match best.min() {
            Some((height, better)) if height < lines => (lines, *widths) = (height, better),
            _ => return,
        }
    }
}

/// Lines of the rows that are not headings.
fn height(section: &Section, widths: &[usize]) -> usize {
    let rows = section.rows.iter().filter(|row| row.kind != RowKind::Head);
    let row_height = |row: &Row| {
        (0..widths.len())
            .map(|at| cell_lines(row, at, widths[at]).len())
            .max()
    };
    rows.filter_map(row_height).sum()
}

fn row_lines(row: &Row, columns: &[Column], widths: &[usize]) -> Vec<String> {
    let cells: Vec<Vec<String>> = (0..columns.len())
        .map(|at| cell_lines(row, at, widths[at]))
        .collect();
    let height = cells.iter().map(Vec::len).max().unwrap_or(0);
    let line = |at: usize| {
        let mut text = String::new();
        for (column, (lines, &width)) in columns.iter().zip(cells.iter().zip(widths)) {
            let part = lines.get(at).map_or("", String::as_str);
            let blank = " ".repeat(width.saturating_sub(len(part)));
            match column.align {
                Align::Left => text.push_str(&(part.to_owned() + &blank)),
                Align::Right => text.push_str(&(blank + part)),
            }
            text.push_str(&" ".repeat(GAP));
        }
        text.trim_end().to_owned()
    };
    (0..height).map(line).collect()
}

/// The cell in lines; what runs over keeps the indent of a row that is set back.
fn cell_lines(row: &Row, at: usize, width: usize) -> Vec<String> {
    if indent(row, at) == 0 {
        return wrap(&cell(row, at), width);
    }
    let text = row.cells.first().map_or("", String::as_str);
    let lines = wrap(text, width.saturating_sub(2));
    let mark = if row.kind == RowKind::Mind { "! " } else { "  " };
    let marked = lines.iter().enumerate();
    marked
        .map(|(at, line)| format!("{}{line}", if at == 0 { mark } else { "  " }))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(rows: &[(RowKind, [&str; 2])], width: usize, expected: &str) {
        let mut section = Section::new("", &["what", ">mass"]);
        for (kind, cells) in rows {
            section.add(*kind, cells.map(String::from));
        }
        assert_eq!(lines(&section, width).join("\n"), expected);
    }

    #[test]
    fn columns_stand_under_each_other() {
        check(
            &[
                (RowKind::Plain, ["rice", "600 g"]),
                (RowKind::Plain, ["bay", "1 g"]),
            ],
            40,
            "what   mass\n----  -----\nrice  600 g\nbay     1 g",
        );
    }

    #[test]
    fn the_widest_column_gives_way() {
        check(
            &[(RowKind::Plain, ["simmer with the lid ajar", "600 g"])],
            19,
            "what           mass\n------------  -----\nsimmer with   600 g\nthe lid ajar",
        );
    }

    #[test]
    fn a_heading_spans_and_a_total_is_ruled_off() {
        check(
            &[
                (RowKind::Head, ["Produce and all that", ""]),
                (RowKind::Mind, ["nuts", "2"]),
                (RowKind::Total, ["sum", "2"]),
            ],
            40,
            "what    mass\n------  ----\nProduce and all that\n! nuts     2\n------  ----\nsum        2",
        );
    }
}
