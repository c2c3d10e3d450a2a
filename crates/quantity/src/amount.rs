//! Reading an amount as a cook writes it: a figure and a unit. It reads no ranges, no foods and no sizes.

use std::error::Error;
use std::fmt;

use crate::figure::{self, Fault, Ratio};
use crate::mass::Mass;
use crate::rounding::{Rounding, mul_div};
use crate::unit::Unit;
use crate::volume::Volume;
use crate::wording::System;

/// How much of something.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Amount {
    /// By weight.
    Mass(Mass),
    /// By measure.
    Volume(Volume),
    /// By number, in thousandths of a piece.
    Count(i64),
}

/// Why an amount cannot be read; each carries what was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum AmountError {
    /// Nothing was written.
    Empty,
    /// There is no figure in front.
    NoFigure(String),
    /// The figure is not one number.
    BadFigure(String),
    /// The figure has a comma, which is a decimal point to some and a separator of thousands to others.
    Comma(String),
    /// Two figures stand for a range.
    Range(String),
    /// The amount is below nothing.
    Negative(String),
    /// The figure has too many digits.
    TooLong(String),
    /// The unit is not known.
    UnknownUnit(String),
    /// Several figures that are not a larger and a smaller unit of one kind.
    NotOneAmount(String),
}

impl AmountError {
    /// What to write instead, as a sentence.
    #[must_use]
    pub const fn help(&self) -> &'static str {
        match self {
            Self::Empty | Self::NoFigure(_) => "Write a figure and a unit, such as `250 g` or `1 1/2 cups`.",
            Self::BadFigure(_) => "Write the figure as in `2`, `1.5`, `1/2` or `1 1/2`.",
            Self::Comma(_) => "Write decimals with a point, such as `1.5`, and thousands without a comma.",
            Self::Range(_) => "Write one figure, such as the larger of the two.",
            Self::Negative(_) => "Write the amount without a minus sign.",
            Self::TooLong(_) => "Write up to nine digits, and up to six behind the point.",
            Self::UnknownUnit(_) => {
                "Use g, kg, mg, oz, lb, ml, l, tsp, tbsp, fl oz, cup, pint, quart or gallon, or no unit for a count."
            }
            Self::NotOneAmount(_) => {
                "Write one figure and one unit, or a larger and a smaller unit, such as `1 lb 4 oz`."
            }
        }
    }
}

impl fmt::Display for AmountError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str("there is no amount"),
            Self::NoFigure(text) => write!(f, "`{text}` does not begin with a figure"),
            Self::BadFigure(text) => write!(f, "the figure in `{text}` is not a number"),
            Self::Comma(text) => write!(f, "the figure in `{text}` has a comma"),
            Self::Range(text) => write!(f, "`{text}` is a range"),
            Self::Negative(text) => write!(f, "`{text}` is less than nothing"),
            Self::TooLong(text) => write!(f, "the figure in `{text}` has too many digits"),
            Self::UnknownUnit(unit) => write!(f, "`{unit}` is not a known unit"),
            Self::NotOneAmount(text) => write!(f, "`{text}` is not one amount"),
        }
    }
}

impl Error for AmountError {}

/// Reads an amount; spoons and cups are the US ones unless it says otherwise.
///
/// # Errors
/// Says what is wrong; see [`AmountError::help`] for how to mend it.
///
/// ```
/// # use larderwright_quantity::{Amount, Mass, parse_amount};
/// assert_eq!(parse_amount("1 1/2 kg"), Ok(Amount::Mass(Mass::from_g(1500))));
/// assert_eq!(parse_amount("3½"), Ok(Amount::Count(3500)));
/// assert_eq!(parse_amount("2-3 kg").unwrap_err().to_string(), "`2-3 kg` is a range");
/// ```
pub fn parse_amount(text: &str) -> Result<Amount, AmountError> {
    parse_amount_for(text, System::UsCustomary)
}

/// Reads an amount with the spoons and cups of this system.
///
/// Each figure is rounded to the nearest milligram, microlitre or thousandth of a piece.
///
/// # Errors
/// Says what is wrong; see [`AmountError::help`] for how to mend it.
pub fn parse_amount_for(text: &str, system: System) -> Result<Amount, AmountError> {
    let written = text.trim().to_string();
    if written.is_empty() {
        return Err(AmountError::Empty);
    }
    if written.starts_with(['-', '−']) {
        return Err(AmountError::Negative(written));
    }
    // A fraction stroke is a stroke, and every kind of space is a space.
    let cleaned: String = written
        .chars()
        .map(|c| if c.is_whitespace() { ' ' } else { c })
        .map(|c| if c == '⁄' { '/' } else { c })
        .collect();
    let mut rest = cleaned.as_str();
    let mut total: Option<(Amount, Unit)> = None;
    while !rest.is_empty() {
        let (ratio, behind) = figure::read(rest).map_err(|fault| refusal(fault, &written))?;
        if is_range(behind) {
            return Err(AmountError::Range(written));
        }
        let (name, next) = split_unit(behind);
        let unit = unit_before(next, name, system)
            .ok_or_else(|| AmountError::UnknownUnit(name.trim().to_string()))?;
        let part = measured(ratio, unit);
        total = Some(match total {
            None => (part, unit),
            Some((sum, larger)) => {
                let sum = add(sum, part).filter(|_| is_larger(larger, unit));
                (
                    sum.ok_or_else(|| AmountError::NotOneAmount(written.clone()))?,
                    unit,
                )
            }
        });
        rest = next;
    }
    total.map(|(amount, _)| amount).ok_or(AmountError::Empty)
}

fn refusal(fault: Fault, written: &str) -> AmountError {
    let written = written.to_string();
    match fault {
        Fault::Absent => AmountError::NoFigure(written),
        Fault::Malformed => AmountError::BadFigure(written),
        Fault::Comma => AmountError::Comma(written),
        Fault::Long => AmountError::TooLong(written),
    }
}

/// Whether a dash or `to` and another figure follow.
fn is_range(behind: &str) -> bool {
    let behind = behind.trim_start();
    let after = behind
        .strip_prefix(['-', '–', '—', '−'])
        .or_else(|| behind.strip_prefix("to "));
    after.is_some_and(|after| after.trim_start().starts_with(figure::begins))
}

/// The text up to the next figure, and the rest from there.
fn split_unit(behind: &str) -> (&str, &str) {
    let end = behind.find(figure::begins).unwrap_or(behind.len());
    behind.split_at(end)
}

fn unit_before(next: &str, name: &str, system: System) -> Option<Unit> {
    // `1 lb.5 oz` may mean half an ounce or five, so a stop that touches the next figure is refused.
    if !next.is_empty() && name.ends_with('.') {
        return None;
    }
    if name.trim().is_empty() {
        Some(Unit::Count)
    } else {
        Unit::parse_for(name, system)
    }
}

fn measured(ratio: Ratio, unit: Unit) -> Amount {
    let mass = unit.to_mass(ratio.num, ratio.den).map(Amount::Mass);
    let volume = unit.to_volume(ratio.num, ratio.den).map(Amount::Volume);
    mass.or(volume)
        .unwrap_or_else(|| Amount::Count(mul_div(ratio.num, 1000, ratio.den, Rounding::Nearest)))
}

fn add(sum: Amount, part: Amount) -> Option<Amount> {
    match (sum, part) {
        (Amount::Mass(sum), Amount::Mass(part)) => Some(Amount::Mass(sum + part)),
        (Amount::Volume(sum), Amount::Volume(part)) => Some(Amount::Volume(sum + part)),
        _ => None,
    }
}

/// Strictly larger, so that a chain of parts ends before any sum can overflow.
fn is_larger(unit: Unit, than: Unit) -> bool {
    let (a, b) = (unit.ratio(), than.ratio());
    a.0 * b.1 > b.0 * a.1
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, amount: Amount) {
        assert_eq!(parse_amount(text), Ok(amount), "{text}");
    }

    fn grams(g: i64) -> Amount {
        Amount::Mass(Mass::from_g(g))
    }

    fn refuse(text: &str, message: &str) {
        let error = parse_amount(text).expect_err(text);
        assert_eq!(error.to_string(), message);
        assert!(error.help().ends_with('.'), "{text}");
    }

    #[test]
    fn figures_and_units_are_read_however_they_are_spaced() {
        for text in [
            "1500 g",
            "1500g",
            " 1.5 kg ",
            "1 1/2 kg",
            "1½ kg",
            "1½kg",
            "1 ½ kg",
            "1\u{a0}1⁄2\u{a0}kg",
            "3/2 kilos",
        ] {
            check(text, grams(1500));
        }
    }

    #[test]
    fn cups_are_those_of_the_household() {
        check("1 1/2 cups", Amount::Volume(Volume::from_ul(354_882)));
        check("1 metric cup", Amount::Volume(Volume::from_ml(250)));
        assert_eq!(
            parse_amount_for("2 tbsp", System::Metric),
            Ok(Amount::Volume(Volume::from_ml(30)))
        );
    }

    #[test]
    fn a_figure_alone_is_a_count() {
        check("3", Amount::Count(3000));
        check("½", Amount::Count(500));
        check("2.5 pieces", Amount::Count(2500));
    }

    #[test]
    fn a_larger_and_a_smaller_unit_add_up() {
        check("1 lb 4 oz", Amount::Mass(Mass::from_mg(453_592 + 113_398)));
        check("2 kg 250 g", grams(2250));
        check("1 lb. 4 oz.", Amount::Mass(Mass::from_mg(453_592 + 113_398)));
    }

    #[test]
    fn several_figures_that_do_not_add_up_are_refused() {
        refuse("4 oz 1 lb", "`4 oz 1 lb` is not one amount");
        refuse("1 lb 1 cup", "`1 lb 1 cup` is not one amount");
        refuse("1 g 1 g", "`1 g 1 g` is not one amount");
        refuse("2 1 1/2 g", "the figure in `2 1 1/2 g` is not a number");
        refuse("1/2 3 g", "`1/2 3 g` is not one amount");
    }

    #[test]
    fn what_cannot_be_read_is_said_in_the_words_of_the_kitchen() {
        refuse("  ", "there is no amount");
        refuse("some salt", "`some salt` does not begin with a figure");
        refuse("1.2.3 g", "the figure in `1.2.3 g` is not a number");
        refuse("1/0 cup", "the figure in `1/0 cup` is not a number");
        refuse("1,5 kg", "the figure in `1,5 kg` has a comma");
        refuse("2-3 cups", "`2-3 cups` is a range");
        refuse("2 – 3 cups", "`2 – 3 cups` is a range");
        refuse("2 to 3 cups", "`2 to 3 cups` is a range");
        refuse("-2 g", "`-2 g` is less than nothing");
        refuse("9999999999 g", "the figure in `9999999999 g` has too many digits");
        refuse("2 handfuls", "`handfuls` is not a known unit");
        refuse("1 lb .5 oz", "`lb .` is not a known unit");
    }

    #[test]
    fn a_stop_that_touches_the_next_figure_is_refused() {
        refuse("1 lb.5 oz", "`lb.` is not a known unit");
    }

    #[test]
    fn the_longest_figures_stay_within_bounds() {
        check(
            "999999999.999999 gal",
            Amount::Volume(Volume::from_ul(3_785_411_783_999_996)),
        );
    }
}
