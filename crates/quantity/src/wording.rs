//! Amounts in words: rounded once, for display, with a no-break space before the unit.

use crate::duration::Seconds;
use crate::mass::Mass;
use crate::rounding::{Rounding, mul_div};
use crate::temperature::Temperature;
use crate::volume::Volume;

/// Which units a household reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum System {
    /// Grams and litres, degrees Celsius.
    Metric,
    /// Ounces and pounds, fluid ounces, degrees Fahrenheit.
    UsCustomary,
}

/// Milligrams in an ounce avoirdupois, times a million (28.349523125 g exactly, NIST Handbook 44 app. C).
const OUNCE_PG: i64 = 28_349_523_125;

/// A mass as it stands on a sheet: `430 g`, `1.25 kg`; `1 lb 4 oz`, `2½ oz`.
#[must_use]
pub fn mass_text(mass: Mass, system: System) -> String {
    match system {
        System::Metric => metric_mass(mass),
        System::UsCustomary => us_mass(mass),
    }
}

fn metric_mass(mass: Mass) -> String {
    let mg = mass.mg();
    match mg.abs() {
        0..9_750 => decimal(mul_div(mg, 2, 1000, Rounding::Nearest) * 5, 10, "g"),
        9_750..97_500 => format!("{}\u{a0}g", mass.g(Rounding::Nearest)),
        97_500..995_000 => format!(
            "{}\u{a0}g",
            mass.round_to(Mass::from_g(5), Rounding::Nearest)
                .g(Rounding::Nearest)
        ),
        _ => decimal(mul_div(mg, 1, 10_000, Rounding::Nearest), 100, "kg"),
    }
}

/// A number of tenths or hundredths without trailing zeros.
fn decimal(parts: i64, per_unit: i64, unit: &str) -> String {
    let minus = if parts < 0 { "-" } else { "" };
    let (whole, rest) = (parts.abs() / per_unit, parts.abs() % per_unit);
    if rest == 0 {
        return format!("{minus}{whole}\u{a0}{unit}");
    }
    let digits = if per_unit == 10 {
        format!("{rest}")
    } else {
        format!("{rest:02}")
    };
    format!("{minus}{whole}.{}\u{a0}{unit}", digits.trim_end_matches('0'))
}

fn us_mass(mass: Mass) -> String {
    let minus = if mass.mg() < 0 { "-" } else { "" };
    // Quarter ounces below a pound, whole ounces above.
    let quarters = mul_div(mass.mg().abs(), 4_000_000, OUNCE_PG, Rounding::Nearest);
    if quarters < 64 {
        let fraction =
            ["", "¼", "½", "¾"][usize::try_from(quarters % 4).expect("a remainder of four is small")];
        let whole = quarters / 4;
        let figure = if whole == 0 && !fraction.is_empty() {
            fraction.to_string()
        } else {
            format!("{whole}{fraction}")
        };
        return format!("{minus}{figure}\u{a0}oz");
    }
    let ounces = mul_div(mass.mg().abs(), 1_000_000, OUNCE_PG, Rounding::Nearest);
    match ounces % 16 {
        0 => format!("{minus}{}\u{a0}lb", ounces / 16),
        rest => format!("{minus}{}\u{a0}lb {rest}\u{a0}oz", ounces / 16),
    }
}

/// A volume as it stands on a sheet: `350 ml`, `1.5 l`; `12 fl oz`, `1.5 qt`.
#[must_use]
pub fn volume_text(volume: Volume, system: System) -> String {
    match system {
        System::Metric if volume.ul().abs() < 995_000 => {
            let step = if volume.ul().abs() < 100_000 { 1 } else { 5 };
            let shown = volume.round_to(Volume::from_ml(step), Rounding::Nearest);
            format!("{}\u{a0}ml", shown.ml(Rounding::Nearest))
        }
        System::Metric => decimal(mul_div(volume.ul(), 1, 100_000, Rounding::Nearest), 10, "l"),
        // 1 US fl oz = 29.5735295625 ml, 1 US quart = 32 fl oz (NIST Handbook 44 app. C).
        System::UsCustomary if volume.ul().abs() < 946_000 => {
            let ounces = mul_div(volume.ul(), 10_000_000, 295_735_295_625, Rounding::Nearest);
            format!("{ounces}\u{a0}fl\u{a0}oz")
        }
        System::UsCustomary => decimal(
            mul_div(volume.ul(), 10_000_000, 946_352_946_000, Rounding::Nearest),
            10,
            "qt",
        ),
    }
}

/// A duration in hours and minutes, rounded to the minute: `1 h 25 min`.
#[must_use]
pub fn duration_text(duration: Seconds) -> String {
    let minutes = duration.mins(Rounding::Nearest);
    let minus = if minutes < 0 { "-" } else { "" };
    let (hours, rest) = (minutes.abs() / 60, minutes.abs() % 60);
    match (hours, rest) {
        (0, rest) => format!("{minus}{rest}\u{a0}min"),
        (hours, 0) => format!("{minus}{hours}\u{a0}h"),
        (hours, rest) => format!("{minus}{hours}\u{a0}h {rest}\u{a0}min"),
    }
}

/// A temperature: whole degrees Celsius, or Fahrenheit as a dial shows it (steps of five).
#[must_use]
pub fn temperature_text(temperature: Temperature, system: System) -> String {
    match system {
        System::Metric => format!("{}\u{a0}°C", temperature.c(Rounding::Nearest)),
        System::UsCustomary => {
            format!(
                "{}\u{a0}°F",
                mul_div(temperature.f(Rounding::Nearest), 1, 5, Rounding::Nearest) * 5
            )
        }
    }
}

/// A count in thousandths with its word: `1 onion`, `2½ onions`.
#[must_use]
pub fn count_text(thousandths: i64, singular: &str, plural: &str) -> String {
    let quarters = mul_div(thousandths, 4, 1000, Rounding::Nearest);
    let (whole, part) = (
        quarters / 4,
        ["", "¼", "½", "¾"][usize::try_from(quarters.rem_euclid(4)).unwrap_or(0)],
    );
    let word = if quarters <= 4 { singular } else { plural };
    let figure = if whole == 0 && !part.is_empty() {
        part.to_string()
    } else {
        format!("{whole}{part}")
    };
    format!("{figure}\u{a0}{word}")
}
