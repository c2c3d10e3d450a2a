//! Special hazards: beans that must boil and animal food that must be cooked through have a step in the run
//! that says so.

use larderwright_model::StepSafety;
use larderwright_safety::{bean_boil, core_minimum};

use super::steps::Work;
use crate::book::{Book, span};
use crate::notes::Notes;
use crate::rules;

pub(super) fn check(book: &Book<'_>, work: &Work<'_>, notes: &mut Notes) {
    let safeties: Vec<&StepSafety> = work
        .steps()
        .filter(|step| !work.acts(&step.id).is_empty())
        .filter_map(|step| step.safety.as_ref())
        .collect();
    let altitude = book.snapshot.household.altitude_m;
    for food in book.batch_foods(work.batch) {
        if let Some(row) = bean_boil(&food.id) {
            let due = row.at(altitude);
            let boiled = safeties
                .iter()
                .filter_map(|safety| safety.boil)
                .max()
                .is_some_and(|boil| boil >= due);
            if !boiled {
                let finding = notes.say(
                    &rules::RUN_BEAN_BOIL,
                    &work.batch.id,
                    format!("no step boils `{}` long enough", food.id),
                );
                finding.evidence = format!("{} at a full boil", span(due));
                row.source.clone_into(&mut finding.source);
            }
        }
        if let Some(row) = core_minimum(food) {
            let cooked = safeties
                .iter()
                .filter_map(|safety| safety.core)
                .max()
                .is_some_and(|core| core >= row.core);
            if !cooked {
                let finding = notes.say(
                    &rules::RUN_CORE,
                    &work.batch.id,
                    format!("no step cooks `{}` through", food.id),
                );
                finding.evidence = format!("{}: at least {} tenths of a °C", row.about, row.core.deci_c());
                row.source.clone_into(&mut finding.source);
            }
        }
    }
}
