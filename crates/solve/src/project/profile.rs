//! The free amount of one resource over time, as a step function.

/// Returned where nothing ever fits.
pub(super) const NEVER: i64 = i64::MAX / 4;
const ALWAYS: i64 = -NEVER;

/// From `time` until the next step, `free` is available; negative where more is away than is there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Step {
    time: i64,
    free: i64,
}

/// Steps in strictly increasing time; the first lies before all times in use.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Profile {
    steps: Vec<Step>,
}

impl Profile {
    pub(super) fn constant(capacity: i64) -> Self {
        Self {
            steps: vec![Step {
                time: ALWAYS,
                free: capacity,
            }],
        }
    }

    pub(super) fn reset_to(&mut self, base: &Self) {
        self.steps.clone_from(&base.steps);
    }

    /// Index of the step in force at a time.
    fn at(&self, time: i64) -> usize {
        self.steps.partition_point(|step| step.time <= time) - 1
    }

    /// The soonest start, not before `from`, at which `amount` is free for `duration` (positive).
    pub(super) fn earliest(&self, from: i64, duration: i64, amount: i64) -> i64 {
        let mut start = from;
        for (index, step) in self.steps.iter().enumerate().skip(self.at(from)) {
            let next = self.steps.get(index + 1).map_or(NEVER, |next| next.time);
            if step.free < amount {
                start = next;
            } else if next >= start + duration {
                return start;
            }
        }
        NEVER
    }

    /// The last start, not after `from`, at which `amount` is free for `duration` (positive).
    pub(super) fn latest(&self, from: i64, duration: i64, amount: i64) -> i64 {
        let mut start = from;
        let last = self.at(from + duration - 1);
        for step in self.steps[..=last].iter().rev() {
            if step.time >= start + duration {
                continue;
            }
            if step.free < amount {
                start = step.time - duration;
            }
            if step.time <= start {
                return start;
            }
        }
        ALWAYS
    }

    /// Takes `amount` away from `from` to `to`; a negative amount gives it back.
    pub(super) fn take(&mut self, from: i64, to: i64, amount: i64) {
        if from >= to {
            return;
        }
        let first = self.split(from);
        let mut index = first;
        while index < self.steps.len() && self.steps[index].time < to {
            self.steps[index].free -= amount;
            index += 1;
        }
        if self.steps.get(index).is_none_or(|step| step.time > to) {
            let before = self.steps[index - 1].free + amount;
            self.steps.insert(
                index,
                Step {
                    time: to,
                    free: before,
                },
            );
        }
        self.join(index);
        self.join(first);
    }

    /// The index of a step that begins exactly at a time, made if need be.
    fn split(&mut self, time: i64) -> usize {
        let index = self.at(time);
        if self.steps[index].time == time {
            return index;
        }
        let free = self.steps[index].free;
        self.steps.insert(index + 1, Step { time, free });
        index + 1
    }

    /// Drops a step that changes nothing.
    fn join(&mut self, index: usize) {
        if index > 0 && index < self.steps.len() && self.steps[index - 1].free == self.steps[index].free {
            self.steps.remove(index);
        }
    }

    /// The soonest time by which `energy` (amount times duration) can have been supplied since `from`.
    pub(super) fn supplied(&self, from: i64, energy: i64) -> i64 {
        let (mut time, mut left) = (from, energy);
        for (index, step) in self.steps.iter().enumerate().skip(self.at(from)) {
            let next = self.steps.get(index + 1).map_or(NEVER, |next| next.time);
            if step.free > 0 {
                let needed = left.div_euclid(step.free) + i64::from(left.rem_euclid(step.free) > 0);
                if needed <= next - time {
                    return time + needed;
                }
                left -= step.free * (next - time);
            }
            time = next;
        }
        NEVER
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn busy(spans: &[(i64, i64, i64)]) -> Profile {
        let mut profile = Profile::constant(3);
        for (from, to, amount) in spans {
            profile.take(*from, *to, *amount);
        }
        profile
    }

    #[test]
    fn the_earliest_start_is_in_the_first_gap_that_is_long_enough() {
        let profile = busy(&[(0, 5, 2), (7, 9, 3)]);
        assert_eq!(profile.earliest(0, 5, 1), 0);
        assert_eq!(profile.earliest(0, 2, 2), 5);
        assert_eq!(profile.earliest(0, 3, 2), 9);
        assert_eq!(profile.earliest(0, 3, 4), NEVER);
    }

    #[test]
    fn the_latest_start_is_in_the_last_gap_that_is_long_enough() {
        let profile = busy(&[(0, 5, 2), (7, 9, 3)]);
        assert_eq!(profile.latest(20, 4, 3), 20);
        assert_eq!(profile.latest(8, 2, 1), 5);
        assert_eq!(profile.latest(8, 3, 1), 4);
        assert_eq!(profile.latest(6, 3, 2), -3);
        assert_eq!(profile.latest(6, 1, 4), ALWAYS);
    }

    #[test]
    fn taking_and_giving_back_restores_the_profile() {
        let mut profile = busy(&[(0, 5, 2), (7, 9, 3)]);
        let before = profile.clone();
        profile.take(3, 8, 1);
        assert_ne!(profile, before);
        profile.take(3, 8, -1);
        assert_eq!(profile, before);
    }

    #[test]
    fn energy_is_supplied_around_an_absence() {
        let profile = busy(&[(2, 6, 3)]);
        assert_eq!(profile.supplied(0, 6), 2);
        assert_eq!(profile.supplied(0, 7), 7);
        assert_eq!(profile.supplied(3, 3), 7);
    }
}
