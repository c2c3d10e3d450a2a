//! The larder: what to use first, what to pull, lots by place, and the fridge check.

use axum::extract::State;
use larderwright_views::page::larder::{LarderPage, LotLine, PlacePart, larder as view};
use maud::{Markup, html};

use super::Answer;
use crate::Pages;
use crate::layout::{Frame, page};
use crate::marks::Board;
use crate::pages::cooling::{rooms, why};
use crate::pages::ticks::pick;
use crate::parts::{block, guidance, lane, named, sect, tape, todos};
use crate::routes::Route;

/// The larder.
pub(crate) async fn larder(State(pages): State<Pages>) -> Answer {
    let week = pages.desk.week().await?;
    let now = pages.desk.now(&week)?;
    let view = view(&week.snapshot, &week.plan, now);
    Ok(pages.desk.board(|board| render(&view, board)).await)
}

/// The larder laid out.
pub(crate) fn render(view: &LarderPage, board: &Board) -> Markup {
    let frame = Frame::new("Larder")
        .here(Route::Larder)
        .css(&["css/larder.css", "css/positions.css"])
        .class("lard")
        .topic("larder");
    let planned = view
        .places
        .iter()
        .flat_map(|place| &place.lots)
        .all(|lot| lot.planned);
    let body = html! {
        (block(&view.block))
        @if view.places.is_empty() { p.lead { "Nothing is in boxes. After a session its lots stand here, by their last day." } }
        div.first {
            @if !view.use_first.is_empty() {
                section aria-labelledby="uf" {
                    h2 #uf { "Use first" }
                    ul { @for lot in &view.use_first { li { b { (lot.what) } ", " (lot.until) " · " (lot.plan) } } }
                }
            }
            section aria-labelledby="fc" {
                h2 #fc { "Fridge check" }
                @if planned { p { "Nothing is cooked yet. Afterwards: one minute, " b { "there, half or gone" } " for each lot." } }
                @else { p { "One minute: " b { "there, half or gone" } " for each lot. What nobody says counts as eaten as planned." } }
            }
            @if view.pulls.is_empty() && !view.places.is_empty() {
                section aria-labelledby="np" { h2 #np { "Pull" } p { "Nothing has to come out of the freezer." } }
            }
        }
        @if !view.pulls.is_empty() {
            (sect("pull", "Pull list", "from the freezer into the fridge, on a plate"))
            (todos(&view.pulls))
        }
        @for (at, place) in view.places.iter().enumerate() { (one_place(place, view, (at, board))) }
        (rooms(&view.rooms))
        @if !view.stock.is_empty() {
            details.why {
                summary { "Dry goods and the like: what the household said is at home" }
                (named(&view.stock))
            }
        }
        (guidance(&view.guidance))
    };
    page(&frame, &body)
}

fn one_place(place: &PlacePart, view: &LarderPage, (at, board): (usize, &Board)) -> Markup {
    let id = format!("p{at}");
    html! {
        section.place aria-labelledby=(id) {
            (sect(&id, &place.name, &place.cold))
            div class=(format!("daysr n{}", view.days.len())) aria-hidden="true" {
                span {} span {}
                ol { @for day in &view.days { li { (day) } } }
                span {}
            }
            ul { @for lot in &place.lots { (one_lot(lot, view.days.len(), board)) } }
        }
    }
}

fn one_lot(lot: &LotLine, days: usize, board: &Board) -> Markup {
    let class = match (lot.last_day, lot.frozen) {
        (true, _) => "lot urgent",
        (false, true) => "lot fz",
        (false, false) => "lot",
    };
    html! {
        li class=(format!("{class} n{days}")) id=(format!("lot-{}", lot.id)) {
            (tape(&lot.name, &lot.dates))
            div.facts {
                b { (lot.boxes) }
                span { (lot.plan) }
                @if !lot.mind.is_empty() { em { (lot.mind) } }
            }
            (lane(&lot.lane))
            (why(&lot.why))
            @if lot.planned { p.yet { "to be cooked" } }
            @else { (pick("lot", &lot.id, (&format!("{}, {}", lot.name, lot.boxes), &["there", "half", "gone"]), board.lot(&lot.id))) }
        }
    }
}
