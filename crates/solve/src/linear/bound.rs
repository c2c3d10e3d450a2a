//! A bound below every point of a programme, in whole numbers.
//!
//! Any price for each row gives one (Lagrangian relaxation; with columns that need not be whole the best is the value of the
//! linear relaxation, Geoffrion 1974): pay the price for each row's side and let each column take the better of its two
//! ends. The prices come from a search with floating point ([`super::climb`]) and are made better row by row
//! ([`super::polish`]); the bound they give is added up in whole numbers and holds whatever the prices are.

use super::polish::Priced;
use super::{Programme, climb};

/// Parts of a unit of cost that a price is counted in.
const PARTS: i128 = 1024;
/// Times that every row is taken to its peak.
const SWEEPS: u64 = 6;

/// A bound, and the work it took.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bound {
    /// No point costs less.
    pub value: i64,
    /// Passes over the programme.
    pub work: u64,
}

/// A bound below every point of a programme, searched for with so many passes over it.
#[must_use]
pub fn bound(programme: &Programme, passes: u64) -> Bound {
    let mut best = polished(programme, &vec![0; programme.rows.len()]);
    climb::prices(programme, passes, PARTS, &mut |prices| {
        best = best.max(polished(programme, prices));
    });
    // A point may hold parts of a unit, so only towards less.
    let value = i128::from(programme.constant) + best.div_euclid(PARTS);
    Bound {
        value: i64::try_from(value.clamp(i128::from(i64::MIN), i128::from(i64::MAX))).expect("clamped"),
        work: passes,
    }
}

/// The bound that prices prove once they are made better.
fn polished(programme: &Programme, prices: &[i64]) -> i128 {
    let mut priced = Priced::new(programme, prices, PARTS);
    for sweep in 0..SWEEPS {
        priced.sweep(sweep % 2 == 0);
    }
    priced.bound()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Random;
    use crate::linear::Column;

    fn column(cost: i64, lower: i64, upper: i64) -> Column {
        Column {
            name: "x".into(),
            cost,
            lower,
            upper,
            whole: true,
        }
    }

    fn small(random: &mut Random) -> Programme {
        let pick = |random: &mut Random, least: i64, most: i64| {
            least + i64::try_from(random.below(usize::try_from(most - least + 1).unwrap_or(1))).unwrap_or(0)
        };
        let mut programme = Programme {
            constant: pick(random, -50, 50),
            ..Programme::default()
        };
        for _ in 0..4 {
            let (cost, lower) = (pick(random, -20, 20), pick(random, -2, 1));
            programme.column(column(cost, lower, lower + pick(random, 0, 3)));
        }
        for row in 0..4 {
            let terms: Vec<(usize, i64)> = (0..4).map(|column| (column, pick(random, -5, 5))).collect();
            let least = pick(random, -8, 4);
            let sides = match random.below(4) {
                0 => (Some(least), Some(least + pick(random, 0, 6))),
                1 => (None, Some(least + 6)),
                2 => (Some(least), None),
                _ => (Some(least), Some(least)),
            };
            programme.row(format!("r{row}"), &terms, sides);
        }
        programme
    }

    /// The least cost of a whole point, by trying all.
    fn least(programme: &Programme) -> Option<i128> {
        let mut points = vec![Vec::new()];
        for column in &programme.columns {
            let longer = points.iter().flat_map(|point: &Vec<i64>| {
                (column.lower..=column.upper).map(move |value| {
                    let mut point = point.clone();
                    point.push(value);
                    point
                })
            });
            points = longer.collect();
        }
        let fit = points.iter().filter(|point| programme.faults(point).is_empty());
        fit.map(|point| programme.value(point)).min()
    }

    #[test]
    fn no_point_of_small_programmes_costs_less_than_the_bound() {
        let mut random = Random::new(5);
        let mut met = 0;
        for case in 0..1500 {
            let programme = small(&mut random);
            let Some(least) = least(&programme) else {
                continue;
            };
            met += 1;
            for passes in [0, 40, 400] {
                let found = bound(&programme, passes).value;
                assert!(i128::from(found) <= least, "case {case}: {found} above {least}");
            }
        }
        assert!(met > 100, "only {met} have a point");
    }

    #[test]
    fn a_published_programme_is_bounded_by_its_optimum() {
        // Hillier and Lieberman, Introduction to Operations Research, the Wyndor Glass example: 3 and 5 thousand
        // for each batch, three plants with 4, 12 and 18 hours; the best is 36 thousand at 2 and 6 batches.
        let mut programme = Programme::default();
        let doors = programme.column(column(-3000, 0, 18));
        let windows = programme.column(column(-5000, 0, 18));
        programme.row("one".into(), &[(doors, 1)], (None, Some(4)));
        programme.row("two".into(), &[(windows, 2)], (None, Some(12)));
        programme.row("three".into(), &[(doors, 3), (windows, 2)], (None, Some(18)));
        let found = bound(&programme, 2000).value;
        assert!((-36_010..=-36_000).contains(&found), "{found}");
        assert_eq!(programme.value(&[2, 6]), -36_000);
        assert_eq!(bound(&programme, 2000), bound(&programme, 2000));
    }
}
