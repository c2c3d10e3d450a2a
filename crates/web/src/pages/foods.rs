//! Foods: search and read, every figure with its source.

use axum::extract::{Path, Query, State};
use larderwright_store::Store;
use larderwright_views::page::foods::{FoodList, FoodPage, food_page, foods as list_view};
use maud::{Markup, html};
use serde::Deserialize;

use super::Answer;
use crate::Pages;
use crate::layout::{Frame, page};
use crate::pages::recipes::{cut, search};
use crate::parts::{block, sect};
use crate::refusal::Refusal;
use crate::routes::Route;

/// What is searched for.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Asked {
    #[serde(default)]
    q: String,
}

/// Foods of this week, or those that fit.
pub(crate) async fn foods<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Query(asked): Query<Asked>,
) -> Answer {
    let week = pages.desk.week().await?;
    Ok(list(&list_view(&week.snapshot, &week.plan, &cut(&asked.q))))
}

/// A food.
pub(crate) async fn food<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
) -> Answer {
    let week = pages.desk.week().await?;
    let view = food_page(&week.snapshot, &week.plan, &id);
    let missing = || {
        Refusal::missing(format!(
            "The table has no food `{id}`. It may be one of your own."
        ))
    };
    Ok(render(&view.ok_or_else(missing)?))
}

fn frame(title: &str) -> Frame {
    Frame::new(title).here(Route::Foods).css(&["css/table.css"])
}

/// The list laid out.
pub(crate) fn list(view: &FoodList) -> Markup {
    let body = html! {
        (block(&view.block))
        (search(&Route::Foods, "Name of a food", &view.query))
        p.note { (view.words) }
        ul.entries {
            @for entry in &view.foods { li { a href=(Route::Food(entry.id.clone())) { (entry.name) } " " span { (entry.words) } } }
        }
    };
    page(&frame("Foods"), &body)
}

/// A food laid out.
pub(crate) fn render(view: &FoodPage) -> Markup {
    let body = html! {
        (block(&view.block))
        @for (at, group) in view.groups.iter().enumerate() {
            (sect(&format!("g{at}"), group.title, ""))
            dl.figures {
                @for figure in &group.figures {
                    div { dt { (figure.what) } dd { b { (figure.why) } cite { (figure.source) } } }
                }
            }
        }
        @if !view.instead.is_empty() {
            (sect("instead", "Instead of it", ""))
            ul.entries {
                @for (id, told) in &view.instead {
                    li { a href=(Route::Food(id.clone())) { (told.what) } " " span { (told.why) } cite { (told.source) } }
                }
            }
        }
        @if !view.states.is_empty() {
            (sect("states", "Other states", ""))
            ul.entries { @for entry in &view.states { li { a href=(Route::Food(entry.id.clone())) { (entry.name) } } } }
        }
    };
    page(&frame(&view.block.title), &body)
}
