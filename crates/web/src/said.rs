//! What was written down just now, said once on the next page with a way to take it back.

use std::collections::VecDeque;
use std::sync::Mutex;

use larderwright_app::Told;
use larderwright_model::EventId;
use maud::{Markup, html};
use serde::Deserialize;

use crate::routes::Route;

/// What was said lately; what nobody takes back is forgotten.
#[derive(Debug, Default)]
pub(crate) struct Said(Mutex<(u64, VecDeque<(u64, Told)>)>);

/// How much is remembered.
const KEPT: usize = 32;

/// The part of an address that asks for what was said.
#[derive(Clone, Copy, Debug, Default, Deserialize)]
pub(crate) struct Asked {
    said: Option<u64>,
}

impl Said {
    /// Remembers it, and gives it a number.
    pub(crate) fn keep(&self, told: Told) -> u64 {
        let mut said = self
            .0
            .lock()
            .expect("nothing panics while it holds what was said");
        said.0 += 1;
        let number = said.0;
        if said.1.len() >= KEPT {
            said.1.pop_front();
        }
        said.1.push_back((number, told));
        number
    }

    fn find(&self, number: u64) -> Option<Told> {
        let said = self
            .0
            .lock()
            .expect("nothing panics while it holds what was said");
        said.1
            .iter()
            .find(|(of, _)| *of == number)
            .map(|(_, told)| told.clone())
    }

    /// The events of what was said, to be taken back.
    pub(crate) fn events(&self, number: u64) -> Vec<EventId> {
        self.find(number).map_or_else(Vec::new, |told| told.events)
    }

    /// The strip that says it; `back` is the page it stands on.
    pub(crate) fn strip(&self, asked: Asked, back: &Route) -> Markup {
        let found = asked.said.and_then(|number| Some((number, self.find(number)?)));
        let Some((number, told)) = found else {
            return html! {};
        };
        html! {
            div.strip.said role="status" {
                div {
                    @for (at, line) in told.lines.iter().enumerate() { p { @if at == 0 { b { "Noted: " } } (line) } }
                    @if told.lines.is_empty() { p { b { "Noted." } } }
                    @for line in &told.findings { p.mindful { b { "Mind: " } (line) } }
                }
                @if !told.events.is_empty() {
                    form method="post" action=(Route::Undoings) data-live {
                        input type="hidden" name="said" value=(number);
                        input type="hidden" name="back" value=(back);
                        button.btn.quiet type="submit" { "Take it back" }
                    }
                }
            }
        }
    }
}

/// A page with the number of what was said.
pub(crate) fn with(route: &Route, number: u64) -> String {
    format!("{route}?said={number}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(line: &str) -> Told {
        Told {
            events: vec![EventId::new(line)],
            lines: vec![line.to_owned()],
            findings: Vec::new(),
        }
    }

    #[test]
    fn what_was_said_is_found_by_its_number_until_it_is_old() {
        let said = Said::default();
        let first = said.keep(told("one"));
        assert_eq!(said.events(first), [EventId::new("one")]);
        for number in 0..KEPT {
            said.keep(told(&number.to_string()));
        }
        assert!(said.events(first).is_empty());
        assert!(
            said.strip(Asked { said: Some(first) }, &Route::Larder)
                .into_string()
                .is_empty()
        );
    }

    #[test]
    fn what_was_said_is_escaped() {
        let said = Said::default();
        let number = said.keep(told("<b>"));
        let text = said
            .strip(Asked { said: Some(number) }, &Route::Larder)
            .into_string();
        assert!(text.contains("&lt;b&gt;"));
    }
}
