//! Prices made better one row at a time, in whole numbers: with all other prices fixed, what a row's price proves rises to a
//! peak and falls again, by straight pieces, and the peak is found exactly. It never makes a bound worse.

use super::{Programme, Row};

/// Prices with what they leave of each column's cost, in parts of a unit.
pub(super) struct Priced<'p> {
    programme: &'p Programme,
    pub prices: Vec<i128>,
    reduced: Vec<i128>,
}

impl<'p> Priced<'p> {
    /// Prices as they are allowed by the sides of their rows.
    pub(super) fn new(programme: &'p Programme, prices: &[i64], parts: i128) -> Self {
        let costs = programme.columns.iter();
        let mut priced = Self {
            programme,
            prices: vec![0; programme.rows.len()],
            reduced: costs.map(|column| i128::from(column.cost) * parts).collect(),
        };
        for (ix, (row, price)) in programme.rows.iter().zip(prices).enumerate() {
            priced.set(ix, i128::from(allowed(row, *price)));
        }
        priced
    }

    fn set(&mut self, row: usize, price: i128) {
        let change = price - self.prices[row];
        if change == 0 {
            return;
        }
        self.prices[row] = price;
        for (column, coefficient) in &self.programme.rows[row].terms {
            self.reduced[*column] -= change * i128::from(*coefficient);
        }
    }

    /// The bound that the prices prove, in parts, without the constant.
    pub(super) fn bound(&self) -> i128 {
        let rows = self.programme.rows.iter().zip(&self.prices);
        let paid: i128 = rows.map(|(row, price)| paid(row, *price)).sum();
        let columns = self.programme.columns.iter().zip(&self.reduced);
        let left = columns.map(|(column, reduced)| {
            let at = if *reduced > 0 { column.lower } else { column.upper };
            reduced * i128::from(at)
        });
        paid + left.sum::<i128>()
    }

    /// Takes every row once to its peak.
    pub(super) fn sweep(&mut self, backwards: bool) {
        let rows = self.programme.rows.len();
        let mut bends = Vec::new();
        for at in 0..rows {
            let row = if backwards { rows - 1 - at } else { at };
            let peak = self.peak(row, &mut bends);
            self.set(row, peak);
        }
    }

    /// The price of a row that proves most while the others stay.
    fn peak(&self, at: usize, bends: &mut Vec<(i128, i128)>) -> i128 {
        let row = &self.programme.rows[at];
        let own = self.prices[at];
        bends.clear();
        // Below all bends every column is where the sum is least.
        let mut slope = row.most.map(i128::from);
        let mut start = i128::MIN;
        if slope.is_none() {
            // Only a price of zero or more is allowed.
            start = 0;
            slope = Some(i128::from(row.least.unwrap_or(0)));
        }
        let mut slope = slope.expect("set above");
        for &(column, coefficient) in &row.terms {
            let coefficient = i128::from(coefficient);
            let base = self.reduced[column] + own * coefficient;
            let (lower, upper) = (
                i128::from(self.programme.columns[column].lower),
                i128::from(self.programme.columns[column].upper),
            );
            let bend = base.div_euclid(coefficient);
            let drop = coefficient.abs() * (upper - lower);
            let low_end = if coefficient > 0 { lower } else { upper };
            slope -= coefficient * low_end;
            if drop == 0 {
                continue;
            }
            if bend < start {
                slope -= drop;
            } else {
                bends.push((bend, drop));
            }
        }
        if start == i128::MIN {
            match row.least {
                // The side changes at zero.
                Some(least) => bends.push((0, i128::from(row.most.unwrap_or(least) - least))),
                None => bends.push((0, i128::MAX / 4)),
            }
        }
        if slope <= 0 {
            return if start == i128::MIN { own } else { start };
        }
        bends.sort_unstable();
        for (bend, drop) in bends.iter() {
            slope -= drop;
            if slope <= 0 {
                return self.better(at, *bend, own);
            }
        }
        own
    }

    /// Of a whole price, the next one and the own one that which proves most.
    fn better(&self, at: usize, bend: i128, own: i128) -> i128 {
        let row = &self.programme.rows[at];
        let worth = |price: i128| {
            let terms = row.terms.iter().map(|(column, coefficient)| {
                let reduced = self.reduced[*column] + (own - price) * i128::from(*coefficient);
                let column = &self.programme.columns[*column];
                let end = if reduced > 0 { column.lower } else { column.upper };
                reduced * i128::from(end)
            });
            paid(row, price) + terms.sum::<i128>()
        };
        let (low, high) = (clamped(row, bend), clamped(row, bend + 1));
        let best = if worth(high) > worth(low) { high } else { low };
        if worth(best) > worth(own) { best } else { own }
    }
}

/// What a price pays for the side of its row.
fn paid(row: &Row, price: i128) -> i128 {
    let side = if price > 0 { row.least } else { row.most };
    price * i128::from(side.unwrap_or(0))
}

/// The price as the row's sides allow it: above zero pays for the least, below zero for the most.
fn allowed(row: &Row, price: i64) -> i64 {
    match (row.least, row.most) {
        (None, None) => 0,
        (Some(_), Some(_)) => price,
        (Some(_), None) => price.max(0),
        (None, Some(_)) => price.min(0),
    }
}

fn clamped(row: &Row, price: i128) -> i128 {
    match (row.least, row.most) {
        (None, None) => 0,
        (Some(_), Some(_)) => price,
        (Some(_), None) => price.max(0),
        (None, Some(_)) => price.min(0),
    }
}
