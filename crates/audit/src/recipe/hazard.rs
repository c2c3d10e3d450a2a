//! Hazards that a recipe has to answer: raw flesh, dry beans, the way from dirty hands to finished food.

use std::collections::BTreeMap;

use larderwright_model::{Component, Food, FoodId, Hygiene, Way};
use larderwright_safety::{bean_boil, core_minimum};

use super::rules;
use crate::notes::Notes;

/// Metres above which no recipe has to reach.
const ALTITUDE_MAX_M: i64 = 9000;

pub(super) fn check(component: &Component, way: &Way, foods: &BTreeMap<FoodId, Food>, notes: &mut Notes) {
    let subject = format!("{}/{}", component.id, way.id);
    let mut raw = false;
    for input in way.inputs.iter().filter_map(|input| foods.get(&input.food)) {
        if let Some(row) = core_minimum(input) {
            raw = true;
            let cores = way.steps.iter().filter_map(|step| step.safety.as_ref()?.core);
            if cores.max().is_none_or(|core| core < row.core) {
                let message = format!("no step cooks `{}` through", input.id);
                notes.say(&rules::CORE, &subject, message).evidence =
                    format!("{}: at least {} tenths of a °C", row.about, row.core.deci_c());
            }
        }
        if let Some(row) = bean_boil(&input.id) {
            let boils = way.steps.iter().filter_map(|step| step.safety.as_ref()?.boil);
            let due = row.at(ALTITUDE_MAX_M);
            if boils.max().is_none_or(|boil| boil < due) {
                let message = format!("no step boils `{}` long enough", input.id);
                notes.say(&rules::BOIL, &subject, message).evidence = format!("{} s", due.secs());
            }
        }
    }
    if raw && !handled(way) {
        let says = "raw flesh goes in, but the steps do not tell dirty from finished";
        notes.say(&rules::HYGIENE, &subject, says);
    }
}

/// Whether a raw step comes before a finished one, and nothing raw comes after that.
fn handled(way: &Way) -> bool {
    let last = |hygiene: Hygiene| way.steps.iter().rposition(|step| step.hygiene == hygiene);
    let (raw, ready) = (last(Hygiene::RawMeat), last(Hygiene::Ready));
    matches!((raw, ready), (Some(raw), Some(ready)) if raw < ready)
}
