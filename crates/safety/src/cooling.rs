//! How long food takes to get cold, by physics: to explain, to compare, and to be stricter than the guidance, never
//! laxer.
//!
//! Whole numbers go in and come out; floating point stays inside the files listed with the house rules. Every answer
//! is a band, because nobody knows the air in somebody's fridge. Left out: evaporation, movement in thin soups,
//! doors that open. See docs/food-safety.md for models and limits.

pub mod actions;
mod balance;
mod block;
mod composition;
mod freezing;
pub mod growth;
pub mod kinetics;
mod places;
mod roots;
mod series;
mod stirred;
mod units;
mod volumes;
mod ways;

use larderwright_model::{Finding, Profile, RuleId, Severity};
use larderwright_quantity::{Length, Rounding, Seconds, Temperature};

pub use balance::{FRIDGE_SPARE_W, Warm, fridge_works, ice_needed};
pub use block::Block;
pub use composition::{Composition, Material, Properties};
pub use freezing::{Freezable, LATENT_WATER_J, Piece, pham, plank, thaw};
pub use places::{Band, Container, Place, Surface, surface};
pub use roots::{FirstTerm, Shape, first_term};
pub use series::{Body, Spot};
pub use stirred::{Pot, round_pot};
pub use volumes::{Face, Layer, Phase};
pub use ways::{Batch, Stand, freezes_in, ice_for, thaws_in};

use crate::chilling::{Curve, demanded};
use crate::limits::{LimitKind, limit, limits};

/// 70 °F: the first stage of published curves.
pub const WARM: Temperature = Temperature::from_deci_c(211);
/// 41 °F: cold.
pub const COLD: Temperature = Temperature::from_deci_c(50);
/// The width of a pot when nobody says.
const POT_WIDTH: Length = Length::from_mm(240);
/// Water with ice in it.
const ICE_WATER: Temperature = Temperature::from_deci_c(0);

/// Food in a container in a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cooling {
    /// What it is made of, air between pieces left out.
    pub properties: Properties,
    /// How deep it lies.
    pub depth: Length,
    /// Length and width; a wide layer, or a pot 24 cm wide, without.
    pub sides: Option<(Length, Length)>,
    /// What it lies in.
    pub container: Container,
    /// Where it stands.
    pub place: Place,
    /// The air there.
    pub air: Temperature,
    /// Its temperature at the start.
    pub start: Temperature,
}

/// How long it takes: by the quick, the likely and the slow coefficient; `None` when it never gets there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Times {
    /// By the quick end of the band.
    pub low: Option<Seconds>,
    /// By the likely value.
    pub likely: Option<Seconds>,
    /// By the slow end of the band.
    pub high: Option<Seconds>,
}

impl Times {
    fn of(mut time: impl FnMut(usize) -> Option<Seconds>) -> Self {
        Self {
            low: time(2),
            likely: time(1),
            high: time(0),
        }
    }

    /// Whether it gets there at all.
    #[must_use]
    pub fn reachable(self) -> bool {
        self.likely.is_some()
    }

    fn within(time: Option<Seconds>, most: Seconds) -> bool {
        time.is_some_and(|time| time <= most)
    }
}

impl Cooling {
    /// How long until its hottest place has come down to a temperature.
    #[must_use]
    pub fn times_to(&self, target: Temperature) -> Times {
        let surface = surface(self.container, self.place);
        Times::of(|end| match self.container {
            Container::StirredPot => self.pot(surface.side.three()[end]).time_to(target),
            _ if surface.in_water => self.layer().time_to(&[self.in_water(&surface, end)], target),
            _ => self.block(&surface, end).time_to(target),
        })
    }

    /// The likely temperature of its hottest place at equal times, rounded to the warmer tenth.
    #[must_use]
    pub fn curve(&self, every: Seconds, count: usize) -> Vec<Temperature> {
        let surface = surface(self.container, self.place);
        let times = (1..=count).map(|n| every.times(i64::try_from(n).unwrap_or(i64::MAX)));
        match self.container {
            Container::StirredPot => {
                let pot = self.pot(surface.side.likely);
                times.map(|time| pot.temperature(time)).collect()
            }
            _ if surface.in_water => self.layer().curve(&[self.in_water(&surface, 1)], every, count),
            _ => {
                let block = self.block(&surface, 1);
                times.map(|time| block.hottest(time)).collect()
            }
        }
    }

    /// What guidance and physics have to say of it under a profile.
    ///
    /// Homes are judged by depth and by their own time out of the fridge; curves are for those who have to follow
    /// one.
    #[must_use]
    pub fn findings(&self, profile: Profile) -> Vec<Finding> {
        let warm = self.times_to(WARM);
        let mut findings = Vec::new();
        for (target, times) in [(WARM, warm), (COLD, self.times_to(COLD))] {
            if !times.reachable() {
                findings.push(self.unreachable(target));
            }
        }
        findings.extend(self.too_deep(profile));
        match demanded(profile) {
            Some(curve) => findings.extend(self.by_curve(curve)),
            None => findings.extend(self.slow(profile, warm)),
        }
        findings.extend(self.places_words());
        findings
    }

    fn pot(&self, through_deci_w: i64) -> Pot {
        let width = self.sides.map_or(POT_WIDTH, |(length, _)| length);
        let (area_cm2, ml) = round_pot(width, self.depth);
        let mg = larderwright_quantity::mul_div(ml, self.properties.density_g, 1000, Rounding::Up);
        Pot {
            mass: larderwright_quantity::Mass::from_mg(mg.max(1)),
            specific_heat_j: self.properties.specific_heat_j,
            area_cm2,
            through_deci_w,
            start: self.start,
            around: if self.place == Place::IceBath {
                ICE_WATER
            } else {
                self.air
            },
        }
    }

    fn layer(&self) -> Layer {
        Layer {
            material: self.properties.solid(),
            depth: self.depth,
            start: self.start,
        }
    }

    fn in_water(&self, surface: &Surface, end: usize) -> Phase {
        let above_water = self.container == Container::FlatBag;
        Phase {
            above: Face {
                deci_w: surface.above.three()[end],
                around: if above_water { ICE_WATER } else { self.air },
            },
            below: Face {
                deci_w: surface.below.three()[end],
                around: ICE_WATER,
            },
            lasting: None,
        }
    }

    fn block(&self, surface: &Surface, end: usize) -> Block {
        let three = |band: Band| band.three()[end];
        Block {
            material: self.properties.solid(),
            depth: self.depth,
            sides: self.sides,
            surfaces_deci_w: [three(surface.above), three(surface.below), three(surface.side)],
            start: self.start,
            around: self.air,
        }
    }

    fn unreachable(&self, target: Temperature) -> Finding {
        finding(
            ("cool/unreachable", Severity::Warning),
            format!("it never comes down to {} there", degrees(target)),
            format!("the air has {}", degrees(self.air)),
            "physics: nothing cools below what is around it",
        )
    }

    fn too_deep(&self, profile: Profile) -> Option<Finding> {
        let most = limits(profile).depth_max;
        let still = !matches!(self.container, Container::StirredPot | Container::FlatBag);
        (still && self.depth > most).then(|| {
            finding(
                ("cool/depth", Severity::Warning),
                format!(
                    "it lies {} mm deep; guidance asks for shallow boxes, {} mm at most",
                    self.depth.mm(Rounding::Up),
                    most.mm(Rounding::Down)
                ),
                String::new(),
                limit(profile, LimitKind::DepthMax).source,
            )
        })
    }

    /// Against a curve that has to be followed: by the likely time it fails, by the slow one it has to be measured.
    fn by_curve(&self, curve: &Curve) -> Vec<Finding> {
        let from_curve = Self {
            start: self.start.min(curve.from),
            ..*self
        };
        let judged = curve.stages.iter().filter_map(|stage| {
            let times = from_curve.times_to(stage.to);
            let severity = if !Times::within(times.likely, stage.within) {
                Severity::Fatal
            } else if !Times::within(times.high, stage.within) {
                Severity::Warning
            } else {
                return None;
            };
            let words = if severity == Severity::Fatal {
                "it is not likely to be"
            } else {
                "it may not be"
            };
            Some(finding(
                ("cool/curve", severity),
                format!(
                    "{words} at {} within {} minutes: cool it another way, or measure and write it down",
                    degrees(stage.to),
                    stage.within.mins(Rounding::Down)
                ),
                times.likely.map_or_else(String::new, |time| {
                    format!("likely {} minutes", time.mins(Rounding::Up))
                }),
                curve.source,
            ))
        });
        judged.collect()
    }

    /// A home's own measure: what stays warm longer than food may stand out is cooled too slowly.
    fn slow(&self, profile: Profile, warm: Times) -> Option<Finding> {
        let most = limits(profile).out_of_fridge_max;
        if Times::within(warm.high, most) || !warm.reachable() {
            return None;
        }
        let likely = warm.likely.unwrap_or(Seconds::ZERO);
        let words = if likely > most {
            "its middle is likely to stay"
        } else {
            "its middle may stay"
        };
        let thinner = self.thin_enough(most).map_or_else(String::new, |depth| {
            format!(
                "; {} mm deep it would be through in time",
                depth.mm(Rounding::Down)
            )
        });
        Some(finding(
            ("cool/slow", Severity::Advice),
            format!(
                "{words} above {} for {} minutes: spread it thinner, stir the pot in ice water, or start it in the freezer{thinner}",
                degrees(WARM),
                warm.high.unwrap_or(likely).mins(Rounding::Up),
            ),
            format!("likely {} minutes", likely.mins(Rounding::Up)),
            "physics, stricter than the guidance; the minutes are the slow end of the band",
        ))
    }

    /// The deepest layer in whole millimetres that is likely to be through in a time.
    #[must_use]
    pub fn thin_enough(&self, most: Seconds) -> Option<Length> {
        let through = |mm: i64| {
            let thinner = Self {
                depth: Length::from_mm(mm),
                ..*self
            };
            Times::within(thinner.times_to(WARM).likely, most)
        };
        let (mut low, mut high) = (5, self.depth.mm(Rounding::Up));
        if !through(low) {
            return None;
        }
        while high - low > 1 {
            let middle = low + (high - low) / 2;
            if through(middle) {
                low = middle;
            } else {
                high = middle;
            }
        }
        Some(Length::from_mm(low))
    }

    fn places_words(&self) -> Option<Finding> {
        match self.place {
            Place::Counter => Some(finding(
                ("cool/counter", Severity::Advice),
                "the counter only starts it: into the fridge while it is still inside the time of the guidance",
                String::new(),
                "U.S. National Agricultural Library, How long should I keep leftover food",
            )),
            Place::IceBath => Some(finding(
                ("cool/ice", Severity::Advice),
                "keep ice in the water until it is cold; then into the fridge",
                String::new(),
                "FDA Food Code 3-501.15(A), stirring in an ice-water bath, read in Wis. ATCP 75 3-501.15",
            )),
            _ => None,
        }
    }
}

fn finding(
    (id, severity): (&str, Severity),
    message: impl Into<String>,
    evidence: String,
    source: &str,
) -> Finding {
    Finding {
        rule: RuleId::new(id),
        severity,
        subject: String::new(),
        message: message.into(),
        evidence,
        source: source.to_owned(),
    }
}

fn degrees(temperature: Temperature) -> String {
    let tenths = temperature.deci_c();
    let sign = if tenths < 0 { "-" } else { "" };
    format!("{sign}{}.{} °C", tenths.abs() / 10, tenths.abs() % 10)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tray() -> Cooling {
        Cooling {
            properties: Composition::of_water(660).properties(Temperature::from_c(30)),
            depth: Length::from_mm(50),
            sides: None,
            container: Container::OpenTray,
            place: Place::Fridge,
            air: Temperature::from_c(3),
            start: Temperature::from_f(135),
        }
    }

    fn ids(cooling: Cooling, profile: Profile) -> Vec<String> {
        let findings = cooling.findings(profile);
        findings
            .iter()
            .map(|finding| finding.rule.as_str().to_owned())
            .collect()
    }

    #[test]
    fn bands_are_in_order_everywhere() {
        for container in Container::ALL {
            for place in Place::ALL {
                let cooling = Cooling {
                    container,
                    place,
                    sides: Some((Length::from_mm(200), Length::from_mm(150))),
                    ..tray()
                };
                let times = cooling.times_to(WARM);
                assert!(
                    times.low <= times.likely && times.likely <= times.high,
                    "{container:?} {place:?}"
                );
            }
        }
    }

    #[test]
    fn a_warm_counter_never_gets_it_cold_and_says_so() {
        let counter = Cooling {
            place: Place::Counter,
            air: Temperature::from_c(22),
            ..tray()
        };
        assert_eq!(counter.times_to(WARM).likely, None);
        let found = ids(counter, Profile::UsHome);
        assert_eq!(found.iter().filter(|id| *id == "cool/unreachable").count(), 2);
    }

    #[test]
    fn no_curve_of_businesses_nags_a_home() {
        for profile in Profile::ALL {
            let curve = ids(tray(), profile).contains(&"cool/curve".to_owned());
            assert_eq!(curve, profile == Profile::UsFoodService);
        }
    }

    #[test]
    fn the_depth_advised_is_one_that_works() {
        let thin = tray()
            .thin_enough(Seconds::from_hours(2))
            .expect("thin layers cool");
        let there = Cooling {
            depth: thin,
            ..tray()
        };
        let deeper = Cooling {
            depth: thin + Length::from_mm(1),
            ..tray()
        };
        let time = |cooling: Cooling| cooling.times_to(WARM).likely.expect("the fridge is cold");
        assert!(time(there) <= Seconds::from_hours(2));
        assert!(time(deeper) > Seconds::from_hours(2));
    }

    #[test]
    fn a_deep_box_is_told_of() {
        let deep = Cooling {
            depth: Length::from_mm(51),
            ..tray()
        };
        assert!(ids(deep, Profile::UsHome).contains(&"cool/depth".to_owned()));
        assert!(!ids(tray(), Profile::UsHome).contains(&"cool/depth".to_owned()));
    }

    #[test]
    fn a_curve_starts_where_its_estimate_stands() {
        let cooling = tray();
        let curve = cooling.curve(Seconds::from_mins(30), 12);
        let likely = cooling.times_to(WARM).likely.expect("the fridge is cold");
        let before = curve.iter().filter(|warm| **warm > WARM).count();
        let halves = usize::try_from(likely.secs() / 1800).expect("positive");
        assert!(before.abs_diff(halves) <= 1, "{before} {halves}");
    }
}
