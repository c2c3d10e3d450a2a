//! Slips of a running session: what leaves the heat before a rest, and what follows from being called away, from having
//! to stop, and from a mishap; each shown before it is accepted.

use std::collections::BTreeSet;

use axum::Form;
use axum::extract::{Path, Query, State};
use axum::response::Redirect;
use jiff::civil::{DateTime, Time};
use larderwright_model::{Act, ActKind, SessionId};
use larderwright_planning::session::replan::Replanned;
use larderwright_store::Store;
use larderwright_views::page::Block;
use larderwright_views::page::live::Stage;
use larderwright_views::page::slips::{Anew, Consequence, consequence, rest as rest_view};
use maud::{Markup, html};
use serde::Deserialize;

use super::Answer;
use crate::Pages;
use crate::desk::Week;
use crate::layout::{Frame, page};
use crate::marks::{SessionMark, batches};
use crate::pages::live::write;
use crate::parts::{block, guidance, sect, slip};
use crate::progress::Course;
use crate::refusal::Refusal;
use crate::routes::Route;

/// What stands behind a slip.
struct Table {
    week: std::sync::Arc<Week>,
    session: SessionId,
    course: Course,
    now: DateTime,
}

async fn table<S: Store + 'static>(pages: &Pages<S>, id: &str) -> Result<Table, Refusal> {
    let now = pages.desk.now().await?.moment.at;
    let session = SessionId::new(id);
    let week = pages.desk.week_with(&session).await?;
    let week = week.ok_or_else(|| Refusal::missing(format!("There is no session `{id}` in this week.")))?;
    let course = pages.desk.course(&week, &session, now).await;
    let course =
        course.ok_or_else(|| Refusal::missing(format!("There is no session `{id}` in this week.")))?;
    if course.progress.started.is_none() {
        return Err(Refusal::form(
            "This session has not begun.",
            "Begin it first; before that, change the week.",
        ));
    }
    Ok(Table {
        week,
        session,
        course,
        now,
    })
}

fn frame(title: &str) -> Frame {
    Frame::new(title)
        .here(Route::Session)
        .css(&["css/run.css", "css/live.css"])
        .class("live pause")
}

/// What leaves the heat before everything rests.
pub(crate) async fn rest<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
) -> Answer {
    let table = table(&pages, &id).await?;
    let view = rest_view(
        (&table.week.snapshot, &table.week.plan),
        &table.course.run,
        (&table.course.progress, table.now),
    );
    let body = html! {
        (block(&view.block))
        @if view.offs.is_empty() { p.lead { "Nothing is on the heat. You can simply stop." } }
        ol.offs {
            @for (at, off) in view.offs.iter().enumerate() {
                li {
                    div.num aria-hidden="true" { (at + 1) }
                    div { p.far { (off.what) } p.say { (off.place) " · " (off.how) } p.det { (off.then) } }
                    label.ck { input.tick type="checkbox" autocomplete="off"; span { "It is off" } }
                }
            }
        }
        (sect("wait", "The rest may wait", "as guidance says"))
        table.wait {
            thead { tr { th scope="col" { "What" } th scope="col" { "How" } th scope="col" { "How long" } } }
            tbody { @for row in &view.waits { tr { th scope="row" { (row.what) } td { (row.how) } td { b { (row.until) } } } } }
        }
        form method="post" action=(Route::Rests(id.clone())) {
            div.row { button.btn.main type="submit" { "Rest now" } a.btn href=(Route::SessionOf(id.clone())) { "Carry on" } }
        }
        (guidance(&view.guidance))
    };
    Ok(page(&frame("Pausing"), &body))
}

/// What a slip is asked for.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Asked {
    cook: Option<String>,
    minutes: Option<i64>,
    by: Option<String>,
    act: Option<String>,
    what: Option<String>,
}

fn title_block(title: &str, sub: &str) -> Markup {
    block(&Block {
        title: title.into(),
        sub: sub.into(),
        fields: Vec::new(),
    })
}

/// The consequence on a slip, with what is sent when it is accepted.
fn accept(consequence: &Consequence, route: &Route, fields: &[(&str, String)], back: &str) -> Markup {
    let title = html! {
        "The session ends at "
        @if consequence.finish_before == consequence.finish_after { (consequence.finish_after) }
        @else { del { (consequence.finish_before) } " " ins { (consequence.finish_after) } }
    };
    let buttons = html! {
        form method="post" action=(route) {
            @for (name, value) in fields { input type="hidden" name=(name) value=(value); }
            div.row {
                button.btn.main type="submit" { "Do it" }
                a.btn href=(Route::SessionOf(back.to_owned())) { "Leave it" }
            }
        }
    };
    slip("If so", &title, &consequence.rows, &buttons)
}

fn told(table: &Table, replanned: &Replanned, mark: &SessionMark) -> Consequence {
    let lost = match mark {
        SessionMark::GivenUp { batches: ids, .. } => batches(ids).collect(),
        _ => BTreeSet::new(),
    };
    let anew = Anew {
        ends: (table.course.progress.finish, replanned.run.finish),
        left_out: replanned.left_out.clone(),
        lost,
        late_min: replanned.late_min,
        overdue_min: replanned.overdue_min,
    };
    consequence((&table.week.snapshot, &table.week.plan), &anew)
}

fn refused(message: &str, back: &str) -> Markup {
    html! {
        p.strip { b { "That cannot be done. " } (message) }
        p.row { a.btn href=(Route::SessionOf(back.to_owned())) { "Back to the session" } }
    }
}

/// Who is called away, and what follows.
pub(crate) async fn absence<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
    Query(asked): Query<Asked>,
) -> Answer {
    let table = table(&pages, &id).await?;
    let cooks = cooks(&table);
    let minutes = asked.minutes.unwrap_or(15).clamp(1, 240);
    let chosen = asked
        .cook
        .clone()
        .or_else(|| cooks.first().map(|(id, _)| id.clone()));
    let body = html! {
        (title_block("Called away", "One pair of hands fewer for a while"))
        form.ask method="get" action=(Route::Absences(id.clone())) {
            fieldset { legend { "Who" }
                @for (cook, name) in &cooks { label.ck0 { input type="radio" name="cook" value=(cook) checked[chosen.as_ref() == Some(cook)]; " " (name) } }
            }
            label { "Minutes " input type="number" name="minutes" min="1" max="240" value=(minutes) inputmode="numeric"; }
            button.btn type="submit" { "Show what follows" }
        }
        @if asked.cook.is_some() && let Some(cook) = &chosen {
            @let mark = SessionMark::Away { cook: cook.clone(), minutes };
            @match pages.desk.preview(&table.week, &table.session, (&mark, table.now)).await {
                Ok(replanned) => { (accept(&told(&table, &replanned, &mark), &Route::Absences(id.clone()), &[("cook", cook.clone()), ("minutes", minutes.to_string())], &id)) }
                Err(conflict) => { (refused(&conflict.message, &id)) }
            }
        }
    };
    Ok(page(&frame("Called away"), &body))
}

/// Those who cook in this session.
fn cooks(table: &Table) -> Vec<(String, String)> {
    let all = table.week.snapshot.household.cooks.iter();
    let busy =
        |cook: &&larderwright_model::Cook| table.course.run.acts.iter().any(|act| act.who.contains(&cook.id));
    all.filter(busy)
        .map(|cook| (cook.id.to_string(), cook.name.clone()))
        .collect()
}

/// Until when, and what is dropped then.
pub(crate) async fn stop<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
    Query(asked): Query<Asked>,
) -> Answer {
    let table = table(&pages, &id).await?;
    let usual = table
        .now
        .checked_add(jiff::Span::new().minutes(60))
        .unwrap_or(table.now);
    let by = asked.by.as_deref().and_then(time);
    let shown = by.unwrap_or(usual.time());
    let body = html! {
        (title_block("Must stop", "What to drop, where half-prepared food goes, which dinners change"))
        form.ask method="get" action=(Route::Stops(id.clone())) {
            label { "Stop by " input type="time" name="by" required value=(format!("{:02}:{:02}", shown.hour(), shown.minute())); }
            button.btn type="submit" { "Show what follows" }
        }
        @if let Some(by) = by {
            @let by = on_day(&table, by);
            @let mark = SessionMark::Stop { by };
            @match pages.desk.preview(&table.week, &table.session, (&mark, table.now)).await {
                Ok(replanned) => { (accept(&told(&table, &replanned, &mark), &Route::Stops(id.clone()), &[("by", format!("{:02}:{:02}", by.hour(), by.minute()))], &id)) }
                Err(conflict) => { (refused(&conflict.message, &id)) }
            }
        }
    };
    Ok(page(&frame("Must stop"), &body))
}

fn time(text: &str) -> Option<Time> {
    let (hour, minute) = text.split_once(':')?;
    Time::new(hour.parse().ok()?, minute.parse().ok()?, 0, 0).ok()
}

/// The time on the day of the session; after midnight when it has passed already.
fn on_day(table: &Table, time: Time) -> DateTime {
    let today = table.now.date().to_datetime(time);
    if today > table.now {
        today
    } else {
        today.checked_add(jiff::Span::new().days(1)).unwrap_or(today).min(
            table
                .now
                .checked_add(jiff::Span::new().hours(12))
                .unwrap_or(today),
        )
    }
}

/// The things that can go wrong with a step.
const MISHAPS: [(&str, &str); 5] = [
    ("not-done", "Not done yet"),
    ("wont-fit", "Won’t fit in the pot or on the tray"),
    ("burnt", "Burnt"),
    ("spilled", "Spilled"),
    ("short", "Came out short"),
];

/// What went wrong, and what follows.
pub(crate) async fn mishap<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
    Query(asked): Query<Asked>,
) -> Answer {
    let table = table(&pages, &id).await?;
    let act = act(&table, asked.act.as_deref())?;
    let what = asked.what.as_deref();
    let body = html! {
        (title_block("Went wrong", &act.title))
        form.ask method="get" action=(Route::Mishaps(id.clone())) {
            input type="hidden" name="act" value=(act.id);
            div.row { @for (word, name) in &MISHAPS { button.btn type="submit" name="what" value=(word) aria-pressed=(if what == Some(*word) { "true" } else { "false" }) { (name) } } }
        }
        @match what {
            Some("not-done" | "wont-fit") => {
                section.slip aria-labelledby="slip" {
                    span.tape { "If so" }
                    h2 #slip { (act.title) " goes on" }
                    p { @if what == Some("wont-fit") { "Cook it in two loads, one after the other; that takes about as long again." } @else { "Look again when the time is up. What follows moves with it." } }
                    form method="post" action=(Route::Extensions(id.clone())) {
                        input type="hidden" name="act" value=(act.id);
                        div.row {
                            @if what == Some("wont-fit") { button.btn.main type="submit" name="minutes" value=(again(act)) { (again(act)) " min more" } }
                            @else { @for minutes in [5, 10, 15] { button class=(if minutes == 5 { "btn main" } else { "btn" }) type="submit" name="minutes" value=(minutes) { (minutes) " min more" } } }
                            a.btn href=(Route::SessionOf(id.clone())) { "Leave it" }
                        }
                    }
                }
            }
            Some("short") => {
                section.slip aria-labelledby="slip" {
                    span.tape { "If so" }
                    h2 #slip { "The session goes on as it is" }
                    p { "Fill the boxes of the first sittings first. What is short then shows at the last ones; change those on the week." }
                    p.row { a.btn.main href=(Route::SessionOf(id.clone())) { "Carry on" } a.btn href=(Route::Changes) { "Change the week" } }
                }
            }
            Some(word @ ("burnt" | "spilled")) => {
                @let batches: Vec<String> = act.batches.iter().map(ToString::to_string).collect();
                @let mark = SessionMark::GivenUp { batches: batches.clone(), why: word.to_owned() };
                @match pages.desk.preview(&table.week, &table.session, (&mark, table.now)).await {
                    Ok(replanned) => { (accept(&told(&table, &replanned, &mark), &Route::Mishaps(id.clone()), &[("act", act.id.to_string()), ("what", word.to_owned())], &id)) }
                    Err(conflict) => { (refused(&conflict.message, &id)) }
                }
            }
            _ => {}
        }
        p.row { a.btn.quiet href=(Route::SessionOf(id.clone())) { "Back to the session" } }
    };
    Ok(page(&frame("Went wrong"), &body))
}

/// A second load takes as long as the first.
fn again(act: &Act) -> i64 {
    act.length()
        .mins(larderwright_quantity::Rounding::Up)
        .clamp(1, 240)
}

fn act<'a>(table: &'a Table, id: Option<&str>) -> Result<&'a Act, Refusal> {
    let open = |act: &&Act| {
        Some(act.id.as_str()) == id
            && !matches!(table.course.progress.pace(act).stage, Stage::Dropped)
            && act.kind != ActKind::Preflight
    };
    table.course.run.acts.iter().find(open).ok_or_else(|| {
        Refusal::form(
            "This step is not part of the session any more.",
            "Look at the session as it is now.",
        )
    })
}

/// A cook is away.
pub(crate) async fn absences<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
    Form(asked): Form<Asked>,
) -> Result<Redirect, Refusal> {
    let table = table(&pages, &id).await?;
    let cook = asked
        .cook
        .filter(|cook| cooks(&table).iter().any(|(id, _)| id == cook));
    let (Some(cook), Some(minutes @ 1..=240)) = (cook, asked.minutes) else {
        return Err(Refusal::form(
            "Who is away, and for how long?",
            "Choose a cook and 1 to 240 minutes.",
        ));
    };
    accepted(&pages, &table, SessionMark::Away { cook, minutes }).await
}

/// The session has to end.
pub(crate) async fn stops<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
    Form(asked): Form<Asked>,
) -> Result<Redirect, Refusal> {
    let table = table(&pages, &id).await?;
    let Some(by) = asked.by.as_deref().and_then(time) else {
        return Err(Refusal::form("Stop by when?", "Give a time, as in 17:00."));
    };
    let by = on_day(&table, by);
    accepted(&pages, &table, SessionMark::Stop { by }).await
}

/// A batch is lost.
pub(crate) async fn mishaps<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
    Form(asked): Form<Asked>,
) -> Result<Redirect, Refusal> {
    let table = table(&pages, &id).await?;
    let act = act(&table, asked.act.as_deref())?;
    let why = match asked.what.as_deref() {
        Some(word @ ("burnt" | "spilled")) => word.to_owned(),
        _ => return Err(Refusal::form("What went wrong?", "Choose burnt or spilled.")),
    };
    let batches = act.batches.iter().map(ToString::to_string).collect();
    accepted(&pages, &table, SessionMark::GivenUp { batches, why }).await
}

/// Writes a change down when it can still be made.
async fn accepted<S: Store + 'static>(
    pages: &Pages<S>,
    table: &Table,
    mark: SessionMark,
) -> Result<Redirect, Refusal> {
    let shown = pages
        .desk
        .preview(&table.week, &table.session, (&mark, table.now))
        .await;
    shown.map_err(|conflict| Refusal::overtaken(conflict.message))?;
    write(pages, table.session.as_str(), None, mark).await
}
