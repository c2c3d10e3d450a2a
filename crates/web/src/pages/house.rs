//! The household and its kitchen.

use axum::extract::State;
use larderwright_store::Store;
use larderwright_views::page::Block;
use larderwright_views::page::house::{EaterCard, HousePage, house as view};
use maud::{Markup, html};

use super::{Answer, household_file};
use crate::Pages;
use crate::desk::DeskError;
use crate::layout::{Frame, page};
use crate::parts::{block, named, sect, told};
use crate::routes::Route;

/// The household.
pub(crate) async fn household<S: Store + 'static>(State(pages): State<Pages<S>>) -> Answer {
    match pages.desk.week().await {
        Ok(week) => Ok(render(&view(&week.snapshot, &week.plan))),
        Err(DeskError::NoHousehold) => Ok(household_file::start()),
        Err(DeskError::NoWeek) => Ok(unplanned()),
        Err(error) => Err(error.into()),
    }
}

/// The household laid out.
pub(crate) fn render(view: &HousePage) -> Markup {
    let frame = Frame::new("Household and kitchen")
        .here(Route::Household)
        .css(&["css/table.css"]);
    let body = html! {
        (block(&view.block))
        p.note { "This is what the week was planned from. It is written in your household’s file; a change there counts for the next plan." }
        p.row.noprint { a.btn href=(Route::HouseholdFile) { "Change the file" } a.btn.quiet href=(Route::Plans) { "Plan a week" } }
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

/// A household of which no week is planned yet.
fn unplanned() -> Markup {
    let body = html! {
        (block(&Block { title: "Household and kitchen".into(), sub: "kept; no week is planned yet".into(), fields: Vec::new() }))
        p.lead { "Look through the file once more, then plan the first week." }
        p.row { a.btn.main href=(Route::Plans) { "Plan a week" } a.btn href=(Route::HouseholdFile) { "Change the file" } }
    };
    page(&Frame::new("Household and kitchen").here(Route::Household), &body)
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
