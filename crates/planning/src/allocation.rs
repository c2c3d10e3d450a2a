//! Allocation: which batch each plate draws from, the same for packing and plates.

use larderwright_model::{Batch, Conflict, Demand, Draw, Item, Stage, Supply};
use larderwright_quantity::Mass;

/// For each draw the index of its batch; `None` for foods as bought.
///
/// Draws take the first batch of their component and session that still has enough.
///
/// # Errors
/// A portion for which no batch has enough left.
pub fn allocate(demand: &Demand, batches: &[Batch]) -> Result<Vec<Option<usize>>, Conflict> {
    let mut left: Vec<Mass> = batches.iter().map(|batch| batch.yields[1]).collect();
    demand
        .draws
        .iter()
        .map(|draw| place(draw, batches, &mut left))
        .collect()
}

fn place(draw: &Draw, batches: &[Batch], left: &mut [Mass]) -> Result<Option<usize>, Conflict> {
    let (Item::Component(component), Supply::Made { session, .. }) = (&draw.item, &draw.supply) else {
        return Ok(None);
    };
    let own = |batch: &Batch| batch.component == *component && batch.session == *session;
    let found = (0..batches.len()).find(|ix| own(&batches[*ix]) && left[*ix] >= draw.mass);
    match found {
        Some(ix) => {
            left[ix] -= draw.mass;
            Ok(Some(ix))
        }
        None => Err(Conflict {
            stage: Stage::Packing,
            message: format!("the batches of {component} do not divide into the portions wanted"),
            wishes: vec![format!("{component} at {}", draw.sitting)],
            mends: vec!["make one batch less of it, or one portion smaller".into()],
        }),
    }
}
