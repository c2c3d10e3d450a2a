//! Altitude: meat and poultry in moist heat take longer where water boils cooler.

use larderwright_quantity::{Rounding, Seconds, mul_div};

use crate::source::Flag;

/// How much longer moist heat takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MoistHeat {
    /// Below this altitude in metres nothing is added.
    pub from_m: i64,
    /// From this altitude on the whole of it is added.
    pub full_m: i64,
    /// Per thousand of the time at sea level.
    pub extra_permille: i64,
    /// Document, year and section.
    pub source: &'static str,
    /// How sure the figure is.
    pub flag: Flag,
}

/// Simmering, braising and stewing meat and poultry.
pub static MOIST_HEAT: MoistHeat = MoistHeat {
    from_m: 914,
    full_m: 1524,
    extra_permille: 250,
    source: "USDA FSIS, High Altitude Cooking: meat and poultry in moist heat take up to one fourth more time at 5,000 ft, quoted at \
             napsnet.com (77626); high altitude begins at 3,000 ft: FSIS podcast, Cooking at High Altitude; in between by a straight \
             line",
    flag: Flag::ReadSecond,
};

impl MoistHeat {
    /// What is added to a time at sea level, rounded up.
    #[must_use]
    pub fn extra(&self, time: Seconds, altitude_m: i64) -> Seconds {
        let climbed = (altitude_m - self.from_m).clamp(0, self.full_m - self.from_m);
        let permille = mul_div(
            self.extra_permille,
            climbed,
            self.full_m - self.from_m,
            Rounding::Up,
        );
        Seconds::from_secs(mul_div(time.secs(), permille, 1000, Rounding::Up))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_hours_become_two_and_a_half_at_five_thousand_feet_and_stay_two_at_the_sea() {
        let two = Seconds::from_hours(2);
        let at = |altitude| MOIST_HEAT.extra(two, altitude).mins(Rounding::Up);
        assert_eq!((at(0), at(900), at(1524), at(3000)), (0, 0, 30, 30));
        assert!((1..30).contains(&at(1200)));
    }
}
