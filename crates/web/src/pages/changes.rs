//! Changes of the week: choose, see what follows, accept or leave.

use std::sync::Arc;

use axum::Form;
use axum::extract::{Query, State};
use axum::http::header::{HeaderName, REFRESH};
use axum::response::{IntoResponse, Redirect, Response};
use jiff::civil::{DateTime, Time};
use larderwright_app::{Now, Refusal as Refused};
use larderwright_store::Store;
use larderwright_views::page::Block;
use larderwright_views::page::changes::{
    ChangesPage, Compared, ahead, changes as view, compare, conflict_rows, sitting_words,
};
use maud::{Markup, html};
use serde::Deserialize;

use crate::Pages;
use crate::desk::Week;
use crate::drafts::{Change, GUESTS_MAX, NoDraft, Outcome, Trial, accept as take};
use crate::layout::{Frame, page};
use crate::parts::{block, sect};
use crate::refusal::Refusal;
use crate::routes::Route;

/// A change as a form sends it.
#[derive(Clone, Debug, Default, Deserialize)]
pub(crate) struct Asked {
    #[serde(rename = "do")]
    what: Option<String>,
    sitting: Option<String>,
    meal: Option<String>,
    count: Option<u32>,
    session: Option<String>,
    from: Option<String>,
    eater: Option<String>,
    /// `yes` when a page of ours asked to see what follows.
    show: Option<String>,
    /// The week that was looked at.
    of: Option<String>,
    /// The week's Monday, when no sitting or session says which.
    monday: Option<jiff::civil::Date>,
    /// The sitting to go back to.
    back: Option<String>,
}

impl Asked {
    fn change(&self) -> Option<Change> {
        let sitting = || self.sitting.as_deref().map(Into::into);
        let meal = || {
            self.meal
                .as_deref()
                .filter(|meal| !meal.is_empty())
                .map(Into::into)
        };
        Some(match self.what.as_deref()? {
            "meal" => match meal() {
                Some(meal) => Change::Meal {
                    sitting: sitting()?,
                    meal,
                },
                None => Change::NotThis { sitting: sitting()? },
            },
            "off" => Change::Off { meal: meal()? },
            "guests" => Change::Guests {
                sitting: sitting()?,
                count: self.count?.min(GUESTS_MAX),
            },
            "anew" => Change::Anew,
            "without" => Change::Without {
                sitting: sitting()?,
                eater: self.eater.as_deref()?.into(),
            },
            "at" => Change::At {
                sitting: sitting()?,
                time: time(self.from.as_deref()?)?,
            },
            "away" => Change::Away { sitting: sitting()? },
            "session" => Change::Session {
                session: self.session.as_deref()?.into(),
                from: time(self.from.as_deref()?)?,
            },
            _ => return None,
        })
    }

    /// The same as hidden fields of a form.
    fn fields(&self, of: &str) -> Vec<(&'static str, String)> {
        let mut fields = vec![("of", of.to_owned())];
        let mut say = |name: &'static str, value: Option<String>| {
            if let Some(value) = value {
                fields.push((name, value));
            }
        };
        say("do", self.what.clone());
        say("sitting", self.sitting.clone());
        say("meal", self.meal.clone());
        say("count", self.count.map(|count| count.to_string()));
        say("session", self.session.clone());
        say("from", self.from.clone());
        say("eater", self.eater.clone());
        say("back", self.back.clone());
        say("monday", self.monday.map(|monday| monday.to_string()));
        fields
    }
}

fn time(text: &str) -> Option<Time> {
    let (hour, minute) = text.split_once(':')?;
    Time::new(hour.parse().ok()?, minute.parse().ok()?, 0, 0).ok()
}

/// What can be changed, and what would follow.
pub(crate) async fn changes<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Query(asked): Query<Asked>,
) -> Result<Response, Refusal> {
    let week = week_of(&pages, &asked).await?;
    let now = pages.desk.now().await?;
    let view = view(
        &week.snapshot,
        &week.plan,
        (asked.sitting.as_deref(), now.minute()),
    );
    let shown = match asked.change().filter(|_| asked.show.is_some()) {
        None => Shown::Slip(html! {}),
        Some(change) => shown(&pages, &week, (&asked, &change), &now).await?,
    };
    Ok(match shown {
        Shown::Working => working(),
        Shown::Slip(slip) => render(&view, &asked, &slip).into_response(),
    })
}

/// The week that a change is about: the one that knows its sitting or session.
async fn week_of<S: Store + 'static>(pages: &Pages<S>, asked: &Asked) -> Result<Arc<Week>, Refusal> {
    let mut weeks = pages.desk.weeks().await?;
    let about = weeks.iter().position(|week| {
        let snapshot = &week.snapshot;
        let sitting = asked.sitting.as_deref();
        let session = asked.session.as_deref();
        sitting.is_some_and(|id| snapshot.sitting(&id.into()).is_some())
            || session.is_some_and(|id| snapshot.session(&id.into()).is_some())
    });
    let named = weeks.iter().position(|week| Some(week.monday) == asked.monday);
    let at = about.or(named).unwrap_or(0);
    Ok(weeks.swap_remove(at))
}

/// A page that asks again by itself, with script and without.
const SECONDS: [(HeaderName, &str); 1] = [(REFRESH, "1")];

/// While a week is being planned.
pub(crate) fn working() -> Response {
    let body = html! {
        (block(&Block { title: "Planning".into(), sub: "Nothing is saved before you have seen what follows".into(), fields: Vec::new() }))
        p.lead role="status" { "The week is being planned and judged. This takes a few seconds; the page comes by itself." }
        div.busy aria-hidden="true" { i {} }
        p.row { a.btn href=(Route::Week) { "Leave the week as it is" } }
    };
    (
        SECONDS,
        page(&Frame::new("Planning").here(Route::Week).slim(), &body),
    )
        .into_response()
}

/// What is shown of a change.
pub(crate) enum Shown {
    /// It is still being planned.
    Working,
    /// What follows from it.
    Slip(Markup),
}

/// Plans a change, and says what follows.
pub(crate) async fn shown<S: Store + 'static>(
    pages: &Pages<S>,
    week: &Arc<Week>,
    (asked, change): (&Asked, &Change),
    now: &Now,
) -> Result<Shown, Refusal> {
    if let Some(session) = pages.desk.running(now.minute()) {
        return Err(Refusal::running(&session));
    }
    let title = title(week, asked, change);
    let outcome = outcome(pages, week, (change, now)).await;
    Ok(match outcome {
        None => Shown::Working,
        Some(Ok(trial)) => Shown::Slip(slip(
            &title,
            &rows(week, &trial, now.minute()),
            asked,
            week.name(),
        )),
        Some(Err(NoDraft::Unknown)) => {
            return Err(Refusal::form(
                "This change speaks of something that is not in the week.",
                "Choose again from the lists.",
            ));
        }
        Some(Err(NoDraft::Fault(words))) => return Err(Refusal::fault(words)),
        Some(Err(NoDraft::Refused(refused))) => Shown::Slip(refusal(&title, &refused)),
    })
}

async fn outcome<S: Store + 'static>(
    pages: &Pages<S>,
    week: &Arc<Week>,
    (change, now): (&Change, &Now),
) -> Option<Outcome> {
    let of = (Some(week), week.monday);
    pages.drafts.outcome(&pages.desk, of, (change, now)).await
}

fn rows(week: &Week, trial: &Trial, now: DateTime) -> Vec<Compared> {
    let (snapshot, plan) = ahead(&week.snapshot, &week.plan, now);
    let draft = &trial.draft;
    compare((&snapshot, &plan), (&draft.snapshot, &draft.planned.plan))
}

fn title(week: &Week, asked: &Asked, change: &Change) -> String {
    let sitting = asked
        .sitting
        .as_deref()
        .map_or_else(String::new, |id| sitting_words(&week.snapshot, &week.plan, id));
    let meal = |id: &larderwright_model::MealId| {
        week.snapshot
            .meals
            .get(id)
            .map_or_else(|| id.to_string(), |meal| meal.name.clone())
    };
    let eater = |id: &larderwright_model::EaterId| {
        let eater = week.snapshot.household.eater(id);
        eater.map_or_else(|| id.to_string(), |eater| eater.name.clone())
    };
    match change {
        Change::Anew => "If the rest of the week is planned anew".to_owned(),
        Change::Without { eater: id, .. } => format!("If {} does not eat on {sitting}", eater(id)),
        Change::At { time, .. } => {
            let words = larderwright_views::Words::of(&week.snapshot.household);
            format!(
                "If {sitting} is eaten at {}",
                words.clock(week.monday.to_datetime(*time))
            )
        }
        Change::Meal { meal: id, .. } => format!("If {sitting} is {}", meal(id)),
        Change::NotThis { .. } => format!("If {sitting} is something else"),
        Change::Off { meal: id } => format!("If {} is off this week", meal(id)),
        Change::Guests { count, .. } => format!("If {count} guests come to {sitting}"),
        Change::Away { .. } => format!("If nobody eats here on {sitting}"),
        Change::Session { session, .. } => {
            format!(
                "If the session of {session} may start at {}",
                asked.from.as_deref().unwrap_or("")
            )
        }
    }
}

/// Rows that stay the same are named in one line at the end.
fn slip(title: &str, rows: &[Compared], asked: &Asked, of: &str) -> Markup {
    let (same, changed): (Vec<&Compared>, Vec<&Compared>) =
        rows.iter().partition(|row| row.before == row.after);
    let names: Vec<&str> = same.iter().map(|row| row.name.as_str()).collect();
    html! {
        section.slip #slip-now aria-labelledby="slip" {
            span.tape { "What if" }
            h2 #slip { (title) }
            ul {
                @for row in &changed { li { b { (row.name) } span { del { (row.before) } " " ins { (row.after) } } } }
                @if changed.is_empty() { li { b { "All" } span { "no change." } } }
                @else if !names.is_empty() { li { b { (names.join(", ")) } span { "no change." } } }
            }
            form method="post" action=(Route::Changes) {
                @for (name, value) in asked.fields(of) { input type="hidden" name=(name) value=(value); }
                div.row { button.btn.main type="submit" { "Take the change" } a.btn href=(Route::Week) { "Leave the week as it is" } }
            }
        }
    }
}

pub(crate) fn refusal(title: &str, refused: &Refused) -> Markup {
    let (message, rows) = match refused {
        Refused::Conflict(conflict) => (conflict.message.clone(), conflict_rows(conflict)),
        Refused::Fatal(findings) => (
            "The week that was found may not be used.".to_owned(),
            findings
                .iter()
                .map(|finding| (finding.subject.clone(), finding.message.clone()))
                .collect(),
        ),
    };
    html! {
        section.slip #slip-now aria-labelledby="slip" {
            span.tape { "Cannot be" }
            h2 #slip { (title) }
            p { (message) }
            ul { @for (name, words) in &rows { li { b { (name) } span { (words) } } } }
            div.row { a.btn href=(Route::Week) { "Leave the week as it is" } }
        }
    }
}

/// What can be changed, laid out.
fn render(view: &ChangesPage, asked: &Asked, slip: &Markup) -> Markup {
    let frame = Frame::new("Change the week")
        .here(Route::Week)
        .css(&["css/table.css"]);
    let body = html! {
        (block(&Block { title: "Change the week".into(), sub: "Nothing is saved before you have seen what follows".into(), fields: Vec::new() }))
        (slip)
        @if view.sittings.is_empty() && view.sessions.is_empty() { p.lead { "This week is over. Plan the next one." } }
        @if !view.sittings.is_empty() {
            (form("meal", "Another meal", &html! { (sittings(view, asked)) (meals(view)) }))
            (form("guests", "More people", &html! { (sittings(view, asked)) label { "Guests " input type="number" name="count" min="0" max=(GUESTS_MAX) value="2" inputmode="numeric"; } p.note { "A guest’s allergies are not known: their plate is never shown as cleared. Ask them." } }))
            (form("away", "Eating out", &sittings(view, asked)))
            (form("off", "A meal off for this week", &html! { label { "Meal " select name="meal" { @for (id, name) in &view.served { option value=(id) { (name) } } } } }))
        }
        @if !view.sessions.is_empty() {
            (form("session", "Another time to cook", &html! {
                label { "Session " select name="session" { @for (id, name, _) in &view.sessions { option value=(id) { (name) } } } }
                label { "May start at " input type="time" name="from" required value=(view.sessions[0].2); }
            }))
        }
    };
    page(&frame, &body)
}

fn form(what: &str, title: &str, fields: &Markup) -> Markup {
    html! {
        section aria-labelledby=(format!("c-{what}")) {
            (sect(&format!("c-{what}"), title, ""))
            form.ask method="get" action=(Route::Changes) {
                input type="hidden" name="do" value=(what);
                input type="hidden" name="show" value="yes";
                (fields)
                button.btn type="submit" aria-label=(format!("{title}: show what follows")) { "Show what follows" }
            }
        }
    }
}

fn sittings(view: &ChangesPage, asked: &Asked) -> Markup {
    html! {
        label { "Sitting " select name="sitting" {
            @for sitting in &view.sittings { option value=(sitting.id) selected[asked.sitting.as_deref() == Some(&sitting.id)] { (sitting.name) } }
        } }
    }
}

fn meals(view: &ChangesPage) -> Markup {
    html! {
        label { "Meal " select name="meal" {
            option value="" { "whatever else fits best" }
            @for (id, name) in &view.meals { option value=(id) { (name) } }
        } }
    }
}

/// Accepts the draft that was shown.
pub(crate) async fn accept<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Form(asked): Form<Asked>,
) -> Result<Response, Refusal> {
    let week = week_of(&pages, &asked).await?;
    let change = asked
        .change()
        .ok_or_else(|| Refusal::form("This change is not understood.", "Choose again from the lists."))?;
    if asked.of.as_deref() != Some(week.name()) {
        return Err(Refusal::overtaken(
            "The week was changed by somebody else after you looked at it.",
        ));
    }
    let now = pages.desk.now().await?;
    let trial = match outcome(&pages, &week, (&change, &now)).await {
        None => return Ok(working()),
        Some(outcome) => outcome.map_err(|_| Refusal::overtaken("This change cannot be made any more."))?,
    };
    take(&pages.desk, week.monday, &trial).await?;
    let to = match asked.back {
        Some(sitting) => Route::Sitting(sitting),
        None => Route::Week,
    };
    Ok(Redirect::to(&to.to_string()).into_response())
}
