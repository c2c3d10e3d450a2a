//! A sitting, and so tonight: take out, warm, put together, and before bed.

use std::sync::Arc;

use axum::Form;
use axum::extract::{Path, Query, State};
use axum::http::header;
use axum::response::{IntoResponse, Redirect, Response};
use larderwright_model::SittingId;
use larderwright_store::Store;
use larderwright_views::Words;
use larderwright_views::page::sitting::{PlateCard, SittingPage, TakeOut, next, sitting as view};
use maud::{Markup, html};
use serde::Deserialize;

use super::Answer;
use crate::Pages;
use crate::desk::{DeskError, Week};
use crate::layout::{Frame, file, page};
use crate::marks::{Board, TickKind};
use crate::pages::cooling::why;
use crate::pages::larder::mass;
use crate::pages::ticks::tick_back;
use crate::pages::turns::{TURNS, Table};
use crate::parts::{block, guidance, mark, sect, tape};
use crate::refusal::Refusal;
use crate::routes::Route;
use crate::said::{self, with};

/// The sitting that is next, of all weeks that are planned.
pub(crate) async fn tonight<S: Store + 'static>(State(pages): State<Pages<S>>) -> Result<Redirect, Refusal> {
    let weeks = pages.desk.weeks().await?;
    let now = pages.desk.now().await?.minute();
    let open = |week: &&Arc<Week>| {
        week.snapshot
            .sittings
            .iter()
            .any(|sitting| later(sitting.at) >= now)
    };
    let week = weeks.iter().find(open).unwrap_or(&weeks[0]);
    let id = next(&week.snapshot, now)
        .ok_or_else(|| Refusal::missing("Nobody eats here this week, as far as the plan knows."))?;
    Ok(Redirect::to(&Route::Sitting(id.to_string()).to_string()))
}

fn later(at: jiff::civil::DateTime) -> jiff::civil::DateTime {
    at.saturating_add(jiff::Span::new().hours(1))
}

/// The plan that knows a sitting: the one in force, else an earlier one of its week.
pub(crate) async fn week_with<S: Store + 'static>(
    pages: &Pages<S>,
    id: &SittingId,
) -> Result<Arc<Week>, Refusal> {
    let knows = |week: &Arc<Week>| week.snapshot.sitting(id).is_some();
    let weeks = pages.desk.weeks().await?;
    if let Some(week) = weeks.iter().find(|week| knows(week)) {
        return Ok(Arc::clone(week));
    }
    for week in pages
        .desk
        .earlier(pages.desk.now().await?.minute().date())
        .await?
    {
        if knows(&week) {
            return Ok(week);
        }
    }
    Err(Refusal::missing(format!(
        "There is no sitting `{id}` in this week."
    )))
}

async fn seen<S: Store + 'static>(pages: &Pages<S>, id: &str) -> Result<SittingPage, Refusal> {
    let id = SittingId::new(id);
    let week = week_with(pages, &id).await?;
    let view = view(&week.snapshot, &week.plan, &id);
    view.ok_or_else(|| Refusal::missing(format!("There is no sitting `{id}` in this week.")))
}

/// A sitting.
pub(crate) async fn sitting<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
    Query(asked): Query<said::Asked>,
) -> Answer {
    let table = Table::of(&pages, &id).await?;
    let view = view(&table.week.snapshot, &table.week.plan, &SittingId::new(&id));
    let view = view.ok_or_else(|| Refusal::missing(format!("There is no sitting `{id}` in this week.")))?;
    let strip = pages.said.strip(asked, &Route::Sitting(id.clone()));
    let words = Words::of(&table.week.snapshot.household);
    let name = |eater: &str| {
        let known = table.week.snapshot.household.eater(&eater.into());
        known.map_or_else(|| eater.to_owned(), |eater| eater.name.clone())
    };
    let lines = |board: &Board| Now {
        strip,
        missing: table.evening().missing(),
        later: board
            .later(&id)
            .map(|(eater, at)| (name(eater), words.clock(at)))
            .collect(),
        over: table.over(),
        served: table.reported,
    };
    Ok(pages
        .desk
        .board(|board| render(&view, board, &lines(board)))
        .await)
}

/// How things stand at a sitting.
pub(crate) struct Now {
    strip: Markup,
    missing: Vec<(String, String)>,
    later: Vec<(String, String)>,
    /// Its time has come: what was eaten can be said.
    over: bool,
    /// Somebody said what was eaten.
    served: bool,
}

/// A sitting as one file.
pub(crate) async fn sitting_file<S: Store + 'static>(
    State(pages): State<Pages<S>>,
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
pub(crate) fn render(view: &SittingPage, board: &Board, now: &Now) -> Markup {
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
        (now.strip)
        @if !now.missing.is_empty() {
            div.strip.late { div { @for (name, words) in &now.missing { p { b { (name) } " " (words) } } } }
        }
        @for (name, at) in &now.later { p.strip { b { (name) } " eats at " (at) ": a plate is kept back." } }
        (steps(view))
        section.noprint aria-labelledby="chg" {
            (sect("chg", "Something changed", "you see what happens to the food first"))
            p.row.turns {
                @for (word, name) in TURNS { a.btn href=(format!("{}?what={word}", Route::Turns(view.id.clone()))) { (name) } }
                a.btn.quiet href=(format!("{}?do=anew&show=yes&sitting={}&back={}", Route::Changes, view.id, view.id)) { "Plan the rest anew" }
            }
        }
        @if now.over { (afterwards(view, now.served)) }
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

/// After the meal: eaten, left over, came back. What nobody says counts as eaten as planned.
fn afterwards(view: &SittingPage, served: bool) -> Markup {
    let to = Route::Servings(view.id.clone());
    html! {
        section.noprint aria-labelledby="after" {
            (sect("after", "After the meal", if served { "it was said already; saying it again takes its place" } else { "what nobody says counts as eaten as planned" }))
            form method="post" action=(to) data-live {
                div.row {
                    button.btn type="submit" name="eaten" value="1000" { "Eaten as planned" }
                    button.btn.quiet type="submit" name="eaten" value="750" { "A quarter less" }
                    button.btn.quiet type="submit" name="eaten" value="500" { "Half" }
                    button.btn.quiet type="submit" name="eaten" value="1250" { "A quarter more" }
                }
            }
            form.ask method="post" action=(to) data-live {
                label { "Left over in the pot " input type="text" name="left" size="8" placeholder="300 g, 10 oz" autocomplete="off" required; }
                button.btn type="submit" { "Put away" }
            }
            form.ask method="post" action=(to) data-live {
                label { "Came back on plates " input type="text" name="back" size="8" placeholder="100 g, 4 oz" autocomplete="off" required; }
                button.btn type="submit" { "Thrown away" }
            }
        }
    }
}

/// What a form after the meal sends.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct After {
    eaten: Option<i64>,
    left: Option<String>,
    back: Option<String>,
}

/// Writes down what was eaten, left over or came back.
pub(crate) async fn servings<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
    Form(after): Form<After>,
) -> Result<Redirect, Refusal> {
    let household = pages.desk.household().await?.ok_or(DeskError::NoHousehold)?;
    let now = pages.desk.now().await?;
    let home = pages.desk.home();
    let amount = |text: &Option<String>| mass(text.as_deref().unwrap_or(""), &household);
    let told = match (after.eaten, amount(&after.left)?, amount(&after.back)?) {
        (Some(permille @ 100..=3000), _, _) => home.served(&id, permille, &now).await?,
        (_, Some(left), _) => home.left_over(&id, left, None, &now).await?,
        (_, _, Some(back)) => home.returned(&id, back, &now).await?,
        _ => {
            return Err(Refusal::form(
                "How much was it?",
                "Write an amount, as in 300 g or 10 oz.",
            ));
        }
    };
    let number = pages.noted("all", told);
    Ok(Redirect::to(&with(&Route::Sitting(id), number)))
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
