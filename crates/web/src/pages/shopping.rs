//! The shopping page, and the same as one file for any phone.

use axum::extract::State;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use larderwright_views::page::shopping::{HomeItem, Line, ShoppingPage, Trip, shopping as view};
use maud::{Markup, html};

use super::Answer;
use crate::Pages;
use crate::layout::{Frame, file, page};
use crate::marks::{Board, Level, TickKind};
use crate::pages::ticks::{pick, tick};
use crate::parts::{block, sect};
use crate::refusal::Refusal;
use crate::routes::Route;

/// The shopping page.
pub(crate) async fn shopping(State(pages): State<Pages>) -> Answer {
    let week = pages.desk.week().await?;
    let view = view(&week.snapshot, &week.plan);
    Ok(pages.desk.board(|board| render(&view, board)).await)
}

/// The order sheet as one file.
pub(crate) async fn shopping_file(State(pages): State<Pages>) -> Result<Response, Refusal> {
    let week = pages.desk.week().await?;
    let view = view(&week.snapshot, &week.plan);
    let headers = [(
        header::CONTENT_DISPOSITION,
        "attachment; filename=\"order-sheet.html\"",
    )];
    Ok((headers, file("Order sheet", &on_paper(&view))).into_response())
}

/// The shopping page laid out.
pub(crate) fn render(view: &ShoppingPage, board: &Board) -> Markup {
    let frame = Frame::new("Order sheet")
        .here(Route::Shopping)
        .css(&["css/shop.css"])
        .class("shop")
        .topic("shop");
    let lines: Vec<&Line> = lines(view).collect();
    let (got, labels) = (
        lines
            .iter()
            .filter(|line| board.ticked(TickKind::Cart, &line.key))
            .count(),
        lines
            .iter()
            .filter(|line| line.label.is_some() && !board.ticked(TickKind::Label, &line.key))
            .count(),
    );
    let body = html! {
        (block(&view.block))
        p #offline .strip hidden { b { "No network." } " Ticks stay on this phone and go over when it is back." }
        div.two {
            (home(&view.home, board))
            div.trips { @for trip in &view.trips { (one_trip(trip, board)) } }
        }
        @if lines.is_empty() { p.lead { "Nothing has to be bought." } }
        details.why {
            summary { "Where these prices come from" }
            ul.notes { @for note in &view.notes { li { (note) } } }
        }
        div.foot {
            p { b { (got) " of " (lines.len()) } " in the cart · " b { (labels) } " labels to read" }
            div.row { a.btn href=(Route::ShoppingFile) download { "Send to a phone" } }
        }
    };
    page(&frame, &body)
}

fn lines(view: &ShoppingPage) -> impl Iterator<Item = &Line> {
    view.trips
        .iter()
        .flat_map(|trip| trip.departments.iter().flat_map(|part| &part.lines))
}

fn home(items: &[HomeItem], board: &Board) -> Markup {
    html! {
        section.home aria-labelledby="h0" {
            (sect("h0", "Check at home first", "the plan trusts these"))
            @if items.is_empty() { p.note { "The plan counts on nothing at home." } }
            ul {
                @for item in items {
                    li id=(format!("home-{}", item.food)) {
                        div { b { (item.name) } span { (item.why) } }
                        (pick("home", &item.food, (&item.name, &["have", "low", "out"]), board.home(&item.food)))
                    }
                }
            }
            @if !items.is_empty() { p.note { "Low or out: buy it with the rest; its usual pack is in its department." } }
        }
    }
}

fn one_trip(trip: &Trip, board: &Board) -> Markup {
    let missing: usize = trip
        .departments
        .iter()
        .flat_map(|part| &part.lines)
        .filter(|line| !board.ticked(TickKind::Cart, &line.key))
        .count();
    html! {
        section.trip aria-label=(trip.name) {
            p.tripname { b { (trip.name) } " · " (trip.lines) " lines, " (trip.total) " expected · " (missing) " to go" }
            div.deps {
                @for (at, part) in trip.departments.iter().enumerate() {
                    @let id = format!("d-{}-{at}", trip.id);
                    div.dep {
                        div.sect { h2 id=(id) { span.no { (at + 1) } " " (part.name) } }
                        ul { @for line in &part.lines { (one_line(line, board)) } }
                    }
                }
            }
        }
    }
}

fn anchor(line: &Line) -> String {
    format!("l-{}", line.key.replace('~', "-"))
}

fn one_line(line: &Line, board: &Board) -> Markup {
    let got = board.ticked(TickKind::Cart, &line.key);
    let words = html! {
        span.wh {
            b { (line.name) } " " span.pk { (line.packs) }
            span.why { (line.why) @if !line.left.is_empty() { " · " (line.left) } }
        }
        span.pr { (line.price) small { (line.basis) } }
    };
    html! {
        li id=(anchor(line)) class=[got.then_some("got")] {
            (tick(TickKind::Cart, &line.key, got, (&anchor(line), &words)))
            @if let Some(ask) = &line.label {
                @let read = board.ticked(TickKind::Label, &line.key);
                div.label {
                    span.alg { (ask.heading) " " span.for { (ask.who) } }
                    (tick(TickKind::Label, &line.key, read, (&anchor(line), &html! { span { (ask.promise) } })))
                }
            }
            @if !line.instead.is_empty() {
                details.sub {
                    summary { "No " (line.name.to_lowercase()) "?" }
                    ul {
                        @for other in &line.instead {
                            li {
                                b { (other.what) }
                                @if !other.effect.is_empty() { " " (other.effect) "." }
                                @if !other.label.is_empty() { " " span class="alg ask" { (other.label) } }
                                cite { (other.source) }
                            }
                        }
                    }
                }
            }
            @if got && line.chilled {
                @let unpacked = board.ticked(TickKind::Unpacked, &line.key);
                (tick(TickKind::Unpacked, &line.key, unpacked, (&anchor(line), &html! { span.wh { "In the fridge at home" } })))
            }
        }
    }
}

/// The sheet for a file or a printer: boxes to tick that need no server.
fn on_paper(view: &ShoppingPage) -> Markup {
    html! {
        (block(&view.block))
        @if !view.home.is_empty() {
            (sect("h0", "Check at home first", ""))
            ul.ticks { @for item in &view.home { li { label.buy { input.tick type="checkbox"; span.wh { b { (item.name) } span.why { (item.why) } } } } } }
        }
        @for trip in &view.trips {
            p.tripname { b { (trip.name) } " · " (trip.total) " expected" }
            @for (at, part) in trip.departments.iter().enumerate() {
                div.sect { h2 { span.no { (at + 1) } " " (part.name) } }
                ul.ticks {
                    @for line in &part.lines {
                        li {
                            label.buy {
                                input.tick type="checkbox";
                                span.wh { b { (line.name) } " " span.pk { (line.packs) } span.why { (line.why) } }
                                span.pr { (line.price) }
                            }
                            @if let Some(ask) = &line.label {
                                div.label {
                                    span.alg { (ask.heading) " " (ask.who) }
                                    label.ck2 { input.tick type="checkbox"; span { (ask.promise) } }
                                }
                            }
                            @for other in &line.instead { p.note { "Or " (other.what) ". " (other.effect) @if !other.label.is_empty() { " " b { (other.label) } } } }
                        }
                    }
                }
            }
        }
    }
}

/// The level that a word means.
pub(crate) fn level(word: &str) -> Option<Level> {
    Some(match word {
        "have" | "there" => Level::Have,
        "low" | "half" => Level::Low,
        "out" | "gone" => Level::Out,
        _ => return None,
    })
}
