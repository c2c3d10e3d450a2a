//! What plates draw from lots that were in the house before, and when those are pulled from the freezer.

use std::collections::BTreeMap;

use larderwright_model::{Carried, Demand, LotId, Place, Snapshot, Supply};
use larderwright_quantity::Mass;
use larderwright_safety::keeping;

use crate::keeping::class_of;
use crate::menu::pull_time;

/// One entry for each lot drawn from, in the order of the snapshot's lots.
///
/// # Panics
/// Panics when a draw names a lot that is not in the snapshot.
#[must_use]
pub fn carried(snapshot: &Snapshot, demand: &Demand) -> Vec<Carried> {
    let mut drawn: BTreeMap<&LotId, Carried> = BTreeMap::new();
    for draw in &demand.draws {
        let Supply::Stored { lot: id } = &draw.supply else {
            continue;
        };
        let lot = snapshot.lot(id).expect("a draw names a lot in the house");
        let entry = drawn.entry(id).or_insert_with(|| Carried {
            lot: id.clone(),
            component: lot.component.clone(),
            mass: Mass::ZERO,
            pull: None,
            keep: lot.keep.clone(),
            sittings: Vec::new(),
        });
        entry.mass += draw.mass;
        if !entry.sittings.contains(&draw.sitting) {
            entry.sittings.push(draw.sitting.clone());
        }
    }
    let lots = snapshot.lots.iter().filter_map(|lot| drawn.remove(&lot.id));
    lots.map(|entry| pulled(snapshot, entry)).collect()
}

/// A frozen lot is pulled for the first sitting that eats from it.
fn pulled(snapshot: &Snapshot, entry: Carried) -> Carried {
    let lot = snapshot.lot(&entry.lot).expect("a draw names a lot in the house");
    let first = entry.sittings.first().and_then(|id| snapshot.sitting(id));
    match first.filter(|_| lot.place == Place::Freezer) {
        None => entry,
        Some(sitting) => {
            let pull = pull_time(sitting);
            let class = class_of(&snapshot.components[&lot.component]);
            let keep = keeping::thawed(snapshot.household.profile, class, lot.made, lot.stored, pull);
            Carried {
                pull: Some(pull),
                keep,
                ..entry
            }
        }
    }
}
