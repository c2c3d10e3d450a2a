//! A sitting, and so tonight: take out, warm, put together, and before bed.

use axum::extract::{Path, State};
use axum::http::header;
use axum::response::{IntoResponse, Redirect, Response};
use larderwright_model::SittingId;
use larderwright_views::page::sitting::{PlateCard, SittingPage, TakeOut, next, sitting as view};
use maud::{Markup, html};

use super::Answer;
use crate::Pages;
use crate::layout::{Frame, file, page};
use crate::marks::{Board, TickKind};
use crate::pages::cooling::why;
use crate::pages::ticks::tick_back;
use crate::parts::{block, guidance, mark, sect, tape};
use crate::refusal::Refusal;
use crate::routes::Route;

/// The sitting that is next.
pub(crate) async fn tonight(State(pages): State<Pages>) -> Result<Redirect, Refusal> {
    let week = pages.desk.week().await?;
    let now = pages.desk.now(&week)?;
    let id = next(&week.snapshot, now)
        .ok_or_else(|| Refusal::missing("Nobody eats here this week, as far as the plan knows."))?;
    Ok(Redirect::to(&Route::Sitting(id.to_string()).to_string()))
}

async fn seen(pages: &Pages, id: &str) -> Result<SittingPage, Refusal> {
    let week = pages.desk.week().await?;
    let view = view(&week.snapshot, &week.plan, &SittingId::new(id));
    view.ok_or_else(|| Refusal::missing(format!("There is no sitting `{id}` in this week.")))
}

/// A sitting.
pub(crate) async fn sitting(State(pages): State<Pages>, Path(id): Path<String>) -> Answer {
    let view = seen(&pages, &id).await?;
    Ok(pages.desk.board(|board| render(&view, board)).await)
}

/// A sitting as one file.
pub(crate) async fn sitting_file(
    State(pages): State<Pages>,
    Path(id): Path<String>,
) -> Result<Response, Refusal> {
    let view = seen(&pages, &id).await?;
    let headers = [(
        header::CONTENT_DISPOSITION,
        "attachment; filename=\"tonight.html\"",
    )];
    let body = html! { (block(&view.block)) (steps(&view)) (guidance(&view.guidance)) };
    Ok((headers, file(&view.block.title, &body)).into_response())
}

/// A sitting laid out.
pub(crate) fn render(view: &SittingPage, board: &Board) -> Markup {
    let frame = Frame::new(format!("{}, {}", view.block.title, view.block.sub))
        .here(Route::Tonight)
        .css(&["css/larder.css", "css/shop.css"])
        .class("ton")
        .topic("shop");
    let body = html! {
        (block(&view.block))
        nav.turn aria-label="Other sittings" {
            @if let Some((id, name)) = &view.before { a href=(Route::Sitting(id.clone())) rel="prev" { "Before: " (name) } }
            @if let Some((id, name)) = &view.after { a href=(Route::Sitting(id.clone())) rel="next" { "After: " (name) } }
        }
        (steps(view))
        section.noprint aria-labelledby="chg" {
            (sect("chg", "Something changed", "you see what happens to the food first"))
            p.row {
                @for (word, name) in [("meal", "Not this meal"), ("guests", "More people"), ("away", "Eating out")] {
                    a.btn href=(format!("{}?sitting={}&do={word}", Route::Changes, view.id)) { (name) }
                }
            }
        }
        (sect("bed", "Before bed", ""))
        @if view.before_bed.is_empty() { p.lead { "Nothing to pull and nothing to soak tonight." } }
        ul {
            @for (at, todo) in view.before_bed.iter().enumerate() {
                @let key = format!("{}~{at}", view.id);
                li id=(format!("bed-{at}")) class=[board.ticked(TickKind::Bed, &key).then_some("got")] {
                    (tick_back(TickKind::Bed, &key, board.ticked(TickKind::Bed, &key), (&format!("bed-{at}"), &html! { span.wh { b { (todo.title) } " " span.pk { (todo.when) } span.why { (todo.text) } } }, &view.id)))
                }
            }
        }
        p.row.noprint { a.btn.quiet href=(Route::SittingFile(view.id.clone())) download { "Send to a phone" } }
        (guidance(&view.guidance))
    };
    page(&frame, &body)
}

fn steps(view: &SittingPage) -> Markup {
    html! {
        ol.steps {
            @if !view.take_out.tapes.is_empty() || !view.take_out.fresh.is_empty() { (take_out(&view.take_out)) }
            @if !view.steps.is_empty() {
                li {
                    h2.lab2 { b { (view.steps[0].at) } " Warm" }
                    ul.warm {
                        @for step in &view.steps {
                            li {
                                span.at { (step.at) }
                                div { b { (step.what) } " " span class=[step.hot.then_some("hot")] { (step.minutes) } span.why { (step.amount) @if !step.who.is_empty() { " · for " (step.who) } } }
                            }
                        }
                    }
                }
            }
            li {
                h2.lab2 { @if !view.assemble_at.is_empty() { b { (view.assemble_at) } " " } "Assemble" }
                div {
                    @for words in &view.how { p.how { (words) } }
                    @if view.plates.is_empty() { p { "Nobody is in." } }
                    div.platesheet { @for plate in &view.plates { (card(plate)) } }
                }
            }
        }
    }
}

fn take_out(out: &TakeOut) -> Markup {
    html! {
        li {
            h2.lab2 { @if !out.at.is_empty() { b { (out.at) } " " } "Take out" }
            div {
                @if !out.tapes.is_empty() {
                    ul.tapes { @for lot in &out.tapes { li { (tape(&lot.name, &lot.dates)) span { (lot.words) } (why(&lot.why)) } } }
                }
                @if !out.fresh.is_empty() {
                    p.fresh { b { "And fresh: " } @for (at, food) in out.fresh.iter().enumerate() { @if at > 0 { " · " } (food) } }
                }
            }
        }
    }
}

fn card(plate: &PlateCard) -> Markup {
    html! {
        article.plate aria-label=(format!("{}’s plate", plate.name)) {
            div.ph1 {
                ul.plates aria-hidden="true" { li class=[plate.own.then_some("own")] { span { (plate.initial) } } }
                h3 { (plate.name) }
            }
            @for each in &plate.marks { (mark(each)) }
            ul.els { @for row in &plate.rows { li { span { (row.what) } b { (row.amount) } i { (row.spoons) } } } }
            p.pf { (plate.note) }
        }
    }
}
