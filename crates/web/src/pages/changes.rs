//! Changes of the week: choose, see what follows, accept or leave.

use std::sync::Arc;

use axum::Form;
use axum::extract::{Query, State};
use axum::response::Redirect;
use jiff::civil::Time;
use larderwright_app::Refusal as Refused;
use larderwright_views::page::Block;
use larderwright_views::page::changes::{
    ChangesPage, Compared, changes as view, compare, conflict_rows, sitting_words,
};
use maud::{Markup, html};
use serde::Deserialize;

use super::Answer;
use crate::Pages;
use crate::desk::Week;
use crate::drafts::{Change, Draft, GUESTS_MAX, NoDraft, draft};
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
    /// `yes` when a page of ours asked to see what follows.
    show: Option<String>,
    /// The week that was looked at.
    of: Option<String>,
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
        fields
    }
}

fn time(text: &str) -> Option<Time> {
    let (hour, minute) = text.split_once(':')?;
    Time::new(hour.parse().ok()?, minute.parse().ok()?, 0, 0).ok()
}

/// What can be changed, and what would follow.
pub(crate) async fn changes(State(pages): State<Pages>, Query(asked): Query<Asked>) -> Answer {
    let week = pages.desk.week().await?;
    let now = pages.desk.now(&week)?;
    let view = view(&week.snapshot, &week.plan, (asked.sitting.as_deref(), now));
    let slip = match asked.change().filter(|_| asked.show.is_some()) {
        None => html! {},
        Some(change) => shown(&pages, &week, &asked, change).await?,
    };
    Ok(render(&view, &asked, &slip))
}

/// Plans the draft on a thread of its own: it takes as long as planning a week.
async fn made(
    pages: &Pages,
    week: &Arc<Week>,
    change: &Change,
) -> Result<Result<Arc<Draft>, NoDraft>, Refusal> {
    if let Some(draft) = pages.drafts.shown(week, change) {
        return Ok(Ok(draft));
    }
    let now = pages.desk.now(week)?;
    let (week, wanted) = (Arc::clone(week), change.clone());
    let task = tokio::task::spawn_blocking(move || draft(&week, &wanted, now));
    let planned = task
        .await
        .map_err(|_| Refusal::overtaken("The draft could not be planned to its end."))?;
    Ok(planned.map(Arc::new))
}

async fn shown(pages: &Pages, week: &Arc<Week>, asked: &Asked, change: Change) -> Result<Markup, Refusal> {
    let title = title(week, asked, &change);
    Ok(match made(pages, week, &change).await? {
        Ok(draft) => {
            pages.drafts.keep(week, change, Arc::clone(&draft));
            let rows = compare(
                (&week.snapshot, &week.plan),
                (&draft.snapshot, &draft.planned.plan),
            );
            slip(&title, &rows, asked, week.name())
        }
        Err(NoDraft::Unknown) => {
            return Err(Refusal::form(
                "This change speaks of something that is not in the week.",
                "Choose again from the lists.",
            ));
        }
        Err(NoDraft::Refused(refused)) => refusal(&title, &refused),
    })
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
    match change {
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

fn refusal(title: &str, refused: &Refused) -> Markup {
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
pub(crate) async fn accept(
    State(pages): State<Pages>,
    Form(asked): Form<Asked>,
) -> Result<Redirect, Refusal> {
    let week = pages.desk.week().await?;
    let change = asked
        .change()
        .ok_or_else(|| Refusal::form("This change is not understood.", "Choose again from the lists."))?;
    if asked.of.as_deref() != Some(week.name()) {
        return Err(Refusal::overtaken(
            "The week was changed by somebody else after you looked at it.",
        ));
    }
    let draft = made(&pages, &week, &change)
        .await?
        .map_err(|_| Refusal::overtaken("This change cannot be made any more."))?;
    pages.desk.replace(&week, &draft).await?;
    Ok(Redirect::to(&Route::Week.to_string()))
}
