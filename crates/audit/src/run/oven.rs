//! The oven: one temperature at a time, inside every step's range, hot before its first use.

use larderwright_model::{Act, ActKind, Run, Step};

use crate::book::{Book, clock};
use crate::notes::Notes;
use crate::rules;

pub(super) fn check(book: &Book<'_>, run: &Run, notes: &mut Notes) {
    for act in run.acts.iter().filter(|act| act.kind == ActKind::Step) {
        for step in steps(book, act) {
            range(book, act, step, notes);
        }
        setting(run, act, notes);
    }
    let mut settings: Vec<_> = run.oven.iter().collect();
    settings.sort_by_key(|setting| (setting.from, setting.to));
    for pair in settings.windows(2) {
        if pair[1].from < pair[0].to {
            notes
                .say(
                    &rules::RUN_OVEN_SETTING,
                    &run.session,
                    "the oven has two settings at once",
                )
                .evidence = format!("set {}, held until {}", clock(pair[1].from), clock(pair[0].to));
        }
    }
    preheat(run, notes);
}

fn steps<'a>(book: &Book<'a>, act: &Act) -> Vec<&'a Step> {
    let Some(id) = &act.step else { return Vec::new() };
    act.batches
        .iter()
        .filter_map(|batch| book.step(batch, id))
        .collect()
}

fn range(book: &Book<'_>, act: &Act, step: &Step, notes: &mut Notes) {
    let Some(range) = step.oven else { return };
    let oven = book.snapshot.household.kitchen.oven;
    let fits = act.oven.is_some_and(|set| {
        range.min <= set && set <= range.max && oven.is_some_and(|oven| oven.min <= set && set <= oven.max)
    });
    if !fits {
        let set = act
            .oven
            .map_or_else(|| "not set".to_owned(), |set| tenths(set.deci_c()));
        notes
            .say(
                &rules::RUN_OVEN_RANGE,
                &act.id,
                "the oven's setting does not suit the step",
            )
            .evidence = format!(
            "{set}, allowed {} to {}",
            tenths(range.min.deci_c()),
            tenths(range.max.deci_c())
        );
    }
}

fn tenths(deci_c: i64) -> String {
    format!("{}.{} °C", deci_c / 10, deci_c.abs() % 10)
}

fn setting(run: &Run, act: &Act, notes: &mut Notes) {
    let Some(set) = act.oven else { return };
    let held = run
        .oven
        .iter()
        .any(|setting| setting.temperature == set && setting.from <= act.start && act.end <= setting.to);
    if !held {
        notes
            .say(
                &rules::RUN_OVEN_SETTING,
                &act.id,
                "the oven is not at the act's temperature throughout",
            )
            .evidence = tenths(set.deci_c());
    }
}

fn preheat(run: &Run, notes: &mut Notes) {
    let uses = run
        .acts
        .iter()
        .filter(|act| act.kind == ActKind::Step && act.oven.is_some());
    let Some(first) = uses.map(|act| act.start).min() else {
        return;
    };
    let heated = run
        .acts
        .iter()
        .any(|act| act.kind == ActKind::Preheat && act.start < act.end && act.end <= first);
    if !heated {
        notes
            .say(
                &rules::RUN_PREHEAT,
                &run.session,
                "the oven is used before it is heated",
            )
            .evidence = format!("first use {}", clock(first));
    }
}
