//! The shopping page, and the same as one file for any phone.

use std::collections::BTreeMap;
use std::sync::Arc;

use axum::Form;
use axum::extract::{Query, State};
use axum::http::header;
use axum::response::{IntoResponse, Redirect, Response};
use jiff::civil::Date;
use larderwright_app::home::CartLine;
use larderwright_quantity::{Money, decimal};
use larderwright_store::Store;
use larderwright_views::page::shopping::{HomeItem, Line, ShoppingPage, Trip, key, shopping as view};
use maud::{Markup, html};
use serde::Deserialize;

use super::Answer;
use crate::Pages;
use crate::desk::Week;
use crate::layout::{Frame, file, page};
use crate::marks::{Board, Level, TickKind};
use crate::pages::ticks::{pick, tick};
use crate::parts::{block, sect};
use crate::refusal::Refusal;
use crate::routes::Route;
use crate::said::{self, with};

/// The week whose shopping is next: the first with a trip today or later.
async fn week_to_shop<S: Store + 'static>(pages: &Pages<S>) -> Result<Arc<Week>, Refusal> {
    let mut weeks = pages.desk.weeks().await?;
    let today = pages.desk.now().await?.minute().date();
    let ahead = |week: &Arc<Week>| week.snapshot.shops.iter().any(|shop| shop.at.date() >= today);
    let at = weeks.iter().position(ahead).unwrap_or(0);
    Ok(weeks.swap_remove(at))
}

/// The shopping page.
pub(crate) async fn shopping<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Query(asked): Query<said::Asked>,
) -> Answer {
    let week = week_to_shop(&pages).await?;
    let view = view(&week.snapshot, &week.plan);
    let strip = pages.said.strip(asked, &Route::Shopping);
    let cart = Cart::of(&pages.desk.home().cart(&week.plan).await?, &week);
    Ok(pages
        .desk
        .board(|board| render(&view, (board, &cart), &strip))
        .await)
}

/// The order sheet as one file.
pub(crate) async fn shopping_file<S: Store + 'static>(
    State(pages): State<Pages<S>>,
) -> Result<Response, Refusal> {
    let week = week_to_shop(&pages).await?;
    let view = view(&week.snapshot, &week.plan);
    let headers = [(
        header::CONTENT_DISPOSITION,
        "attachment; filename=\"order-sheet.html\"",
    )];
    Ok((headers, file("Order sheet", &on_paper(&view))).into_response())
}

/// A printed date that was read.
#[derive(Debug, Deserialize)]
pub(crate) struct Unpacking {
    key: String,
    printed: Date,
}

/// Writes a printed date down.
pub(crate) async fn unpackings<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Form(unpacking): Form<Unpacking>,
) -> Result<Redirect, Refusal> {
    let now = pages.desk.now().await?;
    for week in pages.desk.weeks().await? {
        let lines = &week.plan.order.lines;
        if let Some(line) = lines.iter().find(|line| key(line) == unpacking.key) {
            let household = &week.snapshot.household;
            let told = pages
                .desk
                .home()
                .unpacked(household, line, (unpacking.printed, &now))
                .await?;
            let number = pages.noted("shop", told);
            return Ok(Redirect::to(&with(&Route::Shopping, number)));
        }
    }
    Err(Refusal::form(
        "This line is not on the order any more.",
        "Look at the order sheet as it is now.",
    ))
}

/// What a receipt says.
#[derive(Debug, Deserialize)]
pub(crate) struct Receipt {
    trip: String,
    total: String,
}

/// Writes the total of a receipt down.
pub(crate) async fn receipts<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Form(receipt): Form<Receipt>,
) -> Result<Redirect, Refusal> {
    let total = money(&receipt.total).ok_or_else(|| {
        Refusal::form(
            format!("`{}` is no amount of money.", receipt.total),
            "Write it with two digits behind the point, as in 84.20.",
        )
    })?;
    let now = pages.desk.now().await?;
    let trip = larderwright_model::ShopId::new(&receipt.trip);
    let told = pages.desk.home().receipt(Some(trip), total, &now).await?;
    let number = pages.noted("shop", told);
    Ok(Redirect::to(&with(&Route::Shopping, number)))
}

/// Money as it stands on a receipt; point or comma, whatever sign stands before it.
fn money(text: &str) -> Option<Money> {
    let digits = text
        .trim()
        .trim_start_matches(|letter: char| !letter.is_ascii_digit());
    let minor = decimal(&digits.replace(',', "."), 2)?;
    (minor < 100_000_000).then(|| Money::from_minor(minor))
}

/// What of the order is bought, by the keys of its lines.
#[derive(Debug, Default)]
pub(crate) struct Cart(BTreeMap<String, CartLine>);

impl Cart {
    fn of(bought: &[CartLine], week: &Week) -> Self {
        let lines = week.plan.order.lines.iter();
        let got = lines.filter_map(|line| {
            let found = bought.iter().find(|bought| bought.is(line))?;
            Some((key(line), found.clone()))
        });
        Self(got.collect())
    }

    fn has(&self, line: &Line) -> bool {
        self.0.contains_key(&line.key)
    }
}

/// The shopping page laid out.
pub(crate) fn render(view: &ShoppingPage, (board, cart): (&Board, &Cart), strip: &Markup) -> Markup {
    let frame = Frame::new("Order sheet")
        .here(Route::Shopping)
        .css(&["css/shop.css"])
        .class("shop")
        .topic("shop");
    let lines: Vec<&Line> = lines(view).collect();
    let (got, labels) = (
        lines.iter().filter(|line| cart.has(line)).count(),
        lines
            .iter()
            .filter(|line| line.label.is_some() && !board.ticked(TickKind::Label, &line.key))
            .count(),
    );
    let body = html! {
        (block(&view.block))
        (strip)
        p #offline .strip hidden { b { "No network." } " Ticks stay on this phone and go over when it is back." }
        div.two {
            (home(&view.home, board))
            div.trips { @for trip in &view.trips { (one_trip(trip, (board, cart))) } }
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

fn one_trip(trip: &Trip, (board, cart): (&Board, &Cart)) -> Markup {
    let missing: usize = trip
        .departments
        .iter()
        .flat_map(|part| &part.lines)
        .filter(|line| !cart.has(line))
        .count();
    html! {
        section.trip aria-label=(trip.name) {
            p.tripname { b { (trip.name) } " " (trip.lines) " lines, " (trip.total) " expected · " (missing) " to go" }
            div.deps {
                @for (at, part) in trip.departments.iter().enumerate() {
                    @let id = format!("d-{}-{at}", trip.id);
                    div.dep {
                        div.sect { h2 id=(id) { span.no { (at + 1) } " " (part.name) } }
                        ul { @for line in &part.lines { (one_line(line, (board, cart))) } }
                    }
                }
            }
            (receipt(trip))
        }
    }
}

fn anchor(line: &Line) -> String {
    format!("l-{}", line.key.replace('~', "-"))
}

fn one_line(line: &Line, (board, cart): (&Board, &Cart)) -> Markup {
    let got = cart.has(line);
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
                    (tick(TickKind::Label, &line.key, read, (&anchor(line), &html! { span { (ask.promise) span.vh { ": " (line.name) } } })))
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
            @if got && line.chilled { (unpacking(line, (board, cart))) }
        }
    }
}

/// At home: into the fridge, and the date on the pack.
fn unpacking(line: &Line, (board, cart): (&Board, &Cart)) -> Markup {
    let unpacked = board.ticked(TickKind::Unpacked, &line.key);
    let printed = cart.0.get(&line.key).and_then(|bought| bought.printed);
    html! {
        (tick(TickKind::Unpacked, &line.key, unpacked, (&anchor(line), &html! { span.wh { "In the fridge at home" span.vh { ": " (line.name) } } })))
        form.ask.printed method="post" action=(Route::Unpackings) data-live {
            input type="hidden" name="key" value=(line.key);
            label { "Date on the pack " input type="date" name="printed" required value=[printed.map(|date| date.to_string())] aria-label=(format!("Date printed on {}", line.name)); }
            button.btn.quiet type="submit" aria-label=(format!("Keep the date of {}", line.name)) { @if printed.is_some() { "Change it" } @else { "Keep it" } }
        }
    }
}

/// What the receipt of a trip says in total.
fn receipt(trip: &Trip) -> Markup {
    html! {
        form.ask.noprint method="post" action=(Route::Receipts) data-live {
            input type="hidden" name="trip" value=(trip.id);
            label { "The receipt says " input type="text" name="total" size="8" inputmode="decimal" autocomplete="off" placeholder="84.20" required; }
            button.btn.quiet type="submit" { "Keep it" }
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
            p.tripname { b { (trip.name) } " " (trip.total) " expected" }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn money_is_read_as_receipts_write_it() {
        for (text, minor) in [
            ("84.20", 8420),
            ("$84.2", 8420),
            ("84", 8400),
            ("84,20", 8420),
            (" 0.05 ", 5),
        ] {
            assert_eq!(money(text), Some(Money::from_minor(minor)), "{text}");
        }
        for text in ["", "x", "1.234", "1.2.3", "84.-0", "99999999"] {
            assert_eq!(money(text), None, "{text}");
        }
    }
}
