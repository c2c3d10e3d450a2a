//! Linear programmes in whole numbers: columns between bounds, rows between sides, a cost to be made least.
//!
//! It states, checks and writes programmes, and gives a bound below every point that satisfies the rows, proven in whole
//! numbers ([`bound`]). It does not solve them to the end.

mod bound;
mod climb;
mod polish;
mod text;

pub use bound::{Bound, bound};
pub use text::{mps, solution};

/// A column: a quantity that is chosen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// Its name, without blanks.
    pub name: String,
    /// What each unit costs.
    pub cost: i64,
    /// The least it may be.
    pub lower: i64,
    /// The most it may be.
    pub upper: i64,
    /// Whether it must be whole.
    pub whole: bool,
}

/// A row: a sum of columns that stays between its sides.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// Its name, without blanks.
    pub name: String,
    /// Columns with their coefficients, each column once, by column.
    pub terms: Vec<(usize, i64)>,
    /// The least the sum may be.
    pub least: Option<i64>,
    /// The most the sum may be.
    pub most: Option<i64>,
}

/// A linear programme: the cost of its columns and a constant, to be made least.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Programme {
    /// The columns.
    pub columns: Vec<Column>,
    /// The rows.
    pub rows: Vec<Row>,
    /// What every point costs.
    pub constant: i64,
}

/// A place where a point breaks a programme.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// A column outside its bounds, and its value.
    Column(usize, i64),
    /// A row outside its sides, and its sum.
    Row(usize, i128),
}

impl Programme {
    /// Adds a column; returns its number.
    pub fn column(&mut self, column: Column) -> usize {
        self.columns.push(column);
        self.columns.len() - 1
    }

    /// Adds a row whose columns may come in any order and repeatedly.
    pub fn row(&mut self, name: String, terms: &[(usize, i64)], (least, most): (Option<i64>, Option<i64>)) {
        let mut sorted = terms.to_vec();
        sorted.sort_unstable_by_key(|(column, _)| *column);
        let mut merged: Vec<(usize, i64)> = Vec::with_capacity(sorted.len());
        for (column, coefficient) in sorted {
            match merged.last_mut() {
                Some((last, sum)) if *last == column => *sum += coefficient,
                _ => merged.push((column, coefficient)),
            }
        }
        merged.retain(|(_, coefficient)| *coefficient != 0);
        self.rows.push(Row {
            name,
            terms: merged,
            least,
            most,
        });
    }

    /// What a point costs.
    ///
    /// # Panics
    /// Panics when the point has not one value for each column.
    #[must_use]
    pub fn value(&self, point: &[i64]) -> i128 {
        assert_eq!(point.len(), self.columns.len(), "one value for each column");
        let costs = self.columns.iter().zip(point);
        i128::from(self.constant)
            + costs
                .map(|(column, value)| i128::from(column.cost) * i128::from(*value))
                .sum::<i128>()
    }

    /// Where a point breaks the programme.
    ///
    /// # Panics
    /// Panics when the point has not one value for each column.
    #[must_use]
    pub fn faults(&self, point: &[i64]) -> Vec<Fault> {
        assert_eq!(point.len(), self.columns.len(), "one value for each column");
        let outside = |(ix, column): (usize, &Column)| {
            let value = point[ix];
            (value < column.lower || value > column.upper).then_some(Fault::Column(ix, value))
        };
        let mut faults: Vec<Fault> = self.columns.iter().enumerate().filter_map(outside).collect();
        for (ix, row) in self.rows.iter().enumerate() {
            let sum = row.sum(point);
            let low = row.least.is_some_and(|least| sum < i128::from(least));
            let high = row.most.is_some_and(|most| sum > i128::from(most));
            if low || high {
                faults.push(Fault::Row(ix, sum));
            }
        }
        faults
    }
}

impl Row {
    /// The sum at a point.
    #[must_use]
    pub fn sum(&self, point: &[i64]) -> i128 {
        let terms = self.terms.iter();
        terms
            .map(|(column, coefficient)| i128::from(*coefficient) * i128::from(point[*column]))
            .sum()
    }
}
