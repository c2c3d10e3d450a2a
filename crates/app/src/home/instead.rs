//! Something else tonight: other plates from what is thawed or in the fridge, within the minutes that are left.

use std::collections::BTreeSet;

use larderwright_model::{MealId, Place, SittingId, Snapshot, WeekPlan};
use larderwright_planning::Threads;
use larderwright_quantity::Rounding;
use larderwright_store::Store;

use super::{Home, HomeError, Now};
use crate::Options;
use crate::changes::Changes;
use crate::planned::plan;

/// Another meal for a sitting.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Instead {
    /// Which meal.
    pub meal: MealId,
    /// Its name.
    pub name: String,
    /// Minutes before the table.
    pub minutes: i64,
    /// The sitting alone, as it was planned from.
    pub snapshot: Snapshot,
    /// Its plan.
    pub plan: WeekPlan,
}

/// Moves of the search for one sitting: there are few meals to choose from.
const WORK: u64 = 400;

impl<S: Store> Home<S> {
    /// Other meals for a sitting, from lots that are thawed or were never frozen and from what is at home; nothing is
    /// bought and nothing is cooked ahead. Best first, at most `count`. Each was judged by the audit.
    ///
    /// # Errors
    /// When the store fails, or the household's file cannot be read.
    pub async fn instead(
        &self,
        (monday, changes): (jiff::civil::Date, &Changes),
        (sitting, unwanted): (&SittingId, &MealId),
        count: usize,
        now: &Now,
    ) -> Result<Vec<Instead>, HomeError> {
        let options = Options {
            menu_work: WORK,
            session_work: WORK,
            ..Options::default()
        };
        let mut snapshot = self.snapshot(monday, changes, options, now).await?;
        snapshot.sittings.retain(|other| other.id == *sitting);
        snapshot.sessions.clear();
        snapshot.shops.clear();
        snapshot.lots.retain(|lot| lot.place != Place::Freezer);
        snapshot.household.wishes.fixed.clear();
        // What is always at home is bought on the next trip, not tonight.
        snapshot.household.pars.clear();
        snapshot.household.standing.clear();
        let mut off: BTreeSet<MealId> = snapshot.household.wishes.off_meals.clone();
        off.insert(unwanted.clone());
        let mut found = Vec::new();
        while found.len() < count && !snapshot.sittings.is_empty() {
            snapshot.household.wishes.off_meals.clone_from(&off);
            let Ok(planned) = plan(&snapshot, Threads::One) else {
                break;
            };
            let Some(choice) = planned.plan.menu.choices.first() else {
                break;
            };
            if !off.insert(choice.meal.clone()) {
                break;
            }
            let service = planned.plan.services.first();
            let meal = snapshot.meals.get(&choice.meal);
            found.push(Instead {
                meal: choice.meal.clone(),
                name: meal.map_or_else(|| choice.meal.to_string(), |meal| meal.name.clone()),
                minutes: service.map_or(0, |service| service.length.mins(Rounding::Up)),
                snapshot: snapshot.clone(),
                plan: planned.plan,
            });
        }
        Ok(found)
    }
}
