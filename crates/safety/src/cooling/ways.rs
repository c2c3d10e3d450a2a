//! The ways in which a home cools a batch, as phases: on the counter in open boxes, in ice water with a stir, then
//! in the fridge; and how long boxes take to freeze and thaw. For planning; whole numbers throughout.

use larderwright_quantity::{Density, Length, Mass, Rounding, Seconds, Temperature, mul_div};

use super::balance::{Warm, ice_needed};
use super::composition::{Composition, Properties};
use super::freezing::{Freezable, LATENT_WATER_J, Piece, pham, thaw};
use super::places::{Container, Place, surface};
use super::roots::Shape;
use super::stirred::Pot;
use super::volumes::{Face, Layer, Phase};
use super::{ICE_WATER, Times};

/// A batch on its way into boxes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Batch {
    /// Its properties without air.
    pub properties: Properties,
    /// Grams per litre of box, air included.
    pub bulk: Density,
    /// How deep it will lie in its boxes.
    pub depth: Length,
    /// Its temperature at the start.
    pub start: Temperature,
}

/// Where the boxes end up and what comes before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stand {
    /// How long open boxes stand on the counter first.
    pub counter: Seconds,
    /// The air in the kitchen.
    pub room: Temperature,
    /// The air in the fridge.
    pub fridge: Temperature,
}

impl Batch {
    /// Shallow in open boxes on the counter, then in the fridge, lids ajar.
    #[must_use]
    pub fn shallow(&self, stand: Stand, target: Temperature) -> Times {
        self.boxes(self.start, stand, target)
    }

    /// A pot of so much in ice water, stirred, for a time; then shallow in the fridge.
    #[must_use]
    pub fn ice_bath(
        &self,
        pot: (Mass, i64),
        bath: Seconds,
        fridge: Temperature,
        target: Temperature,
    ) -> Times {
        let through = surface(Container::StirredPot, Place::IceBath).side;
        Times::of(|end| {
            let pot = Pot {
                mass: pot.0,
                specific_heat_j: self.properties.specific_heat_j,
                area_cm2: pot.1,
                through_deci_w: through.three()[end],
                start: self.start,
                around: ICE_WATER,
            };
            let there = pot.time_to(target)?;
            if there <= bath {
                return Some(there);
            }
            let stand = Stand {
                counter: Seconds::ZERO,
                room: fridge,
                fridge,
            };
            let after = self.boxes(pot.temperature(bath), stand, target);
            [after.high, after.likely, after.low][end].map(|rest| bath + rest)
        })
    }

    fn boxes(&self, start: Temperature, stand: Stand, target: Temperature) -> Times {
        let layer = Layer {
            material: self.properties.loose(self.bulk),
            depth: self.depth,
            start,
        };
        let open = |place| surface(Container::OpenTray, place);
        Times::of(|end| {
            let phase = |place, air, lasting| Phase {
                above: Face {
                    deci_w: open(place).above.three()[end],
                    around: air,
                },
                below: Face {
                    deci_w: open(place).below.three()[end],
                    around: air,
                },
                lasting,
            };
            let phases = [
                phase(Place::Counter, stand.room, Some(stand.counter)),
                phase(Place::Fridge, stand.fridge, None),
            ];
            layer.time_to(&phases, target)
        })
    }
}

/// Ice for a pot of so much, from `start` to `to`, with water at 5 °C left over.
#[must_use]
pub fn ice_for(mass: Mass, properties: Properties, (start, to): (Temperature, Temperature)) -> Mass {
    let load = Warm {
        mass,
        specific_heat_j: properties.specific_heat_j,
        from: start,
        to,
    };
    ice_needed(load, Temperature::from_c(5))
}

/// Food of which the water is known, as it freezes. Nine tenths of its water freeze in a household freezer
/// (derived); frozen food holds half the heat and conducts 2.5 times as well (derived, cooked beans).
fn freezable(water_permille: i64, bulk: Density) -> Freezable {
    let properties = Composition::of_water(water_permille).properties(Temperature::from_c(5));
    let loose = properties.loose(bulk).conductivity_uw;
    Freezable {
        density_g_per_l: bulk.g_per_l(),
        latent_j: mul_div(LATENT_WATER_J, water_permille * 9, 10_000, Rounding::Up),
        specific_heat_j: [properties.specific_heat_j, properties.specific_heat_j / 2 + 200],
        conductivity_uw: [loose, loose.saturating_mul(5) / 2],
        freezes_at: Temperature::from_c(-1),
    }
}

fn flat(depth: Length, surface_deci_w: i64, around: Temperature) -> Piece {
    Piece {
        shape: Shape::Slab,
        size: depth,
        surface_deci_w,
        around,
    }
}

/// How long boxes of a depth take in the freezer from fridge temperature until their middle has -10 °C, by Pham;
/// `None` when the freezer is too warm.
#[must_use]
pub fn freezes_in(
    water_permille: i64,
    bulk: Density,
    depth: Length,
    freezer: Temperature,
) -> Option<Seconds> {
    let range = (Temperature::from_c(5), Temperature::from_c(-10));
    pham(&freezable(water_permille, bulk), &flat(depth, 80, freezer), range)
}

/// How long boxes of a depth take in the fridge until they are thawed through; `None` when it is too cold.
#[must_use]
pub fn thaws_in(water_permille: i64, bulk: Density, depth: Length, fridge: Temperature) -> Option<Seconds> {
    thaw(
        &freezable(water_permille, bulk),
        &flat(depth, 80, fridge),
        Temperature::from_c(-18),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cooling::WARM;

    fn batch(mm: i64) -> Batch {
        Batch {
            properties: Composition::of_water(850).properties(Temperature::from_c(30)),
            bulk: Density::from_g_per_l(1000),
            depth: Length::from_mm(mm),
            start: Temperature::from_f(135),
        }
    }

    const STAND: Stand = Stand {
        counter: Seconds::from_mins(25),
        room: Temperature::from_c(22),
        fridge: Temperature::from_c(4),
    };

    #[test]
    fn ice_and_a_stir_beat_shallow_boxes() {
        let shallow = batch(45).shallow(STAND, WARM);
        let ice = batch(45).ice_bath(
            (Mass::from_g(3000), 1200),
            Seconds::from_mins(25),
            Temperature::from_c(4),
            WARM,
        );
        assert!(ice.high < shallow.low, "{ice:?} {shallow:?}");
    }

    #[test]
    fn the_counter_alone_is_slower_than_the_fridge() {
        let at_once = Stand {
            counter: Seconds::ZERO,
            ..STAND
        };
        let long = Stand {
            counter: Seconds::from_hours(2),
            ..STAND
        };
        let time = |stand| batch(30).shallow(stand, WARM).likely.expect("the fridge is cold");
        assert!(time(at_once) < time(STAND) && time(STAND) < time(long));
    }

    #[test]
    fn a_flat_box_of_pulses_thaws_in_a_day_and_a_tub_does_not() {
        let bulk = Density::from_g_per_l(690);
        let thaws =
            |mm| thaws_in(657, bulk, Length::from_mm(mm), Temperature::from_c(4)).expect("above freezing");
        assert!(thaws(25) < Seconds::from_hours(24));
        assert!(thaws(60) > Seconds::from_hours(24));
    }

    #[test]
    fn a_warm_freezer_freezes_nothing() {
        let bulk = Density::from_g_per_l(690);
        assert_eq!(
            freezes_in(657, bulk, Length::from_mm(30), Temperature::from_c(-5)),
            None
        );
    }
}
