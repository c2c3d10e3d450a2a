//! The usual week laid on the calendar: sittings, sessions and trips with dates and identifiers.

use std::collections::BTreeMap;

use jiff::civil::{Date, DateTime};
use larderwright_model::{Household, MealId, Occasion, Session, Shop, Sitting, SittingId};

/// Sittings of the week by time. Identifiers are `2026-11-30-dinner`; a second one of the same day and
/// occasion ends in `-2`.
#[must_use]
pub fn sittings(household: &Household, monday: Date) -> Vec<Sitting> {
    let mut dated: Vec<Sitting> = household
        .sittings
        .iter()
        .map(|pattern| Sitting {
            id: SittingId::new(&format!(
                "{}-{}",
                pattern.day.date(monday),
                occasion_word(pattern.occasion)
            )),
            at: pattern.day.date(monday).to_datetime(pattern.at),
            occasion: pattern.occasion,
            minutes: pattern.minutes,
            eaters: pattern.eaters.clone(),
            guests: pattern.guests,
            place: pattern.place,
        })
        .collect();
    dated.sort_by_key(|sitting| sitting.at);
    let mut seen = BTreeMap::new();
    for sitting in &mut dated {
        sitting.id = SittingId::new(&numbered(&mut seen, sitting.id.as_str()));
    }
    dated
}

/// Sessions of the week by time. Identifiers are dates; a second one of the same day ends in `-2`.
#[must_use]
pub fn sessions(household: &Household, monday: Date) -> Vec<Session> {
    let mut dated: Vec<(DateTime, DateTime, &larderwright_model::SessionPattern)> = household
        .sessions
        .iter()
        .map(|pattern| {
            let date = pattern.day.date(monday);
            (
                date.to_datetime(pattern.from),
                date.to_datetime(pattern.to),
                pattern,
            )
        })
        .collect();
    dated.sort_by_key(|(from, to, _)| (*from, *to));
    let mut seen = BTreeMap::new();
    let session = |(from, to, pattern): (DateTime, DateTime, &larderwright_model::SessionPattern)| Session {
        id: numbered(&mut seen, &from.date().to_string()).as_str().into(),
        from,
        to,
        cooks: pattern.cooks.clone(),
    };
    dated.into_iter().map(session).collect()
}

/// Trips of the week by time, with identifiers like those of sessions.
#[must_use]
pub fn shops(household: &Household, monday: Date) -> Vec<Shop> {
    let patterns = household.shops.iter();
    let mut dated: Vec<DateTime> = patterns
        .map(|pattern| pattern.day.date(monday).to_datetime(pattern.at))
        .collect();
    dated.sort();
    let mut seen = BTreeMap::new();
    let shop = |at: DateTime| Shop {
        id: numbered(&mut seen, &at.date().to_string()).as_str().into(),
        at,
    };
    dated.into_iter().map(shop).collect()
}

/// Fixed meals by the identifiers of this week's sittings: `fri-dinner` becomes the dated sitting; what is
/// dated in another week does not concern this one.
#[must_use]
pub fn fixed(household: &Household, sittings: &[Sitting]) -> BTreeMap<SittingId, MealId> {
    let mut fixed = BTreeMap::new();
    for (key, meal) in &household.wishes.fixed {
        let named = |sitting: &&Sitting| sitting.id == *key || weekday_key(sitting) == key.as_str();
        if let Some(sitting) = sittings.iter().find(named) {
            fixed.insert(sitting.id.clone(), meal.clone());
        }
    }
    fixed
}

fn weekday_key(sitting: &Sitting) -> String {
    const DAYS: [&str; 7] = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];
    let at = usize::try_from(sitting.at.weekday().to_monday_zero_offset()).unwrap_or(0);
    format!("{}-{}", DAYS[at], occasion_word(sitting.occasion))
}

/// The identifier itself the first time, then with `-2`, `-3` and so on.
fn numbered(seen: &mut BTreeMap<String, u32>, id: &str) -> String {
    let count = seen.entry(id.to_owned()).or_insert(0);
    *count += 1;
    if *count == 1 {
        id.to_owned()
    } else {
        format!("{id}-{count}")
    }
}

fn occasion_word(occasion: Occasion) -> &'static str {
    match occasion {
        Occasion::Breakfast => "breakfast",
        Occasion::Lunch => "lunch",
        Occasion::Dinner => "dinner",
        Occasion::Snack => "snack",
        Occasion::PackedCold => "packed-cold",
        Occasion::PackedHot => "packed-hot",
    }
}

/// The Monday of a day's week.
#[must_use]
pub fn monday_of(day: Date) -> Date {
    let back = i64::from(day.weekday().to_monday_zero_offset());
    day.saturating_sub(jiff::Span::new().days(back))
}

/// The Monday after a day.
#[must_use]
pub fn next_monday(day: Date) -> Date {
    monday_of(day).saturating_add(jiff::Span::new().days(7))
}

/// The Monday of the next week whose shopping and cooking still lie ahead.
#[must_use]
pub fn next_to_plan(household: &Household, now: DateTime) -> Date {
    let first = next_monday(now.date());
    let shops = shops(household, first).into_iter().map(|shop| shop.at);
    let sessions = sessions(household, first).into_iter().map(|session| session.from);
    match shops.chain(sessions).min() {
        Some(start) if start <= now => first.saturating_add(jiff::Span::new().days(7)),
        _ => first,
    }
}

#[cfg(test)]
mod tests {
    use jiff::civil::{Weekday, date, time};
    use larderwright_model::{DayRef, ShopPattern, SittingPattern, Where};
    use larderwright_records::household::{EXAMPLE_HOUSEHOLD, parse_household};

    use super::*;

    const MONDAY: Date = date(2026, 11, 30);

    #[test]
    fn next_monday_is_never_today() {
        assert_eq!(next_monday(date(2026, 11, 30)), date(2026, 12, 7));
        assert_eq!(next_monday(date(2026, 11, 29)), date(2026, 11, 30));
    }

    fn household() -> Household {
        parse_household(EXAMPLE_HOUSEHOLD).expect("the example is well formed")
    }

    fn dinner(at: i8) -> SittingPattern {
        SittingPattern {
            day: DayRef::In(Weekday::Friday),
            occasion: Occasion::Dinner,
            at: time(at, 0, 0, 0),
            minutes: 20,
            eaters: Vec::new(),
            guests: 1,
            place: Where::Home,
        }
    }

    #[test]
    fn a_second_dinner_of_a_day_is_numbered_by_time() {
        let household = Household {
            sittings: vec![dinner(20), dinner(18)],
            ..household()
        };
        let dated = sittings(&household, MONDAY);
        let ids: Vec<&str> = dated.iter().map(|sitting| sitting.id.as_str()).collect();
        assert_eq!(ids, ["2026-12-04-dinner", "2026-12-04-dinner-2"]);
        assert_eq!(dated[0].at.hour(), 18);
    }

    #[test]
    fn a_day_before_the_week_is_dated_before_it() {
        let day = DayRef::Before(Weekday::Sunday);
        let shops_of = vec![ShopPattern {
            day,
            at: time(9, 0, 0, 0),
        }];
        let household = Household {
            shops: shops_of,
            ..household()
        };
        assert_eq!(shops(&household, MONDAY)[0].id.as_str(), "2026-11-29");
    }

    #[test]
    fn a_meal_fixed_by_weekday_is_dated() {
        let mut household = Household {
            sittings: vec![dinner(18)],
            ..household()
        };
        household.wishes.fixed = BTreeMap::from([("fri-dinner".into(), "soup-supper".into())]);
        let dated = sittings(&household, MONDAY);
        let fixed = fixed(&household, &dated);
        assert_eq!(
            fixed.keys().next().map(SittingId::as_str),
            Some("2026-12-04-dinner")
        );
    }

    #[test]
    fn a_meal_fixed_for_another_week_is_left_out() {
        let mut household = Household {
            sittings: vec![dinner(18)],
            ..household()
        };
        household.wishes.fixed = BTreeMap::from([("2026-12-11-dinner".into(), "soup-supper".into())]);
        assert!(fixed(&household, &sittings(&household, MONDAY)).is_empty());
    }
}
