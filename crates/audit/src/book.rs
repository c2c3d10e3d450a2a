//! Snapshot and plan, opened side by side: every name looked up once, nothing judged.

use std::collections::BTreeMap;

use jiff::civil::DateTime;
use larderwright_model::{
    Batch, BatchId, Component, Cover, Eater, Food, FoodId, Lot, LotId, Meal, Plate, Portion, PortionSource,
    Snapshot, Step, StoredLot, Way, WeekPlan,
};
use larderwright_quantity::{Mass, Seconds};

/// The two documents and their index.
pub(crate) struct Book<'a> {
    pub(crate) snapshot: &'a Snapshot,
    pub(crate) plan: &'a WeekPlan,
    batches: BTreeMap<&'a BatchId, &'a Batch>,
    lots: BTreeMap<&'a LotId, &'a Lot>,
}

impl<'a> Book<'a> {
    pub(crate) fn open(snapshot: &'a Snapshot, plan: &'a WeekPlan) -> Self {
        Self {
            snapshot,
            plan,
            batches: plan.batches.iter().map(|batch| (&batch.id, batch)).collect(),
            lots: plan.lots.iter().map(|lot| (&lot.id, lot)).collect(),
        }
    }

    pub(crate) fn batch(&self, id: &BatchId) -> Option<&'a Batch> {
        self.batches.get(id).copied()
    }

    pub(crate) fn lot(&self, id: &LotId) -> Option<&'a Lot> {
        self.lots.get(id).copied()
    }

    /// A lot that was in the house before.
    pub(crate) fn stored(&self, id: &LotId) -> Option<&'a StoredLot> {
        self.snapshot.lot(id)
    }

    /// The component that a portion's lot holds, whether cooked this week or before.
    pub(crate) fn component_in(&self, id: &LotId) -> Option<&'a Component> {
        match (self.lot(id), self.stored(id)) {
            (Some(lot), _) => self.lot_component(lot),
            (None, Some(stored)) => self.snapshot.components.get(&stored.component),
            (None, None) => None,
        }
    }

    pub(crate) fn food(&self, id: &FoodId) -> Option<&'a Food> {
        self.snapshot.foods.get(id)
    }

    pub(crate) fn component(&self, batch: &Batch) -> Option<&'a Component> {
        self.snapshot.components.get(&batch.component)
    }

    pub(crate) fn way(&self, batch: &Batch) -> Option<&'a Way> {
        self.component(batch)?.way(&batch.way)
    }

    pub(crate) fn step(&self, batch: &BatchId, step: &larderwright_model::StepId) -> Option<&'a Step> {
        let way = self.way(self.batch(batch)?)?;
        way.steps.iter().find(|own| own.id == *step)
    }

    /// The component in a lot.
    pub(crate) fn lot_component(&self, lot: &Lot) -> Option<&'a Component> {
        self.component(self.batch(&lot.origin)?)
    }

    pub(crate) fn meal(&self, plate: &Plate) -> Option<&'a Meal> {
        self.snapshot.meals.get(&plate.meal)
    }

    /// The eater of the household behind a cover; none for guests.
    pub(crate) fn eater(&self, cover: &Cover) -> Option<&'a Eater> {
        match cover {
            Cover::Eater(id) => self.snapshot.household.eater(id),
            Cover::Guest(_) => None,
        }
    }

    /// Every portion with its plate.
    pub(crate) fn portions(&self) -> impl Iterator<Item = (&'a Plate, &'a Portion)> + use<'a> {
        self.plan
            .plates
            .iter()
            .flat_map(|plate| plate.portions.iter().map(move |portion| (plate, portion)))
    }

    /// The portions drawn from a lot.
    pub(crate) fn portions_of(
        &self,
        lot: &'a LotId,
    ) -> impl Iterator<Item = (&'a Plate, &'a Portion)> + use<'a> {
        self.portions()
            .filter(move |(_, portion)| matches!(&portion.source, PortionSource::Lot(id) if id == lot))
    }

    /// What plates draw from a lot.
    pub(crate) fn drawn(&self, lot: &'a LotId) -> Mass {
        self.portions_of(lot).map(|(_, portion)| portion.mass).sum()
    }

    /// The foods in a batch, from what goes in and from the recipe.
    pub(crate) fn batch_foods(&self, batch: &Batch) -> Vec<&'a Food> {
        let written = self.way(batch).into_iter().flat_map(|way| &way.inputs);
        let mut ids: Vec<&FoodId> = written.map(|input| &input.food).collect();
        ids.extend(batch.inputs.iter().map(|input| &input.food));
        ids.sort_unstable();
        ids.dedup();
        ids.into_iter().filter_map(|id| self.food(id)).collect()
    }

    /// The foods in a portion.
    pub(crate) fn portion_foods(&self, portion: &Portion) -> Vec<&'a Food> {
        match &portion.source {
            PortionSource::Food(id) => self.food(id).into_iter().collect(),
            PortionSource::Lot(id) => {
                let batch = self.lot(id).and_then(|lot| self.batch(&lot.origin));
                let before = self.stored(id).into_iter().flat_map(|lot| &lot.foods);
                batch.map_or_else(
                    || before.filter_map(|id| self.food(id)).collect(),
                    |batch| self.batch_foods(batch),
                )
            }
        }
    }
}

/// From one time to another; negative when the second comes first.
pub(crate) fn between(from: DateTime, to: DateTime) -> Seconds {
    Seconds::from_secs(to.duration_since(from).as_secs())
}

/// A time as findings show it.
pub(crate) fn clock(time: DateTime) -> String {
    time.strftime("%Y-%m-%d %H:%M").to_string()
}

/// A duration as findings show it: whole minutes, with seconds where there are any.
pub(crate) fn span(time: Seconds) -> String {
    let (minutes, rest) = (time.secs() / 60, time.secs() % 60);
    if rest == 0 {
        format!("{minutes} min")
    } else {
        format!("{minutes} min {rest} s")
    }
}
