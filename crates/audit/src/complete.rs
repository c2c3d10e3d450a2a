//! Completeness: nothing is missing from the plan, nothing is there twice, every name leads somewhere.

use std::collections::BTreeMap;
use std::fmt::Display;

use larderwright_model::{ActKind, CoverChoice, Item, Plate, PortionSource, Purpose, SittingId};

use crate::book::Book;
use crate::notes::Notes;
use crate::rules;

pub(crate) fn check(book: &Book<'_>, notes: &mut Notes) {
    same_week(book, notes);
    unique(book, notes);
    references(book, notes);
    act_references(book, notes);
    order_references(book, notes);
    sittings(book, notes);
    runs(book, notes);
    menu_kept(book, notes);
}

fn same_week(book: &Book<'_>, notes: &mut Notes) {
    let (snapshot, plan) = (book.snapshot, book.plan);
    let same = plan.monday == snapshot.monday
        && plan.profile == snapshot.household.profile
        && plan.tables == snapshot.tables
        && plan.parent == snapshot.parent;
    if !same {
        notes.say(
            &rules::COMPLETE_SAME_WEEK,
            plan.monday,
            "the plan was made from another snapshot",
        );
    }
}

fn unique(book: &Book<'_>, notes: &mut Notes) {
    let plan = book.plan;
    twice(plan.batches.iter().map(|batch| &batch.id), notes);
    twice(plan.lots.iter().map(|lot| &lot.id), notes);
    twice(plan.runs.iter().map(|run| &run.session), notes);
    for run in &plan.runs {
        twice(run.acts.iter().map(|act| &act.id), notes);
    }
}

fn twice<T: Ord + Display>(names: impl Iterator<Item = T>, notes: &mut Notes) {
    let mut counts: BTreeMap<T, usize> = BTreeMap::new();
    for name in names {
        *counts.entry(name).or_default() += 1;
    }
    for (name, count) in counts {
        if count > 1 {
            notes
                .say(&rules::COMPLETE_UNIQUE, name, "the name is given more than once")
                .evidence = format!("{count} times");
        }
    }
}

fn unknown(notes: &mut Notes, subject: impl Display, name: impl Display) {
    notes.say(
        &rules::COMPLETE_REFERENCE,
        subject,
        format!("`{name}` leads nowhere"),
    );
}

fn references(book: &Book<'_>, notes: &mut Notes) {
    for batch in &book.plan.batches {
        if book.way(batch).is_none() {
            unknown(notes, &batch.id, format!("{} {}", batch.component, batch.way));
        }
        for input in &batch.inputs {
            if book.food(&input.food).is_none() {
                unknown(notes, &batch.id, &input.food);
            }
        }
    }
    for lot in &book.plan.lots {
        if book.batch(&lot.origin).is_none() {
            unknown(notes, &lot.id, &lot.origin);
        }
    }
    for plate in &book.plan.plates {
        if book.snapshot.sitting(&plate.sitting).is_none() {
            unknown(notes, &plate.sitting, &plate.sitting);
        }
        if book.meal(plate).is_none() {
            unknown(notes, &plate.sitting, &plate.meal);
        }
    }
    for (plate, portion) in book.portions() {
        let known = match &portion.source {
            PortionSource::Lot(lot) => book.lot(lot).is_some() || book.stored(lot).is_some(),
            PortionSource::Food(food) => book.food(food).is_some(),
        };
        if !known {
            unknown(notes, &plate.sitting, portion.item.as_str());
        }
    }
}

fn act_references(book: &Book<'_>, notes: &mut Notes) {
    for run in &book.plan.runs {
        if book.snapshot.session(&run.session).is_none() {
            unknown(notes, &run.session, &run.session);
        }
        for act in &run.acts {
            for batch in act.batches.iter().filter(|batch| book.batch(batch).is_none()) {
                unknown(notes, &act.id, batch);
            }
            if let ActKind::Visit { of } = &act.kind
                && run.acts.iter().all(|other| other.id != *of)
            {
                unknown(notes, &act.id, of);
            }
        }
        for lead in &run.leads {
            if book.step(&lead.batch, &lead.step).is_none() {
                unknown(notes, &lead.batch, &lead.step);
            }
        }
    }
}

fn order_references(book: &Book<'_>, notes: &mut Notes) {
    for line in &book.plan.order.lines {
        if book.food(&line.food).is_none() {
            unknown(notes, &line.shop, &line.food);
        }
        if book.snapshot.shops.iter().all(|shop| shop.id != line.shop) {
            unknown(notes, &line.food, &line.shop);
        }
        for purpose in &line.purposes {
            match purpose {
                Purpose::Batch(batch) if book.batch(batch).is_none() => {
                    unknown(notes, &line.food, batch);
                }
                Purpose::Sitting(sitting) if book.snapshot.sitting(sitting).is_none() => {
                    unknown(notes, &line.food, sitting);
                }
                _ => {}
            }
        }
    }
    for stock in &book.plan.order.from_stock {
        if book.food(&stock.food).is_none() {
            unknown(notes, "from home", &stock.food);
        }
    }
}

fn sittings(book: &Book<'_>, notes: &mut Notes) {
    let choices = &book.plan.menu.choices;
    let services = &book.plan.services;
    for sitting in book
        .snapshot
        .sittings
        .iter()
        .filter(|sitting| sitting.covers() > 0)
    {
        let count = choices
            .iter()
            .filter(|choice| choice.sitting == sitting.id)
            .count();
        if count != 1 {
            notes
                .say(
                    &rules::COMPLETE_MENU,
                    &sitting.id,
                    "the sitting has not one menu choice",
                )
                .evidence = format!("{count} choices");
        }
        let count = services
            .iter()
            .filter(|service| service.sitting == sitting.id)
            .count();
        if count != 1 {
            notes
                .say(
                    &rules::COMPLETE_SERVICE,
                    &sitting.id,
                    "the minutes before the sitting are not planned once",
                )
                .evidence = format!("{count} plans");
        }
    }
    let named = choices
        .iter()
        .map(|choice| &choice.sitting)
        .chain(services.iter().map(|service| &service.sitting));
    for sitting in named.filter(|id| book.snapshot.sitting(id).is_none()) {
        unknown(notes, sitting, sitting);
    }
}

fn runs(book: &Book<'_>, notes: &mut Notes) {
    for batch in &book.plan.batches {
        let known = book.snapshot.session(&batch.session).is_some();
        let run = book.plan.runs.iter().any(|run| run.session == batch.session);
        if !known || !run {
            notes.say(
                &rules::COMPLETE_RUN,
                &batch.id,
                format!("the session `{}` has no run", batch.session),
            );
        }
    }
}

fn menu_kept(book: &Book<'_>, notes: &mut Notes) {
    for choice in &book.plan.menu.choices {
        let plates = book
            .plan
            .plates
            .iter()
            .filter(|plate| plate.sitting == choice.sitting);
        for plate in plates {
            let cover = choice.covers.iter().find(|own| own.cover == plate.cover);
            let kept = plate.meal == choice.meal && cover.is_some_and(|cover| same_options(cover, plate));
            if !kept {
                not_kept(notes, &choice.sitting);
            }
        }
        let sitting = book.snapshot.sitting(&choice.sitting);
        if sitting.is_some_and(|sitting| sitting.covers() != choice.covers.len()) {
            not_kept(notes, &choice.sitting);
        }
    }
}

fn not_kept(notes: &mut Notes, sitting: &SittingId) {
    notes.say(
        &rules::COMPLETE_MENU_KEPT,
        sitting,
        "a plate is not what the menu chose",
    );
}

fn same_options(cover: &CoverChoice, plate: &Plate) -> bool {
    let mut chosen: Vec<(&str, &Item)> = cover
        .picks
        .iter()
        .map(|pick| (pick.element.as_str(), &pick.item))
        .collect();
    // An item may come from two lots; it is still one option.
    let mut served: Vec<(&str, &Item)> = plate
        .portions
        .iter()
        .map(|portion| (portion.element.as_str(), &portion.item))
        .collect();
    for list in [&mut chosen, &mut served] {
        list.sort_unstable();
        list.dedup();
    }
    chosen == served
}
