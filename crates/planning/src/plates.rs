//! The plates stage: every portion's lot, and the minutes before each sitting.

use std::collections::BTreeMap;

use larderwright_model::{
    Answer, Batch, Conflict, Cover, Demand, Draw, Finish, Item, Lot, LotId, MealId, Menu, MenuChoice, Plate,
    Portion, PortionSource, Report, Service, SittingId, Snapshot, Stage, Supply, Where,
};
use larderwright_quantity::{Mass, Rounding, Seconds};

use crate::allocation;
use crate::service::{self, Warm, Work};

/// What the plates stage hands on.
#[derive(Clone, Debug)]
pub struct PlatesResult {
    /// Every plate.
    pub plates: Vec<Plate>,
    /// The minutes before each sitting.
    pub services: Vec<Service>,
    /// Why.
    pub report: Report,
}

/// What went wrong.
#[derive(Clone, Debug)]
pub enum PlatesProblem {
    /// A meal that takes longer than its sitting has minutes.
    TooSlow(SittingId, MealId),
    /// Anything the menu cannot mend.
    Conflict(Conflict),
}

/// Puts every plate together.
///
/// # Errors
/// A meal that is not on the table in time.
pub fn compute(
    snapshot: &Snapshot,
    menu: &Menu,
    demand: &Demand,
    (batches, lots): (&[Batch], &[Lot]),
) -> Result<PlatesResult, PlatesProblem> {
    let sources = sources(demand, batches, lots).map_err(PlatesProblem::Conflict)?;
    let mut plates = Vec::new();
    let mut services = Vec::new();
    for choice in &menu.choices {
        let own: Vec<(&Draw, &PortionSource)> = demand
            .draws
            .iter()
            .zip(&sources)
            .filter(|(draw, _)| draw.sitting == choice.sitting)
            .collect();
        plates.extend(
            choice
                .covers
                .iter()
                .map(|cover| plate(choice, &cover.cover, &own)),
        );
        services.push(service(snapshot, choice, &own)?);
    }
    let longest = services
        .iter()
        .map(|service| service.length)
        .max()
        .unwrap_or(Seconds::from_secs(0));
    let report = Report {
        stage: Stage::Plates,
        answer: Answer::Found,
        chosen: vec![format!(
            "{} plates at {} sittings, the longest {} before the table",
            plates.len(),
            services.len(),
            larderwright_quantity::duration_text(longest)
        )],
        rejected: Vec::new(),
    };
    Ok(PlatesResult {
        plates,
        services,
        report,
    })
}

/// Where each draw comes from.
fn sources(demand: &Demand, batches: &[Batch], lots: &[Lot]) -> Result<Vec<PortionSource>, Conflict> {
    let allocation = allocation::allocate(demand, batches)?;
    let source = |(draw, batch): (&Draw, Option<usize>)| match (&draw.item, &draw.supply, batch) {
        (Item::Component(_), Supply::Made { fate, .. }, Some(batch)) => {
            let fits = |lot: &&Lot| {
                lot.origin == batches[batch].id && lot.fate == *fate && lot.sittings.contains(&draw.sitting)
            };
            let lot = lots
                .iter()
                .find(fits)
                .expect("every draw has a lot of its batch and fate");
            PortionSource::Lot(lot.id.clone())
        }
        (Item::Component(_), Supply::Stored { lot }, _) => PortionSource::Lot(lot.clone()),
        (Item::Food(food), _, _) => PortionSource::Food(food.clone()),
        (Item::Component(id), ..) => unreachable!("component {id} is drawn from a batch"),
    };
    Ok(demand.draws.iter().zip(allocation).map(source).collect())
}

fn plate(choice: &MenuChoice, cover: &Cover, own: &[(&Draw, &PortionSource)]) -> Plate {
    let portions = own
        .iter()
        .filter(|(draw, _)| draw.cover == *cover)
        .map(|(draw, source)| Portion {
            element: draw.element.clone(),
            item: draw.item.clone(),
            mass: draw.mass,
            source: (*source).clone(),
            finish: draw.finish,
        });
    Plate {
        sitting: choice.sitting.clone(),
        cover: cover.clone(),
        meal: choice.meal.clone(),
        portions: portions.collect(),
    }
}

fn service(
    snapshot: &Snapshot,
    choice: &MenuChoice,
    own: &[(&Draw, &PortionSource)],
) -> Result<Service, PlatesProblem> {
    let sitting = snapshot
        .sitting(&choice.sitting)
        .expect("a menu choice belongs to a sitting of the week");
    let meal = &snapshot.meals[&choice.meal];
    let covers = i64::try_from(choice.covers.len()).expect("a table seats few");
    let work = Work {
        lots: lots_out(own),
        warm: warm(own, sitting.place),
        assemble: meal.assemble_fixed + meal.assemble_per_cover.scale(covers, 1, Rounding::Up),
    };
    let too_slow = || PlatesProblem::TooSlow(choice.sitting.clone(), choice.meal.clone());
    let steps = service::schedule(&snapshot.household.kitchen, &work).map_err(|_| too_slow())?;
    let length = service::length(&steps);
    if length > Seconds::from_mins(sitting.minutes) {
        return Err(too_slow());
    }
    Ok(Service {
        sitting: choice.sitting.clone(),
        steps,
        length,
    })
}

fn lots_out(own: &[(&Draw, &PortionSource)]) -> Vec<LotId> {
    let mut lots: Vec<LotId> = own
        .iter()
        .filter_map(|(_, source)| match source {
            PortionSource::Lot(lot) => Some(lot.clone()),
            PortionSource::Food(_) => None,
        })
        .collect();
    lots.sort();
    lots.dedup();
    lots
}

/// Items to finish at the sitting; what is carried along is warmed where it is eaten.
fn warm(own: &[(&Draw, &PortionSource)], place: Where) -> Vec<Warm> {
    let at_home = matches!(place, Where::Home);
    let mut items: BTreeMap<(Item, Finish), (Mass, Vec<Cover>)> = BTreeMap::new();
    for (draw, _) in own {
        let done_here = match draw.finish {
            Finish::Cold | Finish::Raw => false,
            Finish::Reheat => at_home,
            Finish::Toast | Finish::Fry => true,
        };
        if done_here {
            let entry = items
                .entry((draw.item.clone(), draw.finish))
                .or_insert((Mass::ZERO, Vec::new()));
            entry.0 += draw.mass;
            if !entry.1.contains(&draw.cover) {
                entry.1.push(draw.cover.clone());
            }
        }
    }
    items
        .into_iter()
        .map(|((item, finish), (mass, covers))| Warm {
            item,
            mass,
            covers,
            finish,
        })
        .collect()
}
