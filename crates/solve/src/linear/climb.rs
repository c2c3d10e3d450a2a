//! Prices for the rows of a programme, in floating point: the primal-dual hybrid gradient method (Chambolle and Pock
//! 2011) with scaled rows and columns and restarts from the average (Applegate and others 2021). What leaves is rounded to
//! whole parts and judged elsewhere, so nothing rests on a float.

#![expect(
    clippy::float_arithmetic,
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    reason = "whole numbers in, whole numbers out; the bound is added up without floats"
)]

use super::Programme;

/// Passes between two looks at the bound, which are also the restarts.
const LOOK: u64 = 40;

/// How far prices go for each step of columns, to begin with.
const WEIGHT: f64 = 0.05;

/// The programme in floats, evened out.
struct Scaled {
    /// Row after row: where its terms begin.
    starts: Vec<usize>,
    columns: Vec<u32>,
    values: Vec<f64>,
    cost: Vec<f64>,
    lower: Vec<f64>,
    upper: Vec<f64>,
    least: Vec<f64>,
    most: Vec<f64>,
    /// What a row and the cost were divided by.
    row_scale: Vec<f64>,
    cost_scale: f64,
    /// How far a column and a price may go at once: the inverse of the sum of their entries (Pock and Chambolle 2011).
    column_step: Vec<f64>,
    row_step: Vec<f64>,
}

/// Where the search stands.
#[derive(Clone)]
struct Place {
    primal: Vec<f64>,
    dual: Vec<f64>,
}

/// Searches for prices; `judge` is shown the last ones in `parts` of a unit.
pub(super) fn prices(programme: &Programme, passes: u64, parts: i128, judge: &mut impl FnMut(&[i64])) {
    let scaled = Scaled::new(programme);
    let (rows, columns) = (scaled.least.len(), scaled.cost.len());
    let middle = scaled.lower.iter().zip(&scaled.upper);
    let mut place = Place {
        primal: middle.map(|(low, up)| 0.0_f64.clamp(*low, *up)).collect(),
        dual: vec![0.0; rows],
    };
    let mut weight = WEIGHT;
    let mut start = place.clone();
    let mut done = 0;
    let mut length = LOOK;
    while done < passes {
        let mut sum = Place {
            primal: vec![0.0; columns],
            dual: vec![0.0; rows],
        };
        for _ in 0..length {
            scaled.pass(&mut place, weight);
            add(&mut sum.primal, &place.primal);
            add(&mut sum.dual, &place.dual);
        }
        let share = 1.0 / length as f64;
        for value in sum.primal.iter_mut().chain(&mut sum.dual) {
            *value *= share;
        }
        done += length;
        place = sum;
        // Steps in prices and in columns are kept in proportion to the way both have come.
        let (far, dear) = (
            apart(&place.primal, &start.primal),
            apart(&place.dual, &start.dual),
        );
        if far > 1e-9 && dear > 1e-9 {
            weight = (weight * (dear / far)).sqrt();
        }
        start = place.clone();
        length = (done / 3).clamp(LOOK, 10 * LOOK);
    }
    judge(&scaled.whole(&place.dual, parts));
}

fn add(sum: &mut [f64], values: &[f64]) {
    for (sum, value) in sum.iter_mut().zip(values) {
        *sum += value;
    }
}

fn apart(one: &[f64], other: &[f64]) -> f64 {
    let squares = one
        .iter()
        .zip(other)
        .map(|(one, other)| (one - other) * (one - other));
    squares.sum::<f64>().sqrt()
}

impl Scaled {
    fn new(programme: &Programme) -> Self {
        let mut starts = vec![0];
        let (mut columns, mut values) = (Vec::new(), Vec::new());
        for row in &programme.rows {
            for (column, coefficient) in &row.terms {
                columns.push(u32::try_from(*column).expect("fewer columns than four thousand million"));
                values.push(*coefficient as f64);
            }
            starts.push(columns.len());
        }
        let count = programme.columns.len();
        let (row_scale, column_scale) = evened(programme, &starts, &columns, &mut values);
        let column = |ix: usize, value: i64| value as f64 * column_scale[ix];
        let cost: Vec<f64> = (0..count)
            .map(|ix| programme.columns[ix].cost as f64 / column_scale[ix])
            .collect();
        let cost_scale = cost.iter().map(|cost| cost * cost).sum::<f64>().sqrt().max(1.0);
        let side =
            |side: Option<i64>, ix: usize, none: f64| side.map_or(none, |side| side as f64 / row_scale[ix]);
        let rows = programme.rows.iter().enumerate();
        let least: Vec<f64> = rows
            .clone()
            .map(|(ix, row)| side(row.least, ix, f64::NEG_INFINITY))
            .collect();
        let most: Vec<f64> = rows.map(|(ix, row)| side(row.most, ix, f64::INFINITY)).collect();
        let (mut by_row, mut by_column) = (vec![0.0_f64; starts.len() - 1], vec![0.0_f64; count]);
        for row in 0..by_row.len() {
            for at in starts[row]..starts[row + 1] {
                by_row[row] += values[at].abs();
                by_column[columns[at] as usize] += values[at].abs();
            }
        }
        let inverse = |sum: &f64| 1.0 / sum.max(1e-9);
        Self {
            column_step: by_column.iter().map(inverse).collect(),
            row_step: by_row.iter().map(inverse).collect(),
            lower: (0..count)
                .map(|ix| column(ix, programme.columns[ix].lower))
                .collect(),
            upper: (0..count)
                .map(|ix| column(ix, programme.columns[ix].upper))
                .collect(),
            cost: cost.iter().map(|cost| cost / cost_scale).collect(),
            starts,
            columns,
            values,
            least,
            most,
            row_scale,
            cost_scale,
        }
    }

    fn terms(&self, row: usize) -> impl Iterator<Item = (usize, f64)> + '_ {
        let range = self.starts[row]..self.starts[row + 1];
        let columns = self.columns[range.clone()].iter();
        columns
            .map(|column| *column as usize)
            .zip(self.values[range].iter().copied())
    }

    /// One step of columns, then one of prices.
    fn pass(&self, place: &mut Place, weight: f64) {
        let mut gradient = self.cost.clone();
        for (row, price) in place.dual.iter().enumerate() {
            if *price != 0.0 {
                for (column, value) in self.terms(row) {
                    gradient[column] -= price * value;
                }
            }
        }
        for (ix, gradient) in gradient.iter_mut().enumerate() {
            let old = place.primal[ix];
            let new = (old - self.column_step[ix] / weight * *gradient).clamp(self.lower[ix], self.upper[ix]);
            place.primal[ix] = new;
            *gradient = 2.0 * new - old;
        }
        for (row, price) in place.dual.iter_mut().enumerate() {
            let sum: f64 = self
                .terms(row)
                .map(|(column, value)| value * gradient[column])
                .sum();
            let rise = self.row_step[row] * weight;
            // The price moves by how far the sum is outside its sides.
            let wish = *price / rise - sum;
            let side = (-wish).clamp(self.least[row], self.most[row]);
            *price = rise * (wish + side);
        }
    }

    /// Prices in whole parts of a unit.
    fn whole(&self, dual: &[f64], parts: i128) -> Vec<i64> {
        let parts = parts as f64 * self.cost_scale;
        let rows = dual.iter().zip(&self.row_scale);
        rows.map(|(price, scale)| (price * parts / scale).round() as i64)
            .collect()
    }
}

/// Measures columns in the width of their bounds and rows in their length; returns what rows were divided by and what
/// column values are multiplied with.
fn evened(
    programme: &Programme,
    starts: &[usize],
    columns: &[u32],
    values: &mut [f64],
) -> (Vec<f64>, Vec<f64>) {
    let width = |column: &super::Column| 1.0 / ((column.upper - column.lower).max(1) as f64);
    let column_scale: Vec<f64> = programme.columns.iter().map(width).collect();
    let mut row_scale = vec![1.0; starts.len() - 1];
    for (row, scale) in row_scale.iter_mut().enumerate() {
        let range = starts[row]..starts[row + 1];
        for at in range.clone() {
            values[at] /= column_scale[columns[at] as usize];
        }
        let length: f64 = values[range.clone()].iter().map(|value| value * value).sum();
        *scale = if length > 0.0 { length.sqrt() } else { 1.0 };
        for value in &mut values[range] {
            *value /= *scale;
        }
    }
    (row_scale, column_scale)
}
