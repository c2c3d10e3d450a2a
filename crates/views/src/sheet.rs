//! The one shape that every sheet has: a title block, sections with ruled columns, and notes. It
//! holds ready text; a terminal, a page or a printer only arranges it.

/// The sheets of a week.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SheetKind {
    /// The week at a glance.
    Summary,
    /// Batches by session.
    Production,
    /// Preparation by station.
    Prep,
    /// Work by the clock.
    Run,
    /// What to check at home and what to buy.
    Order,
    /// What moves from freezer to fridge, and what starts before the day.
    Pull,
    /// One label for each box.
    Labels,
    /// The week sheet: components down, days across.
    Menu,
    /// Every sitting: take out, reheat, assemble.
    Plates,
}

impl SheetKind {
    /// Every sheet, in the order in which a cook needs them.
    pub const ALL: [Self; 9] = [
        Self::Summary,
        Self::Menu,
        Self::Order,
        Self::Production,
        Self::Prep,
        Self::Run,
        Self::Labels,
        Self::Pull,
        Self::Plates,
    ];

    /// The word used in file names and on the command line.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Summary => "summary",
            Self::Production => "production",
            Self::Prep => "prep",
            Self::Run => "run",
            Self::Order => "order",
            Self::Pull => "pull",
            Self::Labels => "labels",
            Self::Menu => "menu",
            Self::Plates => "plates",
        }
    }

    /// Reads the word used on the command line.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.word() == word)
    }
}

/// On which side a column's text stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants say it")]
pub enum Align {
    Left,
    Right,
}

/// One column of a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// What stands over it; empty columns of a table without a head have no name.
    pub name: String,
    /// On which side its text stands.
    pub align: Align,
}

/// What a row is to its reader.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RowKind {
    /// A line of the table.
    Plain,
    /// A heading inside the table; only its first cell is filled.
    Head,
    /// Follows from the row above it and is set back a little.
    Sub,
    /// A sum.
    Total,
    /// Something that must not be missed.
    Mind,
}

/// One row of a table: as many cells as there are columns, or the first few of them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The text of each cell.
    pub cells: Vec<String>,
    /// What the row is to its reader.
    pub kind: RowKind,
}

/// A table with a heading.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Section {
    /// Heading; may be empty.
    pub title: String,
    /// Columns.
    pub columns: Vec<Column>,
    /// Rows.
    pub rows: Vec<Row>,
    /// Sentences below the table.
    pub notes: Vec<String>,
}

/// A sheet of ready text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// Which sheet.
    pub kind: SheetKind,
    /// Its name, as it stands at the top.
    pub title: String,
    /// Facts of the title block: name and value.
    pub fields: Vec<(String, String)>,
    /// Tables.
    pub sections: Vec<Section>,
    /// Sentences at the foot.
    pub notes: Vec<String>,
}

impl Section {
    /// An empty table. A column whose name starts with `>` stands on the right.
    pub(crate) fn new(title: impl Into<String>, columns: &[&str]) -> Self {
        let column = |name: &&str| match name.strip_prefix('>') {
            Some(name) => Column {
                name: name.into(),
                align: Align::Right,
            },
            None => Column {
                name: (*name).into(),
                align: Align::Left,
            },
        };
        Self {
            title: title.into(),
            columns: columns.iter().map(column).collect(),
            rows: Vec::new(),
            notes: Vec::new(),
        }
    }

    /// Adds a plain row.
    pub(crate) fn row<const N: usize>(&mut self, cells: [String; N]) {
        self.add(RowKind::Plain, cells);
    }

    /// Adds a row of that kind.
    pub(crate) fn add<const N: usize>(&mut self, kind: RowKind, cells: [String; N]) {
        debug_assert!(
            N <= self.columns.len(),
            "a row never has more cells than its table has columns"
        );
        let cells = cells.into();
        self.rows.push(Row { cells, kind });
    }

    /// Adds a heading inside the table.
    pub(crate) fn head(&mut self, text: impl Into<String>) {
        self.add(RowKind::Head, [text.into()]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_is_read_back_from_its_word() {
        for kind in SheetKind::ALL {
            assert_eq!(SheetKind::parse(kind.word()), Some(kind));
        }
        assert_eq!(SheetKind::parse("soup"), None);
    }

    #[test]
    fn a_column_marked_with_an_angle_stands_on_the_right() {
        let section = Section::new("Batches", &["food", ">grams"]);
        assert_eq!(section.columns[1].align, Align::Right);
        assert_eq!(section.columns[1].name, "grams");
    }
}
