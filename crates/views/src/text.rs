//! A sheet as text of a fixed width, for terminals and plain printers.

mod table;
mod wrap;

use crate::sheet::{Section, Sheet};

/// The usual width in characters.
pub const WIDTH: usize = 100;

/// The sheet as text, no line longer than `width` unless a single word is. Widths below 40 are
/// taken as 40.
#[must_use]
pub fn render(sheet: &Sheet, width: usize) -> String {
    let width = width.max(40);
    let mut lines = vec![sheet.title.to_uppercase()];
    lines.extend(fields(sheet, width));
    lines.push("=".repeat(width));
    for section in &sheet.sections {
        lines.push(String::new());
        lines.extend(section_lines(section, width));
    }
    if !sheet.notes.is_empty() {
        lines.push(String::new());
        lines.push("-".repeat(width));
        lines.extend(notes(&sheet.notes, width));
    }
    let mut text = String::new();
    for line in lines {
        text.push_str(line.trim_end());
        text.push('\n');
    }
    text
}

/// Facts of the title block, several to a line.
fn fields(sheet: &Sheet, width: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for (name, value) in &sheet.fields {
        let fact = format!("{name}: {value}");
        match lines.last_mut() {
            Some(line) if wrap::len(line) + 3 + wrap::len(&fact) <= width => {
                line.push_str(" | ");
                line.push_str(&fact);
            }
            _ => lines.extend(wrap::wrap(&fact, width)),
        }
    }
    lines
}

fn section_lines(section: &Section, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    if !section.title.is_empty() {
        lines.extend(wrap::wrap(&section.title.to_uppercase(), width));
    }
    if !section.rows.is_empty() {
        lines.extend(table::lines(section, width));
    }
    lines.extend(notes(&section.notes, width));
    lines
}

fn notes(notes: &[String], width: usize) -> Vec<String> {
    notes.iter().flat_map(|note| wrap::wrap(note, width)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::{RowKind, SheetKind};

    fn sheet() -> Sheet {
        let mut section = Section::new("Stove", &["what", ">how much"]);
        section.row(["Chickpeas".into(), "1.25\u{a0}kg".into()]);
        section.add(RowKind::Sub, ["salt".into(), "9\u{a0}g".into()]);
        Sheet {
            kind: SheetKind::Prep,
            title: "Prep list".into(),
            fields: vec![("Start".into(), "13:00".into()), ("Hands".into(), "2".into())],
            sections: vec![section],
            notes: vec!["Ask first.".into()],
        }
    }

    #[test]
    fn a_sheet_has_a_title_block_tables_and_a_foot() {
        let text = render(&sheet(), 40);
        let expected = "PREP LIST\nStart: 13:00 | Hands: 2\n========================================\n\n\
            STOVE\nwhat       how much\n---------  --------\nChickpeas   1.25\u{a0}kg\n  salt          9\u{a0}g\n\n\
            ----------------------------------------\nAsk first.\n";
        assert_eq!(text, expected);
    }

    #[test]
    fn no_line_ends_in_blanks() {
        assert!(render(&sheet(), 40).lines().all(|line| line.trim_end() == line));
    }
}
