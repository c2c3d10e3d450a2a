//! The demand stage: grams of every item on every plate, from portions, appetite and attendance.

use larderwright_model::{Cover, Demand, Draw, Item, Menu, MenuChoice, Scales, SizeStep, Snapshot};
use larderwright_quantity::{Mass, Permille, Rounding, mul_div};

use crate::{appetite, facts};

/// Portions are served in steps of five grams: nobody weighs finer at the table.
const PORTION_STEP: Mass = Mass::from_g(5);

/// Computes all draws, in the order of the menu.
#[must_use]
pub fn compute(snapshot: &Snapshot, menu: &Menu) -> Demand {
    let draws = menu.choices.iter().flat_map(|choice| draws_of(snapshot, choice));
    Demand {
        draws: draws.collect(),
    }
}

fn draws_of(snapshot: &Snapshot, choice: &MenuChoice) -> Vec<Draw> {
    let mut draws = Vec::new();
    for cover in &choice.covers {
        let factor = factor(snapshot, &cover.cover);
        for pick in &cover.picks {
            draws.push(Draw {
                sitting: choice.sitting.clone(),
                cover: cover.cover.clone(),
                element: pick.element.clone(),
                item: pick.item.clone(),
                mass: portion(snapshot, &pick.item, (pick.portion, pick.scales), factor),
                finish: pick.finish,
                supply: pick.supply.clone(),
            });
        }
    }
    draws
}

fn factor(snapshot: &Snapshot, cover: &Cover) -> Permille {
    match cover {
        Cover::Eater(id) => snapshot
            .household
            .eater(id)
            .map_or(Permille::ONE, |eater| appetite::factor_here(snapshot, eater)),
        Cover::Guest(_) => Permille::ONE,
    }
}

/// A portion for one cover: whole units of what is counted, else a multiple of five grams.
pub(crate) fn portion(
    snapshot: &Snapshot,
    item: &Item,
    (usual, scales): (Mass, Scales),
    factor: Permille,
) -> Mass {
    let wanted = match scales {
        Scales::Appetite => factor.of(usual, Rounding::Nearest),
        Scales::Fixed => usual,
    };
    match unit_of(snapshot, item) {
        Some(unit) if unit.mg() > 0 && usual.mg() * 2 > unit.mg() => {
            let count = mul_div(wanted.mg(), 1, unit.mg(), Rounding::Nearest).max(1);
            unit.times(count)
        }
        _ => wanted.round_to(PORTION_STEP, Rounding::Nearest).max(PORTION_STEP),
    }
}

/// The mass on the plate of one counted unit: an egg, a pitta; `None` when the item is weighed.
fn unit_of(snapshot: &Snapshot, item: &Item) -> Option<Mass> {
    match item {
        Item::Food(id) => snapshot.foods.get(id)?.unit_edible(),
        Item::Component(id) => {
            let component = snapshot.components.get(id)?;
            let way = facts::way_here(component, &snapshot.household.kitchen)?;
            if way.size.step != SizeStep::Unit {
                return None;
            }
            let unit = snapshot.foods.get(&way.driver)?.unit_edible()?;
            Some(way.yields.likely.of(unit, Rounding::Down))
        }
    }
}
