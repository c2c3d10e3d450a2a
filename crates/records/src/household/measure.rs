//! Measures as a person writes them: `5 qt`, `2 x 3 l`, `46 x 33 cm`, `350 F`, `1.99`.

use larderwright_model::{Pot, Tray};
use larderwright_quantity::{
    Amount, Length, Mass, Money, Rounding, System, Temperature, Volume, decimal, mul_div, parse_amount,
    parse_amount_for,
};

use crate::reader::{Value, shortened};

/// More than any household stores of one food, or weighs, or fills.
const MASS_MAX: Mass = Mass::from_g(1_000_000);
const VOLUME_MAX: Volume = Volume::from_ml(1_000_000);

/// A weight: `500 g`, `2 lb`.
pub(super) fn mass(value: &Value<'_>) -> Option<Mass> {
    let text = value.text()?;
    match parse_amount(text) {
        Ok(Amount::Mass(mass)) if mass <= MASS_MAX => return Some(mass),
        Ok(Amount::Mass(_)) => {
            value.problem(format!("`{}` is too much", shortened(text)), "Mend the figure.");
        }
        Ok(_) => {
            let help = "Write a weight, as in `500 g`; what a piece or a carton weighs stands on the pack.";
            value.problem(format!("`{}` is no weight", shortened(text)), help);
        }
        Err(error) => value.problem(error.to_string(), error.help()),
    }
    None
}

/// A volume out of `value`, part of which is `text`; spoons and cups are those of the system.
fn volume_of(value: &Value<'_>, text: &str, system: System) -> Option<Volume> {
    match parse_amount_for(text, system) {
        Ok(Amount::Volume(volume)) if volume.is_positive() && volume <= VOLUME_MAX => return Some(volume),
        Ok(_) => {
            value.problem(
                format!("`{}` is no volume", shortened(text)),
                "Write it as in `3 l` or `5 quarts`.",
            );
        }
        Err(error) => value.problem(error.to_string(), error.help()),
    }
    None
}

/// A volume: `3 l`, `5 qt`.
pub(super) fn volume(value: &Value<'_>, system: System) -> Option<Volume> {
    volume_of(value, value.text()?, system)
}

/// Pots of one size: `5 l` or `2 x 3 l`.
pub(super) fn pot(value: &Value<'_>, system: System) -> Option<Pot> {
    let text = value.text()?;
    let (count, size) = match text.split_once(" x ") {
        Some((count, size)) => (count_of(value, count)?, size),
        None => (1, text),
    };
    Some(Pot {
        volume: volume_of(value, size, system)?,
        count,
    })
}

/// Trays of one size: `46 x 33 cm` or `3 x 18 x 13 in`.
pub(super) fn tray(value: &Value<'_>) -> Option<Tray> {
    let text = value.text()?;
    let parts: Vec<&str> = text.split(" x ").map(str::trim).collect();
    let (count, long, short) = match parts[..] {
        [long, short] => (1, long, short),
        [count, long, short] => (count_of(value, count)?, long, short),
        _ => {
            value.problem(
                format!("`{text}` is no size of a tray"),
                "Write it as in `2 x 46 x 33 cm`.",
            );
            return None;
        }
    };
    let unit = short
        .trim_start_matches(|c: char| c.is_ascii_digit() || c == '.')
        .trim();
    let short = length_of(value, short)?;
    let long = if long.ends_with(|c: char| c.is_ascii_digit()) {
        format!("{long} {unit}")
    } else {
        long.into()
    };
    let long = length_of(value, &long)?;
    let area_cm2 = mul_div(long.um(), short.um(), 100_000_000, Rounding::Down);
    Some(Tray { area_cm2, count })
}

fn count_of(value: &Value<'_>, text: &str) -> Option<u32> {
    let count = text
        .trim()
        .parse()
        .ok()
        .filter(|count| (1..=1000).contains(count));
    if count.is_none() {
        value.problem(
            format!("`{text}` is no count"),
            "Open with how many there are, as in `2 x 3 l`.",
        );
    }
    count
}

/// A length: `6 cm`, `55 mm`, `2.5 in`.
pub(super) fn length(value: &Value<'_>) -> Option<Length> {
    length_of(value, value.text()?)
}

fn length_of(value: &Value<'_>, text: &str) -> Option<Length> {
    let length = lengths(text).filter(|length| length.is_positive());
    if length.is_none() {
        let help = "Write it as in `6 cm`, `55 mm` or `2.5 in`.";
        value.problem(format!("`{}` is no length", shortened(text)), help);
    }
    length
}

/// Number and unit, once or several times: `5 ft 6 in`. The inch is 25.4 mm by definition.
fn lengths(text: &str) -> Option<Length> {
    let mut sum = Length::ZERO;
    let mut rest = text.trim();
    while !rest.is_empty() {
        let unit_at = rest.find(|c: char| !c.is_ascii_digit() && c != '.')?;
        let thousandths = decimal(&rest[..unit_at], 3).filter(|it| *it <= 10_000_000)?;
        let tail = rest[unit_at..].trim_start();
        let end = tail
            .find(|c: char| !c.is_ascii_alphabetic())
            .unwrap_or(tail.len());
        let micrometres = match &tail[..end] {
            "mm" => 1000,
            "cm" => 10_000,
            "m" => 1_000_000,
            "in" => 25_400,
            "ft" => 304_800,
            _ => return None,
        };
        sum += Length::from_um(mul_div(thousandths, micrometres, 1000, Rounding::Nearest));
        rest = tail[end..].trim_start();
    }
    Some(sum)
}

/// Somebody's height in whole centimetres.
pub(super) fn height_cm(value: &Value<'_>) -> Option<i64> {
    let height = length_of(value, value.text()?)?;
    let centimetres = mul_div(height.um(), 1, 10_000, Rounding::Nearest);
    if !(30..=250).contains(&centimetres) {
        value.problem(
            format!("`{centimetres}` cm is no height of a person"),
            "Write it as in `168 cm`.",
        );
        return None;
    }
    Some(centimetres)
}

/// Somebody's weight in tenths of a kilogram.
pub(super) fn body_weight_hg(value: &Value<'_>) -> Option<i64> {
    let tenths = mul_div(mass(value)?.mg(), 1, 100_000, Rounding::Nearest);
    if !(20..=4000).contains(&tenths) {
        value.problem(
            "is no weight of a person",
            "Write it as in `61.5 kg` or `135 lb`.",
        );
        return None;
    }
    Some(tenths)
}

/// A temperature: `180 C`, `350 °F`.
pub(super) fn temperature(value: &Value<'_>) -> Option<Temperature> {
    let text = value.text()?;
    let degrees = |number: &str| {
        number
            .trim_end_matches(['°', ' ', '\u{a0}'])
            .trim()
            .parse::<i64>()
            .ok()
    };
    let parsed = match (text.strip_suffix('C'), text.strip_suffix('F')) {
        (Some(number), _) => degrees(number)
            .filter(|it| (0..=400).contains(it))
            .map(Temperature::from_c),
        (_, Some(number)) => degrees(number)
            .filter(|it| (32..=750).contains(it))
            .map(Temperature::from_f),
        _ => None,
    };
    if parsed.is_none() {
        value.problem(
            format!("`{text}` is no oven temperature"),
            "Write it as in `250 C` or `480 F`.",
        );
    }
    parsed
}

/// A price: `1.99`, with or without quotes.
pub(super) fn money(value: &Value<'_>) -> Option<Money> {
    let text = value.number_text()?;
    let minor = decimal(&text, 2).filter(|minor| *minor <= 100_000_000);
    if minor.is_none() {
        value.problem(
            format!("`{text}` is no price"),
            "Write it as in `1.99`, without a sign of currency.",
        );
    }
    minor.map(Money::from_minor)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn feet_and_inches_add_up() {
        assert_eq!(lengths("5 ft 6 in"), Some(Length::from_um(1_676_400)));
        assert_eq!(lengths("2.5 in"), Some(Length::from_um(63_500)));
        assert_eq!(lengths("168cm"), Some(Length::from_mm(1680)));
    }

    #[test]
    fn what_is_no_length_is_refused() {
        for text in [
            "12",
            "cm",
            "1 mile",
            "-3 cm",
            "1,5 cm",
            "1.2345 cm",
            "900000000 m",
            "1 cm of",
        ] {
            assert_eq!(lengths(text), None, "{text}");
        }
    }

    #[test]
    fn a_price_has_at_most_two_decimals() {
        assert_eq!(decimal("1.99", 2), Some(199));
        assert_eq!(decimal("4", 2), Some(400));
        assert_eq!(decimal("4.5", 2), Some(450));
        assert_eq!(decimal("4.999", 2), None);
        assert_eq!(decimal("-4", 2), None);
        assert_eq!(decimal("", 2), None);
    }
}
