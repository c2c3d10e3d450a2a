//! The week page.

use std::collections::BTreeMap;

use axum::extract::{Path, State};
use jiff::civil::{Date, DateTime};
use larderwright_app::home::sitting_words;
use larderwright_model::{Fact, Reported, SittingId};
use larderwright_store::Store;
use larderwright_views::page::Named;
use larderwright_views::page::week::{Cell, ComponentRow, Day, MealRow, SittingCell, WeekPage, week as view};
use maud::{Markup, html};

use super::Answer;
use crate::Pages;
use crate::desk::Week;
use crate::layout::{Frame, page};
use crate::parts::{block, guidance, named, piece, plates, sect, todos, told};
use crate::refusal::Refusal;
use crate::routes::Route;

/// The week that is at hand.
pub(crate) async fn week<S: Store + 'static>(State(pages): State<Pages<S>>) -> Answer {
    let week = pages.desk.week().await?;
    shown(&pages, &week).await
}

/// The week of a Monday.
pub(crate) async fn week_of<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
) -> Answer {
    let monday = id.parse().ok();
    let week = match monday {
        Some(monday) => pages.desk.week_of(monday).await?,
        None => None,
    };
    let week = week.ok_or_else(|| Refusal::missing(format!("No week of `{id}` is planned.")))?;
    shown(&pages, &week).await
}

async fn shown<S: Store + 'static>(pages: &Pages<S>, week: &Week) -> Answer {
    let now = pages.desk.now().await?.minute();
    let mondays = pages.desk.home().store().weeks().await?;
    let so_far = so_far(pages, week).await?;
    Ok(render(
        &view(&week.snapshot, &week.plan, now),
        (week.monday, &mondays),
        &so_far,
    ))
}

/// Sittings of this week that the plan no longer holds, because it was made anew after them, and how they went.
async fn so_far<S: Store + 'static>(pages: &Pages<S>, week: &Week) -> Result<Vec<Named>, Refusal> {
    let mut before: BTreeMap<(DateTime, SittingId), String> = BTreeMap::new();
    let planned = |id: &SittingId| week.plan.menu.choices.iter().any(|choice| choice.sitting == *id);
    for earlier in pages.desk.earlier(week.monday).await? {
        if earlier.monday != week.monday || earlier.hash == week.hash {
            continue;
        }
        for choice in &earlier.plan.menu.choices {
            let sitting = earlier.snapshot.sitting(&choice.sitting);
            let Some(sitting) = sitting.filter(|sitting| !planned(&sitting.id)) else {
                continue;
            };
            let meal = earlier.snapshot.meals.get(&choice.meal);
            let meal = meal.map_or_else(|| choice.meal.to_string(), |meal| meal.name.clone());
            before.entry((sitting.at, sitting.id.clone())).or_insert(meal);
        }
    }
    if before.is_empty() {
        return Ok(Vec::new());
    }
    let days = (week.monday, week.monday.saturating_add(jiff::Span::new().days(6)));
    let events = pages.desk.home().store().events_between(days.0, days.1).await?;
    let went: BTreeMap<&SittingId, Reported> = events
        .iter()
        .filter_map(|event| match &event.fact {
            Fact::Served(served) => Some((&served.sitting, served.reported)),
            _ => None,
        })
        .collect();
    let line = |((_, id), meal): (&(DateTime, SittingId), &String)| {
        let how = match went.get(id) {
            Some(Reported::Told) => "eaten",
            Some(Reported::Presumed) => "eaten, as far as anybody knows",
            Some(Reported::Skipped) => "nobody ate here",
            None => "not eaten yet",
        };
        Named::new(sitting_words(id), format!("{meal}, {how}"))
    };
    Ok(before.iter().map(line).collect())
}

/// The week page laid out.
pub(crate) fn render(view: &WeekPage, (monday, mondays): (Date, &[Date]), so_far: &[Named]) -> Markup {
    let frame = Frame::new(view.block.title.clone())
        .here(Route::Week)
        .css(&["css/week.css", "css/positions.css"])
        .topic("week");
    let to = |words: &str, monday: Option<&Date>| {
        html! { @if let Some(monday) = monday { a href=(Route::WeekOf(monday.to_string())) { (words) ": week of " (larderwright_views::day(*monday)) } } }
    };
    let body = html! {
        (block(&view.block))
        nav.turn.noprint aria-label="Other weeks" {
            (to("Before", mondays.iter().rev().find(|other| **other < monday)))
            (to("After", mondays.iter().find(|other| **other > monday)))
            a href=(Route::Plans) { "Plan the next week" }
        }
        @if view.rows.is_empty() && view.meals.is_empty() {
            p.lead { "Nothing is planned for this week." }
        } @else {
            (table(view))
            (key())
        }
        @if !so_far.is_empty() {
            (sect("sofar", "Earlier this week", "before it was planned anew"))
            (named(so_far))
        }
        @if !view.leads.is_empty() {
            (sect("leads", "Before the day", "soak and start"))
            (todos(&view.leads))
        }
        @if !view.findings.is_empty() {
            (sect("know", "Worth knowing", ""))
            (told(&view.findings))
        }
        section.noprint aria-labelledby="change" {
            (sect("change", "Change something", "you see what follows before it is accepted"))
            p.row {
                a.btn href=(Route::Changes) { "Change a meal, covers or a session" }
                a.btn.quiet href=(format!("{}?do=anew&show=yes&monday={monday}", Route::Changes)) { "Plan the rest anew" }
            }
        }
        details.why {
            summary { "Why this week" }
            (told(&view.why))
        }
        (guidance(&view.guidance))
    };
    page(&frame, &body)
}

pub(crate) fn table(view: &WeekPage) -> Markup {
    let days = view.days.len();
    html! {
        table class=(format!("wk n{days}")) role="table" aria-label="Components by day, then sittings" {
            thead role="rowgroup" {
                tr role="row" {
                    th.c0 role="columnheader" scope="col" { "Component" }
                    th.cm role="columnheader" scope="col" { "Made" }
                    @for day in &view.days { (head(day)) }
                    th.c9 role="columnheader" scope="col" { "Left" }
                }
            }
            tbody role="rowgroup" {
                @for row in &view.rows { (component(row, &view.days)) }
            }
            tbody.sit role="rowgroup" {
                @for row in &view.meals { (meals(row, &view.days)) }
            }
        }
    }
}

fn today(day: &Day) -> &'static str {
    if day.today { "today" } else { "" }
}

fn head(day: &Day) -> Markup {
    html! {
        th class=(today(day)) role="columnheader" scope="col" {
            span.dw { (day.weekday) } " " span.dn { (day.number) }
            span.tag { (day.tag) }
        }
    }
}

fn component(row: &ComponentRow, days: &[Day]) -> Markup {
    html! {
        tr role="row" {
            th role="rowheader" scope="row" {
                a.nm href=(Route::Recipe(row.component.clone())) { (row.name) }
                span.kd { (row.family) }
            }
            td.made role="cell" {
                @for made in &row.made {
                    span.mk1 { span.ap { (made.from) } span.yl { (made.makes) " · " (made.boxes) } }
                }
                @if !row.last.is_empty() { span.ph { (row.last) } }
            }
            @for (at, cell) in row.cells.iter().enumerate() {
                (day_cell(cell, row, (at, &days[at])))
            }
            td.left role="cell" { span.ph { "left " } b { (row.left) } }
        }
    }
}

fn day_cell(cell: &Cell, row: &ComponentRow, (at, day): (usize, &Day)) -> Markup {
    html! {
        td class=(format!("d {}", today(day))) role="cell" {
            span.fig {
                @if !cell.amount.is_empty() { b { (cell.amount) } " " }
                @if !cell.note.is_empty() { span.bx { (cell.note) } }
            }
            span.lanes { @for lane in &row.lanes { (piece(&lane[at])) } }
        }
    }
}

fn meals(row: &MealRow, days: &[Day]) -> Markup {
    html! {
        tr role="row" {
            th role="rowheader" scope="row" colspan="2" { span.nm { (row.name) } }
            @for (day, cells) in days.iter().zip(&row.days) {
                td class=(format!("d {}", if cells.is_empty() { "empty" } else { today(day) })) role="cell" {
                    @for cell in cells { (sitting(cell)) }
                }
            }
            td.left role="cell" {}
        }
    }
}

fn sitting(cell: &SittingCell) -> Markup {
    html! {
        div.st {
            span.day.ph { (cell.day) }
            a.ml href=(Route::Sitting(cell.id.clone())) { (cell.meal) span.vh { ", " (cell.day) } @if cell.fixed { " " small { "fixed" } } }
            (plates(&cell.plates, &cell.count))
            span.bx { (cell.count) " · " (cell.words) }
        }
    }
}

pub(crate) fn key() -> Markup {
    html! {
        ul.key aria-label="How to read the lines" {
            li { span.lanes aria-hidden="true" { span class="ln fr a" {} span class="ln fr b" {} } "in the fridge, to its use-by day" }
            li { span.lanes aria-hidden="true" { span class="ln fz a" {} span class="ln fz" {} } "in the freezer, until it is pulled" }
            li { ul.plates aria-label="own plate" { li.own { span aria-hidden="true" { "A" } span.vh { "own plate" } } } "a plate of its own" }
            li { ul.plates aria-label="not in" { li.out { span aria-hidden="true" { "B" } span.vh { "not in" } } } "not in" }
        }
    }
}
