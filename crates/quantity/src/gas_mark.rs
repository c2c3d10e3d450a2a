//! Gas marks: the dial of a gas oven against temperature. A guide, as every maker's dial differs a little.

use std::fmt;

use crate::temperature::Temperature;

/// Mark in quarters and the temperatures that go by it, in tenths of a degree Celsius.
///
/// Each row spans both the exact equivalent of the Fahrenheit figure and the Celsius figures that go by it.
/// Fahrenheit: 225 for ¼, 250 for ½, 275 for 1, and 25 more per mark up to 475 for 9; read at sizes.com, "gas mark",
/// which is no maker's manual. Celsius: 110, 130, 140, 150, 160 to 170, 180, 190, 200, 220, 230, 240; common
/// practice, no source (charts differ by up to 10 °C). Mark 10, which sizes.com adds, is left out because the usual
/// dial ends at 9.
const MARKS: [(u8, i64, i64); 11] = [
    (1, 1072, 1100),
    (2, 1211, 1300),
    (4, 1350, 1400),
    (8, 1489, 1500),
    (12, 1600, 1700),
    (16, 1767, 1800),
    (20, 1900, 1906),
    (24, 2000, 2044),
    (28, 2183, 2200),
    (32, 2300, 2322),
    (36, 2400, 2461),
];

/// Further than this from the first and the last mark a dial has no mark (common practice, no source).
const REACH_DECI_C: i64 = 100;

/// A mark on the dial of a gas oven, from ¼ to 9.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct GasMark(u8);

impl GasMark {
    /// The mark in quarters: 1 for ¼, 2 for ½, 4 for 1, 36 for 9.
    #[must_use]
    pub const fn quarters(self) -> u8 {
        self.0
    }

    /// The hottest temperature that goes by the mark.
    #[must_use]
    pub fn temperature(self) -> Temperature {
        let row = MARKS
            .iter()
            .find(|row| row.0 == self.0)
            .expect("every mark is in the table");
        Temperature::from_deci_c(row.2)
    }
}

impl fmt::Display for GasMark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            1 => f.write_str("gas\u{a0}mark\u{a0}¼"),
            2 => f.write_str("gas\u{a0}mark\u{a0}½"),
            quarters => write!(f, "gas\u{a0}mark\u{a0}{}", quarters / 4),
        }
    }
}

impl Temperature {
    /// The nearest gas mark, of two equally near the hotter; `None` more than 10 °C outside the dial.
    #[must_use]
    pub fn gas_mark(self) -> Option<GasMark> {
        let off = |row: &(u8, i64, i64)| (row.1 - self.deci_c()).max(self.deci_c() - row.2).max(0);
        let row = MARKS.iter().rev().min_by_key(|row| off(row))?;
        (off(row) <= REACH_DECI_C).then_some(GasMark(row.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(temperature: Temperature, mark: &str) {
        let shown = temperature
            .gas_mark()
            .map(|mark| mark.to_string().replace('\u{a0}', " "));
        assert_eq!(
            shown.as_deref(),
            Some(mark).filter(|mark| !mark.is_empty()),
            "{temperature:?}"
        );
    }

    #[test]
    fn a_fahrenheit_dial_agrees_with_the_marks() {
        check(Temperature::from_f(225), "gas mark ¼");
        check(Temperature::from_f(250), "gas mark ½");
        for mark in 1..=9 {
            check(Temperature::from_f(250 + 25 * mark), &format!("gas mark {mark}"));
        }
    }

    #[test]
    fn a_celsius_dial_agrees_with_the_marks() {
        let marks = [
            (140, 1),
            (150, 2),
            (160, 3),
            (170, 3),
            (180, 4),
            (190, 5),
            (200, 6),
            (220, 7),
            (230, 8),
            (240, 9),
        ];
        for (celsius, mark) in marks {
            check(Temperature::from_c(celsius), &format!("gas mark {mark}"));
        }
    }

    #[test]
    fn beyond_the_dial_there_is_no_mark() {
        check(Temperature::from_c(90), "");
        check(Temperature::from_c(260), "");
    }

    #[test]
    fn the_temperature_of_a_mark_leads_back_to_it() {
        for (quarters, _, _) in MARKS {
            let mark = GasMark(quarters);
            assert_eq!(mark.temperature().gas_mark(), Some(mark));
        }
    }
}
