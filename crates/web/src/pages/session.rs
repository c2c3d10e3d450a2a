//! A session: before it begins what to have ready and the run; while it runs, see `live`.

use axum::extract::{Path, Query, State};
use axum::response::Redirect;
use larderwright_model::SessionId;
use larderwright_store::Store;
use larderwright_views::page::session::{SessionPage, next, session as view};
use larderwright_views::page::timeline::{Lane, LaneKind, Row, Timeline};
use maud::{Markup, html};

use super::Answer;
use crate::Pages;
use crate::desk::Week;
use crate::layout::{Frame, page};
use crate::pages::{cooling, live, sheets};
use crate::parts::{block, guidance, named, sect, todos};
use crate::refusal::Refusal;
use crate::routes::Route;
use crate::said;

/// The session that is next, of all weeks that are planned.
pub(crate) async fn session<S: Store + 'static>(State(pages): State<Pages<S>>) -> Result<Redirect, Refusal> {
    let weeks = pages.desk.weeks().await?;
    let now = pages.desk.now().await?.minute();
    let to = |id: String| Ok(Redirect::to(&Route::SessionOf(id).to_string()));
    if let Some(running) = pages.desk.running(now) {
        return to(running);
    }
    let open = |week: &&std::sync::Arc<Week>| week.plan.runs.iter().any(|run| run.finish >= now);
    let week = weeks.iter().find(open).unwrap_or(&weeks[0]);
    let id = next(&week.plan, &week.snapshot, now)
        .ok_or_else(|| Refusal::missing("No session is planned this week."))?;
    to(id.to_string())
}

/// A session.
pub(crate) async fn session_of<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
    Query(asked): Query<said::Asked>,
) -> Answer {
    let now = pages.desk.now().await?.moment.at;
    let id = SessionId::new(&id);
    let missing = || Refusal::missing(format!("There is no session `{id}` in this week."));
    let week = pages.desk.week_with(&id).await?.ok_or_else(missing)?;
    let course = pages.desk.course(&week, &id, now).await.ok_or_else(missing)?;
    if course.progress.started.is_some() {
        let strip = pages.said.strip(asked, &Route::SessionOf(id.to_string()));
        return live::show(&week, (&id, &course), (now, &strip)).ok_or_else(missing);
    }
    let view = view(&week.snapshot, &week.plan, &id, now).ok_or_else(missing)?;
    Ok(render(&view))
}

/// A session's page before it begins.
pub(crate) fn render(view: &SessionPage) -> Markup {
    let frame = Frame::new(view.block.title.clone())
        .here(Route::Session)
        .css(&["css/run.css", "css/table.css", "css/positions.css"])
        .js(&["js/paper.js"])
        .topic("session");
    let body = html! {
        (block(&view.block))
        p.lead { (view.finish) }
        div.row.noprint {
            form method="post" action=(Route::Beginnings(view.id.clone())) {
                button.btn.main type="submit" { "Begin the session" }
            }
            button.btn.quiet type="button" data-print hidden { "Print the run sheet" }
            @for (id, name) in &view.others { a.btn.quiet href=(Route::SessionOf(id.clone())) { (name) } }
        }
        div.pair {
            section aria-labelledby="ready" {
                (sect("ready", "Have ready", "before the first pot"))
                (named(&view.preflight))
            }
            @if !view.leads.is_empty() {
                section aria-labelledby="leads" {
                    (sect("leads", "The day before", ""))
                    (todos(&view.leads))
                }
            }
        }
        section.tl aria-labelledby="run" {
            (sect("run", "The run", "hands, oven, burners, cooling"))
            (across(&view.timeline))
            (down(&view.timeline))
        }
        (cooling::part(&view.cooling))
        div.clock { @for (at, section) in view.sections.iter().enumerate() { (sheets::section(section, at)) } }
        (guidance(&view.guidance))
    };
    page(&frame, &body)
}

/// The run across a wide page.
pub(crate) fn across(line: &Timeline) -> Markup {
    html! {
        div class=(format!("hz n{}", line.steps)) tabindex="0" role="group" aria-label="The run, lane by lane" {
            ol.hrs aria-hidden="true" { @for hour in &line.hours { li class=(format!("c{}", hour.at)) { (hour.words) } } }
            div.lns {
                @for lane in &line.lanes { (one_lane(lane)) }
                @if let Some(now) = &line.now {
                    div.nowbox aria-hidden="true" { i class=(format!("nowline c{}", now.at)) { b { "now " (now.words) } } }
                }
            }
        }
    }
}

/// What is narrower shows no words; the list below says them.
const WORDS_FROM: i64 = 4;

fn one_lane(lane: &Lane) -> Markup {
    html! {
        div class=(format!("lane {}", lane.kind.word())) {
            h3 { (lane.name) }
            ol {
                @for bar in &lane.bars {
                    li class=(format!("c{} w{} {}{}{}", bar.at, bar.width, bar.stage.word(), if bar.heating { " heat" } else { "" }, if lane.kind == LaneKind::Oven { format!(" h{}", bar.level) } else { String::new() })) {
                        span.vh { (bar.times) ": " @if bar.width < WORDS_FROM { (bar.words) } }
                        @if bar.width >= WORDS_FROM { span.tx { (bar.words) } }
                    }
                }
            }
        }
    }
}

/// The run down a narrow page: a row for each act, rails for what is on the heat.
pub(crate) fn down(line: &Timeline) -> Markup {
    let rails = line.rails.len();
    html! {
        div class=(format!("vt w{rails}")) role="group" aria-label="The run, by the clock" {
            div.vhead aria-hidden="true" {
                span { "time" }
                @for rail in &line.rails { b class=(rail.kind.word()) { (rail.name) } }
                span { "what" }
            }
            div.vbody {
                @for (at, rail) in line.rails.iter().enumerate() {
                    @for (from, rows) in &rail.bars {
                        i aria-hidden="true" class=(format!("rl {} c{from} w{rows} r{}", rail.kind.word(), at + 1)) {}
                    }
                }
                ol {
                    @for (at, row) in line.rows.iter().enumerate() { (one_row(row, at + 1)) }
                }
            }
        }
    }
}

fn one_row(row: &Row, at: usize) -> Markup {
    html! {
        li class=(format!("c{at} {}{}", row.stage.word(), if row.who.is_empty() { " self" } else { "" })) {
            span.at { (row.at) }
            span.do {
                @if !row.who.is_empty() { b { (row.who) } " " }
                (row.title)
                @if !row.place.is_empty() { small { (row.place) } }
            }
        }
    }
}
