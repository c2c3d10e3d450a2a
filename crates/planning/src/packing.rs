//! The packing stage: lots, their boxes, depth and cooling method.
//!
//! Depth and box rules come from the guidance profile; boxes in use are not available. Each batch is first given the
//! fewest boxes that guidance allows, then physics has its say (`down`): the simplest action by which its middle is
//! cool in time, in more and shallower boxes where there are any to spare, and frozen lots that thaw by their day.
//! The times of lots are provisional here: the keeping stage sets them from the session's run.

mod boxes;
mod down;
mod house;

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::{Date, DateTime};
use larderwright_model::{
    Answer, Batch, Component, Conflict, CoolingMethod, Demand, Equipment, Family, Fate, Freezing, Keep,
    Kitchen, Lot, LotId, Place, Report, SessionId, SittingId, Snapshot, Stage, Supply,
};
use larderwright_quantity::{Length, Mass, Rounding, mul_div};
use larderwright_safety::limits;

use crate::{allocation, carried, facts, menu};
pub(crate) use boxes::fill;
use boxes::{Shelf, Stay};
pub(crate) use house::{Held, held};

/// Less than this is not worth a box of its own.
const SPARE_WORTH_FREEZING: Mass = Mass::from_g(250);

/// What the packing stage hands on.
#[derive(Clone, Debug)]
pub struct PackingResult {
    /// Lots by batch.
    pub lots: Vec<Lot>,
    /// Why.
    pub report: Report,
}

/// A lot before it has boxes.
struct Portion {
    batch: usize,
    fate: Fate,
    pull: Option<DateTime>,
    mass: Mass,
    sittings: Vec<SittingId>,
}

/// What becomes of a batch's yield beyond the plates, where there is enough of it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Spare {
    /// A frozen lot of its own.
    Frozen,
    /// It stays with the rest.
    Kept,
}

/// Packs every batch; what is made beyond the plates is frozen only where there is room for it. In `hurried` sessions
/// nothing waits an hour for the freezer.
///
/// # Errors
/// Boxes, fridge or freezer that do not suffice.
pub fn pack(
    snapshot: &Snapshot,
    demand: &Demand,
    batches: &[Batch],
    hurried: &BTreeSet<SessionId>,
) -> Result<PackingResult, Conflict> {
    let frozen = pack_with(snapshot, demand, batches, (Spare::Frozen, hurried));
    frozen.or_else(|_| pack_with(snapshot, demand, batches, (Spare::Kept, hurried)))
}

fn pack_with(
    snapshot: &Snapshot,
    demand: &Demand,
    batches: &[Batch],
    (spare, hurried): (Spare, &BTreeSet<SessionId>),
) -> Result<PackingResult, Conflict> {
    let portions = portions(snapshot, demand, batches, spare)?;
    let carried = carried::carried(snapshot, demand);
    let mut shelf = Shelf::new(snapshot, &held(snapshot, &carried));
    let mut lots = Vec::new();
    let mut stays = Vec::new();
    let mut number: BTreeMap<usize, usize> = BTreeMap::new();
    for portion in portions {
        let n = number.entry(portion.batch).and_modify(|n| *n += 1).or_insert(1);
        let (lot, stay) = lot(snapshot, &batches[portion.batch], portion, *n, &mut shelf)?;
        lots.push(lot);
        stays.push(stay);
    }
    shelf.check_room()?;
    let (done, not_done) = down::bring_down(snapshot, batches, (&mut lots, &mut stays), &mut shelf, hurried);
    let report = report(snapshot, batches, &lots, (done, not_done));
    Ok(PackingResult { lots, report })
}

/// Batch, fate and pull: what shares a lot.
type Group = (usize, Fate, Option<DateTime>);

fn portions(
    snapshot: &Snapshot,
    demand: &Demand,
    batches: &[Batch],
    spare: Spare,
) -> Result<Vec<Portion>, Conflict> {
    let allocation = allocation::allocate(demand, batches)?;
    let mut groups: BTreeMap<Group, (Mass, Vec<SittingId>)> = BTreeMap::new();
    for (draw, batch) in demand.draws.iter().zip(allocation) {
        let (Some(batch), Supply::Made { fate, .. }) = (batch, &draw.supply) else {
            continue;
        };
        let sitting = snapshot
            .sitting(&draw.sitting)
            .expect("a draw belongs to a sitting of the week");
        let pull = (*fate == Fate::Freezer).then(|| menu::pull_time(sitting));
        let group = groups
            .entry((batch, *fate, pull))
            .or_insert((Mass::ZERO, Vec::new()));
        group.0 += draw.mass;
        if group.1.last() != Some(&draw.sitting) {
            group.1.push(draw.sitting.clone());
        }
    }
    let mut portions: Vec<Portion> = groups
        .into_iter()
        .map(|((batch, fate, pull), (mass, sittings))| Portion {
            batch,
            fate,
            pull,
            mass,
            sittings,
        })
        .collect();
    for (ix, batch) in batches.iter().enumerate() {
        place_spare(snapshot, (batch, ix), spare, &mut portions);
    }
    portions.sort_by_key(|portion| (portion.batch, portion.fate, portion.pull.is_none(), portion.pull));
    Ok(portions)
}

/// What a batch yields beyond the plates: frozen on its own when worth it, else it stays with the rest.
fn place_spare(snapshot: &Snapshot, (batch, ix): (&Batch, usize), wish: Spare, portions: &mut Vec<Portion>) {
    let drawn: Mass = portions
        .iter()
        .filter(|portion| portion.batch == ix)
        .map(|portion| portion.mass)
        .sum();
    let spare = batch.yields[1] - drawn;
    let component = &snapshot.components[&batch.component];
    let kitchen = &snapshot.household.kitchen;
    let freezes = component.freeze == Freezing::Good && kitchen.freezer.is_positive();
    let boxes = kitchen.boxes.iter().any(|kind| kind.freezes && kind.count > 0);
    let frozen = wish == Spare::Frozen && freezes && boxes;
    if frozen && spare >= SPARE_WORTH_FREEZING && spare.times(5) >= batch.yields[1] {
        portions.push(Portion {
            batch: ix,
            fate: Fate::Freezer,
            pull: None,
            mass: spare,
            sittings: Vec::new(),
        });
        return;
    }
    let own = portions
        .iter_mut()
        .filter(|portion| portion.batch == ix)
        .min_by_key(|portion| (portion.fate, portion.pull));
    if let Some(first) = own {
        first.mass += spare;
    }
}

fn lot(
    snapshot: &Snapshot,
    batch: &Batch,
    portion: Portion,
    number: usize,
    shelf: &mut Shelf<'_>,
) -> Result<(Lot, Stay), Conflict> {
    let component = &snapshot.components[&batch.component];
    let session = snapshot
        .session(&batch.session)
        .expect("a batch belongs to a session of the week");
    let cooling = cooling(snapshot, component);
    let hot = matches!(cooling, CoolingMethod::Shallow | CoolingMethod::IceBath);
    let last = last_day(snapshot, &portion, session.to.date());
    let depth_max = hot.then(|| limits(snapshot.household.profile).depth_max);
    let volume = component.bulk.value.volume_of(portion.mass, Rounding::Up);
    let stay = Stay {
        fate: portion.fate,
        from: session.to.date(),
        pull: portion.pull,
        to: last,
    };
    let packed = shelf.take(volume, depth_max, stay, &component.name)?;
    let place = if portion.fate == Fate::Freezer {
        Place::Freezer
    } else {
        Place::Fridge
    };
    let lot = Lot {
        id: LotId::new(&format!("{}/{number}", batch.id)),
        origin: batch.id.clone(),
        mass: portion.mass,
        boxes: packed.boxes,
        depth: packed.depth,
        cooling,
        place,
        fate: portion.fate,
        made: session.to,
        stored: session.to,
        pull: portion.pull,
        keep: Keep {
            best_by: session.to,
            use_by: session.to,
            rule: component.keep.clone(),
            source: String::new(),
        },
        sittings: portion.sittings,
    };
    Ok((lot, stay))
}

fn last_day(snapshot: &Snapshot, portion: &Portion, made: Date) -> Date {
    let eaten = portion
        .sittings
        .iter()
        .filter_map(|id| snapshot.sitting(id))
        .map(|sitting| sitting.at.date())
        .max();
    let end = snapshot.sittings.last().map_or(made, |sitting| sitting.at.date());
    if portion.sittings.is_empty() {
        end.max(made)
    } else {
        eaten.unwrap_or(end)
    }
}

/// How many trays a mass of a component covers in a layer; `None` when there are not so many.
pub(crate) fn trays_for(kitchen: &Kitchen, component: &Component, mass: Mass, layer: Length) -> Option<i64> {
    let smallest = kitchen.trays.iter().filter(|tray| tray.count > 0);
    let area_cm2 = smallest.map(|tray| tray.area_cm2).min()?;
    let volume = component.bulk.value.volume_of(mass, Rounding::Up);
    // A square centimetre under a micrometre of food is a tenth of a microlitre.
    let each = mul_div(area_cm2, layer.um(), 10, Rounding::Down).max(1);
    let trays = mul_div(volume.ul(), 1, each, Rounding::Up).max(1);
    (trays <= i64::from(kitchen.tray_count())).then_some(trays)
}

/// How a component is brought down to fridge temperature, before its boxes are known.
#[must_use]
pub fn cooling(snapshot: &Snapshot, component: &Component) -> CoolingMethod {
    let heat = [
        Equipment::Burner,
        Equipment::Rack,
        Equipment::Microwave,
        Equipment::PressureCooker,
    ];
    let way = facts::way_here(component, &snapshot.household.kitchen);
    let heated = way.is_some_and(|way| {
        way.steps
            .iter()
            .any(|step| step.boil.is_some() || step.uses.iter().any(|equipment| heat.contains(equipment)))
    });
    match (heated, component.family) {
        (false, _) => CoolingMethod::None,
        (true, Family::Egg) => CoolingMethod::ColdWater,
        (true, _) => CoolingMethod::Shallow,
    }
}

fn report(
    snapshot: &Snapshot,
    batches: &[Batch],
    lots: &[Lot],
    (down, not_down): (Vec<String>, Vec<String>),
) -> Report {
    let frozen = lots.iter().filter(|lot| lot.fate == Fate::Freezer).count();
    let boxes: u32 = lots
        .iter()
        .flat_map(|lot| &lot.boxes)
        .map(|(_, count)| count)
        .sum();
    let spare = batches
        .iter()
        .map(|batch| batch.yields[1] - batch.demand)
        .sum::<Mass>();
    let counted = vec![
        format!(
            "{boxes} boxes for {} lots, {frozen} of them for the freezer",
            lots.len()
        ),
        format!(
            "hot food lies at most {} mm deep",
            limits(snapshot.household.profile).depth_max.mm(Rounding::Down)
        ),
        format!(
            "{} g are made beyond the plates and stay in the boxes",
            spare.g(Rounding::Nearest)
        ),
    ];
    Report {
        stage: Stage::Packing,
        answer: Answer::Found,
        chosen: [counted, down].concat(),
        rejected: not_down,
    }
}
