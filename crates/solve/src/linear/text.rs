//! Programmes and points as text: free MPS, and a name and a value on each line.

use std::fmt::Write;

use super::{Programme, Row};

/// The name of the row that is made least.
const COST: &str = "cost";

/// A programme as free MPS (whole columns between `INTORG` and `INTEND` markers, ranged rows in `RANGES`, the constant as
/// the negative right side of the cost row). Costs are divided by ten to the power of `decimals`.
#[must_use]
pub fn mps(name: &str, programme: &Programme, decimals: u32) -> String {
    let mut out = format!("NAME {name}\nROWS\n N {COST}\n");
    for row in &programme.rows {
        let kind = match (row.least, row.most) {
            (Some(least), Some(most)) if least == most => 'E',
            (Some(_), _) => 'G',
            (None, _) => 'L',
        };
        line(&mut out, format_args!(" {kind} {}", row.name));
    }
    out.push_str("COLUMNS\n");
    columns(&mut out, programme, decimals);
    out.push_str("RHS\n");
    if programme.constant != 0 {
        let constant = decimal(i128::from(programme.constant).saturating_neg(), decimals);
        line(&mut out, format_args!(" RHS {COST} {constant}"));
    }
    for row in &programme.rows {
        let side = row.least.or(row.most).unwrap_or(0);
        if side != 0 {
            line(&mut out, format_args!(" RHS {} {side}", row.name));
        }
    }
    out.push_str("RANGES\n");
    for row in &programme.rows {
        if let Some(range) = range(row) {
            line(&mut out, format_args!(" RNG {} {range}", row.name));
        }
    }
    out.push_str("BOUNDS\n");
    for column in &programme.columns {
        if column.lower != 0 {
            line(&mut out, format_args!(" LO BND {} {}", column.name, column.lower));
        }
        line(&mut out, format_args!(" UP BND {} {}", column.name, column.upper));
    }
    out.push_str("ENDATA\n");
    out
}

/// A point as text: the name and the value of every column that is not zero.
#[must_use]
pub fn solution(programme: &Programme, point: &[i64]) -> String {
    let mut out = String::new();
    for (column, value) in programme.columns.iter().zip(point) {
        if *value != 0 {
            line(&mut out, format_args!("{} {value}", column.name));
        }
    }
    out
}

fn columns(out: &mut String, programme: &Programme, decimals: u32) {
    let mut terms: Vec<Vec<(usize, i64)>> = vec![Vec::new(); programme.columns.len()];
    for (row, entry) in programme.rows.iter().enumerate() {
        for (column, coefficient) in &entry.terms {
            terms[*column].push((row, *coefficient));
        }
    }
    for whole in [false, true] {
        if whole {
            out.push_str(" MARK 'MARKER' 'INTORG'\n");
        }
        for (column, terms) in programme.columns.iter().zip(&terms) {
            if column.whole != whole {
                continue;
            }
            // A column is named at least once, so that it exists.
            if column.cost != 0 || terms.is_empty() {
                let cost = decimal(i128::from(column.cost), decimals);
                line(out, format_args!(" {} {COST} {cost}", column.name));
            }
            for (row, coefficient) in terms {
                let row = &programme.rows[*row].name;
                line(out, format_args!(" {} {row} {coefficient}", column.name));
            }
        }
        if whole {
            out.push_str(" MARK 'MARKER' 'INTEND'\n");
        }
    }
}

fn range(row: &Row) -> Option<i64> {
    let (least, most) = (row.least?, row.most?);
    (least != most).then_some(most - least)
}

fn line(out: &mut String, text: std::fmt::Arguments<'_>) {
    writeln!(out, "{text}").expect("a string takes any text");
}

/// A whole number divided by a power of ten, exactly.
fn decimal(value: i128, decimals: u32) -> String {
    let scale = 10_i128.pow(decimals);
    let (whole, part) = (value.abs() / scale, value.abs() % scale);
    let sign = if value < 0 { "-" } else { "" };
    let width = usize::try_from(decimals).unwrap_or(0);
    let text = format!("{sign}{whole}.{part:0width$}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::linear::Column;

    #[test]
    fn a_programme_is_written_in_full() {
        let mut programme = Programme {
            constant: 1500,
            ..Programme::default()
        };
        let names = [("x", 2000, false), ("y", -1, true)];
        for (name, cost, whole) in names {
            programme.column(Column {
                name: name.into(),
                cost,
                lower: 0,
                upper: 9,
                whole,
            });
        }
        programme.row("both".into(), &[(1, 3), (0, 2), (1, 1)], (Some(2), Some(8)));
        programme.row("first".into(), &[(0, 1)], (None, Some(5)));
        let expected = "NAME week\nROWS\n N cost\n G both\n L first\nCOLUMNS\n x cost 2\n x both 2\n x first 1\n \
            MARK 'MARKER' 'INTORG'\n y cost -0.001\n y both 4\n MARK 'MARKER' 'INTEND'\nRHS\n RHS cost -1.5\n RHS both 2\n \
            RHS first 5\nRANGES\n RNG both 6\nBOUNDS\n UP BND x 9\n UP BND y 9\nENDATA\n";
        assert_eq!(mps("week", &programme, 3), expected);
        assert_eq!(solution(&programme, &[0, 2]), "y 2\n");
        assert_eq!(programme.value(&[3, 2]), 1500 + 6000 - 2);
        assert_eq!(programme.faults(&[3, 2]), [crate::linear::Fault::Row(0, 14)]);
    }

    #[test]
    fn decimals_are_exact() {
        assert_eq!(decimal(-1_234_500, 6), "-1.2345");
        assert_eq!(decimal(7_000_000, 6), "7");
        assert_eq!(decimal(0, 6), "0");
    }
}
