//! Wording: texts that the program fills with amounts and times name none themselves, and promise nothing.

use larderwright_model::{Component, Way};

use super::rules;
use crate::notes::Notes;

const STEPS: std::ops::RangeInclusive<usize> = 3..=9;

pub(super) fn check(component: &Component, way: &Way, notes: &mut Notes) {
    let subject = format!("{}/{}", component.id, way.id);
    if !STEPS.contains(&way.steps.len()) {
        notes
            .say(&rules::STEPS, &subject, "an unusual number of steps")
            .evidence = format!("{}, usual {} to {}", way.steps.len(), STEPS.start(), STEPS.end());
    }
    for step in &way.steps {
        let visit = step.visit.as_ref().map_or("", |visit| visit.text.as_str());
        for text in [&step.title, &step.text, &step.cue, visit] {
            if let Some(what) = breach(text) {
                notes
                    .say(&rules::WORDING, format!("{subject}/{}", step.id), what)
                    .evidence = text.to_owned();
            }
        }
    }
    if breach(&component.trouble).is_some_and(|what| what == PROMISE) {
        notes
            .say(&rules::WORDING, component.id.as_str(), PROMISE)
            .evidence
            .clone_from(&component.trouble);
    }
}

const PROMISE: &str = "calls food safe";

fn breach(text: &str) -> Option<&'static str> {
    let words = || text.split(|letter: char| !letter.is_alphanumeric());
    if words().any(|word| word.eq_ignore_ascii_case("safe") || word.eq_ignore_ascii_case("safely")) {
        Some(PROMISE)
    } else if text.contains(|letter: char| letter.is_ascii_digit()) {
        Some("names an amount, a time or a temperature")
    } else {
        None
    }
}
