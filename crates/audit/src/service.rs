//! Service: the minutes before a sitting with finite appliances and one pair of hands.

use larderwright_model::{
    Appliance, Fate, Finish, Item, LotId, Packed, Place, Portion, PortionSource, Service, ServiceStep,
    ServiceVerb, Sitting, Where,
};
use larderwright_quantity::{Mass, Seconds};

use crate::book::{Book, span};
use crate::notes::Notes;
use crate::rules;

/// Somebody gets it on the table: one pair of hands.
const HANDS: i64 = 1;

pub(crate) fn check(book: &Book<'_>, notes: &mut Notes) {
    for service in &book.plan.services {
        let Some(sitting) = book.snapshot.sitting(&service.sitting) else {
            continue;
        };
        appliances(book, sitting, service, notes);
        hands(service, notes);
        in_time(sitting, service, notes);
        warmed(book, sitting, service, notes);
        taken_out(book, service, notes);
        assembled(book, sitting, service, notes);
    }
}

/// Steps that overlap the moment at which one of them starts, summed.
fn peak(steps: &[&ServiceStep], amount: impl Fn(&ServiceStep) -> i64) -> i64 {
    let at = |moment: Seconds| -> i64 {
        steps
            .iter()
            .filter(|step| step.start <= moment && moment < step.start + step.length)
            .map(|step| amount(step))
            .sum()
    };
    steps.iter().map(|step| at(step.start)).max().unwrap_or(0)
}

fn appliances(book: &Book<'_>, sitting: &Sitting, service: &Service, notes: &mut Notes) {
    let kitchen = &book.snapshot.household.kitchen;
    let away = matches!(sitting.place, Where::Packed(Packed { microwave: true, .. }));
    let owned = [
        (
            Appliance::Microwave,
            i64::from(kitchen.microwaves) + i64::from(away),
        ),
        (Appliance::Burner, i64::from(kitchen.burners)),
        (Appliance::Oven, i64::from(kitchen.oven.is_some())),
        (Appliance::Toaster, i64::from(kitchen.toaster)),
    ];
    for (appliance, most) in owned {
        let steps: Vec<&ServiceStep> = service
            .steps
            .iter()
            .filter(|step| step.appliance == Some(appliance))
            .collect();
        let used = peak(&steps, |_| 1);
        if used > most {
            notes
                .say(
                    &rules::SERVICE_APPLIANCES,
                    &service.sitting,
                    format!("the {appliance:?} is wanted twice at once").to_lowercase(),
                )
                .evidence = format!("{used} at once, there are {most}");
        }
    }
}

fn hands(service: &Service, notes: &mut Notes) {
    let steps: Vec<&ServiceStep> = service.steps.iter().collect();
    let used = peak(&steps, |step| i64::from(step.hands));
    if used > HANDS {
        notes
            .say(
                &rules::SERVICE_HANDS,
                &service.sitting,
                "one pair of hands is not enough",
            )
            .evidence = format!("{used} at once");
    }
}

fn in_time(sitting: &Sitting, service: &Service, notes: &mut Notes) {
    let end = service
        .steps
        .iter()
        .map(|step| step.start + step.length)
        .max()
        .unwrap_or(Seconds::ZERO);
    let most = Seconds::from_mins(sitting.minutes);
    if service.length > most || service.length < end {
        notes
            .say(
                &rules::SERVICE_IN_TIME,
                &service.sitting,
                "the sitting is not ready in its minutes",
            )
            .evidence = format!(
            "stated {}, last step ends at {}, there are {}",
            span(service.length),
            span(end),
            span(most)
        );
    }
}

fn portions<'a>(book: &Book<'a>, sitting: &'a Sitting) -> impl Iterator<Item = &'a Portion> {
    book.portions()
        .filter(|(plate, _)| plate.sitting == sitting.id)
        .map(|(_, portion)| portion)
}

fn warmed(book: &Book<'_>, sitting: &Sitting, service: &Service, notes: &mut Notes) {
    let mut items: Vec<(&Item, Finish)> = portions(book, sitting)
        .map(|portion| (&portion.item, portion.finish))
        .filter(|(_, finish)| matches!(finish, Finish::Reheat | Finish::Toast | Finish::Fry))
        .collect();
    items.sort_unstable();
    items.dedup();
    for (item, finish) in items {
        let due: Mass = portions(book, sitting)
            .filter(|portion| portion.item == *item && portion.finish == finish)
            .map(|portion| portion.mass)
            .sum();
        let done: Mass = service
            .steps
            .iter()
            .map(|step| warms(&step.verb, item, finish))
            .sum();
        if let Where::Packed(packed) = sitting.place {
            // Toasting and frying are done at home before it is packed.
            if finish == Finish::Reheat && !packed.microwave {
                notes.say(
                    &rules::SERVICE_AWAY,
                    &service.sitting,
                    format!("`{}` cannot be warmed there", item.as_str()),
                );
            }
        } else if done < due {
            notes
                .say(
                    &rules::SERVICE_WARMED,
                    &service.sitting,
                    format!("`{}` is not warmed for everyone", item.as_str()),
                )
                .evidence = format!("{} mg of {} mg", done.mg(), due.mg());
        }
    }
}

fn warms(verb: &ServiceVerb, item: &Item, finish: Finish) -> Mass {
    match (verb, finish) {
        (ServiceVerb::Reheat(own, mass), Finish::Reheat)
        | (ServiceVerb::Toast(own, mass), Finish::Toast)
        | (ServiceVerb::Fry(own, mass), Finish::Fry)
            if own == item =>
        {
            *mass
        }
        _ => Mass::ZERO,
    }
}

fn is_cold(book: &Book<'_>, id: &LotId) -> bool {
    book.lot(id).is_none_or(|lot| lot.fate != Fate::Cupboard)
        && book.stored(id).is_none_or(|lot| lot.place != Place::Cupboard)
}

fn taken_out(book: &Book<'_>, service: &Service, notes: &mut Notes) {
    let plates = book
        .portions()
        .filter(|(plate, _)| plate.sitting == service.sitting);
    let mut due: Vec<&LotId> = plates
        .filter_map(|(_, portion)| match &portion.source {
            PortionSource::Lot(id) => Some(id),
            PortionSource::Food(_) => None,
        })
        .filter(|id| is_cold(book, id))
        .collect();
    let mut done: Vec<&LotId> = service
        .steps
        .iter()
        .filter_map(|step| match &step.verb {
            ServiceVerb::TakeOut(id) => Some(id),
            _ => None,
        })
        .filter(|id| is_cold(book, id))
        .collect();
    for list in [&mut due, &mut done] {
        list.sort_unstable();
        list.dedup();
    }
    if due != done {
        notes
            .say(
                &rules::SERVICE_TAKE_OUT,
                &service.sitting,
                "what is taken out is not what is eaten",
            )
            .evidence = format!("taken out {done:?}, eaten {due:?}");
    }
}

fn assembled(book: &Book<'_>, sitting: &Sitting, service: &Service, notes: &mut Notes) {
    let covers = i64::try_from(sitting.covers()).expect("a table has few covers");
    let plate = book.plan.plates.iter().find(|plate| plate.sitting == sitting.id);
    let Some(meal) = plate.and_then(|plate| book.meal(plate)) else {
        return;
    };
    let due = meal.assemble_fixed + meal.assemble_per_cover.times(covers);
    let done: Seconds = service
        .steps
        .iter()
        .filter(|step| step.verb == ServiceVerb::Assemble)
        .map(|step| step.length)
        .sum();
    if done < due {
        notes
            .say(
                &rules::SERVICE_ASSEMBLE,
                &service.sitting,
                "the plates have too little time",
            )
            .evidence = format!("{}, by the meal {}", span(done), span(due));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn step(start: i64, length: i64) -> ServiceStep {
        ServiceStep {
            verb: ServiceVerb::Assemble,
            start: Seconds::from_secs(start),
            length: Seconds::from_secs(length),
            hands: 1,
            appliance: None,
            covers: Vec::new(),
        }
    }

    #[test]
    fn steps_that_touch_do_not_overlap() {
        let (first, second, third) = (step(0, 60), step(60, 60), step(30, 10));
        assert_eq!(peak(&[&first, &second], |_| 1), 1);
        assert_eq!(peak(&[&first, &second, &third], |_| 1), 2);
    }
}
