//! The household and its kitchen.

use axum::extract::State;
use larderwright_views::page::house::{EaterCard, HousePage, house as view};
use maud::{Markup, html};

use super::Answer;
use crate::Pages;
use crate::layout::{Frame, page};
use crate::parts::{block, named, sect, told};
use crate::routes::Route;

/// The household.
pub(crate) async fn household(State(pages): State<Pages>) -> Answer {
    let week = pages.desk.week().await?;
    Ok(render(&view(&week.snapshot, &week.plan)))
}

/// The household laid out.
pub(crate) fn render(view: &HousePage) -> Markup {
    let frame = Frame::new("Household and kitchen")
        .here(Route::Household)
        .css(&["css/table.css"]);
    let body = html! {
        (block(&view.block))
        p.note { "This is what the week is planned from. It is written in your household file; change it there and plan again." }
        (sect("eat", "Who eats", ""))
        div.people { @for eater in &view.eaters { (one(eater)) } }
        div.pair {
            section aria-labelledby="cook" { (sect("cook", "Who cooks", "")) (named(&view.cooks)) }
            section aria-labelledby="wish" { (sect("wish", "Wishes", "")) (named(&view.wishes)) }
            section aria-labelledby="kit" { (sect("kit", "The kitchen", "")) (named(&view.kitchen)) }
            section aria-labelledby="usual" { (sect("usual", "The usual week", "")) (named(&view.week)) }
            @if !view.always.is_empty() { section aria-labelledby="par" { (sect("par", "Always at home, every week", "")) (named(&view.always)) } }
        }
    };
    page(&frame, &body)
}

fn one(eater: &EaterCard) -> Markup {
    html! {
        article.person aria-label=(eater.name) {
            h3 { (eater.name) }
            p { (eater.words) }
            @for allergy in &eater.allergies { p.mk { span.alg { (allergy.name) } " " small { (allergy.value) } } }
            @if !eater.without.is_empty() { p.note { (eater.without) } }
            @if !eater.cautions.is_empty() { (told(&eater.cautions)) }
        }
    }
}
