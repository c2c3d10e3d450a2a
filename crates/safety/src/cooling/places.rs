//! Surface coefficients for containers in places, as bands with where they come from.
//!
//! No published table for household fridges could be read; a band is the likely value with 0.6 and 1.5 of it,
//! unless the row says otherwise. Whoever knows better measures one cooling and compares.

use crate::source::Flag;

/// What the food lies in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Container {
    /// Spread on a tray or in an open box.
    OpenTray,
    /// In a box with its lid on.
    LiddedBox,
    /// In a tight flat bag.
    FlatBag,
    /// In a pot that is stirred.
    StirredPot,
    /// In boxes that stand on top of each other or touch.
    StackedBoxes,
}

/// Where it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Place {
    /// On a rack on the counter.
    Counter,
    /// In a household fridge.
    Fridge,
    /// In a fridge with a fan that runs.
    FanFridge,
    /// In a household freezer.
    Freezer,
    /// In a freezer with a fan that runs.
    FanFreezer,
    /// Set in ice water.
    IceBath,
}

impl Container {
    /// Every container.
    pub const ALL: [Self; 5] = [
        Self::OpenTray,
        Self::LiddedBox,
        Self::FlatBag,
        Self::StirredPot,
        Self::StackedBoxes,
    ];

    /// The word on the command line.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::OpenTray => "open-tray",
            Self::LiddedBox => "lidded-box",
            Self::FlatBag => "flat-bag",
            Self::StirredPot => "pot-stirred",
            Self::StackedBoxes => "stacked-boxes",
        }
    }
}

impl Place {
    /// Every place.
    pub const ALL: [Self; 6] = [
        Self::Counter,
        Self::Fridge,
        Self::FanFridge,
        Self::Freezer,
        Self::FanFreezer,
        Self::IceBath,
    ];

    /// The word on the command line.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Counter => "counter",
            Self::Fridge => "fridge",
            Self::FanFridge => "fan-fridge",
            Self::Freezer => "freezer",
            Self::FanFreezer => "fan-freezer",
            Self::IceBath => "ice-bath",
        }
    }

    fn fan(self) -> bool {
        matches!(self, Self::FanFridge | Self::FanFreezer)
    }
}

/// Low, likely and high, tenths of a W/(m² K).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Band {
    /// The slow end.
    pub low: i64,
    /// The likely value.
    pub likely: i64,
    /// The quick end.
    pub high: i64,
}

impl Band {
    /// Low, likely, high.
    #[must_use]
    pub fn three(self) -> [i64; 3] {
        [self.low, self.likely, self.high]
    }

    const fn of(likely: i64) -> Self {
        Self {
            low: likely * 6 / 10,
            likely,
            high: likely * 15 / 10,
        }
    }
}

/// Coefficients of one container in one place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Surface {
    /// Above.
    pub above: Band,
    /// Below.
    pub below: Band,
    /// At the sides.
    pub side: Band,
    /// Ice water is below and at the sides, air above.
    pub in_water: bool,
    /// Where the likely values come from.
    pub source: &'static str,
    /// How sure they are.
    pub flag: Flag,
}

const AIR: &str = "still air and radiation together 5-10 W/(m² K), derived; radiation as important as natural convection: \
                   Laguerre, J. Food Eng. 81 (2007) 144; textbook apples in a fridge 6 (Lienhard)";
const FAN: &str = "fan 10-25 W/(m² K), from memory";
const BATH: &str = "a pan set in ice water without stirring: 30 W/(m² K) or less, derived from Roberts et al., Food Protection \
                    Trends 33(1) (2013) 27-31";
const BAG: &str = "ice water on a thin wall 100-300 W/(m² K), from memory";
const POT: &str = "ice water on a metal wall, stirred inside, 150-250 W/(m² K), from memory";

/// The coefficients of a container in a place.
#[must_use]
pub fn surface(container: Container, place: Place) -> Surface {
    if place == Place::IceBath {
        return in_ice(container);
    }
    let (above, below) = if place.fan() { (200, 150) } else { (100, 50) };
    let (source, flag) = if place.fan() {
        (FAN, Flag::Memory)
    } else {
        (AIR, Flag::Derived)
    };
    // A lid with air under it adds 0.1 m² K/W, a plastic bottom 0.05 (derived, 0.02-0.1).
    let (above, below, side) = match container {
        Container::OpenTray | Container::FlatBag => (above, below, above),
        Container::LiddedBox => (behind(above, 1000), behind(below, 500), behind(above, 500)),
        // Neighbours above and below are as warm as the food itself: only the sides give heat off.
        Container::StackedBoxes => (5, 5, behind(above, 500)),
        Container::StirredPot => (0, above, above),
    };
    Surface {
        above: Band::of(above),
        below: Band::of(below),
        side: Band::of(side),
        in_water: false,
        source,
        flag,
    }
}

/// A coefficient behind a resistance in ten-thousandths of m² K/W.
fn behind(deci_w: i64, resistance: i64) -> i64 {
    100_000 * deci_w / (100_000 + deci_w * resistance)
}

fn in_ice(container: Container) -> Surface {
    let band = |low, likely, high| Band { low, likely, high };
    let still = Band::of(100);
    let (above, wall, source) = match container {
        Container::FlatBag => {
            let wall = band(1000, 2000, 3000);
            (wall, wall, BAG)
        }
        Container::StirredPot => (Band::of(0), band(1500, 2000, 2500), POT),
        Container::OpenTray => (still, band(200, 300, 600), BATH),
        Container::LiddedBox | Container::StackedBoxes => {
            (Band::of(behind(100, 1000)), band(120, 200, 300), BATH)
        }
    };
    Surface {
        above,
        below: wall,
        side: wall,
        in_water: true,
        source,
        flag: if source == BATH {
            Flag::Derived
        } else {
            Flag::Memory
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bands_are_in_order_and_have_sources() {
        for container in Container::ALL {
            for place in Place::ALL {
                let surface = surface(container, place);
                for band in [surface.above, surface.below, surface.side] {
                    assert!(band.low <= band.likely && band.likely <= band.high);
                }
                assert!(!surface.source.is_empty());
            }
        }
    }

    #[test]
    fn a_lid_slows_and_a_fan_quickens() {
        for place in [Place::Fridge, Place::FanFridge] {
            let open = surface(Container::OpenTray, place);
            let lidded = surface(Container::LiddedBox, place);
            assert!(lidded.above.likely < open.above.likely);
            assert!(lidded.below.likely < open.below.likely);
        }
        let still = surface(Container::LiddedBox, Place::Fridge);
        assert_eq!((still.above.likely, still.below.likely), (50, 40));
        assert!(
            surface(Container::OpenTray, Place::FanFridge).above.likely
                > surface(Container::OpenTray, Place::Fridge).above.likely
        );
    }
}
