//! Money in hundredths of the household's currency.

use std::fmt;

use crate::whole::whole;

whole! {
    /// An amount of money in hundredths of the currency's unit.
    Money, from_minor, minor
}

/// A currency by its three-letter code (ISO 4217).
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Currency(String);

impl Currency {
    /// Reads a three-letter code; `None` for anything else.
    #[must_use]
    pub fn parse(code: &str) -> Option<Self> {
        let three = code.len() == 3 && code.bytes().all(|byte| byte.is_ascii_uppercase());
        three.then(|| Self(code.to_string()))
    }

    /// The code.
    #[must_use]
    pub fn code(&self) -> &str {
        &self.0
    }

    /// The sign in front of an amount, or the code and a no-break space.
    #[must_use]
    pub fn sign(&self) -> String {
        match self.0.as_str() {
            "USD" => "$".into(),
            "GBP" => "£".into(),
            "EUR" => "€".into(),
            "CAD" => "C$".into(),
            "AUD" => "A$".into(),
            other => format!("{other}\u{a0}"),
        }
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// An amount as it stands on a sheet: `$3.20`.
#[must_use]
pub fn fmt_money(money: Money, currency: &Currency) -> String {
    let minus = if money.minor() < 0 { "-" } else { "" };
    let (units, hundredths) = (money.minor().abs() / 100, money.minor().abs() % 100);
    format!("{minus}{}{units}.{hundredths:02}", currency.sign())
}
