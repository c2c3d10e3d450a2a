//! Clean surfaces: what lies on boards and in the blender in which order, and where they are washed in between.
//!
//! Every use of a surface leaves something: nothing that matters, allergens that somebody avoids severely, raw meat. Uses that
//! leave the same are a phase; phases follow each other from nothing to raw meat, and where the next would meet what an
//! earlier one left, a clean-down comes between: somebody's hands, and the surfaces of that kind.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_model::{Allergen, BatchId, ComponentId, Equipment, Hygiene, Skill, Snapshot, Step, StepId};
use larderwright_solve::project::{Mode, ProjectError};

use super::{Builder, Kind, Load, steps};
use crate::facts;
use crate::practice::CLEAN_DOWN;
use crate::session::{rooms::Room, text};

/// What a use leaves: a bit for each severe allergen at the table, and these.
const RAW: u64 = 1 << 63;
/// Something that is done late, but asks for no washing: an allergen that nobody avoids severely.
const LATE: u64 = 1 << 62;

/// A task on a surface, with what it leaves there.
#[derive(Clone, Copy)]
pub(super) struct Use {
    task: usize,
    leaves: u64,
    /// It follows raw meat of its own batch.
    after_raw: Option<AfterRaw>,
}

/// What follows raw meat of its own batch.
#[derive(Clone, Copy, PartialEq, Eq)]
enum AfterRaw {
    /// Plain food that is cooked through with the meat: it may lie where the meat lay.
    CookedWithIt,
    /// Anything else waits for a wash.
    Washed,
}

/// The uses of each kind of surface.
#[derive(Default)]
pub(super) struct Uses {
    boards: Vec<Use>,
    raw_board: Vec<Use>,
    blender: Vec<Use>,
}

/// The severe allergens in each component, as bits.
pub(super) fn severe(snapshot: &Snapshot) -> BTreeMap<ComponentId, u64> {
    let held = facts::severe_allergens(snapshot);
    let all: BTreeSet<Allergen> = held.values().flatten().copied().collect();
    let number: BTreeMap<Allergen, u32> = all.into_iter().zip(0..).collect();
    let bits = |own: &BTreeSet<Allergen>| own.iter().fold(0, |bits, allergen| bits | 1 << number[allergen]);
    held.iter().map(|(id, own)| (id.clone(), bits(own))).collect()
}

impl Builder<'_> {
    /// Notes which surfaces a load uses.
    pub(super) fn note_use(&self, uses: &mut Uses, (load, task): (&Load<'_>, usize)) {
        let raw = load.step.hygiene == Hygiene::RawMeat;
        let late = load.step.hygiene == Hygiene::Allergen;
        let leaves = load.severe | if late { LATE } else { 0 };
        let on = |equipment| load.step.uses.contains(&equipment);
        if on(Equipment::Board) {
            let apart = self.rooms.raw_board.is_some();
            let own = if raw && apart {
                &mut uses.raw_board
            } else {
                &mut uses.boards
            };
            let after_raw = self.after_raw(load).filter(|_| !raw && !apart);
            let meat = (raw && !apart) || after_raw == Some(AfterRaw::CookedWithIt);
            own.push(Use {
                task,
                leaves: leaves | if meat { RAW } else { 0 },
                after_raw,
            });
        }
        if on(Equipment::Blender) {
            uses.blender.push(Use {
                task,
                leaves,
                after_raw: None,
            });
        }
    }

    /// What a step is that comes after one of its batch that leaves raw meat on a board.
    fn after_raw(&self, load: &Load<'_>) -> Option<AfterRaw> {
        let own: Vec<&Step> = steps(self.snapshot, load.batch).collect();
        let this = &load.step.id;
        let raw = |step: &&&Step| step.hygiene == Hygiene::RawMeat && step.uses.contains(&Equipment::Board);
        let after = own.iter().filter(raw).any(|step| follows(&own, &step.id, this));
        let core = |step: &&Step| step.safety.as_ref().is_some_and(|safety| safety.core.is_some());
        let cooked = own.iter().any(|step| core(step) && follows(&own, this, &step.id));
        let plain = load.step.hygiene == Hygiene::Plain;
        after.then_some(if plain && cooked {
            AfterRaw::CookedWithIt
        } else {
            AfterRaw::Washed
        })
    }

    /// Puts the uses of every surface in phases, with the washes between them.
    pub(super) fn keep_clean(&mut self, uses: &Uses) -> Result<(), ProjectError> {
        self.keep_surface_clean(&self.rooms.boards.clone(), &uses.boards)?;
        if let Some(raw_board) = self.rooms.raw_board.clone() {
            self.keep_surface_clean(&raw_board, &uses.raw_board)?;
        }
        self.keep_surface_clean(&self.rooms.blender.clone(), &uses.blender)
    }

    fn keep_surface_clean(&mut self, surface: &Room, uses: &[Use]) -> Result<(), ProjectError> {
        let mut phases: BTreeMap<(bool, u32, u64), Vec<usize>> = BTreeMap::new();
        let washed = |on: &&Use| on.after_raw == Some(AfterRaw::Washed);
        for on in uses.iter().filter(|on| !washed(on)) {
            let hard = on.leaves & !LATE;
            let key = (hard & RAW != 0, (hard & !RAW).count_ones(), on.leaves);
            phases.entry(key).or_default().push(on.task);
        }
        let mut earlier: Vec<usize> = Vec::new();
        let mut left = 0u64;
        for ((_, _, leaves), tasks) in phases {
            let hard = leaves & !LATE;
            if left & !hard == 0 {
                self.in_order(&earlier, &tasks)?;
            } else {
                self.wash(surface, &earlier, &tasks)?;
            }
            let with_meat =
                |on: &Use| on.after_raw == Some(AfterRaw::CookedWithIt) && tasks.contains(&on.task);
            if uses.iter().any(with_meat) {
                self.one_meat_after_another(&tasks)?;
            }
            left = hard;
            earlier.extend(tasks);
        }
        let last: Vec<usize> = uses.iter().filter(washed).map(|on| on.task).collect();
        if last.is_empty() {
            return Ok(());
        }
        self.wash(surface, &earlier, &last)
    }

    /// What is cooked with one meat does not lie where another lay: batch by batch.
    fn one_meat_after_another(&mut self, tasks: &[usize]) -> Result<(), ProjectError> {
        let mut by_batch: BTreeMap<Option<BatchId>, Vec<usize>> = BTreeMap::new();
        for task in tasks {
            by_batch
                .entry(self.tasks[*task].batch.clone())
                .or_default()
                .push(*task);
        }
        let groups: Vec<Vec<usize>> = by_batch.into_values().collect();
        for pair in groups.windows(2) {
            self.in_order(&pair[0], &pair[1])?;
        }
        Ok(())
    }

    /// Every task before every other one; work of one batch keeps the order of its recipe.
    fn in_order(&mut self, before: &[usize], after: &[usize]) -> Result<(), ProjectError> {
        for earlier in before {
            for later in after {
                if !self.recipe_says(*later, *earlier) {
                    self.lag(*earlier, *later, 0, None)?;
                }
            }
        }
        Ok(())
    }

    /// Whether a task comes before another by the recipe of a batch that both serve.
    fn recipe_says(&self, earlier: usize, later: usize) -> bool {
        let (one, other) = (&self.tasks[earlier], &self.tasks[later]);
        let (Some(from), Some(to)) = (&one.step, &other.step) else {
            return false;
        };
        let mut shared = one.batches().filter(|batch| other.serves(batch));
        shared.any(|id| {
            let way = self.placed_steps(id);
            follows(&way, from, to)
        })
    }

    fn placed_steps(&self, id: &BatchId) -> Vec<&Step> {
        let batch = self.batches.iter().find(|batch| batch.id == *id);
        batch.map_or_else(Vec::new, |batch| steps(self.snapshot, batch).collect())
    }

    fn wash(&mut self, surface: &Room, before: &[usize], after: &[usize]) -> Result<(), ProjectError> {
        let minutes = CLEAN_DOWN.minutes(i64::from(surface.count) - 1);
        let cooks = self.hand_modes(1, Skill::Any);
        let modes = cooks
            .iter()
            .map(|cooks| {
                let all = Mode::lasting(minutes).using(surface.resource, i64::from(surface.count));
                self.with_hands(all, cooks)
            })
            .collect();
        let task = self.add_set(Kind::CleanDown, text::CLEAN_DOWN, (minutes, modes, cooks))?;
        self.washes += 1;
        // Washes have nothing else to be told apart by when the rest of a run is put in order again.
        self.tasks[task].load = self.washes;
        for earlier in before {
            self.lag(*earlier, task, 0, None)?;
        }
        for later in after {
            self.lag(task, *later, 0, None)?;
        }
        Ok(())
    }
}

/// Whether a step comes after another in the order of the recipe.
fn follows(steps: &[&Step], first: &StepId, then: &StepId) -> bool {
    let mut reached = BTreeSet::from([first]);
    for _ in steps {
        for step in steps {
            if step.after.iter().any(|after| reached.contains(&after.step)) {
                reached.insert(&step.id);
            }
        }
    }
    first != then && reached.contains(then)
}
