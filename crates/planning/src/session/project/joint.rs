//! Like work of several batches, such as dicing onions, done once.

use std::collections::BTreeMap;

use larderwright_model::Hygiene;
use larderwright_quantity::{Rounding, Seconds};
use larderwright_solve::project::Lengths;

use super::{Builder, Load};

/// Steps of different batches that are the same work: by the place of the first one, the places of the others. Work on
/// the fire or in the oven, in several loads, with visits, or on raw meat stays apart, and so do batches of which one holds a
/// severe allergen that another does not.
pub(super) fn like_work(loads: &[Load<'_>]) -> BTreeMap<usize, Vec<usize>> {
    let mut groups: BTreeMap<_, Vec<usize>> = BTreeMap::new();
    for (at, load) in loads.iter().enumerate() {
        let step = load.step;
        let plain = load.plan.loads == 1
            && load.pot.is_none()
            && step.oven.is_none()
            && step.visit.is_none()
            && step.hygiene != Hygiene::RawMeat
            && step.hands > 0;
        if let Some(key) = step.merge.as_deref().filter(|_| plain) {
            let alike = (key, step.skill, step.hands, step.hygiene, load.severe);
            let group = groups.entry(alike).or_default();
            if group.iter().all(|other| loads[*other].batch.id != load.batch.id) {
                group.push(at);
            }
        }
    }
    let several = groups.into_values().filter(|group| group.len() > 1);
    several.map(|group| (group[0], group[1..].to_vec())).collect()
}

impl Builder<'_> {
    /// Like work together takes the sum of its parts, with the fixed part (board and knife out, washed and put away)
    /// once.
    pub(super) fn joint_minutes(&self, load: &Load<'_>, others: &[&Load<'_>]) -> Lengths {
        if others.is_empty() {
            return self.minutes(load);
        }
        let all = || std::iter::once(load).chain(others.iter().copied());
        let fixed = || all().map(|load| load.step.law.fixed);
        let once = fixed().max().unwrap_or(Seconds::ZERO);
        let saved = fixed().sum::<Seconds>() - once;
        let whole = |length: &dyn Fn(&Load<'_>) -> Seconds| {
            let longest = all().map(length).max().unwrap_or(Seconds::ZERO);
            let sum: Seconds = all().map(length).sum();
            (sum - saved)
                .max(longest)
                .max(Seconds::from_secs(60))
                .mins(Rounding::Up)
        };
        Lengths {
            low: whole(&|load| load.step.law.low(load.plan.x)),
            likely: whole(&|load| load.step.law.likely(load.plan.x)),
            high: whole(&|load| load.step.law.high(load.plan.x)),
        }
    }
}
