//! A session while it runs: now and next for each cook, timers, the heat; and the posts that cooks make.

use axum::Form;
use axum::extract::{Path, State};
use axum::response::Redirect;
use jiff::civil::DateTime;
use larderwright_app::Told;
use larderwright_model::{Act, SessionId};
use larderwright_store::Store;
use larderwright_views::page::live::{ActCard, CookColumn, LivePage, Near, Stage, Timer, live as view};
use maud::{Markup, html};
use serde::Deserialize;

use crate::Pages;
use crate::desk::Week;
use crate::layout::{Frame, page};
use crate::marks::{Entry, Mark, SessionMark};
use crate::pages::boxes::pack_out;
use crate::pages::session::{across, down};
use crate::pages::ticks::good_id;
use crate::parts::{block, guidance, sect};
use crate::progress::Course;
use crate::refusal::Refusal;
use crate::routes::Route;
use crate::said::with;

/// The page of a running session.
pub(crate) fn show(
    week: &Week,
    (id, course): (&SessionId, &Course),
    (now, strip): (DateTime, &Markup),
) -> Option<Markup> {
    let mut plan = week.plan.clone();
    let at = plan.runs.iter().position(|run| run.session == *id)?;
    plan.runs[at] = course.run.clone();
    let view = view(&week.snapshot, &plan, id, (&course.progress, now))?;
    Some(render(&view, course.progress.ended, strip))
}

/// A running session laid out.
pub(crate) fn render(view: &LivePage, ended: bool, strip: &Markup) -> Markup {
    let frame = Frame::new(view.block.title.clone())
        .here(Route::Session)
        .css(&["css/run.css", "css/live.css", "css/positions.css"])
        .js(&["js/timers.js", "js/awake.js"])
        .class("live")
        .topic("session")
        .refresh(view.changes_in);
    let session = &view.session;
    let body = html! {
        (block(&view.block))
        (strip)
        @if !view.late.is_empty() { p class="strip late" role="status" { (view.late) } }
        @if !view.paused.is_empty() {
            div.strip { p { b { (view.paused) } } form method="post" action=(Route::Rests(session.clone())) data-live { (hidden("did", "resumed")) button.btn.main type="submit" { "Carry on" } } }
        }
        @if view.cooks.len() > 1 { (whose(view)) }
        div class=(format!("cols k{}", view.cooks.len().min(4))) {
            @for cook in &view.cooks { (column(cook, session)) }
            (timers(&view.timers, session))
        }
        (heat(view))
        (pack_out(view))
        @if ended {
            p.strip { b { "This session is over." } " What was boxed stands in the larder." }
        } @else if view.all_done {
            form method="post" action=(Route::Endings(session.clone())) data-live { p.row { button.btn.main type="submit" { "All put away: end the session" } } }
        }
        section.tl aria-labelledby="run" {
            (sect("run", "The run", "hands, oven, burners, cooling"))
            (across(&view.timeline))
            (down(&view.timeline))
        }
        (guidance(&view.guidance))
    };
    page(&frame, &body)
}

fn hidden(name: &str, value: &str) -> Markup {
    html! { input type="hidden" name=(name) value=(value); }
}

/// On a phone a cook looks at one column; without script all of them follow each other.
fn whose(view: &LivePage) -> Markup {
    html! {
        div class="pick whopick noprint" role="group" aria-label="Whose hands" {
            @for cook in &view.cooks { button type="button" id=(format!("who-{}", cook.id)) data-whose=(cook.id) aria-pressed="false" { (cook.name) } }
        }
    }
}

fn column(cook: &CookColumn, session: &str) -> Markup {
    html! {
        section.cook aria-label=(cook.name) data-cook=(cook.id) {
            h2.who { (cook.name) }
            @match &cook.now {
                Some(card) => { (now(card, session)) }
                None => { p.lab { span.idle { (cook.idle) } } }
            }
            @if let Some(card) = &cook.next { (next(card, session, cook.now.is_none())) }
            @if !cook.then.is_empty() {
                ol.then { @for line in &cook.then { li { b { (line.name) } " " (line.value) } } }
            }
        }
    }
}

fn details(card: &ActCard) -> Markup {
    html! {
        @if !card.text.is_empty() { p.det { (card.text) } }
        @if !card.with.is_empty() { p.with { (card.with) } }
        @if !card.cue.is_empty() { p.cue { "Look for: " (card.cue) } }
    }
}

fn now(card: &ActCard, session: &str) -> Markup {
    html! {
        div.now {
            p.lab { span { "Now" } " " em class=[card.over.then_some("late")] { (card.when) } }
            p.far { (card.title) }
            (details(card))
        }
        div.acts {
            form method="post" action=(Route::Completions(session.to_owned())) data-live {
                (hidden("act", &card.id))
                button.btn.main id=(format!("done-{}", card.id)) type="submit" aria-label=(format!("Done: {}", card.title)) { "Done" }
            }
            form method="post" action=(Route::Extensions(session.to_owned())) data-live {
                (hidden("act", &card.id))
                button.btn type="submit" name="minutes" value="5" aria-label=(format!("Five minutes more: {}", card.title)) { "5 min more" }
            }
            a.btn href=(format!("{}?act={}", Route::Mishaps(session.to_owned()), card.id)) aria-label=(format!("Went wrong: {}", card.title)) { "Went wrong" }
        }
    }
}

fn next(card: &ActCard, session: &str, idle: bool) -> Markup {
    html! {
        div.next {
            p.lab { span { "Next" } " " (card.when) }
            p.far2 { (card.title) }
            (details(card))
            @if idle && card.may_start {
                form method="post" action=(Route::Completions(session.to_owned())) data-live {
                    (hidden("act", &card.id)) (hidden("did", "started"))
                    button.btn type="submit" aria-label=(format!("Start now: {}", card.title)) { "Start it now" }
                }
            } @else if idle {
                p.note { "It waits for what is still cooking." }
            }
        }
    }
}

fn timers(timers: &[Timer], session: &str) -> Markup {
    html! {
        section.timers aria-labelledby="ti" {
            div.sect { h2 #ti { "Timers" } p { "Set the oven’s own timer too: phones sleep." } }
            @if timers.is_empty() { p.note { "Nothing cooks by itself just now." } }
            ol {
                @for timer in timers {
                    li class=(match timer.near { Near::Over => "over", Near::Soon => "soon", Near::Waiting => "" }) {
                        div { b { (timer.name) @match timer.near { Near::Over => { ", over by" } Near::Soon => { small { " · next" } } Near::Waiting => {} } } span { (timer.words) } }
                        span.dig role="timer" data-left=(timer.left) { (timer.digits) }
                        span class=(format!("ruler p{}", timer.part)) aria-hidden="true" {}
                        @if timer.near == Near::Over {
                            form method="post" action=(Route::Completions(session.to_owned())) data-live {
                                (hidden("act", &timer.id))
                                button.btn id=(format!("bell-{}", timer.id)) type="submit" aria-label=(format!("Bell answered: {}", timer.name)) { "Heard: it is done" }
                            }
                        }
                        @if timer.near != Near::Waiting {
                            form method="post" action=(Route::Extensions(session.to_owned())) data-live {
                                (hidden("act", &timer.id))
                                button.btn.quiet type="submit" name="minutes" value="5" aria-label=(format!("Five minutes more: {}", timer.name)) { "5 min more" }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn heat(view: &LivePage) -> Markup {
    let session = &view.session;
    html! {
        section.onheat aria-labelledby="oh" {
            (sect("oh", "On the heat", ""))
            @if view.heat.is_empty() { p.note { "Nothing is on the heat." } }
            ul { @for place in &view.heat { li { b { (place.place) } span { (place.what) } em { (place.setting) } } } }
            @if view.paused.is_empty() {
                div.row.noprint {
                    a.btn href=(Route::Rests(session.clone())) { "Pause: what leaves the heat" }
                    a.btn.quiet href=(Route::Absences(session.clone())) { "Called away" }
                    a.btn.quiet href=(Route::Stops(session.clone())) { "Must stop" }
                }
            }
        }
    }
}

/// What a form of the session sends.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct DidForm {
    id: Option<String>,
    #[serde(default)]
    act: String,
    #[serde(default)]
    did: String,
    #[serde(default)]
    minutes: i64,
}

/// The most minutes that one tap adds.
const LONGER_MAX: i64 = 240;

/// The session begins.
pub(crate) async fn beginnings<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
    Form(form): Form<DidForm>,
) -> Result<Redirect, Refusal> {
    write(&pages, &id, form.id, SessionMark::Began).await
}

/// An act is done, begun early, or was not done after all.
pub(crate) async fn completions<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
    Form(form): Form<DidForm>,
) -> Result<Redirect, Refusal> {
    let acts = known(&pages, &id, &form.act).await?;
    let mark = match form.did.as_str() {
        "started" => SessionMark::Started { act: form.act },
        "reopened" => SessionMark::Reopened { act: form.act },
        _ => SessionMark::Done { acts },
    };
    write(&pages, &id, form.id, mark).await
}

/// An act needs longer.
pub(crate) async fn extensions<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
    Form(form): Form<DidForm>,
) -> Result<Redirect, Refusal> {
    known(&pages, &id, &form.act).await?;
    if !(1..=LONGER_MAX).contains(&form.minutes) {
        return Err(Refusal::form(
            "The minutes are missing.",
            "Say how many minutes more, from 1 to 240.",
        ));
    }
    let mark = SessionMark::Longer {
        act: form.act,
        minutes: form.minutes,
    };
    write(&pages, &id, form.id, mark).await
}

/// Everything rests, or goes on.
pub(crate) async fn rests<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
    Form(form): Form<DidForm>,
) -> Result<Redirect, Refusal> {
    let mark = match form.did.as_str() {
        "resumed" => SessionMark::Resumed,
        _ => SessionMark::Rested,
    };
    write(&pages, &id, form.id, mark).await
}

/// The session is over.
pub(crate) async fn endings<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
    Form(form): Form<DidForm>,
) -> Result<Redirect, Refusal> {
    write(&pages, &id, form.id, SessionMark::Ended).await
}

/// The act, with earlier ones of the same hands that nobody marked: who is at this one has left those.
async fn known<S: Store + 'static>(pages: &Pages<S>, id: &str, act: &str) -> Result<Vec<String>, Refusal> {
    let now = pages.desk.now().await?.moment.at;
    let session = SessionId::new(id);
    let missing = || Refusal::missing(format!("There is no session `{id}` in this week."));
    let week = pages.desk.week_with(&session).await?.ok_or_else(missing)?;
    let course = pages
        .desk
        .course(&week, &session, now)
        .await
        .ok_or_else(missing)?;
    let run = &course.run;
    let this: &Act = run
        .acts
        .iter()
        .find(|other| other.id.as_str() == act)
        .ok_or_else(|| {
            Refusal::form(
                "This step is not part of the session any more.",
                "Look at the session as it is now.",
            )
        })?;
    let left = |other: &&Act| {
        other.end <= this.start
            && other.who.iter().any(|cook| this.who.contains(cook))
            && !matches!(course.progress.pace(other).stage, Stage::Done | Stage::Dropped)
    };
    let mut acts: Vec<String> = run
        .acts
        .iter()
        .filter(left)
        .map(|other| other.id.to_string())
        .collect();
    acts.push(this.id.to_string());
    Ok(acts)
}

/// Writes a mark of a session and goes back to it.
pub(crate) async fn write<S: Store + 'static>(
    pages: &Pages<S>,
    id: &str,
    made: Option<String>,
    what: SessionMark,
) -> Result<Redirect, Refusal> {
    let session = SessionId::new(id);
    let missing = || Refusal::missing(format!("There is no session `{id}` in this week."));
    let week = pages.desk.week_with(&session).await?.ok_or_else(missing)?;
    let told = marked(pages, (&week, &session), made, what).await?;
    Ok(back(pages, id, told))
}

/// Writes a mark of a session and tells the books what it means.
pub(crate) async fn marked<S: Store + 'static>(
    pages: &Pages<S>,
    (week, session): (&Week, &SessionId),
    made: Option<String>,
    what: SessionMark,
) -> Result<Told, Refusal> {
    let now = pages.desk.now().await?;
    let made = made.filter(|made| good_id(made));
    let entry = Entry {
        id: made.unwrap_or_else(|| pages.fresh_id()),
        at: now.moment.at,
        mark: Mark::Session {
            plan: week.name().to_owned(),
            session: session.to_string(),
            what,
        },
    };
    pages.desk.mark(entry).await?;
    Ok(pages.desk.keep_books(week, session, &now).await?)
}

/// Back to the session, which says what was told.
pub(crate) fn back<S: Store>(pages: &Pages<S>, id: &str, told: Told) -> Redirect {
    let route = Route::SessionOf(id.to_owned());
    if told.lines.is_empty() && told.findings.is_empty() {
        return Redirect::to(&route.to_string());
    }
    // A batch said otherwise is said again at its form: taken back, its marks would tell it anew.
    let number = pages.noted(
        "larder",
        Told {
            events: Vec::new(),
            ..told
        },
    );
    Redirect::to(&with(&route, number))
}
