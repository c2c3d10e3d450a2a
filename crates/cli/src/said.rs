//! Reads what a cook says on the command line: amounts, money, shares, readings, looks into the fridge.

use jiff::civil::DateTime;
use larderwright_ledger::deed::Found;
use larderwright_model::WasteReason;
use larderwright_quantity::{
    Amount, Mass, Money, Permille, Temperature, Unit, decimal, parse_amount, thermometer,
};
use larderwright_reference::convert::{Context, Target, convert, request};

use crate::failure::Failure;
use crate::keep::read::{Moment, clock_or_moment};
use crate::memory::Memory;

/// A mass, as the scale shows it.
pub(crate) fn mass(text: &str) -> Result<Mass, String> {
    match parse_amount(text) {
        Ok(Amount::Mass(mass)) => Ok(mass),
        Ok(Amount::Volume(_) | Amount::Count(_)) => {
            Err(format!("`{text}` is no weight: write `300 g` or `10 oz`"))
        }
        Err(error) => Err(format!("{error}. {}", error.help())),
    }
}

/// An amount of a food in the house: by weight, by measure or by number.
///
/// # Errors
/// When it cannot be weighed.
pub(crate) fn amount_of(memory: &Memory, what: &str, text: &str) -> Result<Mass, Failure> {
    let amount = parse_amount(text).map_err(|error| Failure::usage(error.to_string(), error.help()))?;
    if let Amount::Mass(mass) = amount {
        return Ok(mass);
    }
    let household = memory.wait(memory.home.household())?;
    let unweighed = || {
        Failure::usage(
            format!("nobody knows what {text} of `{what}` weighs"),
            "Say its weight, as in `300 g`.",
        )
    };
    let food = memory.wait(memory.home.food(what)).map_err(|_| unweighed())?;
    let asked = request(&format!("{text} {food}"), household.system).map_err(|_| unweighed())?;
    let context = Context {
        region: household.region,
        said: None,
    };
    let answer =
        convert(asked.food, &asked.given, &Target::Mass(Unit::G), &context).map_err(|_| unweighed())?;
    Ok(answer.as_purchased.unwrap_or(answer.edible).likely)
}

/// Money with at most two digits behind the point, whatever sign stands before it.
pub(crate) fn money(text: &str) -> Result<Money, String> {
    let digits = text.trim_start_matches(|c: char| !c.is_ascii_digit() && c != '-' && c != '.');
    let minor = decimal(digits, 2).filter(|minor| *minor < 1_000_000_000);
    minor
        .map(Money::from_minor)
        .ok_or_else(|| format!("`{text}` is no price: write `3.20`"))
}

/// A share in whole or half per cent.
pub(crate) fn percent(text: &str) -> Result<Permille, String> {
    let permille = decimal(text.trim().trim_end_matches('%').trim(), 1);
    permille
        .filter(|permille| *permille <= 10_000)
        .map(Permille::from_permille)
        .ok_or_else(|| format!("`{text}` is no share: write `80%`"))
}

/// Why something was thrown away.
pub(crate) fn reason(text: &str) -> Result<WasteReason, String> {
    let found = WasteReason::WORDS.iter().find(|(word, _)| *word == text);
    found.map(|(_, reason)| *reason).ok_or_else(|| {
        let words: Vec<&str> = WasteReason::WORDS.iter().map(|(word, _)| *word).collect();
        format!("`{text}` is no reason: there are {}", words.join(", "))
    })
}

/// What a look into the fridge says of something.
pub(crate) fn look(text: &str) -> Result<(String, Found), String> {
    let wrong = || format!("`{text}` is no look: write `rice=half`; there are there, half and gone");
    let (name, word) = text.rsplit_once('=').ok_or_else(wrong)?;
    let found = match word {
        "there" => Found::There,
        "half" => Found::Half,
        "gone" => Found::Gone,
        _ => return Err(wrong()),
    };
    Ok((name.to_owned(), found))
}

/// When food was looked at while it cooled, and how warm it was.
pub(crate) fn reading(text: &str) -> Result<(Moment, Option<Temperature>), String> {
    match text.split_once('=') {
        None => Ok((clock_or_moment(text)?, None)),
        Some((moment, warmth)) => Ok((clock_or_moment(moment)?, Some(temperature(warmth)?))),
    }
}

/// The last time the clock stood there.
pub(crate) fn before(moment: Moment, now: DateTime) -> DateTime {
    match moment {
        Moment::At(at) => at,
        Moment::Day(day) => day.at(12, 0, 0, 0),
        Moment::Clock(time) => {
            let today = now.date().to_datetime(time);
            if today > now {
                today.saturating_sub(jiff::Span::new().days(1))
            } else {
                today
            }
        }
    }
}

/// `57C`, `57.2 °C`, `135F`.
fn temperature(text: &str) -> Result<Temperature, String> {
    thermometer(text).ok_or_else(|| format!("`{text}` is no temperature: write `57C` or `135F`"))
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    #[test]
    fn what_a_cook_says_is_read() {
        assert_eq!(mass("300 g"), Ok(Mass::from_g(300)));
        assert_eq!(money("3.2"), Ok(Money::from_minor(320)));
        assert_eq!(money("$12"), Ok(Money::from_minor(1200)));
        assert_eq!(percent("80%"), Ok(Permille::from_permille(800)));
        assert_eq!(percent("112.5"), Ok(Permille::from_permille(1125)));
        assert_eq!(reason("past-date"), Ok(WasteReason::PastDate));
        assert_eq!(look("brown-rice=half"), Ok(("brown-rice".into(), Found::Half)));
        assert_eq!(temperature("57.2 °C"), Ok(Temperature::from_deci_c(572)));
        assert_eq!(temperature("135F"), Ok(Temperature::from_deci_c(572)));
    }

    #[test]
    fn what_cannot_be_meant_is_refused_with_help() {
        for refused in [
            mass("2 cups").err(),
            money("-3").err(),
            money("3.205").err(),
            money("much").err(),
            percent("-5%").err(),
            percent("much").err(),
            reason("why not").err(),
            look("rice").err(),
            look("rice=some").err(),
            temperature("57").err(),
            reading("15:00=hot").err(),
        ] {
            let refused = refused.expect("it is refused");
            assert!(
                refused.contains("write") || refused.contains("there are"),
                "{refused}"
            );
        }
    }

    #[test]
    fn a_time_alone_is_the_last_one() {
        let now = date(2026, 11, 29).at(1, 0, 0, 0);
        let late = clock_or_moment("23:30").expect("a time");
        assert_eq!(before(late, now), date(2026, 11, 28).at(23, 30, 0, 0));
    }
}
