//! Amounts in words: rounded once, for display, with a no-break space before the unit.

use crate::duration::Seconds;
use crate::fraction::kitchen_fraction;
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
    // Quarter ounces below a pound, whole ounces above.
    let quarters = mul_div(mass.mg(), 4_000_000, OUNCE_PG, Rounding::Nearest);
    if quarters.abs() < 64 {
        return format!("{}\u{a0}oz", kitchen_fraction(quarters, 4));
    }
    let minus = if mass.mg() < 0 { "-" } else { "" };
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

/// A count in thousandths with its word, to the quarter: `1 onion`, `2½ onions`, `0 onions`.
#[must_use]
pub fn count_text(thousandths: i64, singular: &str, plural: &str) -> String {
    let quarters = mul_div(thousandths, 4, 1000, Rounding::Nearest);
    let figure = kitchen_fraction(quarters, 4);
    let word = if figure.is_singular() { singular } else { plural };
    format!("{figure}\u{a0}{word}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spaced(text: &str) -> String {
        text.replace('\u{a0}', " ")
    }

    fn check_mass(mg: i64, metric: &str, us: &str) {
        let mass = Mass::from_mg(mg);
        assert_eq!(spaced(&mass_text(mass, System::Metric)), metric, "{mg} mg");
        assert_eq!(spaced(&mass_text(mass, System::UsCustomary)), us, "{mg} mg");
    }

    fn check_volume(ul: i64, metric: &str, us: &str) {
        let volume = Volume::from_ul(ul);
        assert_eq!(spaced(&volume_text(volume, System::Metric)), metric, "{ul} ul");
        assert_eq!(spaced(&volume_text(volume, System::UsCustomary)), us, "{ul} ul");
    }

    fn check_count(thousandths: i64, text: &str) {
        assert_eq!(spaced(&count_text(thousandths, "onion", "onions")), text);
    }

    fn check_duration(secs: i64, text: &str) {
        assert_eq!(spaced(&duration_text(Seconds::from_secs(secs))), text);
    }

    #[test]
    fn masses_are_rounded_to_what_a_scale_shows() {
        check_mass(0, "0 g", "0 oz");
        check_mass(1_300, "1.5 g", "0 oz");
        check_mass(28_350, "28 g", "1 oz");
        check_mass(70_874, "71 g", "2½ oz");
        check_mass(432_000, "430 g", "15¼ oz");
        check_mass(566_990, "565 g", "1 lb 4 oz");
        check_mass(1_250_000, "1.25 kg", "2 lb 12 oz");
        check_mass(2_000_000, "2 kg", "4 lb 7 oz");
    }

    #[test]
    fn a_step_goes_over_into_the_next_without_a_gap() {
        check_mass(9_749, "9.5 g", "¼ oz");
        check_mass(9_750, "10 g", "¼ oz");
        check_mass(97_499, "97 g", "3½ oz");
        check_mass(97_500, "100 g", "3½ oz");
        check_mass(994_999, "995 g", "2 lb 3 oz");
        check_mass(995_000, "1 kg", "2 lb 3 oz");
        check_mass(453_592, "455 g", "1 lb");
        check_mass(453_000, "455 g", "1 lb");
    }

    #[test]
    fn a_shortfall_keeps_its_sign_but_nothing_has_none() {
        check_mass(-70_874, "-71 g", "-2½ oz");
        check_mass(-566_990, "-565 g", "-1 lb 4 oz");
        check_mass(-100, "0 g", "0 oz");
        check_count(-1_250, "-1¼ onions");
    }

    #[test]
    fn volumes_are_rounded_to_what_a_jug_shows() {
        check_volume(0, "0 ml", "0 fl oz");
        check_volume(352_000, "350 ml", "12 fl oz");
        check_volume(15_400, "15 ml", "1 fl oz");
        check_volume(1_460_000, "1.5 l", "1.5 qt");
        check_volume(994_999, "995 ml", "1.1 qt");
        check_volume(995_000, "1 l", "1.1 qt");
    }

    #[test]
    fn counts_take_the_singular_up_to_one() {
        check_count(500, "½ onion");
        check_count(1_000, "1 onion");
        check_count(1_100, "1 onion");
        check_count(1_250, "1¼ onions");
        check_count(2_500, "2½ onions");
        check_count(0, "0 onions");
    }

    #[test]
    fn durations_read_in_hours_and_minutes() {
        check_duration(8 * 60, "8 min");
        check_duration(85 * 60, "1 h 25 min");
        check_duration(2 * 3600, "2 h");
        check_duration(3_599, "1 h");
        check_duration(-90, "-2 min");
        check_duration(-20, "0 min");
    }

    #[test]
    fn temperatures_read_as_the_dial_does() {
        let hot = Temperature::from_c(200);
        assert_eq!(spaced(&temperature_text(hot, System::Metric)), "200 °C");
        assert_eq!(spaced(&temperature_text(hot, System::UsCustomary)), "390 °F");
        let dial = Temperature::from_f(425);
        assert_eq!(spaced(&temperature_text(dial, System::UsCustomary)), "425 °F");
        assert_eq!(spaced(&temperature_text(dial, System::Metric)), "218 °C");
    }
}
