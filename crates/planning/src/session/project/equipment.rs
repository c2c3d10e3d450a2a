//! Equipment in a session's project: pots and boards a load may take, one oven temperature at a time, clean boards.

use std::collections::BTreeMap;

use larderwright_model::{BatchId, Equipment, Hygiene};
use larderwright_quantity::{Temperature, Volume};
use larderwright_solve::project::{Changeover, ProjectError, ResourceIx};

use super::{Builder, Load};
use crate::practice::{OVEN_FALL, OVEN_RISE};

impl Builder<'_> {
    /// A batch stays in one size of pot from step to step; the neediest choose first, each the size least taken.
    pub(super) fn choose_pots(&self, loads: &mut [Load<'_>]) {
        let mut wanted: BTreeMap<(BatchId, i64), (Volume, i64)> = BTreeMap::new();
        for load in loads.iter() {
            if let Some(need) = load.plan.pot {
                let entry = wanted
                    .entry((load.batch.id.clone(), load.number))
                    .or_insert((Volume::ZERO, 0));
                *entry = (entry.0.max(need), entry.1 + self.minutes(load).likely);
            }
        }
        let mut order: Vec<((BatchId, i64), (Volume, i64))> = wanted.into_iter().collect();
        order.sort_by_key(|(_, need)| std::cmp::Reverse(*need));
        let mut taken = vec![0i64; self.rooms.pots.len()];
        for ((batch, number), (need, minutes)) in order {
            let fitting = (0..taken.len()).filter(|ix| self.rooms.pots[*ix].0 >= need);
            let Some(pot) =
                fitting.min_by_key(|ix| (taken[*ix] / i64::from(self.rooms.pots[*ix].1.count), *ix))
            else {
                continue;
            };
            taken[pot] += minutes;
            for load in loads
                .iter_mut()
                .filter(|load| load.batch.id == batch && load.number == number && load.plan.pot.is_some())
            {
                load.pot = Some(pot);
            }
        }
    }

    /// Alternatives of what a load holds: pots by size and boards; the rest is the same in each.
    pub(super) fn uses(&self, load: &Load<'_>) -> Vec<Vec<(ResourceIx, i64)>> {
        let mut alternatives: Vec<Vec<(ResourceIx, i64)>> = vec![Vec::new()];
        for equipment in &load.step.uses {
            let choice: Vec<(ResourceIx, i64)> = match equipment {
                Equipment::Burner => vec![(self.rooms.burners.resource, 1)],
                Equipment::Rack | Equipment::Oven => {
                    vec![(self.rooms.racks.resource, load.plan.trays.max(1))]
                }
                Equipment::Tray => vec![(self.rooms.trays.resource, load.plan.trays.max(1))],
                Equipment::Microwave => vec![(self.rooms.microwaves.resource, 1)],
                Equipment::Blender => vec![(self.rooms.blender.resource, 1)],
                Equipment::PressureCooker => vec![(self.rooms.pressure_cooker.resource, 1)],
                Equipment::Board => {
                    let raw = self
                        .rooms
                        .raw_board
                        .as_ref()
                        .filter(|_| load.step.hygiene == Hygiene::RawMeat);
                    vec![(raw.unwrap_or(&self.rooms.boards).resource, 1)]
                }
                Equipment::Pot => load
                    .pot
                    .map(|pot| (self.rooms.pots[pot].1.resource, 1))
                    .into_iter()
                    .collect(),
            };
            alternatives = alternatives
                .iter()
                .flat_map(|held| {
                    choice
                        .iter()
                        .map(move |one| held.iter().copied().chain([*one]).collect())
                })
                .collect();
        }
        alternatives
    }

    /// Dishes at different temperatures are never in the oven together.
    pub(super) fn keep_oven_temperatures(
        &mut self,
        tasks: &[(usize, Temperature)],
    ) -> Result<(), ProjectError> {
        for (n, (a, hot_a)) in tasks.iter().enumerate() {
            for (b, hot_b) in &tasks[n + 1..] {
                let degrees = (hot_b.deci_c() - hot_a.deci_c()) / 10;
                if degrees != 0 {
                    self.exclude((*a, *b), (turn(degrees), turn(-degrees)))?;
                }
            }
        }
        Ok(())
    }

    fn exclude(&mut self, (a, b): (usize, usize), (a_to_b, b_to_a): (i64, i64)) -> Result<(), ProjectError> {
        for a_mode in 0..self.tasks[a].cooks.len() {
            for b_mode in 0..self.tasks[b].cooks.len() {
                let change = Changeover {
                    a: self.ixs[a],
                    a_mode,
                    b: self.ixs[b],
                    b_mode,
                    a_to_b,
                    b_to_a,
                };
                self.inner.changeover(change)?;
            }
        }
        Ok(())
    }
}

/// Minutes to turn the oven up or down by whole degrees.
fn turn(degrees: i64) -> i64 {
    let practice = if degrees > 0 { OVEN_RISE } else { OVEN_FALL };
    practice.minutes(degrees.abs())
}
