//! The week: sittings, sessions and shopping, first as a usual pattern, then with dates.

use jiff::civil::{Date, DateTime, Time, Weekday};
use larderwright_quantity::Seconds;

use crate::id::{CookId, EaterId, SessionId, ShopId, SittingId};
use crate::meal::Occasion;

/// A day relative to the planned week, which runs from Monday to Sunday.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DayRef {
    /// In the planned week.
    In(Weekday),
    /// In the week before: the Sunday on which one cooks for the week to come.
    Before(Weekday),
}

impl DayRef {
    /// The date, given the Monday of the planned week.
    ///
    /// # Panics
    /// Panics when the date leaves the range of the calendar (years -9999 to 9999).
    #[must_use]
    pub fn date(self, monday: Date) -> Date {
        let (weekday, shift) = match self {
            Self::In(weekday) => (weekday, 0),
            Self::Before(weekday) => (weekday, -7),
        };
        let days = i64::from(weekday.to_monday_zero_offset()) + shift;
        monday
            .checked_add(jiff::Span::new().days(days))
            .expect("the planned week lies inside the calendar")
    }
}

/// How food is carried and kept until it is eaten away from home.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Packed {
    /// Hours from the fridge at home to the meal.
    pub hours: i64,
    /// An ice pack goes along.
    pub ice_pack: bool,
    /// There is a fridge at the other end.
    pub fridge: bool,
    /// There is a microwave at the other end.
    pub microwave: bool,
}

impl Packed {
    /// Whether the food stays cold until it is eaten.
    #[must_use]
    pub fn stays_cold(self) -> bool {
        self.ice_pack || self.fridge
    }
}

/// Where a sitting takes place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Where {
    /// At home.
    Home,
    /// Carried along.
    Packed(Packed),
}

/// A sitting of the usual week.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SittingPattern {
    /// Day.
    pub day: DayRef,
    /// Breakfast, lunch, dinner or snack.
    pub occasion: Occasion,
    /// When it is eaten.
    pub at: Time,
    /// Minutes somebody has to get it on the table.
    pub minutes: i64,
    /// Who.
    pub eaters: Vec<EaterId>,
    /// Guests whose wishes nobody has stated.
    pub guests: u32,
    /// Where.
    pub place: Where,
}

/// A session of the usual week.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SessionPattern {
    /// Day.
    pub day: DayRef,
    /// Earliest start.
    pub from: Time,
    /// Latest end.
    pub to: Time,
    /// Who cooks.
    pub cooks: Vec<CookId>,
}

/// A trip to the shop in the usual week.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ShopPattern {
    /// Day.
    pub day: DayRef,
    /// When the shopping is home.
    pub at: Time,
}

/// One eating occasion, dated.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sitting {
    /// Identifier: `2026-11-30-dinner`; with several on one day `-2` and so on.
    pub id: SittingId,
    /// When it is eaten.
    pub at: DateTime,
    /// Breakfast, lunch, dinner, snack.
    pub occasion: Occasion,
    /// Minutes somebody has to get it on the table.
    pub minutes: i64,
    /// Who.
    pub eaters: Vec<EaterId>,
    /// Guests whose wishes nobody has stated.
    pub guests: u32,
    /// Where.
    pub place: Where,
}

impl Sitting {
    /// How many plates.
    #[must_use]
    pub fn covers(&self) -> usize {
        self.eaters.len() + self.guests as usize
    }

    /// The occasions whose meals may be served here.
    #[must_use]
    pub fn serves(&self) -> Vec<Occasion> {
        match self.place {
            Where::Home => vec![self.occasion],
            Where::Packed(packed) if packed.microwave => vec![Occasion::PackedHot, Occasion::PackedCold],
            Where::Packed(_) => vec![Occasion::PackedCold],
        }
    }

    /// When the food leaves the fridge: at the sitting, or when it is packed.
    #[must_use]
    pub fn leaves_fridge(&self) -> DateTime {
        match self.place {
            Where::Home => self.at,
            Where::Packed(packed) => self
                .at
                .checked_sub(jiff::Span::new().hours(packed.hours))
                .expect("a sitting lies inside the calendar"),
        }
    }
}

/// One block of cooking time, dated.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Session {
    /// Identifier: `2026-11-29`.
    pub id: SessionId,
    /// Earliest start.
    pub from: DateTime,
    /// Latest end.
    pub to: DateTime,
    /// Who cooks.
    pub cooks: Vec<CookId>,
}

impl Session {
    /// The length of the window.
    #[must_use]
    pub fn window(&self) -> Seconds {
        let span = self.to.duration_since(self.from);
        Seconds::from_secs(span.as_secs())
    }
}

/// One trip to the shop, dated.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shop {
    /// Identifier: `2026-11-28`.
    pub id: ShopId,
    /// When the shopping is home.
    pub at: DateTime,
}
