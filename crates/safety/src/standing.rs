//! Time that food stands outside fridge and heat: what home guidance and the food service allow.

use larderwright_model::Profile;
use larderwright_quantity::{Seconds, Temperature};

use crate::limits::limits;

/// Whether food that stood out may still be eaten.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stood {
    /// Inside the limit of the guidance.
    Within,
    /// Past the limit: it is thrown away.
    Discard,
}

/// Judges perishable food that stood out for a time at an air temperature.
///
/// The shorter limit holds above the temperature at which a day counts as hot.
#[must_use]
pub fn stood_out(profile: Profile, time: Seconds, air: Temperature) -> Stood {
    let limits = limits(profile);
    let most = if air > limits.hot_day {
        limits.out_of_fridge_hot_max
    } else {
        limits.out_of_fridge_max
    };
    within(time, most)
}

/// Judges food held by time alone in the food service: 4 h from cold or hot, 6 h from cold while it never gets
/// warmer than 70 °F.
///
/// Source: FDA Food Code 3-501.19(B) and (C), read in 16 Del. Admin. Code 3-501.19.
#[must_use]
pub fn time_as_control(start: Temperature, warmest: Temperature, time: Seconds) -> Stood {
    let cold = Temperature::from_f(41);
    let hot = Temperature::from_f(135);
    if start > cold && start < hot {
        return Stood::Discard;
    }
    let six_hours = start <= cold && warmest <= Temperature::from_f(70);
    within(time, Seconds::from_hours(if six_hours { 6 } else { 4 }))
}

fn within(time: Seconds, most: Seconds) -> Stood {
    if time <= most {
        Stood::Within
    } else {
        Stood::Discard
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn food_that_starts_lukewarm_is_never_held_by_time() {
        let lukewarm = Temperature::from_f(90);
        assert_eq!(
            time_as_control(lukewarm, lukewarm, Seconds::from_mins(1)),
            Stood::Discard
        );
    }

    #[test]
    fn the_limit_itself_is_still_within() {
        assert_eq!(
            stood_out(Profile::UsHome, Seconds::from_hours(2), Temperature::from_f(80)),
            Stood::Within
        );
    }
}
