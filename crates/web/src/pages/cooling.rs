//! Cooling and room as parts of other pages: advice for each batch with its curve behind it, the rule behind a date,
//! fridge and freezer by day.

use larderwright_views::page::cooling::{BatchCooling, CoolingCurve};
use larderwright_views::page::room::RoomDay;
use maud::{Markup, html};

use crate::parts::sect;

/// How the batches of a session get cold.
pub(crate) fn part(batches: &[BatchCooling]) -> Markup {
    html! {
        @if !batches.is_empty() {
            section aria-labelledby="getcold" {
                (sect("getcold", "Cooling", "one action for each batch"))
                @for batch in batches {
                    h3.sub3 { (batch.name) }
                    p { (batch.advice) }
                    @if let Some(curve) = &batch.curve { details.why { summary { "More: its middle, by physics" } (drawn(curve)) } }
                }
            }
        }
    }
}

/// The curve, with its words as the text alternative.
fn drawn(curve: &CoolingCurve) -> Markup {
    html! {
        svg viewBox="0 0 360 120" width="360" height="120" role="img" aria-label=(curve.words) {
            line x1="0" x2="360" y1=(curve.warm_y) y2=(curve.warm_y) stroke="currentColor" stroke-dasharray="2 4" {}
            line x1=(curve.within_x) x2=(curve.within_x) y1="0" y2="120" stroke="currentColor" stroke-dasharray="6 4" {}
            polyline points=(curve.points) fill="none" stroke="currentColor" stroke-width="2" {}
        }
        p { (curve.words) " Six hours from left to right; the level line is 21 °C (70 °F), the upright one the time for it." }
        p { "A likely curve from 57 °C (135 °F) on, worked out and not measured. It changes no rule; your local food-safety authority has the last word." }
    }
}

/// The rule and source behind a date, on demand.
pub(crate) fn why(words: &str) -> Markup {
    html! { @if !words.is_empty() { details.why { summary { "Why this date" } p { (words) } } } }
}

/// Fridge and freezer by day against their room.
pub(crate) fn rooms(days: &[RoomDay]) -> Markup {
    html! {
        @if !days.is_empty() {
            details.why {
                summary { "Fridge, freezer and boxes by day" }
                @for day in days {
                    p {
                        b { (day.day) } ": fridge " (day.fridge)
                        @if !day.freezer.is_empty() { ", freezer " (day.freezer) }
                        @for kind in &day.boxes { " · " (kind.name) " " (kind.value) }
                    }
                }
            }
        }
    }
}
