//! How a household reads masses, times and money, wherever they are told.

use jiff::civil::{Date, DateTime};
use larderwright_model::{Household, Region};
use larderwright_quantity::{Currency, Mass, Money, Rounding, System, fmt_money, mass_text};

/// A household's units, clock and currency.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Words {
    /// Units.
    pub system: System,
    /// Whose habits of writing the time.
    pub region: Region,
    /// Currency.
    pub currency: Currency,
}

impl Words {
    /// The words of a household.
    #[must_use]
    pub fn of(household: &Household) -> Self {
        Self {
            system: household.system,
            region: household.region,
            currency: household.currency.clone(),
        }
    }

    /// A mass; pounds and ounces stay together on a line.
    #[must_use]
    pub fn mass(&self, mass: Mass) -> String {
        mass_in(mass, self.system)
    }

    /// What lies on a plate.
    #[must_use]
    pub fn portion(&self, mass: Mass) -> String {
        portion_in(mass, self.system)
    }

    /// An amount of money.
    #[must_use]
    pub fn money(&self, money: Money) -> String {
        fmt_money(money, &self.currency)
    }

    /// The time of day: `14:05`, or `2:05 pm` where that is the habit.
    #[must_use]
    pub fn clock(&self, at: DateTime) -> String {
        clock_in(at, self.region)
    }

    /// Day and time: `Sun 29 Nov 14:05`.
    #[must_use]
    pub fn when(&self, at: DateTime) -> String {
        format!("{} {}", day(at.date()), self.clock(at))
    }

    /// The last moment to eat something: the day alone where it ends with the day.
    #[must_use]
    pub fn until(&self, at: DateTime) -> String {
        if (at.hour(), at.minute()) == (23, 59) {
            day(at.date())
        } else {
            self.when(at)
        }
    }
}

pub(crate) fn mass_in(mass: Mass, system: System) -> String {
    mass_text(mass, system).replace(' ', "\u{a0}")
}

/// From fifteen grams up in steps of five, nobody spoons finer.
pub(crate) fn portion_in(mass: Mass, system: System) -> String {
    if system == System::Metric && mass >= Mass::from_g(15) {
        return mass_in(mass.round_to(Mass::from_g(5), Rounding::Nearest), system);
    }
    mass_in(mass, system)
}

pub(crate) fn clock_in(at: DateTime, region: Region) -> String {
    let (hour, minute) = (at.hour(), at.minute());
    match region {
        Region::Uk | Region::Eu => format!("{hour:02}:{minute:02}"),
        Region::Us => {
            let half = if hour < 12 { "am" } else { "pm" };
            format!("{}:{minute:02}\u{a0}{half}", (hour + 11) % 12 + 1)
        }
    }
}

/// `Sun 29 Nov`, held together.
#[must_use]
pub fn day(date: Date) -> String {
    const DAYS: [&str; 7] = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
    const MONTHS: [&str; 12] = [
        "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
    ];
    let weekday = DAYS[usize::try_from(date.weekday().to_monday_zero_offset()).unwrap_or(0)];
    let month = MONTHS[usize::try_from(date.month() - 1).unwrap_or(0)];
    format!("{weekday}\u{a0}{}\u{a0}{month}", date.day())
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    fn words(region: Region, system: System) -> Words {
        Words {
            system,
            region,
            currency: Currency::parse("USD").expect("it has three letters"),
        }
    }

    #[test]
    fn each_household_reads_its_own_units_and_clock() {
        let at = date(2026, 12, 3).at(17, 45, 0, 0);
        let here = words(Region::Us, System::UsCustomary);
        assert_eq!(here.when(at), "Thu\u{a0}3\u{a0}Dec 5:45\u{a0}pm");
        assert_eq!(here.mass(Mass::from_g(567)), "1\u{a0}lb\u{a0}4\u{a0}oz");
        let there = words(Region::Uk, System::Metric);
        assert_eq!(there.clock(at), "17:45");
        assert_eq!(there.portion(Mass::from_g(183)), "185\u{a0}g");
    }

    #[test]
    fn a_date_that_ends_with_its_day_needs_no_clock() {
        let words = words(Region::Eu, System::Metric);
        assert_eq!(
            words.until(date(2026, 12, 3).at(23, 59, 0, 0)),
            "Thu\u{a0}3\u{a0}Dec"
        );
        assert_eq!(
            words.until(date(2026, 12, 3).at(18, 0, 0, 0)),
            "Thu\u{a0}3\u{a0}Dec 18:00"
        );
    }
}
