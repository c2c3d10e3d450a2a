//! What a cook can do to bring a hot batch down, each as one action, and how long its middle takes by it: what packing
//! chooses from and the audit judges. Whole numbers throughout.
//!
//! The clock starts at 57.2 °C (135 °F), where every published curve starts; steaming off before that is not counted.
//! Likely surface coefficients; times round up, depths down.

use larderwright_model::Profile;
use larderwright_quantity::{Density, Length, Mass, Rounding, Seconds, Temperature, Volume, mul_div};

use super::composition::{Composition, Properties};
use super::places::{Container, Place, surface};
use super::stirred::{Pot, round_pot};
use super::volumes::{Face, Layer, Phase};
use super::{ICE_WATER, POT_WIDTH, WARM};
use crate::chilling::demanded;
use crate::keeping::KeepClass;
use crate::limits::limits;
use crate::source::Flag;

/// 135 °F: where published curves start.
const START: Temperature = Temperature::from_deci_c(572);
/// Food that has just come off the heat.
const OFF_HEAT: Temperature = Temperature::from_c(95);
/// A kitchen (common practice).
const ROOM: Temperature = Temperature::from_c(21);
/// A fridge as home guidance asks for: 40 °F, rounded down.
const FRIDGE: Temperature = Temperature::from_c(4);
/// A freezer as guidance asks for: 0 °F, rounded.
const FREEZER: Temperature = Temperature::from_c(-18);
/// How thick food lies on a tray.
pub const TRAY_LAYER: Length = Length::from_mm(15);
/// How long it lies there.
pub const TRAY_TIME: Seconds = Seconds::from_mins(20);
/// How long open boxes stand until they stop steaming.
pub const OPEN_TIME: Seconds = Seconds::from_mins(25);

/// How long boxes stand in the freezer before they go into the fridge.
pub const FREEZER_TIME: Seconds = Seconds::from_hours(1);
/// By then a stirred pot is out of its bath.
const BATH_TIME: Seconds = Seconds::from_mins(30);
/// By then drained grains in cold water are cool and drained again (common practice, no source).
const WATER_TIME: Seconds = Seconds::from_mins(20);
/// How much hot food a freezer takes for that hour, in grams for each litre of its room. 3 lb of food in each cubic foot
/// within a day is what it freezes through (NCHFP, freezing foods, from memory: 2 to 3 lb); an hour from 57 to about 20 °C takes
/// less than a third of that heat.
const FREEZER_TAKES_G_PER_L: i64 = 3 * 48;

/// One action.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Action {
    /// Open boxes stand apart until they stop steaming, then go into the cold with their lids ajar.
    OpenBoxes,
    /// Spread on trays for twenty minutes, then into boxes and the cold.
    Trays,
    /// The pot stands in ice water and is stirred until it is barely warm.
    IceBath,
    /// Drained, it lies in plenty of cold water, changed once it feels warm, until it is cool, and is drained again.
    ColdWater,
    /// Open boxes stand apart in the freezer for an hour, once they have stopped steaming, then go into the fridge.
    FreezerFirst,
}

/// Where the boxes go.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cold {
    /// The fridge.
    Fridge,
    /// The freezer.
    Freezer,
}

/// How much water is in cooked food of a class.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WaterRow {
    /// Per thousand of its mass.
    pub permille: i64,
    /// Where the figure was seen.
    pub source: &'static str,
    /// How sure it is.
    pub flag: Flag,
}

const fn row(permille: i64, source: &'static str, flag: Flag) -> WaterRow {
    WaterRow {
        permille,
        source,
        flag,
    }
}

static RICE: WaterRow = row(684, "USDA SR28 20045, white rice, cooked", Flag::Read);
static PULSE: WaterRow = row(657, "USDA SR28 16015, black beans, boiled", Flag::Read);
static GRAIN: WaterRow = row(716, "USDA SR28 20137, quinoa, cooked", Flag::Read);
static PASTA: WaterRow = row(621, "USDA SR28 20121, pasta, cooked", Flag::Read);
static PORRIDGE: WaterRow = row(836, "USDA SR28 08121, oats, cooked", Flag::Read);
static VEGETABLE: WaterRow = row(
    893,
    "USDA SR28, broccoli, boiled: the wettest of the rows looked at",
    Flag::Read,
);
static FLESH: WaterRow = row(
    650,
    "from memory: cooked meat, poultry and fish 550-700",
    Flag::Memory,
);
static LIQUID: WaterRow = row(900, "from memory: soups and sauces 850-930", Flag::Memory);
static OTHER: WaterRow = row(750, "common practice, no source", Flag::Practice);

/// The time in which the middle of hot food should come down to 21.1 °C (70 °F): the first stage of a curve that the
/// profile demands, else the time that it gives perishable food out of the fridge.
///
/// For homes this is stricter than their guidance, which asks for depth and an early fridge alone: it advises, and
/// makes nothing impossible.
#[must_use]
pub fn within(profile: Profile) -> Seconds {
    let stage = demanded(profile).and_then(|curve| curve.stages.first());
    stage.map_or(limits(profile).out_of_fridge_max, |stage| stage.within)
}

/// What the middle of hot food should come down to, and in what time from 57.2 °C: for a home 21.1 °C, for the food service every
/// stage of the curve that it has to follow.
#[must_use]
pub fn stages(profile: Profile) -> Vec<(Temperature, Seconds)> {
    demanded(profile).map_or_else(
        || vec![(WARM, within(profile))],
        |curve| {
            curve
                .stages
                .iter()
                .map(|stage| (stage.to, stage.within))
                .collect()
        },
    )
}

/// A stage that is likely to be missed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Late {
    /// What the middle should have come down to.
    pub to: Temperature,
    /// In what time.
    pub within: Seconds,
    /// How long it takes; `None` when it does not get there.
    pub takes: Option<Seconds>,
}

/// The water in cooked food of a class.
#[must_use]
pub fn water(class: KeepClass) -> &'static WaterRow {
    match class {
        KeepClass::RiceCooked => &RICE,
        KeepClass::PulseCooked => &PULSE,
        KeepClass::GrainCooked => &GRAIN,
        KeepClass::PastaCooked => &PASTA,
        KeepClass::BreakfastPot => &PORRIDGE,
        KeepClass::VegetableCooked => &VEGETABLE,
        KeepClass::PoultryCooked | KeepClass::MeatCooked | KeepClass::FishCooked => &FLESH,
        KeepClass::Soup | KeepClass::SauceCooked => &LIQUID,
        _ => &OTHER,
    }
}

/// Whether food of a class can be stirred in its pot, so that the pot may stand in ice water; what cannot is spread.
#[must_use]
pub fn stirs(class: KeepClass) -> bool {
    matches!(
        class,
        KeepClass::Soup | KeepClass::SauceCooked | KeepClass::BreakfastPot
    )
}

/// Whether food of a class, cooked in water that is poured off, may be cooled in cold water: pulses, grains, pasta and
/// vegetables are, and stay what they are. Rice is not: it is as often cooked in what it takes up.
#[must_use]
pub fn rinses(class: KeepClass) -> bool {
    matches!(
        class,
        KeepClass::PulseCooked | KeepClass::GrainCooked | KeepClass::PastaCooked | KeepClass::VegetableCooked
    )
}

/// How much hot food a freezer with so much room takes for an hour.
#[must_use]
pub fn freezer_takes(room: Volume) -> Mass {
    Mass::from_mg(mul_div(room.ul(), FREEZER_TAKES_G_PER_L, 1000, Rounding::Down))
}

/// Hot food on its way into boxes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hot {
    class: KeepClass,
    properties: Properties,
    bulk: Density,
}

impl Hot {
    /// Food of a class that weighs so much per litre of box.
    #[must_use]
    pub fn of(class: KeepClass, bulk: Density) -> Self {
        let middle = Temperature::from_c(30);
        Self {
            class,
            properties: Composition::of_water(water(class).permille).properties(middle),
            bulk,
        }
    }

    /// How long its middle is likely to take down to 21.1 °C (70 °F) in boxes filled to a depth; `None` when it does
    /// not get there.
    #[must_use]
    pub fn through(&self, action: Action, depth: Length, cold: Cold) -> Option<Seconds> {
        self.down_to(WARM, action, (depth, cold))
    }

    /// The same down to any temperature.
    #[must_use]
    pub fn down_to(&self, to: Temperature, action: Action, (depth, cold): (Length, Cold)) -> Option<Seconds> {
        let after = |taken: Seconds, warm| {
            let rest = self.layer(depth, warm).time_to(&[last(cold)], to)?;
            Some(taken + rest)
        };
        match action {
            Action::OpenBoxes => {
                let counter = open(Place::Counter, ROOM, Some(OPEN_TIME));
                self.layer(depth, START).time_to(&[counter, last(cold)], to)
            }
            Action::Trays => after(TRAY_TIME, self.off_trays()),
            Action::FreezerFirst => {
                let hour = open(Place::Freezer, FREEZER, Some(FREEZER_TIME));
                self.layer(depth, START).time_to(&[hour, last(cold)], to)
            }
            Action::ColdWater => rinses(self.class).then(|| after(WATER_TIME, WARM))?,
            // A stirred pot comes out barely warm whatever its boxes are.
            Action::IceBath => stirs(self.class).then(|| after(BATH_TIME, WARM))?,
        }
    }

    /// The first stage of a profile that boxes of a depth are likely to miss.
    #[must_use]
    pub fn late(&self, profile: Profile, action: Action, boxes: (Length, Cold)) -> Option<Late> {
        let stages = stages(profile).into_iter();
        let mut all = stages.map(|(to, within)| Late {
            to,
            within,
            takes: self.down_to(to, action, boxes),
        });
        all.find(|stage| stage.takes.is_none_or(|takes| takes > stage.within))
    }

    /// The deepest boxes in whole millimetres, up to `most`, that are likely to keep every stage of a profile.
    #[must_use]
    pub fn deepest_in_time(
        &self,
        profile: Profile,
        action: Action,
        cold: Cold,
        most: Length,
    ) -> Option<Length> {
        deepest_mm(most, |depth| self.late(profile, action, (depth, cold)).is_none())
    }

    /// The deepest boxes in whole millimetres, up to `most`, from which the middle is likely to be through in a time.
    #[must_use]
    pub fn deepest(&self, action: Action, cold: Cold, within: Seconds, most: Length) -> Option<Length> {
        deepest_mm(most, |depth| {
            self.through(action, depth, cold)
                .is_some_and(|time| time <= within)
        })
    }

    /// How long boxes of a depth take to thaw through in the fridge.
    #[must_use]
    pub fn thaws(&self, depth: Length) -> Option<Seconds> {
        super::thaws_in(water(self.class).permille, self.bulk, depth, FRIDGE)
    }

    /// How long boxes of a depth take to freeze through.
    #[must_use]
    pub fn freezes(&self, depth: Length) -> Option<Seconds> {
        super::freezes_in(water(self.class).permille, self.bulk, depth, FREEZER)
    }

    /// The deepest boxes in whole millimetres, up to `most`, that thaw through in the fridge in a time.
    #[must_use]
    pub fn deepest_thawed(&self, within: Seconds, most: Length) -> Option<Length> {
        deepest_mm(most, |depth| self.thaws(depth).is_some_and(|time| time <= within))
    }

    /// How long a pot stands in ice water until it has 21.1 °C, from off the heat, by the slow end of the band.
    #[must_use]
    pub fn bath(&self, mass: Mass) -> Seconds {
        let ul = self.bulk.volume_of(mass, Rounding::Up).ul();
        let (_, per_metre) = round_pot(POT_WIDTH, Length::from_mm(1000));
        // Millilitres by the depth of a metre give the depth in micrometres.
        let depth = Length::from_um((ul * 1000 / per_metre.max(1)).max(1));
        let pot = Pot {
            mass,
            specific_heat_j: self.properties.specific_heat_j,
            area_cm2: round_pot(POT_WIDTH, depth).0,
            through_deci_w: surface(Container::StirredPot, Place::IceBath).side.low,
            start: OFF_HEAT,
            around: ICE_WATER,
        };
        pot.time_to(WARM).unwrap_or(Seconds::from_mins(30))
    }

    /// Ice for that, with cold water doing the first part: from 57.2 to 21.1 °C.
    #[must_use]
    pub fn ice(&self, mass: Mass) -> Mass {
        super::ice_for(mass, self.properties, (START, WARM))
    }

    /// The likely temperature of the middle at equal times from the start, in boxes of a depth.
    #[must_use]
    pub fn curve(
        &self,
        action: Action,
        (depth, cold): (Length, Cold),
        every: Seconds,
        count: usize,
    ) -> Vec<Temperature> {
        let on_counter = |time| open(Place::Counter, ROOM, Some(time));
        match action {
            Action::OpenBoxes => {
                let phases = [on_counter(OPEN_TIME), last(cold)];
                self.layer(depth, START).curve(&phases, every, count)
            }
            Action::Trays => {
                let steps = usize::try_from(TRAY_TIME.secs() / every.secs().max(1))
                    .unwrap_or(0)
                    .min(count);
                let mut curve = self
                    .layer(TRAY_LAYER, START)
                    .curve(&[on_counter(TRAY_TIME)], every, steps);
                let rest = self.layer(depth, self.off_trays());
                curve.extend(rest.curve(&[last(cold)], every, count - steps));
                curve
            }
            Action::FreezerFirst => {
                let phases = [open(Place::Freezer, FREEZER, Some(FREEZER_TIME)), last(cold)];
                self.layer(depth, START).curve(&phases, every, count)
            }
            Action::IceBath | Action::ColdWater => {
                let rest = self.layer(depth, WARM);
                rest.curve(&[last(cold)], every, count)
            }
        }
    }

    fn off_trays(&self) -> Temperature {
        let counter = open(Place::Counter, ROOM, None);
        let after = self.layer(TRAY_LAYER, START).curve(&[counter], TRAY_TIME, 1);
        after.first().copied().unwrap_or(START)
    }

    fn layer(&self, depth: Length, start: Temperature) -> Layer {
        Layer {
            material: self.properties.loose(self.bulk),
            depth,
            start,
        }
    }
}

/// Open food in a place for a time.
fn open(place: Place, around: Temperature, lasting: Option<Seconds>) -> Phase {
    let surface = surface(Container::OpenTray, place);
    let face = |deci_w| Face { deci_w, around };
    Phase {
        above: face(surface.above.likely),
        below: face(surface.below.likely),
        lasting,
    }
}

fn last(cold: Cold) -> Phase {
    match cold {
        Cold::Fridge => open(Place::Fridge, FRIDGE, None),
        Cold::Freezer => open(Place::Freezer, FREEZER, None),
    }
}

/// The greatest depth in whole millimetres that passes; what passes at a depth passes when shallower.
fn deepest_mm(most: Length, passes: impl Fn(Length) -> bool) -> Option<Length> {
    let (mut low, mut high) = (5, most.mm(Rounding::Down));
    if high >= low && passes(Length::from_mm(high)) {
        return Some(Length::from_mm(high));
    }
    if high <= low || !passes(Length::from_mm(low)) {
        return None;
    }
    while high - low > 1 {
        let middle = low + (high - low) / 2;
        if passes(Length::from_mm(middle)) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(Length::from_mm(low))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::keeping::classes;

    fn rice() -> Hot {
        Hot::of(KeepClass::RiceCooked, Density::from_g_per_l(668))
    }

    #[test]
    fn trays_allow_deeper_boxes_than_open_boxes_and_the_freezer_deeper_still() {
        let most = Length::from_mm(60);
        let deepest = |action, cold| rice().deepest(action, cold, Seconds::from_hours(2), most);
        assert!(deepest(Action::OpenBoxes, Cold::Fridge) < deepest(Action::Trays, Cold::Fridge));
        assert!(deepest(Action::Trays, Cold::Fridge) < deepest(Action::Trays, Cold::Freezer));
    }

    #[test]
    fn an_hour_in_the_freezer_allows_deeper_boxes_than_the_counter_and_leaves_nothing_frozen() {
        let most = Length::from_mm(60);
        let hours = Seconds::from_hours(2);
        let deepest = |action| {
            rice()
                .deepest(action, Cold::Fridge, hours, most)
                .expect("a thin layer is")
        };
        let depth = deepest(Action::FreezerFirst);
        assert!(depth > deepest(Action::OpenBoxes));
        // Shallow boxes are the first to freeze.
        let boxes = (Length::from_mm(20), Cold::Fridge);
        let coldest = rice().curve(Action::FreezerFirst, boxes, Seconds::from_mins(5), 24);
        assert!(
            coldest.iter().all(|warm| *warm > Temperature::from_c(0)),
            "{coldest:?}"
        );
    }

    #[test]
    fn a_home_is_asked_for_one_stage_and_the_food_service_for_two() {
        for profile in Profile::ALL {
            let asked = stages(profile);
            assert_eq!(asked[0].1, within(profile));
            assert_eq!(asked.len(), if profile == Profile::UsFoodService { 2 } else { 1 });
        }
        // Soup comes out of its bath barely warm; from there deep boxes take long.
        let soup = Hot::of(KeepClass::Soup, Density::from_g_per_l(1000));
        let late = |profile| soup.late(profile, Action::IceBath, (Length::from_mm(50), Cold::Fridge));
        assert_eq!(late(Profile::UsHome), None);
        let second =
            late(Profile::UsFoodService).expect("a fridge of 4 °C takes hours over the last degrees");
        assert_eq!(
            (second.to, second.within),
            (Temperature::from_c(5), Seconds::from_hours(6))
        );
        let most = Length::from_mm(50);
        let deepest = |profile| soup.deepest_in_time(profile, Action::IceBath, Cold::Fridge, most);
        assert!(deepest(Profile::UsFoodService).is_some());
        assert!(deepest(Profile::UsFoodService) < deepest(Profile::UsHome));
    }

    #[test]
    fn only_what_is_drained_lies_in_water_and_a_freezer_takes_so_much() {
        let depth = Length::from_mm(50);
        assert_eq!(rice().through(Action::ColdWater, depth, Cold::Fridge), None);
        let pulse = Hot::of(KeepClass::PulseCooked, Density::from_g_per_l(700));
        assert!(pulse.through(Action::ColdWater, depth, Cold::Fridge).is_some());
        assert_eq!(freezer_takes(Volume::from_ml(10_000)), Mass::from_g(1440));
        assert_eq!(freezer_takes(Volume::ZERO), Mass::ZERO);
    }

    #[test]
    fn the_deepest_that_passes_passes_and_a_millimetre_more_does_not() {
        let within = Seconds::from_hours(2);
        for class in classes() {
            let hot = Hot::of(*class, Density::from_g_per_l(700));
            for action in [Action::OpenBoxes, Action::Trays, Action::FreezerFirst] {
                let depth = hot
                    .deepest(action, Cold::Fridge, within, Length::from_mm(80))
                    .expect("a thin layer is through in two hours");
                let time = |depth| {
                    hot.through(action, depth, Cold::Fridge)
                        .expect("a fridge is cold")
                };
                assert!(time(depth) <= within, "{class:?} {action:?}");
                let deeper = Length::from_um(depth.um() + 1000);
                assert!(time(deeper) > within, "{class:?} {action:?}");
            }
        }
    }

    #[test]
    fn only_what_can_be_stirred_goes_into_a_bath() {
        let depth = Length::from_mm(50);
        assert_eq!(rice().through(Action::IceBath, depth, Cold::Fridge), None);
        let soup = Hot::of(KeepClass::Soup, Density::from_g_per_l(1000));
        assert!(soup.through(Action::IceBath, depth, Cold::Fridge).is_some());
        assert!(soup.bath(Mass::from_g(1000)) < soup.bath(Mass::from_g(5000)));
        assert!(soup.bath(Mass::from_g(3000)) < Seconds::from_mins(30));
    }

    #[test]
    fn curves_come_down_and_agree_with_the_times() {
        for action in [Action::OpenBoxes, Action::Trays, Action::FreezerFirst] {
            let boxes = (Length::from_mm(35), Cold::Fridge);
            let curve = rice().curve(action, boxes, Seconds::from_mins(10), 36);
            assert_eq!(curve.len(), 36);
            let passed = curve
                .iter()
                .position(|warm| *warm <= WARM)
                .expect("it gets there");
            let time = rice().through(action, boxes.0, boxes.1).expect("it gets there");
            let minutes = i64::try_from(passed + 1).expect("few") * 10;
            assert!(
                (minutes - time.mins(Rounding::Up)).abs() <= 11,
                "{action:?} {minutes} {time:?}"
            );
        }
    }

    #[test]
    fn every_row_of_water_has_a_source() {
        for class in classes() {
            let row = water(*class);
            assert!((500..1000).contains(&row.permille) && !row.source.is_empty());
        }
    }
}
