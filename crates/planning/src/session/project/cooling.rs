//! Cooling and boxing of a batch as tasks: open boxes that steam off, trays that are held, a bath that is stirred.

use larderwright_model::{Batch, CoolingMethod, Lot, Place};
use larderwright_quantity::Rounding;
use larderwright_safety::cooling::actions::{Hot, TRAY_LAYER};
use larderwright_safety::keeping;
use larderwright_solve::project::{Hold, Mode, ProjectError};

use super::{Builder, Kind};
use crate::keeping::class_of;
use crate::packing;
use crate::practice::{COOL_FREEZER, COOL_SHALLOW, COOL_TRAYS, COOL_WATER, PACK_OUT};
use crate::session::text;

/// Nobody stirs longer; what is left the fridge does.
const BATH_MIN: i64 = 20;

impl Builder<'_> {
    /// Cooling and boxing of a batch; returns the boxing task.
    pub(super) fn add_pack_out(&mut self, batch: &Batch, lots: &[Lot]) -> Result<usize, ProjectError> {
        let component = &self.snapshot.components[&batch.component];
        let own: Vec<&Lot> = lots.iter().filter(|lot| lot.origin == batch.id).collect();
        let boxes: u32 = own
            .iter()
            .flat_map(|lot| &lot.boxes)
            .map(|(_, count)| count)
            .sum();
        let places: Vec<Place> = own.iter().map(|lot| lot.place).collect();
        let minutes = PACK_OUT.minutes(i64::from(boxes));
        let (title, words) = text::pack_out(&component.name, &places);
        let pack = self.add_fixed(Kind::PackOut, (&title, &words), minutes, true)?;
        self.tasks[pack].batch = Some(batch.id.clone());
        let sinks = self.sinks(batch);
        let profile = self.snapshot.household.profile;
        let within = keeping::rule(profile, class_of(component))
            .chill_within
            .mins(Rounding::Down);
        for sink in &sinks {
            self.lag(*sink, pack, 0, Some((within - minutes).max(0)))?;
            self.inner.hold(Hold {
                from: self.ixs[*sink],
                to: self.ixs[pack],
                weight: 1,
            })?;
        }
        let method = own
            .first()
            .map_or_else(|| packing::cooling(self.snapshot, component), |lot| lot.cooling);
        if method != CoolingMethod::None {
            let cool = self.add_cool(batch, method, (within - minutes).max(1))?;
            for sink in &sinks {
                self.lag(*sink, cool, 0, None)?;
            }
            self.lag(cool, pack, 0, None)?;
        }
        Ok(pack)
    }

    fn add_cool(&mut self, batch: &Batch, method: CoolingMethod, most: i64) -> Result<usize, ProjectError> {
        let component = &self.snapshot.components[&batch.component];
        let (title, mut words) = text::cool(method, &component.name);
        let hot = Hot::of(class_of(component), component.bulk.value);
        let length = match method {
            CoolingMethod::ColdWater => COOL_WATER.minutes(0),
            CoolingMethod::Trays => COOL_TRAYS.minutes(0),
            CoolingMethod::FreezerFirst => COOL_FREEZER.minutes(0),
            CoolingMethod::IceBath => {
                words = format!("{words} {}", text::ice(hot.ice(batch.yields[1]).g(Rounding::Up)));
                hot.bath(batch.yields[1]).mins(Rounding::Up).min(BATH_MIN)
            }
            CoolingMethod::None | CoolingMethod::Shallow => COOL_SHALLOW.minutes(0),
        };
        let length = length.min(most);
        let stirred = method == CoolingMethod::IceBath;
        let cool = if method == CoolingMethod::Trays {
            let trays = packing::trays_for(
                &self.snapshot.household.kitchen,
                component,
                batch.yields[1],
                TRAY_LAYER,
            );
            // They are not there for anything else until the food is in its boxes.
            let mode = Mode::lasting(length).using(self.rooms.trays.resource, trays.unwrap_or(1));
            self.add_set(
                Kind::Cool,
                (&title, &words),
                (length, vec![mode], vec![Vec::new()]),
            )?
        } else {
            self.add_fixed(Kind::Cool, (&title, &words), length, stirred)?
        };
        self.tasks[cool].batch = Some(batch.id.clone());
        Ok(cool)
    }
}
