//! How fast hot food has to become cold: the published curves as rows, and what is demanded of whom.
//!
//! Every curve read so far is written for food businesses. A home is asked for two things instead: into the cold
//! within a time, in shallow boxes. Curves are shown to a home as a yardstick when methods are compared, never as
//! a demand.

mod log;

use larderwright_model::Profile;
use larderwright_quantity::{Seconds, Temperature};

use crate::source::Flag;

pub use log::{Correction, Entry, LogFinding, LogRule, Reheated, judge, judge_reheat, lines};

/// One stretch of a curve: from the clock's start down to a temperature within a time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stage {
    /// To be reached.
    pub to: Temperature,
    /// Counted from the moment the food passes the start of the curve.
    pub within: Seconds,
}

/// A published curve.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Curve {
    /// Stable identifier: `us-food-service/two-stage`.
    pub id: &'static str,
    /// Under which profile it stands.
    pub profile: Profile,
    /// The clock starts when the food passes this.
    pub from: Temperature,
    /// Its stages, soonest first.
    pub stages: &'static [Stage],
    /// Whether households that follow the profile have to keep it; the others are for businesses.
    pub demanded: bool,
    /// Document, year and section.
    pub source: &'static str,
    /// How sure it is.
    pub flag: Flag,
}

const fn stage(deci_c: i64, minutes: i64) -> Stage {
    Stage {
        to: Temperature::from_deci_c(deci_c),
        within: Seconds::from_mins(minutes),
    }
}

const fn curve(id: &'static str, profile: Profile, from_deci_c: i64, stages: &'static [Stage]) -> Curve {
    Curve {
        id,
        profile,
        from: Temperature::from_deci_c(from_deci_c),
        stages,
        demanded: false,
        source: "",
        flag: Flag::Read,
    }
}

/// 135 °F to 70 °F within 2 h and to 41 °F within 6 h altogether.
static TWO_STAGE: Curve = Curve {
    demanded: true,
    source: "FDA Food Code 3-501.14(A), read in 16 Del. Admin. Code 3-501.14",
    ..curve(
        "us-food-service/two-stage",
        Profile::UsFoodService,
        572,
        &[stage(211, 120), stage(50, 360)],
    )
};

/// Food made from ingredients at room temperature: 41 °F within 4 h.
static AMBIENT: Curve = Curve {
    demanded: true,
    source: "FDA Food Code 3-501.14(B), read in 16 Del. Admin. Code 3-501.14",
    ..curve(
        "us-food-service/ambient",
        Profile::UsFoodService,
        572,
        &[stage(50, 240)],
    )
};

static CURVES: [&Curve; 5] = [&TWO_STAGE, &AMBIENT, &CANADA, &AUSTRALIA, &FRANCE];

static CANADA: Curve = Curve {
    source: "60 to 20 °C in 2 h, 20 to 4 °C in 4 h, for food businesses, on secondary pages (examzify.com); the clause of the \
             Food Retail and Food Services Code 2016 was not seen",
    flag: Flag::ReadSecond,
    ..curve(
        "ca/business",
        Profile::Canada,
        600,
        &[stage(200, 120), stage(40, 360)],
    )
};

static AUSTRALIA: Curve = Curve {
    source: "Food Standards Code 3.2.2 clause 7(3), for food businesses, read at experts123.com: 60 to 21 °C in 2 h, to 5 °C in a \
             further 4 h",
    ..curve(
        "au/business",
        Profile::Australia,
        600,
        &[stage(210, 120), stage(50, 360)],
    )
};

static FRANCE: Curve = Curve {
    source: "French text of 8 March 2012, for food businesses, read at acfri.com: 63 to 10 °C in less than 2 h",
    ..curve("eu/france-business", Profile::Eu, 630, &[stage(100, 120)])
};

/// Every curve.
#[must_use]
pub fn curves() -> &'static [&'static Curve] {
    &CURVES
}

/// The curve that hot food has to follow under a profile; `None` where homes are asked for time and depth only.
#[must_use]
pub fn demanded(profile: Profile) -> Option<&'static Curve> {
    (profile == TWO_STAGE.profile).then_some(&TWO_STAGE)
}

/// The curve for food made from ingredients at room temperature.
#[must_use]
pub fn demanded_of_ambient(profile: Profile) -> Option<&'static Curve> {
    (profile == AMBIENT.profile).then_some(&AMBIENT)
}

/// The published curve by which methods are compared: the profile's own, else the two-stage curve.
#[must_use]
pub fn yardstick(profile: Profile) -> &'static Curve {
    CURVES
        .into_iter()
        .find(|curve| curve.profile == profile)
        .unwrap_or(&TWO_STAGE)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_food_service_has_to_follow_a_curve() {
        for profile in Profile::ALL {
            let service = profile == Profile::UsFoodService;
            assert_eq!(demanded(profile).is_some(), service);
            assert_eq!(demanded_of_ambient(profile).is_some(), service);
            assert_eq!(
                CURVES
                    .iter()
                    .any(|curve| curve.demanded && curve.profile == profile),
                service
            );
        }
    }

    #[test]
    fn stages_get_colder_and_later() {
        for curve in CURVES {
            assert!(!curve.source.is_empty() && !curve.stages.is_empty());
            assert!(curve.stages.iter().all(|stage| stage.to < curve.from));
            for pair in curve.stages.windows(2) {
                assert!(pair[0].to > pair[1].to && pair[0].within < pair[1].within);
            }
        }
    }
}
