//! A sheet as it is written for programs: ready text in tables, with the kind of every row.

use larderwright_views::{Align, RowKind, Section, Sheet};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The version of this format.
const VERSION: u32 = 1;

/// A sheet of ready text.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SheetRecord {
    /// Version of this format.
    v: u32,
    /// Which sheet: `run`, `order`.
    sheet: String,
    /// Its name, as it stands at the top.
    title: String,
    /// Facts of the title block.
    fields: Vec<FieldRecord>,
    /// Tables.
    sections: Vec<SectionRecord>,
    /// Sentences at the foot.
    notes: Vec<String>,
}

/// One fact of a title block.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FieldRecord {
    name: String,
    value: String,
}

/// A table with a heading.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SectionRecord {
    title: String,
    columns: Vec<ColumnRecord>,
    rows: Vec<RowRecord>,
    notes: Vec<String>,
}

/// One column.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ColumnRecord {
    name: String,
    align: AlignRecord,
}

/// On which side a column's text stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum AlignRecord {
    /// Text.
    Left,
    /// Figures.
    Right,
}

/// One row; cells that are missing at its end are empty.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RowRecord {
    kind: RowKindRecord,
    cells: Vec<String>,
}

/// What a row is to its reader.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum RowKindRecord {
    /// A line of the table.
    Plain,
    /// A heading inside the table.
    Head,
    /// Follows from the row above it.
    Sub,
    /// A sum.
    Total,
    /// Must not be missed.
    Mind,
}

impl From<&Sheet> for SheetRecord {
    fn from(sheet: &Sheet) -> Self {
        let field = |(name, value): &(String, String)| FieldRecord {
            name: name.clone(),
            value: value.clone(),
        };
        Self {
            v: VERSION,
            sheet: sheet.kind.word().into(),
            title: sheet.title.clone(),
            fields: sheet.fields.iter().map(field).collect(),
            sections: sheet.sections.iter().map(section).collect(),
            notes: sheet.notes.clone(),
        }
    }
}

fn section(section: &Section) -> SectionRecord {
    let column = |column: &larderwright_views::Column| ColumnRecord {
        name: column.name.clone(),
        align: match column.align {
            Align::Left => AlignRecord::Left,
            Align::Right => AlignRecord::Right,
        },
    };
    let row = |row: &larderwright_views::Row| RowRecord {
        kind: kind(row.kind),
        cells: row.cells.clone(),
    };
    SectionRecord {
        title: section.title.clone(),
        columns: section.columns.iter().map(column).collect(),
        rows: section.rows.iter().map(row).collect(),
        notes: section.notes.clone(),
    }
}

fn kind(kind: RowKind) -> RowKindRecord {
    match kind {
        RowKind::Plain => RowKindRecord::Plain,
        RowKind::Head => RowKindRecord::Head,
        RowKind::Sub => RowKindRecord::Sub,
        RowKind::Total => RowKindRecord::Total,
        RowKind::Mind => RowKindRecord::Mind,
    }
}

/// The sheet as JSON text, with a final line break.
#[must_use]
pub fn sheet_to_json(sheet: &Sheet) -> String {
    crate::wire::text(&SheetRecord::from(sheet))
}

#[cfg(test)]
mod tests {
    use larderwright_views::{Column, Row, SheetKind};

    use super::*;

    fn sheet() -> Sheet {
        let columns = vec![
            Column {
                name: "what".into(),
                align: Align::Left,
            },
            Column {
                name: "mass".into(),
                align: Align::Right,
            },
        ];
        let rows = vec![Row {
            cells: vec!["rice".into(), "600 g".into()],
            kind: RowKind::Mind,
        }];
        Sheet {
            kind: SheetKind::Prep,
            title: "Prep list".into(),
            fields: vec![("Week".into(), "2026-W49".into())],
            sections: vec![Section {
                title: "Stove".into(),
                columns,
                rows,
                notes: Vec::new(),
            }],
            notes: vec!["Ask first.".into()],
        }
    }

    #[test]
    fn every_cell_of_a_sheet_is_written() {
        let text = sheet_to_json(&sheet());
        let read: SheetRecord = serde_json::from_str(&text).expect("what was written can be read");
        assert_eq!(read, SheetRecord::from(&sheet()));
        assert_eq!(read.sections[0].rows[0].cells, ["rice", "600 g"]);
        assert_eq!(read.sheet, "prep");
    }
}
