//! Weeks that are planned, and planning one: the week is seen before the house goes by it.

use axum::Form;
use axum::extract::{Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use jiff::civil::Date;
use larderwright_app::{Now, dates};
use larderwright_store::Store;
use larderwright_views::day;
use larderwright_views::page::week::{WeekPage, week as view};
use larderwright_views::page::{Block, Named};
use maud::{Markup, html};
use serde::Deserialize;

use super::changes::{refusal, working};
use super::week::{key, table};
use crate::Pages;
use crate::desk::DeskError;
use crate::drafts::{Change, NoDraft, accept};
use crate::layout::{Frame, page};
use crate::parts::{block, sect, told};
use crate::refusal::Refusal;
use crate::routes::Route;

/// Which week is to be planned.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Asked {
    monday: Option<Date>,
    /// The plan that was looked at.
    hash: Option<String>,
}

/// A week that is known.
struct Known {
    monday: Date,
    words: String,
    current: bool,
}

/// The weeks, and the draft of the one that is asked for.
pub(crate) async fn plans<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Query(asked): Query<Asked>,
) -> Result<Response, Refusal> {
    let household = pages.desk.household().await?.ok_or(DeskError::NoHousehold)?;
    let now = pages.desk.now().await?;
    if let Some(monday) = asked.monday {
        return draft(&pages, monday, &now).await;
    }
    let next = dates::next_to_plan(&household, now.minute());
    let mut known = Vec::new();
    for monday in pages.desk.home().store().weeks().await? {
        let current = pages.desk.home().store().current(monday).await?.is_some();
        known.push(Known {
            monday,
            words: title(monday),
            current,
        });
    }
    known.reverse();
    Ok(list(&known, next).into_response())
}

fn title(monday: Date) -> String {
    let iso = monday.iso_week_date();
    format!("Week {} of {}, from {}", iso.week(), iso.year(), day(monday))
}

fn list(known: &[Known], next: Date) -> Markup {
    let planned = known.iter().any(|week| week.monday == next && week.current);
    let body = html! {
        (block(&Block { title: "Weeks".into(), sub: "planned, and to be planned".into(), fields: Vec::new() }))
        section aria-labelledby="next" {
            (sect("next", &title(next), "the next one whose shopping and cooking still lie ahead"))
            @if planned { p.lead { "This week is planned. " a href=(Route::WeekOf(next.to_string())) { "Look at it" } ", or change what you like there." } }
            @else {
                p.lead { "Planning takes a few seconds. You see the week before the house goes by it." }
                form method="get" action=(Route::Plans) {
                    input type="hidden" name="monday" value=(next);
                    p.row { button.btn.main type="submit" { "Plan this week" } }
                }
            }
        }
        @if !known.is_empty() {
            (sect("all", "All weeks", ""))
            ul.told {
                @for week in known {
                    li {
                        b { @if week.current { a href=(Route::WeekOf(week.monday.to_string())) { (week.words) } } @else { (week.words) } }
                        span { @if week.current { "the house goes by this plan" } @else { "only drafts" } }
                    }
                }
            }
        }
    };
    page(
        &Frame::new("Weeks").here(Route::Week).css(&["css/table.css"]),
        &body,
    )
}

async fn draft<S: Store + 'static>(pages: &Pages<S>, monday: Date, now: &Now) -> Result<Response, Refusal> {
    if pages.desk.week_of(monday).await?.is_some() {
        return Ok(
            Redirect::to(&format!("{}?do=anew&show=yes&monday={monday}", Route::Changes)).into_response(),
        );
    }
    let outcome = pages
        .drafts
        .outcome(&pages.desk, (None, monday), (&Change::Anew, now))
        .await;
    match outcome {
        None => Ok(working()),
        Some(Ok(trial)) => {
            let draft = &trial.draft;
            let view = view(&draft.snapshot, &draft.planned.plan, now.minute());
            Ok(shown(&view, monday, &draft.hash).into_response())
        }
        Some(Err(NoDraft::Refused(refused))) => {
            let body = html! {
                (block(&Block { title: "This week cannot be planned so".into(), sub: title(monday), fields: Vec::new() }))
                (refusal(&title(monday), &refused))
                p.row { a.btn.main href=(Route::HouseholdFile) { "Change the household" } a.btn href=(Route::Plans) { "Back" } }
            };
            Ok(page(&Frame::new("Cannot be planned").here(Route::Week), &body).into_response())
        }
        Some(Err(NoDraft::Fault(words))) => Err(Refusal::fault(words)),
        Some(Err(NoDraft::Unknown)) => Err(Refusal::missing("There is no such week.")),
    }
}

fn shown(view: &WeekPage, monday: Date, hash: &str) -> Markup {
    let frame = Frame::new("A draft")
        .here(Route::Week)
        .css(&["css/week.css", "css/positions.css"]);
    let fields: Vec<Named> = view.block.fields.clone();
    let body = html! {
        (block(&Block { title: "A draft".into(), sub: title(monday), fields }))
        form.noprint method="post" action=(Route::Plans) {
            input type="hidden" name="monday" value=(monday);
            input type="hidden" name="hash" value=(hash);
            p.row {
                button.btn.main type="submit" { "Go by this week" }
                a.btn href=(Route::HouseholdFile) { "Change the household" }
                a.btn.quiet href=(Route::Plans) { "Leave it" }
            }
        }
        (table(view))
        (key())
        @if !view.findings.is_empty() { (sect("know", "Worth knowing", "")) (told(&view.findings)) }
        details.why { summary { "Why this week" } (told(&view.why)) }
    };
    page(&frame, &body)
}

/// The house goes by the draft that was shown.
pub(crate) async fn choices<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Form(asked): Form<Asked>,
) -> Result<Response, Refusal> {
    let monday = asked
        .monday
        .ok_or_else(|| Refusal::form("Which week?", "Choose a week from the list."))?;
    let now = pages.desk.now().await?;
    let outcome = pages
        .drafts
        .outcome(&pages.desk, (None, monday), (&Change::Anew, &now))
        .await;
    let trial = match outcome {
        None => return Ok(working()),
        Some(outcome) => {
            outcome.map_err(|_| Refusal::overtaken("This week cannot be planned so any more."))?
        }
    };
    if asked.hash.as_deref() != Some(&trial.draft.hash) {
        return Err(Refusal::overtaken(
            "What is in the house has changed since you looked at this draft.",
        ));
    }
    accept(&pages.desk, monday, &trial).await?;
    Ok(Redirect::to(&Route::WeekOf(monday.to_string()).to_string()).into_response())
}
