//! The store's hybrid logical clock: it never goes back, whatever the machine's clock does.
//!
//! After Kulkarni, Demirbas, Madappa, Avva and Leone, Logical Physical Clocks, OPODIS 2014 (from memory): the higher of
//! the wall clock and of what has been seen, and a count for what the wall clock cannot tell apart.

use larderwright_model::{Clock, DeviceId};

/// How far ahead of the store's own time a stamp may lie before the store gives the event one of its own.
pub const AHEAD_MS_MAX: i64 = 24 * 60 * 60 * 1000;

/// The highest stamp seen so far, of whatever device.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Hybrid {
    /// Milliseconds since 1970-01-01T00:00Z.
    pub wall_ms: i64,
    /// Counts up where `wall_ms` stands still.
    pub count: u32,
}

impl Hybrid {
    /// The part of a stamp that is time.
    #[must_use]
    pub fn of(clock: &Clock) -> Self {
        Self {
            wall_ms: clock.wall_ms,
            count: clock.count,
        }
    }

    /// The next stamp: later than any seen, and not before the time it is now.
    #[must_use]
    pub fn next(self, now_ms: i64) -> Self {
        if now_ms > self.wall_ms {
            return Self {
                wall_ms: now_ms,
                count: 0,
            };
        }
        match self.count.checked_add(1) {
            Some(count) => Self { count, ..self },
            None => Self {
                wall_ms: self.wall_ms.saturating_add(1),
                count: 0,
            },
        }
    }

    /// As the stamp of a device.
    #[must_use]
    pub fn stamp(self, device: &DeviceId) -> Clock {
        Clock {
            wall_ms: self.wall_ms,
            count: self.count,
            device: device.clone(),
        }
    }

    /// Takes in the stamp of an event that arrives at `now_ms`: the highest stamp seen afterwards, and the stamp that
    /// the event gets in place of its own when that lies too far ahead. What lies ahead but not above what has been
    /// seen already does no further harm and is left alone.
    #[must_use]
    pub fn arrival(self, said: &Clock, now_ms: i64) -> (Self, Option<Clock>) {
        let stamp = Self::of(said);
        if stamp.wall_ms > now_ms.saturating_add(AHEAD_MS_MAX) && stamp > self {
            let next = self.next(now_ms);
            return (next, Some(next.stamp(&said.device)));
        }
        (self.max(stamp), None)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOON: i64 = 1_796_040_000_000;

    fn seen(wall_ms: i64, count: u32) -> Hybrid {
        Hybrid { wall_ms, count }
    }

    #[test]
    fn a_clock_that_is_set_back_counts_on() {
        assert_eq!(seen(NOON, 3).next(NOON - 3_600_000), seen(NOON, 4));
        assert_eq!(seen(NOON, 3).next(NOON), seen(NOON, 4));
        assert_eq!(seen(NOON, 3).next(NOON + 1), seen(NOON + 1, 0));
    }

    #[test]
    fn a_full_count_moves_the_time_on() {
        assert_eq!(seen(NOON, u32::MAX).next(NOON), seen(NOON + 1, 0));
    }

    #[test]
    fn a_stamp_of_yesterday_or_a_little_ahead_is_left_alone() {
        let device = DeviceId::new("phone");
        for said in [NOON - 86_400_000, NOON + AHEAD_MS_MAX] {
            let said = seen(said, 7);
            let (after, own) = seen(NOON, 0).arrival(&said.stamp(&device), NOON);
            assert_eq!((after, own), (said.max(seen(NOON, 0)), None));
        }
    }

    #[test]
    fn a_stamp_far_ahead_is_replaced_by_the_next_one_and_does_not_push_the_clock() {
        let device = DeviceId::new("phone");
        let said = seen(NOON + AHEAD_MS_MAX + 1, 7).stamp(&device);
        let (after, own) = seen(NOON - 5, 2).arrival(&said, NOON);
        assert_eq!(after, seen(NOON, 0));
        assert_eq!(own, Some(after.stamp(&device)));
    }
}
