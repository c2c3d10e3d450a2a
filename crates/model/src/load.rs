//! Loads: how a step of a batch is split over pots, trays and racks that exist.

use larderwright_quantity::{Mass, Rounding, Seconds, Volume, mul_div};

use crate::component::{Equipment, Step};
use crate::kitchen::Kitchen;

/// More loads than this in one step are no way to cook.
const LOADS_MAX: i64 = 8;

/// How one step of a batch is split.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LoadPlan {
    /// How often the step is done.
    pub loads: i64,
    /// Driver mass in each load, rounded up.
    pub x: Mass,
    /// Trays in each load; zero when it uses none.
    pub trays: i64,
    /// Pot volume each load needs, when it uses a pot.
    pub pot: Option<Volume>,
}

impl Step {
    /// Splits the step for a batch of `x` in this kitchen.
    ///
    /// `None` when no number of loads makes it fit: no pot is large enough, or there is no tray or rack.
    #[must_use]
    pub fn load_plan(&self, x: Mass, kitchen: &Kitchen) -> Option<LoadPlan> {
        let by_mass = self.load.map_or(1, |load| x.div_ceil_by(load).max(1));
        (by_mass..=LOADS_MAX).find_map(|loads| self.fits(x, loads, kitchen))
    }

    fn fits(&self, x: Mass, loads: i64, kitchen: &Kitchen) -> Option<LoadPlan> {
        let each = x.scale(1, loads, Rounding::Up);
        let pot = self.uses.contains(&Equipment::Pot).then(|| self.pot_volume(each));
        if pot.is_some_and(|need| kitchen.largest_pot().is_none_or(|largest| largest < need)) {
            return None;
        }
        let trays = if self.uses.contains(&Equipment::Tray) {
            self.trays(each, kitchen)?
        } else {
            0
        };
        if self.uses.contains(&Equipment::Rack) {
            let racks = i64::from(kitchen.oven?.racks);
            if trays.max(1) > racks {
                return None;
            }
        }
        Some(LoadPlan {
            loads,
            x: each,
            trays,
            pot,
        })
    }

    /// The pot volume needed for a driver mass.
    #[must_use]
    pub fn pot_volume(&self, x: Mass) -> Volume {
        let slope = mul_div(self.pot_per_kg.ul(), x.mg(), 1_000_000, Rounding::Up);
        Volume::from_ul(self.pot_fixed.ul() + slope)
    }

    fn trays(&self, x: Mass, kitchen: &Kitchen) -> Option<i64> {
        let smallest = kitchen
            .trays
            .iter()
            .filter(|tray| tray.count > 0)
            .min_by_key(|tray| tray.area_cm2)?;
        let count = match self.tray {
            Some(load) => x.div_ceil_by(smallest.scaled_load(load)).max(1),
            None => 1,
        };
        (count <= i64::from(kitchen.tray_count())).then_some(count)
    }

    /// Time to bring the step's water to the boil before its law starts; zero without `boil`.
    ///
    /// Heat needed is `m * 4.18 kJ/(kg K) * (boiling point - 15 °C)`; the kitchen's power counts as what
    /// reaches the pot. Boiling falls by 1 °C per 300 m, a rounding of the standard atmosphere.
    #[must_use]
    pub fn heat_up(&self, x: Mass, kitchen: &Kitchen, altitude_m: i64) -> Seconds {
        let Some(boil) = self.boil else {
            return Seconds::from_secs(0);
        };
        let water = boil.fixed.mg() + mul_div(boil.per_kg.mg(), x.mg(), 1_000_000, Rounding::Up);
        let rise = 85 - altitude_m / 300;
        let millijoules_per_kelvin = mul_div(water, 4180, 1000, Rounding::Up);
        Seconds::from_secs(mul_div(
            millijoules_per_kelvin,
            rise,
            1000 * kitchen.burner_watts.max(1),
            Rounding::Up,
        ))
    }

    /// Likely duration of one load: heat-up, the law, and the oven's departure from the best temperature.
    #[must_use]
    pub fn likely_length(&self, plan: &LoadPlan, kitchen: &Kitchen, altitude_m: i64) -> Seconds {
        self.heat_up(plan.x, kitchen, altitude_m) + self.law.likely(plan.x)
    }
}
