//! Texts as rows of cells: commas with quotes, and carets with tildes. What a cell means is not known here.

mod caret;
mod comma;

use std::borrow::Cow;

pub(crate) use caret::carets;
pub(crate) use comma::commas;

use crate::composition::SourceFile;
use crate::log::{Log, Trouble, row_out};

/// A row with the line on which it starts.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Row<'a> {
    pub(crate) line: u32,
    pub(crate) cells: Vec<Cow<'a, str>>,
}

/// A row that cannot be divided into cells.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Broken {
    pub(crate) line: u32,
    pub(crate) what: &'static str,
}

/// Reads a table with a header: hands the columns named to `keep`, row by row.
pub(crate) fn each_row<const N: usize>(
    file: SourceFile<'_>,
    columns: [&str; N],
    log: &mut Log,
    mut keep: impl FnMut(u32, [&str; N]) -> Result<(), Trouble>,
) {
    let mut rows = commas(file.text);
    let header = match rows.next() {
        Some(Ok(row)) => row.cells,
        Some(Err(broken)) => return log.add(file.name, broken.line, row_out(broken.what)),
        None => return,
    };
    let place = |column: &str| header.iter().position(|cell| cell.trim() == column);
    let places = columns.map(place);
    for (column, place) in columns.iter().zip(places) {
        if place.is_none() {
            let message = format!("there is no column `{column}`");
            let help = "The file is left out.";
            return log.add(file.name, 1, Trouble { message, help });
        }
    }
    let wanted = header.len();
    for row in rows {
        let (line, kept) = match &row {
            Ok(row) if row.cells.len() == wanted => {
                let cell = |place: Option<usize>| place.map_or("", |at| row.cells[at].trim());
                (row.line, keep(row.line, places.map(cell)))
            }
            Ok(row) => (row.line, Err(row_out(miscounted(row.cells.len(), wanted)))),
            Err(broken) => (broken.line, Err(row_out(broken.what))),
        };
        if let Err(trouble) = kept {
            log.add(file.name, line, trouble);
        }
    }
}

/// Reads a file without a header: hands the cells, of which there have to be at least `least`, to `keep`.
pub(crate) fn each_line(
    file: SourceFile<'_>,
    least: usize,
    log: &mut Log,
    mut keep: impl FnMut(u32, &[Cow<'_, str>]) -> Result<(), Trouble>,
) {
    for row in carets(file.text) {
        let (line, kept) = match &row {
            Ok(row) if row.cells.len() >= least => (row.line, keep(row.line, &row.cells)),
            Ok(row) => (row.line, Err(row_out(miscounted(row.cells.len(), least)))),
            Err(broken) => (broken.line, Err(row_out(broken.what))),
        };
        if let Err(trouble) = kept {
            log.add(file.name, line, trouble);
        }
    }
}

fn miscounted(found: usize, wanted: usize) -> String {
    let cells = if found == 1 { "cell" } else { "cells" };
    format!("the row has {found} {cells} where {wanted} are wanted")
}
